// Stiffness of a strip. Symbols: P load, L length, b width, t thickness, d deflection.
#include <fmt/format.h>

#include <cmath>

#include "check.h"
#include "propwright/bench/stock.h"
#include "propwright/spar/deflection.h"
#include "wood.h"

namespace propwright::bench {
namespace {

constexpr double line_low = 0.5, line_high = 2.0;  // E over the line: beyond is asked about (ours;
                                                   // published single sheets scatter by 30 %)

struct StripSize {
  double load_kg, length_m, width_m, thickness_m;
};

void check_strip(Checks& checks, const StripSize& s, std::optional<Figure> density_kg_m3,
                 double modulus_per_density_J_kg) {
  check_mass(checks, s.load_kg, "load_kg");
  check_length(checks, s.length_m, "length_m");
  check_length(checks, s.width_m, "width_m");
  checks.within(s.thickness_m, 1e-5, s.length_m / 10, "thickness_m", in_mm(s.thickness_m),
                "0.01 mm to a tenth of the length", "measure the thickness in five places");
  if (density_kg_m3) {
    checks.within(density_kg_m3->value, 1, 20000, "density_kg_m3",
                  fmt::format("{:g} kg/m3", density_kg_m3->value), "1 to 20000 kg/m3",
                  "weigh and measure the strip");
  }
  checks.within(modulus_per_density_J_kg, 1e5, 1e9, "modulus_per_density_J_kg",
                fmt::format("{:g} MJ/kg", modulus_per_density_J_kg / 1e6), "0.1 to 1000 MJ/kg",
                "balsa has about 21");
}

/// Relative sigma of b t^3: every modulus from a strip carries it.
double section_share(const StripSize& s, const Instruments& i) {
  const double rule = reading_sigma(i.rule_resolution_m, 0);
  const double micrometer = reading_sigma(i.micrometer_resolution_m, 0);
  return std::hypot(rule / s.width_m, 3 * micrometer / s.thickness_m);
}

StripModulus against_the_line(Figure E_Pa, std::optional<Figure> density_kg_m3,
                              double modulus_per_density_J_kg) {
  StripModulus m;
  m.E_Pa = E_Pa;
  if (!density_kg_m3) return m;
  const double rho = density_kg_m3->value;
  const double share = std::hypot(E_Pa.sigma / E_Pa.value, density_kg_m3->sigma / rho);
  m.specific_J_kg = Figure{E_Pa.value / rho, E_Pa.value / rho * share};
  m.line_E_Pa = modulus_per_density_J_kg * rho;
  const double ratio = E_Pa.value / *m.line_E_Pa;
  m.over_line = Figure{ratio, ratio * share};
  if (ratio < line_low || ratio > line_high) {
    m.questions.push_back(
        {"thickness_m", fmt::format("E of {:.2f} GPa is {} for wood of {:.0f} kg/m3, where {:.2f} "
                                    "is usual: check the thickness, the load and the deflection",
                                    E_Pa.value / 1e9, ratio < 1 ? "too soft" : "too stiff", rho,
                                    *m.line_E_Pa / 1e9)});
  }
  return m;
}

/// The problems of the spar's beam under the names of this test.
base::Problems renamed(base::Problems problems) {
  for (base::Problem& p : problems) {
    if (p.field.starts_with("reading")) p.field = "deflection_m";
    if (p.field.starts_with("depth")) p.field = "thickness_m";
    if (p.field.starts_with("width")) p.field = "width_m";
  }
  return problems;
}

}  // namespace

base::Expected<StripModulus> cantilever_modulus(const CantileverTest& test,
                                                const Instruments& instruments,
                                                std::optional<Figure> density_kg_m3,
                                                double modulus_per_density_J_kg) {
  const StripSize size{test.load_kg, test.length_m, test.width_m, test.thickness_m};
  Checks checks;
  checks.add(problems_of(instruments));
  check_strip(checks, size, density_kg_m3, modulus_per_density_J_kg);
  checks.within(test.deflection_m, 1e-5, test.length_m, "deflection_m", in_mm(test.deflection_m),
                "above 0, less than the length", "read the loaded and the unloaded strip again");
  if (!checks.sound()) return base::fail(checks.take());
  const spar::Section section{
      .shape = spar::Shape::rectangular, .width_m = test.width_m, .depth_m = test.thickness_m};
  const double volume = test.width_m * test.thickness_m * test.length_m;
  spar::Beam beam{.taper = spar::taper(section, std::nullopt, section, test.length_m)};
  beam.mass_kg = density_kg_m3 ? density_kg_m3->value * volume : 0;
  const spar::Rig rig{.load_kg = test.load_kg,
                      .load_at_m = test.length_m,
                      .read_at_m = test.length_m,
                      .zero = spar::Zero::unloaded_spar};
  const auto EI = spar::ei_root_Nm2(beam, rig, test.deflection_m);
  if (!EI) return base::fail(renamed(EI.error()));
  const double E = *EI / spar::second_moments(section).i_0_m4;
  const double rule = reading_sigma(instruments.rule_resolution_m, 0);
  const double share = std::sqrt(squared(section_share(size, instruments)) +
                                 squared(net_mass_sigma_kg(instruments) / test.load_kg) +
                                 squared(3 * rule / test.length_m) +
                                 squared(std::sqrt(2.0) * rule / test.deflection_m));
  return against_the_line({E, E * share}, density_kg_m3, modulus_per_density_J_kg);
}

base::Expected<StripModulus> buckling_modulus(const BucklingTest& test,
                                              const Instruments& instruments,
                                              std::optional<Figure> density_kg_m3,
                                              double modulus_per_density_J_kg) {
  const StripSize size{test.load_kg, test.length_m, test.width_m, test.thickness_m};
  Checks checks;
  checks.add(problems_of(instruments));
  check_strip(checks, size, density_kg_m3, modulus_per_density_J_kg);
  if (!checks.sound()) return base::fail(checks.take());
  const double force = base::gravity_m_s2 * test.load_kg;
  const double E = 12 * force * squared(test.length_m) /
                   (squared(base::pi) * test.width_m * std::pow(test.thickness_m, 3));
  const double rule = reading_sigma(instruments.rule_resolution_m, 0);
  const double share = std::sqrt(squared(section_share(size, instruments)) +
                                 squared(net_mass_sigma_kg(instruments) / test.load_kg) +
                                 squared(2 * rule / test.length_m));
  return against_the_line({E, E * share}, density_kg_m3, modulus_per_density_J_kg);
}

}  // namespace propwright::bench
