#include "propwright/bench/blade.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "blade_tools.h"

namespace propwright::bench {
namespace {

constexpr double greatest_camber = 0.3;
// Fixed-pitch indoor propellers have P/D 1 to 3 (usual 1.5 to 2.2, a published pitch-gauge note).
constexpr double least_pitch_ratio = 0.5, greatest_pitch_ratio = 4;

void check_angles(Checks& checks, const BladeReading& blade) {
  if (blade.angles.size() < 2) {
    checks.add("angles", fmt::format("{} readings", blade.angles.size()), "at two or more radii",
               "read the angle at a second radius; one says nothing about twist", "too few angles");
  }
  for (std::size_t i = 0; i < blade.angles.size(); ++i) {
    const AngleReading& a = blade.angles[i];
    checks.within(a.radius_m, least_length_m, blade.length_m, fmt::format("angles[{}].radius_m", i),
                  in_mm(a.radius_m), fmt::format("above 0, at most {}", in_mm(blade.length_m)),
                  "measure the radius from the shaft's centre");
    checks.within(a.angle_rad, -89 * base::degree_rad, 89 * base::degree_rad,
                  fmt::format("angles[{}].angle_rad", i), in_degrees(a.angle_rad),
                  "-89 to 89 degrees", "read from the disc plane, not from the shaft");
    for (std::size_t k = 0; k < i; ++k) {
      if (std::abs(blade.angles[k].radius_m - a.radius_m) >= same_radius_m) continue;
      checks.add(fmt::format("angles[{}].radius_m", i), in_mm(a.radius_m), "each radius once",
                 "enter the mean of repeated readings", "this radius was given before");
    }
  }
}

void check_cambers(Checks& checks, const BladeReading& blade) {
  for (std::size_t i = 0; i < blade.cambers.size(); ++i) {
    const CamberCheck& c = blade.cambers[i];
    const auto field = [&](const char* name) { return fmt::format("cambers[{}].{}", i, name); };
    checks.within(c.radius_m, least_length_m, blade.length_m, field("radius_m"), in_mm(c.radius_m),
                  fmt::format("above 0, at most {}", in_mm(blade.length_m)),
                  "measure the radius from the shaft's centre");
    check_length(checks, c.chord_m, field("chord_m"));
    checks.within(c.template_camber, 0, greatest_camber, field("template_camber"),
                  fmt::format("{:g} %", 100 * c.template_camber), "0 to 30 %",
                  "give height over chord of the template");
    checks.within(c.gap_m, -greatest_camber * c.chord_m, greatest_camber * c.chord_m,
                  field("gap_m"), in_mm(c.gap_m), "less than 30 % of the chord",
                  "measure the daylight under the template");
  }
}

base::Problems blade_problems(const BladeReading& blade, const Instruments& instruments) {
  Checks checks;
  checks.add(problems_of(instruments));
  check_length(checks, blade.length_m, "length_m");
  check_mass(checks, blade.mass_kg, "mass_kg");
  if (!checks.sound()) return checks.take();
  check_angles(checks, blade);
  check_cambers(checks, blade);
  if (blade.centre_of_mass_m) {
    checks.within(*blade.centre_of_mass_m, 0, blade.length_m, "centre_of_mass_m",
                  in_mm(*blade.centre_of_mass_m), "between shaft and tip",
                  "measure from the shaft's centre to where the blade balances");
  }
  if (blade.moment_kgm) {
    const double most = blade.mass_kg * blade.length_m;
    checks.within(*blade.moment_kgm, 0, most, "moment_kgm",
                  fmt::format("{:.4g} mg mm", 1e9 * *blade.moment_kgm),
                  fmt::format("at most mass times length, {:.4g} mg mm", 1e9 * most),
                  "weigh the tip again with the root on a pivot at the shaft's centre");
    if (blade.centre_of_mass_m) {
      checks.add("moment_kgm", "both given", "moment or centre of mass, not both",
                 "leave one of them out", "the balance was given twice");
    }
  }
  return checks.take();
}

Figure pitch_of(double radius_m, double angle_rad, const Instruments& i) {
  const double tangent = std::tan(angle_rad), circle = 2 * base::pi * radius_m;
  const double by_angle = circle * (1 + tangent * tangent) * angle_sigma_rad(i);
  const double by_radius = 2 * base::pi * tangent * reading_sigma(i.rule_resolution_m, 0);
  return {circle * tangent, std::hypot(by_angle, by_radius)};
}

std::optional<Figure> moment_of(const BladeReading& b, const Instruments& i) {
  const double rule = reading_sigma(i.rule_resolution_m, 0), scale = net_mass_sigma_kg(i);
  if (b.centre_of_mass_m) {
    const double r = *b.centre_of_mass_m;
    return Figure{b.mass_kg * r, std::hypot(b.mass_kg * rule, r * scale)};
  }
  if (b.moment_kgm) {
    // Weighed at the tip: a mass on the scale times the length.
    return Figure{*b.moment_kgm, std::hypot(b.length_m * scale, *b.moment_kgm / b.length_m * rule)};
  }
  return std::nullopt;
}

void ask_about_blade(const BladeReading& b, BladeFigures& f) {
  for (const BladeStation& s : f.stations) {
    const double ratio = std::abs(s.pitch_m.value) / (2 * b.length_m);
    if (ratio >= least_pitch_ratio && ratio <= greatest_pitch_ratio) continue;
    f.questions.push_back(
        {"angles", fmt::format("{} at {} means a pitch of {:.2f} diameters, usual are 1.5 to 2.2: "
                               "was the angle read from the disc plane?",
                               in_degrees(s.angle_rad.value), in_mm(s.radius_m), ratio)});
  }
  const double doubt = f.mass_kg.sigma / f.mass_kg.value;
  if (doubt > 0.02) {
    f.questions.push_back({"mass_kg", fmt::format("the scale's steps leave the mass in doubt by "
                                                  "{:.0f} %: weigh on a tare, several times",
                                                  100 * doubt)});
  }
}

}  // namespace

double angle_sigma_rad(const Instruments& instruments) {
  return reading_sigma(instruments.angle_resolution_rad, instruments.angle_repeatability_rad);
}

base::Expected<BladeFigures> blade_figures(const BladeReading& blade,
                                           const Instruments& instruments) {
  if (auto problems = blade_problems(blade, instruments); !problems.empty()) {
    return base::fail(std::move(problems));
  }
  BladeFigures f;
  f.length_m = {blade.length_m, reading_sigma(instruments.rule_resolution_m, 0)};
  f.mass_kg = {blade.mass_kg, net_mass_sigma_kg(instruments)};
  for (const AngleReading& a : blade.angles) {
    f.stations.push_back({a.radius_m,
                          {a.angle_rad, angle_sigma_rad(instruments)},
                          pitch_of(a.radius_m, a.angle_rad, instruments)});
  }
  std::sort(f.stations.begin(), f.stations.end(),
            [](const BladeStation& a, const BladeStation& b) { return a.radius_m < b.radius_m; });
  const double n = static_cast<double>(f.stations.size());
  double square_sum = 0;
  for (const BladeStation& s : f.stations) {
    f.mean_pitch_m.value += s.pitch_m.value / n;
    square_sum += squared(s.pitch_m.sigma / n);
  }
  f.mean_pitch_m.sigma = std::sqrt(square_sum);
  for (const CamberCheck& c : blade.cambers) {
    f.cambers.push_back({c.radius_m,
                         {c.template_camber + c.gap_m / c.chord_m,
                          reading_sigma(instruments.micrometer_resolution_m, 0) / c.chord_m}});
  }
  f.moment_kgm = moment_of(blade, instruments);
  ask_about_blade(blade, f);
  return f;
}

}  // namespace propwright::bench
