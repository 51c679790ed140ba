#include "propwright/bench/figure.h"

#include <fmt/format.h>

#include <cmath>

#include "check.h"

namespace propwright::bench {
namespace {

constexpr double one_sided_95 = 1.645;  // 95 % quantile of the normal distribution

}  // namespace

double reading_sigma(double resolution, double repeatability) {
  return std::sqrt(resolution * resolution / 12 + repeatability * repeatability);
}

double net_mass_sigma_kg(const Instruments& instruments) {
  return std::sqrt(2.0) *
         reading_sigma(instruments.scale_resolution_kg, instruments.scale_repeatability_kg);
}

Within within(Figure difference, double tolerance) {
  const double size = std::abs(difference.value), doubt = one_sided_95 * difference.sigma;
  if (size + doubt <= tolerance) return Within::yes;
  return size - doubt > tolerance ? Within::no : Within::cannot_tell;
}

int readings_to_settle(Figure difference, double tolerance, int most) {
  if (within(difference, tolerance) != Within::cannot_tell) return 1;
  const double room = std::abs(tolerance - std::abs(difference.value));
  const double shrink = room > 0 ? one_sided_95 * difference.sigma / room : INFINITY;
  const double count = std::ceil(shrink * shrink);
  return count <= most ? static_cast<int>(count) : 0;
}

base::Problems problems_of(const Instruments& i) {
  Checks checks;
  const auto positive = [&](double value, double most, const char* name, std::string shown,
                            const char* allowed) {
    checks.within(value, 1e-12, most, std::string("instruments.") + name, std::move(shown), allowed,
                  "give one digit of the display or one mark of the scale");
  };
  positive(i.scale_resolution_kg, 0.01, "scale_resolution_kg", in_mg(i.scale_resolution_kg),
           "above 0, at most 10 g");
  positive(i.rule_resolution_m, 0.01, "rule_resolution_m", in_mm(i.rule_resolution_m),
           "above 0, at most 10 mm");
  positive(i.micrometer_resolution_m, 0.001, "micrometer_resolution_m",
           in_mm(i.micrometer_resolution_m), "above 0, at most 1 mm");
  positive(i.angle_resolution_rad, 0.2, "angle_resolution_rad", in_degrees(i.angle_resolution_rad),
           "above 0, at most 11 degrees");
  checks.within(i.scale_repeatability_kg, 0, 0.01, "instruments.scale_repeatability_kg",
                in_mg(i.scale_repeatability_kg), "0 to 10 g",
                "give the scatter of one part weighed often");
  checks.within(i.angle_repeatability_rad, 0, 0.2, "instruments.angle_repeatability_rad",
                in_degrees(i.angle_repeatability_rad), "0 to 11 degrees",
                "give the scatter of one blade read often");
  return checks.take();
}

std::string in_mm(double length_m) {
  return fmt::format("{:.4g} mm", 1e3 * length_m);
}
std::string in_mg(double mass_kg) {
  return fmt::format("{:.4g} mg", 1e6 * mass_kg);
}
std::string in_degrees(double angle_rad) {
  return fmt::format("{:.3g} degrees", angle_rad / base::degree_rad);
}

void check_mass(Checks& checks, double mass_kg, const std::string& field) {
  checks.within(mass_kg, least_mass_kg, greatest_mass_kg, field, in_mg(mass_kg),
                "above 0, at most 1 kg",
                "weigh again, several together where the scale reads zero");
}
void check_length(Checks& checks, double length_m, const std::string& field) {
  checks.within(length_m, least_length_m, greatest_length_m, field, in_mm(length_m),
                "0.1 mm to 10 m", "measure again and give the unit");
}
void check_thickness(Checks& checks, double thickness_m, const std::string& field) {
  checks.within(thickness_m, least_thickness_m, greatest_thickness_m, field, in_mm(thickness_m),
                "0.0001 to 100 mm", "measure again and give the unit");
}

}  // namespace propwright::bench
