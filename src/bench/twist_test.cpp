#include "propwright/bench/twist_test.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "check.h"

namespace propwright::bench {
namespace {

constexpr double steepest_rad = 85 * base::degree_rad;  // an arm hanging nearly plumb tells nothing
// G over density of balsa: 0.037 to 0.054 of E = 21.25 MJ/kg rho (Wood Handbook table 5-1, from
// memory) is 0.8 to 1.1; a materials database's card 1.8; widened by the 30 % of single sheets and
// to the next half.
constexpr double least_G_J_kg = 0.5e6, greatest_G_J_kg = 3e6;
constexpr double coarse_twist = 0.2;  // GJ known worse is asked about (ours)

base::Problems twist_problems(const TwistTest& t, const Instruments& instruments) {
  Checks checks;
  checks.add(problems_of(instruments));
  check_length(checks, t.length_m, "length_m");
  check_length(checks, t.arm_m, "arm_m");
  if (t.second_arm_m != 0) check_length(checks, t.second_arm_m, "second_arm_m");
  checks.within(t.rest_angle_rad, -steepest_rad, steepest_rad, "rest_angle_rad",
                in_degrees(t.rest_angle_rad), "-85 to 85 degrees",
                "set the arm near the horizontal, a little above");
  checks.within(t.arm_mass_kg, 0, greatest_mass_kg, "arm_mass_kg", in_mg(t.arm_mass_kg),
                "0 to 1 kg", "weigh the arm, or balance it and give 0");
  checks.within(t.arm_centre_of_mass_m, -greatest_length_m, greatest_length_m,
                "arm_centre_of_mass_m", in_mm(t.arm_centre_of_mass_m), "-10 to 10 m",
                "balance the arm on an edge and measure from the spar's axis");
  if (t.readings.empty()) {
    checks.add("readings", "none", "at least one", "hang a mass on the arm and read the angle",
               "no reading");
  }
  for (std::size_t i = 0; i < t.readings.size(); ++i) {
    const auto& [mass_kg, angle_rad] = t.readings[i];
    check_mass(checks, mass_kg, fmt::format("readings[{}].mass_kg", i));
    const double most = steepest_rad + t.rest_angle_rad;
    checks.within(angle_rad, 1e-6, most, fmt::format("readings[{}].angle_rad", i),
                  in_degrees(angle_rad), fmt::format("above 0, at most {}", in_degrees(most)),
                  "take a smaller mass or a shorter arm, or begin with the arm higher");
  }
  return checks.take();
}

struct TwistLine {
  double compliance = 0, sigma = 0, rms = 0;
};

/// How the torque changes as the arm turns on, N m/rad.
double torque_slope(const TwistTest& t, const TwistReading& r) {
  const double hung = r.mass_kg * (t.arm_m + t.second_arm_m);
  return base::gravity_m_s2 * (hung + t.arm_mass_kg * t.arm_centre_of_mass_m) *
         std::sin(t.rest_angle_rad - r.angle_rad);
}

/// Least squares through the origin. The angle with the mass scatters from reading to reading, the
/// resting angle is common to all of them, and so is the arm's length. A misread angle also
/// misstates the arm's slope and with it the torque.
TwistLine twist_line(const TwistTest& t, const Instruments& i) {
  double moment_square = 0, moment_angle = 0;
  for (const TwistReading& r : t.readings) {
    const double M = twist_torque_Nm(t, r);
    moment_square += M * M;
    moment_angle += M * r.angle_rad;
  }
  TwistLine line{.compliance = moment_angle / moment_square};
  double residual_square = 0, mass_square = 0, angle_square = 0, common = 0;
  for (const TwistReading& r : t.readings) {
    const double M = twist_torque_Nm(t, r);
    residual_square += squared(r.angle_rad - line.compliance * M);
    mass_square +=
        squared(line.compliance * M * M / moment_square * net_mass_sigma_kg(i) / r.mass_kg);
    const double per_angle = M / moment_square * (1 - line.compliance * torque_slope(t, r));
    angle_square += squared(per_angle);
    common += per_angle;
  }
  const double n = static_cast<double>(t.readings.size());
  line.rms = std::sqrt(residual_square / n);
  const double reading = reading_sigma(i.angle_resolution_rad, i.angle_repeatability_rad);
  const double scatter = n > 1 ? std::sqrt(residual_square / (n - 1)) : 0;
  const double rule = reading_sigma(i.rule_resolution_m, 0);
  const double arms = t.second_arm_m > 0 ? std::sqrt(2.0) * rule : rule;
  line.sigma =
      std::sqrt(squared(std::max(reading, scatter)) * angle_square + squared(reading * common) +
                mass_square + squared(line.compliance * arms / (t.arm_m + t.second_arm_m)));
  return line;
}

void ask_about_twist(TwistFigures& f, std::optional<double> density_kg_m3) {
  if (f.G_Pa && density_kg_m3) {
    const double per_density = f.G_Pa->value / *density_kg_m3;
    if (per_density < least_G_J_kg || per_density > greatest_G_J_kg) {
      f.questions.push_back(
          {"readings",
           fmt::format("G of {:.0f} MPa is {} for balsa of {:.0f} kg/m3, where {:.0f} to "
                       "{:.0f} is usual: check arm, mass, angle and sizes",
                       f.G_Pa->value / 1e6, per_density < least_G_J_kg ? "too soft" : "too stiff",
                       *density_kg_m3, least_G_J_kg * *density_kg_m3 / 1e6,
                       greatest_G_J_kg * *density_kg_m3 / 1e6)});
    }
  }
  const double doubt = f.GJ_Nm2.sigma / f.GJ_Nm2.value;
  if (doubt > coarse_twist) {
    f.questions.push_back({"readings", fmt::format("GJ is in doubt by {:.0f} %: take a larger mass "
                                                   "or a longer arm for a larger angle",
                                                   100 * doubt)});
  }
}

}  // namespace

double twist_torque_Nm(const TwistTest& t, const TwistReading& r) {
  const double slope = std::cos(t.rest_angle_rad - r.angle_rad);
  const double hung = r.mass_kg * (t.arm_m + t.second_arm_m) * slope;
  const double arm = t.arm_mass_kg * t.arm_centre_of_mass_m * (slope - std::cos(t.rest_angle_rad));
  return base::gravity_m_s2 * (hung + arm);
}

base::Expected<TwistFigures> twist_figures(const TwistTest& test, const Instruments& instruments,
                                           std::optional<Figure> integral_per_J_m3,
                                           std::optional<double> density_kg_m3) {
  auto problems = twist_problems(test, instruments);
  if (!problems.empty()) return base::fail(std::move(problems));
  for (std::size_t i = 0; i < test.readings.size(); ++i) {
    if (twist_torque_Nm(test, test.readings[i]) > 0) continue;
    problems.push_back({.field = fmt::format("readings[{}].mass_kg", i),
                        .value = in_mg(test.readings[i].mass_kg),
                        .allowed = "enough to outweigh the arm",
                        .remedy = "take a lighter arm or balance it",
                        .message = "the torque comes out negative"});
  }
  if (integral_per_J_m3 && !(integral_per_J_m3->value > 0)) {
    problems.push_back({.field = "integral_per_J_m3",
                        .value = fmt::format("{:g}", integral_per_J_m3->value),
                        .allowed = "above 0",
                        .remedy = "give the spar's sizes",
                        .message = "the spar has no torsion constant"});
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  const TwistLine line = twist_line(test, instruments);
  const double share = line.sigma / line.compliance;
  const double length_share = reading_sigma(instruments.rule_resolution_m, 0) / test.length_m;
  TwistFigures f;
  f.compliance_rad_Nm = {line.compliance, line.sigma};
  const double per_m = line.compliance / test.length_m;
  f.compliance_per_m_rad_Nm_m = {per_m, per_m * std::hypot(share, length_share)};
  f.GJ_Nm2 = {1 / per_m, std::hypot(share, length_share) / per_m};
  f.straightness = line.rms;
  if (integral_per_J_m3) {
    const double G = integral_per_J_m3->value / line.compliance;
    f.G_Pa = Figure{G, G * std::hypot(share, integral_per_J_m3->sigma / integral_per_J_m3->value)};
  }
  ask_about_twist(f, density_kg_m3);
  return f;
}

}  // namespace propwright::bench
