// What the work leaves behind: sampled flights, sensitivities, the files of packet, form and bench.
#include <fmt/format.h>

#include <cctype>
#include <ctime>
#include <nlohmann/json.hpp>

#include "propwright/answer/packet.h"
#include "propwright/answer/target_sheets.h"
#include "propwright/sheet/bench_sheets.h"
#include "propwright/sheet/form_sheets.h"
#include "work_order.h"

namespace propwright::server {
namespace {

using answer::Json;

std::string today() {
  const std::time_t now = std::time(nullptr);
  std::tm local{};
  localtime_r(&now, &local);
  return fmt::format("{:04}-{:02}-{:02}", local.tm_year + 1900, local.tm_mon + 1, local.tm_mday);
}

/// "Lantern 46" to "lantern-46-packet".
std::string file_name(const std::string& job, const std::string& what) {
  std::string name;
  for (const char c : job) {
    const auto code = static_cast<unsigned char>(c);
    if (std::isalnum(code) != 0) {
      name += static_cast<char>(std::tolower(code));
    } else if (!name.empty() && name.back() != '-') {
      name += '-';
    }
  }
  while (!name.empty() && name.back() == '-') name.pop_back();
  return name.empty() ? what : name.substr(0, 60) + "-" + what;
}

Json spread_json(const predict::Spread& spread, double duration_s) {
  return {{"sigma_s", spread.sigma_s},
          {"relative_sigma", spread.sigma_s / duration_s},
          {"duration_interval_s", spread.duration_s},
          {"top_height_interval_m", spread.top_height_m},
          {"touch_probability", spread.touch_probability},
          {"samples", spread.samples},
          {"failed", spread.failed},
          {"band",
           {{"time_s", spread.band_time_s},
            {"low_m", spread.band_low_m},
            {"high_m", spread.band_high_m}}}};
}

Json sensitivities_json(const predict::Sensitivities& all, double duration_s) {
  Json list = Json::array();
  for (const predict::Sensitivity& doubt : all.doubts) {
    list.push_back({{"key", doubt.key},
                    {"label", doubt.label},
                    {"low_s", doubt.low_s},
                    {"high_s", doubt.high_s},
                    {"sigma_s", doubt.sigma_s}});
  }
  return {{"sigma_s", all.sigma_s}, {"relative_sigma", all.sigma_s / duration_s}, {"doubts", list}};
}

base::Expected<WorkProduct> packet(const std::string& id, const WorkOrder& order,
                                   answer::Prediction prediction, const Report& report) {
  // The flights of the spread take most of the time; drawing the pages is the rest.
  const auto sampled = [&](double share) { return report(0.8 * share); };
  const predict::SpreadOptions how{.samples = order.samples, .seed = 1, .progress = sampled};
  if (auto added = answer::add_spread(prediction, how); !added) return base::fail(added.error());
  answer::add_match(prediction);
  if (!report(0.9)) return base::fail(base::Problem{.message = "stopped"});
  const sheet::PacketOptions options{.paper = order.paper,
                                     .profile = prediction.loaded.profile(),
                                     .bar_measured_m = order.bar_measured_m,
                                     .date = today()};
  auto pdf = sheet::packet_pdf(answer::packet_data(prediction), options);
  if (!pdf) return base::fail(std::move(pdf.error()));
  const std::string name = file_name(prediction.loaded.job.info.name, "packet") + ".pdf";
  const Json result{{"pdf", "/api/work/" + id + "/packet.pdf"},
                    {"file_name", name},
                    {"pages", pdf->pages.size()},
                    {"size_bytes", pdf->bytes.size()},
                    {"headline", answer::headline(prediction)}};
  return WorkProduct{result.dump(), name, std::move(pdf->bytes)};
}

/// One file of the form and, of a PDF, its pages.
struct FormFile {
  std::string bytes;
  int pages = 1;
};

base::Expected<FormFile> draw_form(const WorkOrder& order, const answer::FormAnswer& answer,
                                   const Report& report) {
  const sheet::PacketOptions options{.paper = order.paper,
                                     .profile = order.loaded.profile(),
                                     .bar_measured_m = order.bar_measured_m,
                                     .date = today()};
  const sheet::FormSheets sheets = answer::form_sheets(answer);
  if (order.file == "pdf") {
    auto pdf = sheet::form_pdf(sheets, options);
    if (!pdf) return base::fail(std::move(pdf.error()));
    return FormFile{std::move(pdf->bytes), static_cast<int>(pdf->pages.size())};
  }
  if (order.file == "svg" || order.file == "dxf") {
    std::vector<form::Template> drawings{answer.outline};
    for (const sheet::FormGroup& group : sheets.groups) {
      drawings.insert(drawings.end(), group.drawings.begin(), group.drawings.end());
    }
    const form::Template all = sheet::gathered(drawings, "form");
    if (order.file == "dxf") return FormFile{sheet::dxf(all, order.dxf_unit)};
    auto svg = sheet::template_svg(all, options);
    if (!svg) return base::fail(std::move(svg.error()));
    return FormFile{std::move(*svg)};
  }
  const answer::SolidFormats wanted{.stl = order.file == "stl",
                                    .three_mf = order.file == "3mf",
                                    .step = order.file == "step",
                                    .one_stl = true};
  auto files = answer::solid_files(answer, wanted, report);
  if (!files) return base::fail(std::move(files.error()));
  return FormFile{std::move(files->front().bytes)};
}

base::Expected<WorkProduct> form(const std::string& id, const WorkOrder& order,
                                 const Report& report) {
  answer::FormOptions options = order.form.options;
  const bool solid = order.file == "stl" || order.file == "3mf" || order.file == "step";
  if (solid) options.kinds = {answer::FormKind::solid};
  const auto answer = answer::form_answer(order.loaded, options);
  if (!answer) return base::fail(answer.error());
  auto file = draw_form(order, *answer, report);
  if (!file) return base::fail(std::move(file.error()));
  const std::string name =
      file_name(order.loaded.job.info.name, "form-" + answer::to_text(options.kinds.front())) +
      "." + order.file;
  const Json result{{"file", "/api/work/" + id + "/file"},
                    {"file_name", name},
                    {"size_bytes", file->bytes.size()},
                    {"pages", order.file == "pdf" ? Json(file->pages) : Json(nullptr)}};
  return WorkProduct{result.dump(), name, std::move(file->bytes)};
}

base::Expected<WorkProduct> bench_product(const std::string& id, const WorkOrder& order,
                                          const sheet::BenchSheets& sheets, units::Profile profile,
                                          const std::string& name) {
  const sheet::PacketOptions options{.paper = order.paper,
                                     .profile = profile,
                                     .bar_measured_m = order.bar_measured_m,
                                     .date = today()};
  auto pdf = sheet::bench_pdf(sheets, options);
  if (!pdf) return base::fail(std::move(pdf.error()));
  const Json result{{"file", "/api/work/" + id + "/file"},
                    {"file_name", name},
                    {"size_bytes", pdf->bytes.size()},
                    {"pages", pdf->pages.size()}};
  return WorkProduct{result.dump(), name, std::move(pdf->bytes)};
}

base::Expected<WorkProduct> bench(const std::string& id, const WorkOrder& order) {
  return bench_product(
      id, order, answer::spars_sheets(answer::spars_answer(order.spars), order.print),
      order.spars.profile, file_name("batch " + order.print.batch, "bench") + ".pdf");
}

base::Expected<WorkProduct> targets(const std::string& id, const WorkOrder& order) {
  const Json answer = answer::bench_document(order.bench);
  const auto sheets = answer::target_sheets(answer, order.print.batch);
  if (!sheets) return base::fail(sheets.error());
  const bool inch = answer["units"] == "inch";
  return bench_product(id, order, *sheets, inch ? units::Profile::inch : units::Profile::metric,
                       file_name(order.print.batch, "targets") + ".pdf");
}

}  // namespace

base::Expected<WorkProduct> carry_out(const std::string& id, const WorkOrder& order,
                                      const Report& report) {
  if (!report(0)) return base::fail(base::Problem{.message = "stopped"});
  if (order.kind == "form") return form(id, order, report);
  if (order.kind == "bench") return bench(id, order);
  if (order.kind == "targets") return targets(id, order);
  auto prediction = answer::nominal_prediction(order.loaded);
  if (!prediction) return base::fail(std::move(prediction.error()));
  const double duration_s = prediction->nominal.flight.duration_s;
  if (order.kind == "packet") return packet(id, order, std::move(*prediction), report);
  if (order.kind == "sensitivities") {
    const auto all = predict::sensitivities(order.loaded.job, prediction->nominal);
    return WorkProduct{answer::compact(sensitivities_json(all, duration_s)), {}, {}};
  }
  const predict::SpreadOptions how{.samples = order.samples, .seed = 1, .progress = report};
  const auto spread =
      predict::spread(order.loaded.job, order.loaded.attachments, prediction->nominal, how);
  if (!spread) return base::fail(answer::in_file(spread.error(), "job"));
  return WorkProduct{answer::compact(spread_json(*spread, duration_s)), {}, {}};
}

}  // namespace propwright::server
