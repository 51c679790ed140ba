#include "propwright/solid/form_solid.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "grid.h"
#include "part.h"
#include "propwright/base/constants.h"

namespace propwright::solid {
namespace {

constexpr double steepest_rad = 86 * base::degree_rad;
constexpr double least_part_m = 0.005;  // of the blade on either side of a split

std::string in_mm(double length_m) {
  return fmt::format("{:g} mm", 1e3 * length_m);
}

class Checker {
 public:
  Checker(const form::Surface& surface, const FormOptions& options)
      : surface_(surface), options_(options) {}

  base::Problems problems() {
    range("form.tolerance", options_.tolerance_m, 5e-7, 0.002, "give a tolerance such as 0.2 mm");
    range("form.border", options_.border_m, 0.001, 0.05, "give a border such as 6 mm");
    range("form.base_thickness", options_.base_thickness_m, 0.001, 0.1,
          "give a thickness such as 4 mm");
    range("form.groove_width", options_.groove_width_m, 0, 0.01, "give the width of the spar");
    if (options_.groove_width_m > 0) {
      range("form.groove_depth", options_.groove_depth_m, 1e-5, 0.01, "give the depth of the spar");
    }
    range("form.scribe_depth", options_.scribe_depth_m, 0, 0.002, "give a depth such as 0.3 mm");
    if (options_.scribe_depth_m > 0) {
      range("form.scribe_width", options_.scribe_width_m, 5e-5, 0.0015,
            "give a width such as 0.5 mm");
    }
    tilt();
    if (!options_.pin_radii_m.empty()) pins();
    if (options_.split_radius_m) split();
    if (surface_.root_m() <= options_.border_m) {
      add("form.border", in_mm(options_.border_m), "below " + in_mm(surface_.root_m()),
          "use a narrower border or begin the form further out",
          "the root end of the form would reach the shaft");
    }
    if (found_.empty()) undercut();
    return std::move(found_);
  }

 private:
  void add(std::string field, std::string value, std::string allowed, std::string remedy,
           std::string message) {
    found_.push_back({.field = std::move(field),
                      .value = std::move(value),
                      .allowed = std::move(allowed),
                      .remedy = std::move(remedy),
                      .message = std::move(message)});
  }

  void range(const std::string& field, double value_m, double least_m, double most_m,
             const std::string& remedy) {
    if (value_m >= least_m && value_m <= most_m) return;
    add(field, in_mm(value_m), in_mm(least_m) + " to " + in_mm(most_m), remedy,
        "the size is out of range");
  }

  void tilt() {
    const double degrees = options_.base_tilt_rad / base::degree_rad;
    if (degrees >= 0 && degrees <= 80) return;
    add("form.base_tilt", fmt::format("{:g} deg", degrees), "0 to 80 deg",
        "give the angle by which the base is turned about the spar line",
        "the tilt of the base is out of range");
  }

  void pins() {
    range("form.pin_diameter", options_.pin_diameter_m, 0.0003, 0.01,
          "give the diameter of the pin");
    range("form.pin_depth", options_.pin_depth_m, 0.0005, 0.05, "give the depth of the hole");
    // Clear of the scribe line across the blade's end.
    const double half = hole_block * options_.pin_diameter_m / 2 +
                        std::max(0.0003, options_.scribe_width_m / 2 + 0.0001);
    const double root = surface_.root_m(), tip = surface_.tip_m(), border = options_.border_m;
    std::vector<double> sorted = options_.pin_radii_m;
    std::sort(sorted.begin(), sorted.end());
    for (std::size_t i = 0; i < sorted.size(); ++i) {
      const double r = sorted[i];
      const bool inner = r - half > root - border && r + half < root;
      const bool outer = r - half > tip && r + half < tip + border;
      const bool apart = i == 0 || r - sorted[i - 1] > 2 * half;
      if ((inner || outer) && apart) continue;
      add("form.pins", in_mm(r),
          fmt::format("{} to {}, or {} to {}, {} apart", in_mm(root - border + half),
                      in_mm(root - half), in_mm(tip + half), in_mm(tip + border - half),
                      in_mm(2 * half)),
          "move the pin into the border beyond root or tip, or widen the border",
          "the pin hole lies outside the border of the form");
    }
  }

  void split() {
    range("form.dowel_diameter", options_.dowel_diameter_m, 0.0005, 0.01,
          "give the diameter of the dowel");
    range("form.dowel_depth", options_.dowel_depth_m, 0.001, 0.05, "give the depth of the hole");
    const double least = surface_.root_m() + least_part_m, most = surface_.tip_m() - least_part_m;
    const double r = *options_.split_radius_m;
    if (r >= least && r <= most) return;
    add("form.split", in_mm(r), in_mm(least) + " to " + in_mm(most),
        "split the form at a radius on the blade", "the split lies outside the blade");
  }

