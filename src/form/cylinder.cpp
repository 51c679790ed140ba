#include "propwright/form/cylinder.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <stdexcept>

#include "propwright/base/constants.h"
#include "propwright/base/table.h"
#include "propwright/form/form.h"

namespace propwright::form {
namespace {

constexpr double least_diameter_m = 0.005, most_diameter_m = 1.0;

std::string in_mm(double length_m) {
  return fmt::format("{:.1f} mm", 1e3 * length_m);
}

base::Problem too_large(double cylinder_radius_m, double twist_rad_per_m) {
  return {.kind = base::Kind::no_solution,
          .field = "form.cylinder",
          .value = in_mm(2 * cylinder_radius_m),
          .allowed = "a diameter up to " + in_mm(1 / twist_rad_per_m),
          .remedy = "take a thinner cylinder, or a form of another kind",
          .message = fmt::format("the cylinder cannot twist a sheet by {:.2f} degrees per mm",
                                 1e-3 * twist_rad_per_m / base::degree_rad)};
}

/// Weighted least-squares line through the wanted angles: angle at radius 0, and slope.
struct AngleLine {
  double at_axis_rad = 0, slope_rad_per_m = 0;
};

base::Expected<AngleLine> line_through(const std::vector<WantedStation>& wanted) {
  double w = 0, r = 0, angle = 0;
  for (const WantedStation& station : wanted) {
    w += station.weight;
    r += station.weight * station.radius_m;
    angle += station.weight * station.angle_rad;
  }
  double rr = 0, ra = 0;
  for (const WantedStation& station : wanted) {
    const double from_mean = station.radius_m - r / w;
    rr += station.weight * from_mean * from_mean;
    ra += station.weight * from_mean * station.angle_rad;
  }
  if (!(rr > 0)) {
    return base::fail({.field = "form.station",
                       .value = std::to_string(wanted.size()),
                       .allowed = "two or more at different radii",
                       .remedy = "give more stations",
                       .message = "a cylinder cannot be fitted to so few stations"});
  }
  const double slope = ra / rr;
  return AngleLine{(angle - slope * r) / w, slope};
}

CylinderFit formed(double cylinder_radius_m, double skew_rad, const AngleLine& line,
                   const std::vector<WantedStation>& wanted) {
  CylinderFit fit{.cylinder_radius_m = cylinder_radius_m,
                  .skew_rad = skew_rad,
                  .twist_rad_per_m = -line.slope_rad_per_m,
                  .stations = {}};
  double w = 0, square = 0;
  for (const WantedStation& station : wanted) {
    const double angle = line.at_axis_rad + line.slope_rad_per_m * station.radius_m;
    const double error = angle - station.angle_rad;
    w += station.weight;
    square += station.weight * error * error;
    fit.stations.push_back({.radius_m = station.radius_m,
                            .chord_m = station.chord_m,
                            .angle_rad = angle,
                            .pitch_m = local_pitch_m(angle, station.radius_m),
                            .camber = cylinder_camber(cylinder_radius_m, skew_rad, station.chord_m),
                            .angle_error_rad = error});
  }
  fit.rms_angle_error_rad = std::sqrt(square / w);
  return fit;
}

/// A blade wider than the half cylinder would reach round it: the first station that is.
base::Expected<void> check_chords(double cylinder_radius_m, double skew_rad,
                                  const std::vector<WantedStation>& wanted) {
  const double widest_m = 2 * cylinder_radius_m / std::cos(skew_rad);
  for (const WantedStation& station : wanted) {
    if (station.chord_m <= widest_m) continue;
    return base::fail({.field = "form.cylinder",
                       .value = fmt::format("{:.1f} mm", 2e3 * cylinder_radius_m),
                       .allowed = fmt::format("a diameter above {:.1f} mm",
                                              1e3 * station.chord_m * std::cos(skew_rad)),
                       .remedy = "take a thicker cylinder or a narrower blade",
                       .message = fmt::format(
                           "the chord of {:.1f} mm at radius {:.1f} mm is wider than the cylinder",
                           1e3 * station.chord_m, 1e3 * station.radius_m)});
  }
  return {};
}

base::Problem twists_outwards() {
  return {.kind = base::Kind::no_solution,
          .field = "form.angle",
          .value = {},
          .allowed = "angles that fall from root to tip",
          .remedy = "use a form of another kind",
          .message = "the wanted blade does not lose angle outwards"};
}

}  // namespace

base::Expected<std::vector<Cylinder>> read_cylinders(std::string_view csv,
                                                     const std::string& file) {
  const auto table = base::Table::read(
      csv, {{"diameter_mm", true, 1e3 * least_diameter_m, 1e3 * most_diameter_m}}, file, true);
  if (!table) return tl::unexpected(table.error());
  std::vector<Cylinder> cylinders;
  for (std::size_t i = 0; i < table->rows(); ++i) {
    cylinders.push_back({table->text(i, "name"), 1e-3 * table->column("diameter_mm")[i]});
  }
  return cylinders;
}

double cylinder_twist_rad_per_m(double cylinder_radius_m, double skew_rad) {
  return std::sin(2 * skew_rad) / (2 * cylinder_radius_m);
}

double cylinder_chordwise_curvature_per_m(double cylinder_radius_m, double skew_rad) {
  return std::pow(std::cos(skew_rad), 2) / cylinder_radius_m;
}

double cylinder_spanwise_curvature_per_m(double cylinder_radius_m, double skew_rad) {
  return std::pow(std::sin(skew_rad), 2) / cylinder_radius_m;
}

double cylinder_camber(double cylinder_radius_m, double skew_rad, double chord_m) {
  if (chord_m <= 0) return 0;
  const double half = std::min(1.0, chord_m * std::cos(skew_rad) / (2 * cylinder_radius_m));
  // 1 - sqrt(1 - x^2) as a quotient, which keeps its digits when flat.
  return cylinder_radius_m * (half * half / (1 + std::sqrt(1 - half * half))) / chord_m;
}

base::Expected<double> skew_for_twist(double cylinder_radius_m, double twist_rad_per_m) {
  const double sine = 2 * cylinder_radius_m * twist_rad_per_m;
  if (sine < 0) return base::fail(twists_outwards());
  if (sine > 1) return base::fail(too_large(cylinder_radius_m, twist_rad_per_m));
  return std::asin(sine) / 2;
}

base::Expected<CylinderFit> fit_cylinder(double cylinder_radius_m,
                                         const std::vector<WantedStation>& wanted) {
  const auto line = line_through(wanted);
  if (!line) return tl::unexpected(line.error());
  const auto skew = skew_for_twist(cylinder_radius_m, -line->slope_rad_per_m);
  if (!skew) return tl::unexpected(skew.error());
  if (auto fits = check_chords(cylinder_radius_m, *skew, wanted); !fits) {
    return tl::unexpected(fits.error());
  }
  return formed(cylinder_radius_m, *skew, *line, wanted);
}

base::Expected<CylinderFit> fit_free_cylinder(double camber,
                                              const std::vector<WantedStation>& wanted) {
  if (!(camber > 0)) {
    return base::fail({.field = "propeller.camber",
                       .value = fmt::format("{}", camber),
                       .allowed = "above 0",
                       .remedy = "give the camber the blade should have, or the cylinder",
                       .message = "a cylinder cannot be chosen for a blade without camber"});
  }
  const auto line = line_through(wanted);
  if (!line) return tl::unexpected(line.error());
  const double twist = -line->slope_rad_per_m;
  if (twist <= 0) return base::fail(twists_outwards());
  double w = 0, chord = 0;
  for (const WantedStation& station : wanted) {
    w += station.weight;
    chord += station.weight * station.chord_m;
  }
  // A circular arc of camber k over a chord c has the curvature 8k/(c (1 + 4k^2)).
  const double curvature = 8 * camber / (chord / w * (1 + 4 * camber * camber));
  const double skew = std::atan(twist / curvature);
  const double radius_m = std::pow(std::cos(skew), 2) / curvature;
  return formed(radius_m, skew, *line, wanted);
}

namespace {

std::optional<base::Problem> no_line(double cylinder_radius_m, double root_m, double tip_m,
                                     double pitch_m) {
  if (!(cylinder_radius_m > 0)) {
    return base::Problem{.field = "form.cylinder",
                         .value = in_mm(2 * cylinder_radius_m),
                         .allowed = "a diameter above 0",
                         .remedy = "measure it across the outside",
                         .message = "there is no such cylinder"};
  }
  if (!(pitch_m > 0)) {
    return base::Problem{.field = "form.pitch",
                         .value = in_mm(pitch_m),
                         .allowed = "above 0",
                         .remedy = "give a positive pitch; the other hand is set by the hand",
                         .message = "the pitch is not positive"};
  }
  if (!(root_m >= 0 && tip_m > root_m)) {
    return base::Problem{.field = "form.radius",
                         .value = in_mm(root_m) + " to " + in_mm(tip_m),
                         .allowed = "a root of 0 or more and a tip outside it",
                         .remedy = "give the radii of the blade's two ends",
                         .message = "the blade has no length"};
  }
  return std::nullopt;
}

}  // namespace

base::Expected<LayoutLine> layout_line(double cylinder_radius_m, double root_m, double tip_m,
                                       double pitch_m, int points) {
  if (points < 2 || points > 10000) throw std::invalid_argument("layout_line: 2 to 10000 points");
  if (auto problem = no_line(cylinder_radius_m, root_m, tip_m, pitch_m)) {
    return base::fail(*problem);
  }
  const double p = pitch_m / (2 * base::pi);
  const auto skew_at = [&](double r) {
    return skew_for_twist(cylinder_radius_m, p / (r * r + p * p));
  };
  LayoutLine line;
  double x = 0, y = 0;
  // Simpson over each step: the skew is smooth, so its error is of the fourth order.
  const double step = (tip_m - root_m) / (points - 1);
  for (int i = 0; i < points; ++i) {
    const double r = root_m + i * step;
    const auto skew = skew_at(r);
    if (!skew) {
      base::Problem problem = skew.error().front();
      problem.message += " at radius " + in_mm(r);
      return base::fail(problem);
    }
    if (i > 0) {
      const double before = line.skew_rad.back(), between = skew_at(r - step / 2).value_or(*skew);
      x += step / 6 * (std::cos(before) + 4 * std::cos(between) + std::cos(*skew));
      y += step / 6 * (std::sin(before) + 4 * std::sin(between) + std::sin(*skew));
    }
    line.radius_m.push_back(r);
    line.x_m.push_back(x);
    line.y_m.push_back(y);
    line.skew_rad.push_back(*skew);
  }
  return line;
}

double bending_strain(double cylinder_radius_m, double thickness_m) {
  return thickness_m / (2 * cylinder_radius_m + thickness_m);
}

base::Expected<void> check_bend(double cylinder_radius_m, double thickness_m, double limit) {
  if (bending_strain(cylinder_radius_m, thickness_m) <= limit) return {};
  const double least_m = thickness_m * (1 / limit - 1);
  return base::fail(
      {.field = "form.cylinder",
       .value = in_mm(2 * cylinder_radius_m),
       .allowed = "a diameter from " + in_mm(least_m),
       .remedy = "take a thicker cylinder or a thinner sheet",
       .message = fmt::format("a sheet of {:.2f} mm bent round it is strained by "
                              "{:.1f} %, more than {:.1f} %",
                              1e3 * thickness_m,
                              100 * bending_strain(cylinder_radius_m, thickness_m), 100 * limit)});
}

}  // namespace propwright::form
