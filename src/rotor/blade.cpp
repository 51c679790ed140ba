#include "blade.h"

#include <fmt/format.h>

#include <cmath>

#include "propwright/base/constants.h"

namespace propwright::rotor {

using base::pi;
using base::Problem;

base::Problems Options::check() const {
  base::Problems problems;
  if (stations < 8 || stations > 400) {
    problems.push_back({.field = "stations",
                        .value = fmt::format("{}", stations),
                        .allowed = "8 to 400",
                        .remedy = "leave it out for 24",
                        .message = "the number of blade stations is out of range"});
  }
  return problems;
}

namespace {

void check_row(const BladeRow& row, std::size_t number, base::Problems& problems) {
  const auto report = [&](const char* field, double value, const char* allowed) {
    problems.push_back({.field = fmt::format("blade row {}: {}", number, field),
                        .value = fmt::format("{:g}", value),
                        .allowed = allowed,
                        .remedy = "correct the row",
                        .message = "the blade table is out of range"});
  };
  if (!(row.radius_m > 0) || !std::isfinite(row.radius_m)) {
    report("radius", row.radius_m, "above 0 m");
  }
  if (!(row.chord_m >= 0) || !std::isfinite(row.chord_m)) {
    report("chord", row.chord_m, "0 m or more");
  }
  if (!(std::abs(row.angle_rad) < base::pi)) report("angle", row.angle_rad, "-180 to 180 degrees");
  if (!(row.camber >= 0 && row.camber <= 0.25)) report("camber", row.camber, "0 to 0.25");
}

}  // namespace

base::Problems check(const Blade& blade, const Options& options) {
  base::Problems problems = options.check();
  if (blade.rows.size() < 2) {
    problems.push_back({.field = "blade",
                        .value = fmt::format("{} rows", blade.rows.size()),
                        .allowed = "at least 2 rows",
                        .remedy = "give the blade at two radii or more",
                        .message = "too few rows for a blade"});
    return problems;
  }
  for (std::size_t i = 0; i < blade.rows.size(); ++i) {
    check_row(blade.rows[i], i + 1, problems);
    if (i > 0 && !(blade.rows[i].radius_m > blade.rows[i - 1].radius_m)) {
      problems.push_back({.field = fmt::format("blade row {}: radius", i + 1),
                          .value = fmt::format("{:g} m", blade.rows[i].radius_m),
                          .allowed = "radii strictly increasing from row to row",
                          .remedy = "sort the rows and remove repeats",
                          .message = "the radii are not in order"});
    }
  }
  const double hub = blade.hub_radius_m > 0 ? blade.hub_radius_m : blade.rows.front().radius_m;
  const double tip = blade.tip_radius_m > 0 ? blade.tip_radius_m : blade.rows.back().radius_m;
  if (!(hub < tip)) {
    problems.push_back({.field = "hub radius",
                        .value = fmt::format("{:g} m", hub),
                        .allowed = fmt::format("below the tip radius, {:g} m", tip),
                        .remedy = "check hub and tip radius",
                        .message = "the blade has no length"});
  }
  const bool exact = options.tip_factor == TipFactor::exact;
  if (exact ? (blade.blades < 2 || blade.blades > 4) : (blade.blades < 1 || blade.blades > 12)) {
    problems.push_back({.field = "blades",
                        .value = fmt::format("{}", blade.blades),
                        .allowed = exact ? "2 to 4 with the exact factor" : "1 to 12",
                        .remedy = "choose the Prandtl factor for other numbers of blades",
                        .message = "the number of blades is out of range"});
  }
  return problems;
}

std::vector<BladeRow> at_radii(const Blade& blade, const std::vector<double>& radii) {
  std::vector<double> radius, chord, angle, camber;
  for (const BladeRow& row : blade.rows) {
    radius.push_back(row.radius_m);
    chord.push_back(row.chord_m);
    angle.push_back(row.angle_rad);
    camber.push_back(row.camber);
  }
  const auto chords = base::MonotoneCurve::through(radius, chord).value();
  const auto angles = base::MonotoneCurve::through(radius, angle).value();
  const auto cambers = base::MonotoneCurve::through(radius, camber).value();
  std::vector<BladeRow> rows;
  rows.reserve(radii.size());
  for (const double r : radii)
    rows.push_back({r, chords.value(r), angles.value(r), cambers.value(r)});
  return rows;
}

double rounded_camber(double camber) {
  return std::round(camber * 1e5) / 1e5;
}

base::Problems check(const Condition& condition, const Flow& flow) {
  base::Problems problems;
  const auto require = [&](bool good, const char* field, double value, const char* allowed) {
    if (!good) {
      problems.push_back({.field = field,
                          .value = fmt::format("{:g}", value),
                          .allowed = allowed,
                          .remedy = "correct the value",
                          .message = "the operating condition is out of range"});
    }
  };
  require(condition.speed_m_s >= 0 && condition.speed_m_s < 200, "speed", condition.speed_m_s,
          "0 to 200 m/s");
  require(condition.rev_per_s >= 0 && condition.rev_per_s < 1000, "rev", condition.rev_per_s,
          "0 to 1000 rev/s");
  require(flow.density_kg_m3 > 0 && std::isfinite(flow.density_kg_m3), "density",
          flow.density_kg_m3, "above 0 kg/m3");
  require(flow.viscosity_Pa_s > 0 && std::isfinite(flow.viscosity_Pa_s), "viscosity",
          flow.viscosity_Pa_s, "above 0 Pa s");
  return problems;
}

namespace {

/// Drag coefficient of a thin rod across the flow at Re 20-200 (a 0.5-2 mm spar at 1 m/s);
/// Hoerner, Fluid-Dynamic Drag, cylinder curve, from memory.
constexpr double rod_cd = 1.4;

}  // namespace

// Midpoint rule with enough slices that its error is below the doubt of rod_cd by a factor of a
// thousand.
Loads arm_loads(double hub_radius_m, double diameter_m, int blades, const Condition& condition,
                const Flow& flow) {
  Loads loads;
  if (diameter_m <= 0 || hub_radius_m <= 0) return loads;
  constexpr int slices = 8;
  const double omega = 2 * pi * condition.rev_per_s;
  for (int i = 0; i < slices; ++i) {
    const double r = (i + 0.5) * hub_radius_m / slices;
    const double w = std::hypot(condition.speed_m_s, omega * r);
    const double force_per_speed =
        0.5 * flow.density_kg_m3 * w * diameter_m * rod_cd * blades * hub_radius_m / slices;
    loads.thrust_N -= force_per_speed * condition.speed_m_s;
    loads.torque_Nm += force_per_speed * omega * r * r;
    loads.profile_power_W += force_per_speed * w * w;
  }
  return loads;
}

}  // namespace propwright::rotor
