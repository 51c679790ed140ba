/// The packet on disk, and the station table as CSV.
#include <fmt/format.h>

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <set>
#include <system_error>

#include "check.h"
#include "propwright/base/constants.h"
#include "propwright/sheet/bench_sheets.h"
#include "propwright/sheet/dxf.h"
#include "render.h"

namespace propwright::sheet {
namespace {

namespace fs = std::filesystem;

base::Problem disk_problem(const fs::path& path, const std::string& message) {
  return {.kind = base::Kind::resource_failed,
          .file = path.string(),
          .remedy = "choose a folder that can be written and has room",
          .message = message};
}

/// Removes the unfinished file unless it was renamed into place.
class Unfinished {
 public:
  explicit Unfinished(fs::path path) : path_(std::move(path)) {}
  ~Unfinished() {
    std::error_code ignored;
    if (!path_.empty()) fs::remove(path_, ignored);
  }
  Unfinished(const Unfinished&) = delete;
  Unfinished& operator=(const Unfinished&) = delete;
  void placed() { path_.clear(); }

 private:
  fs::path path_;
};

base::Problems write_whole(const fs::path& path, const std::string& bytes) {
  const fs::path part = path.string() + ".part";
  Unfinished unfinished(part);
  errno = 0;
  std::ofstream out(part, std::ios::binary);
  out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  out.close();
  if (!out) {
    return {disk_problem(path, fmt::format("the file cannot be written: {}",
                                           errno ? std::strerror(errno) : "the disk refused"))};
  }
  std::error_code error;
  fs::rename(part, path, error);
  if (error) {
    return {
        disk_problem(path, fmt::format("the file cannot be put in place: {}", error.message()))};
  }
  unfinished.placed();
  return {};
}

/// Templates of one name would overwrite each other: later ones get "-2", "-3".
std::string free_name(std::set<std::string>& taken, const std::string& name) {
  std::string free = name;
  for (int number = 2; !taken.insert(free).second; ++number)
    free = fmt::format("{}-{}", name, number);
  return free;
}

struct Ready {
  fs::path path;
  std::string kind, bytes;
  int pages = 1;
};

/// SVG and DXF of each.
void add_drawings(const std::vector<const form::Template*>& drawings, const PacketOptions& options,
                  const fs::path& folder, const Fonts& fonts, std::vector<Ready>& files) {
  const DxfUnit unit =
      options.profile == units::Profile::inch ? DxfUnit::inch : DxfUnit::millimetre;
  std::set<std::string> taken;
  for (const form::Template* drawing : drawings) {
    const std::string name = free_name(taken, drawing->name);
    files.push_back(
        {folder / "svg" / (name + ".svg"), "svg", render_svg(*drawing, options, fonts)});
    files.push_back({folder / "dxf" / (name + ".dxf"), "dxf", dxf(*drawing, unit)});
  }
}

std::vector<Ready> render_all(const PacketData& data, const PacketOptions& options,
                              const fs::path& folder, const Fonts& fonts) {
  std::vector<Ready> files;
  PacketPdf pdf = render_pdf(data, options, fonts);
  const int pages = static_cast<int>(pdf.pages.size());
  files.push_back({folder / "packet.pdf", "pdf", std::move(pdf.bytes), pages});
  files.push_back({folder / "stations.csv", "csv", stations_csv(data)});
  std::vector<const form::Template*> drawings;
  if (data.outline) drawings.push_back(&*data.outline);
  for (const RadiusTemplate& item : data.form_stations) drawings.push_back(&item.drawing);
  for (const RadiusTemplate& item : data.ribs) drawings.push_back(&item.drawing);
  add_drawings(drawings, options, folder, fonts, files);
  return files;
}

base::Expected<PacketFiles> place_all(const std::vector<Ready>& ready) {
  PacketFiles files;
  for (const Ready& file : ready) {
    std::error_code error;
    fs::create_directories(file.path.parent_path(), error);
    if (error) {
      return base::fail(disk_problem(
          file.path.parent_path(), fmt::format("the folder cannot be made: {}", error.message())));
    }
    if (base::Problems failed = write_whole(file.path, file.bytes); !failed.empty()) {
      return base::fail(std::move(failed));
    }
    files.push_back({file.path.string(), file.kind, file.pages});
  }
  return files;
}

}  // namespace

std::string stations_csv(const PacketData& data) {
  std::string text = fmt::format(
      "# {}, version {}: stations of the blade\n"
      "# lengths in m, angles in degrees from the disc plane\n"
      "radius_m,chord_m,angle_deg,pitch_m,gauge_angle_deg,form_angle_deg,block_height_m,"
      "block_width_m,camber_height_m,sheet_width_m,lead_m,trail_m\n",
      data.job.design, data.job.version);
  const auto degrees = [](double angle_rad) { return angle_rad / base::degree_rad; };
  for (const StationRow& row : data.stations) {
    // A hundredth of a micron and of a millidegree: finer than anything that can be made.
    text += fmt::format(
        "{:.8f},{:.8f},{:.5f},{:.8f},{:.5f},{:.5f},{:.8f},{:.8f},{:.8f},{:.8f},{:.8f},{:.8f}\n",
        row.radius_m, row.chord_m, degrees(row.angle_rad), row.pitch_m,
        degrees(row.gauge_angle_rad), degrees(row.form_angle_rad), row.block_height_m,
        row.block_width_m, row.camber_height_m, row.sheet_width_m, row.lead_m, row.trail_m);
  }
  return text;
}

base::Expected<PacketFiles> write_packet(const PacketData& data, const PacketOptions& options,
                                         const std::string& directory) {
  base::Problems problems = check(options);
  for (base::Problem& problem : check(data)) problems.push_back(std::move(problem));
  if (!problems.empty()) return base::fail(std::move(problems));
  const auto fonts = Fonts::load();
  if (!fonts) return base::fail(fonts.error());
  // Everything is drawn before the first file is touched.
  const std::vector<Ready> ready = render_all(data, options, directory, *fonts);
  return place_all(ready);
}

base::Expected<PacketFiles> write_form(const FormSheets& sheets, const PacketOptions& options,
                                       const std::string& directory) {
  auto pdf = form_pdf(sheets, options);
  if (!pdf) return base::fail(std::move(pdf.error()));
  const auto fonts = Fonts::load();
  if (!fonts) return base::fail(fonts.error());
  const int pages = static_cast<int>(pdf->pages.size());
  std::vector<Ready> ready{{fs::path(directory) / "form.pdf", "pdf", std::move(pdf->bytes), pages}};
  std::vector<const form::Template*> drawings;
  if (sheets.outline) drawings.push_back(&*sheets.outline);
  for (const FormGroup& group : sheets.groups) {
    for (const form::Template& drawing : group.drawings) drawings.push_back(&drawing);
  }
  add_drawings(drawings, options, directory, *fonts, ready);
  return place_all(ready);
}

base::Expected<PacketFiles> write_bench(const BenchSheets& sheets, const PacketOptions& options,
                                        const std::string& directory) {
  auto pdf = bench_pdf(sheets, options);
  if (!pdf) return base::fail(std::move(pdf.error()));
  auto drawings = bench_svgs(sheets, options);
  if (!drawings) return base::fail(std::move(drawings.error()));
  const fs::path folder(directory);
  const int pages = static_cast<int>(pdf->pages.size());
  std::vector<Ready> ready{{folder / "bench.pdf", "pdf", std::move(pdf->bytes), pages}};
  for (BenchDrawing& drawing : *drawings) {
    ready.push_back({folder / "svg" / (drawing.name + ".svg"), "svg", std::move(drawing.svg)});
  }
  return place_all(ready);
}

base::Expected<PacketFile> write_file(const std::string& bytes, const std::string& kind,
                                      const std::string& path) {
  auto placed = place_all({{path, kind, bytes, 1}});
  if (!placed) return base::fail(std::move(placed.error()));
  return placed->front();
}

}  // namespace propwright::sheet