  void undercut() {
    constexpr int looks = 200;
    for (int i = 0; i <= looks; ++i) {
      const double x = surface_.root_m() + (surface_.tip_m() - surface_.root_m()) * i / looks;
      const Section section(surface_, options_.base_tilt_rad, x);
      const double up = section.trail_slope_rad(), down = section.lead_slope_rad();
      if (up <= steepest_rad && down >= -steepest_rad) continue;
      const double tilt = least_base_tilt_rad(surface_, steepest_rad) / base::degree_rad;
      const bool cured = up > steepest_rad && tilt > 0;
      add("form.undercut",
          fmt::format("{:.1f} deg", (up > steepest_rad ? up : down) / base::degree_rad),
          "-86 to 86 deg to the base",
          cured ? fmt::format("tilt the base by {:.0f} deg or more about the spar line, use less "
                              "camber at the root, or begin the form further out",
                              tilt)
                : "tilt the base less",
          fmt::format("at radius {:.1f} mm angle and camber together come within 4 deg of the "
                      "vertical or pass it, so that the form would be undercut",
                      1e3 * x));
      return;
    }
  }

  const form::Surface& surface_;
  const FormOptions& options_;
  base::Problems found_;
};

/// With a very wide chord for its radius a bent section can fold over although its angles are
/// sound.
bool folds(const Grid& grid) {
  for (const auto& row : grid.rows) {
    for (std::size_t j = 0; j + 1 < row.size(); ++j) {
      if (row[j + 1].y_m < row[j].y_m) return true;
    }
  }
  return false;
}

FormPart part_of(const form::Surface& surface, const std::string& which, Mesh mesh) {
  const double pitch = surface.pitch_m(0.75 * surface.tip_m());
  const std::string hand = surface.hand() == form::Hand::clockwise ? "clockwise" : "anticlockwise";
  FormPart part;
  part.name =
      fmt::format("form-{}-{:.0f}mm{}{}", hand, 1e3 * pitch, which.empty() ? "" : "-", which);
  part.title = fmt::format("Form{}, {} propeller seen from behind, pitch {:.1f} mm at 3/4 radius",
                           which.empty() ? "" : ", " + which + " part", hand, 1e3 * pitch);
  part.hand = surface.hand();
  part.pitch_m = pitch;
  part.mesh = std::move(mesh);
  return part;
}

}  // namespace

double least_base_tilt_rad(const form::Surface& surface, double steepest) {
  double steepest_found = 0;
  constexpr int looks = 200;
  for (int i = 0; i <= looks; ++i) {
    const double x = surface.root_m() + (surface.tip_m() - surface.root_m()) * i / looks;
    steepest_found = std::max(steepest_found, Section(surface, 0, x).trail_slope_rad());
  }
  const double over = (steepest_found - steepest) / base::degree_rad;
  return over <= 0 ? 0 : std::ceil(over - 1e-9) * base::degree_rad;
}

base::Expected<std::vector<FormPart>> form_solid(const form::Surface& surface,
                                                 const FormOptions& options) {
  if (auto found = Checker(surface, options).problems(); !found.empty()) return base::fail(found);
  const auto made = make_grid(surface, options);
  if (!made) return tl::unexpected(made.error());
  const Grid& grid = *made;
  if (folds(grid)) {
    return base::fail({.field = "form.outline",
                       .remedy = "narrow the chord near the root, or begin the form further out",
                       .message = "the chord is too wide for its radius: the form folds over"});
  }
  auto pins = place_pins(grid, surface, options);
  if (!pins) return tl::unexpected(pins.error());
  const std::size_t last = grid.x_m.size() - 1;
  std::vector<std::pair<std::string, PartRange>> ranges{{"", {0, last, false, false}}};
  std::vector<Dowel> dowels;
  if (options.split_radius_m) {
    const auto it =
        std::lower_bound(grid.x_m.begin(), grid.x_m.end(), *options.split_radius_m - 2e-7);
    const auto row = static_cast<std::size_t>(it - grid.x_m.begin());
    auto placed = place_dowels(grid, row, options);
    if (!placed) return tl::unexpected(placed.error());
    dowels = *placed;
    ranges = {{"inner", {0, row, false, true}}, {"outer", {row, last, true, false}}};
  }
  const bool mirrored = surface.hand() == form::Hand::anticlockwise;
  std::vector<FormPart> parts;
  for (const auto& [which, range] : ranges) {
    Mesh mesh = make_part(grid, range, *pins, dowels, options, mirrored);
    if (auto closed = check_closed(mesh); !closed) return tl::unexpected(closed.error());
    parts.push_back(part_of(surface, which, std::move(mesh)));
  }
  return parts;
}

}  // namespace propwright::solid
