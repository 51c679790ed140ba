#include "propwright/bench/tube.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "check.h"

namespace propwright::bench {
namespace {

constexpr double most_wraps = 60;

base::Problems tube_problems(const RolledTube& t) {
  Checks checks;
  checks.within(t.mandrel_diameter_m, 0.1e-3, 20e-3, "mandrel_diameter_m",
                in_mm(t.mandrel_diameter_m), "0.1 to 20 mm", "measure the wire across");
  checks.within(t.bore_gain_m, 0, 0.5e-3, "bore_gain_m", in_mm(t.bore_gain_m), "0 to 0.5 mm",
                "measure a finished tube; 0 when in doubt");
  checks.within(t.paper_thickness_m, 1e-6, t.mandrel_diameter_m / 4, "paper_thickness_m",
                in_mm(t.paper_thickness_m), "0.001 mm to a quarter of the mandrel",
                "fold the paper eightfold, measure, divide by eight");
  checks.within(t.paper_areal_mass_kg_m2, 1e-4, 1, "paper_areal_mass_kg_m2",
                fmt::format("{:.4g} g/m2", 1e3 * t.paper_areal_mass_kg_m2), "0.1 to 1000 g/m2",
                "weigh a whole sheet and divide by its area");
  checks.within(t.glue_areal_mass_kg_m2, 0, 1, "glue_areal_mass_kg_m2",
                fmt::format("{:.4g} g/m2", 1e3 * t.glue_areal_mass_kg_m2), "0 to 1000 g/m2",
                "weigh a painted piece when dry, less the bare piece");
  checks.within(t.glue_density_kg_m3, 500, 3000, "glue_density_kg_m3",
                fmt::format("{:.4g} kg/m3", t.glue_density_kg_m3), "500 to 3000 kg/m3",
                "celluloid has 1400, epoxy just below 1200");
  checks.within(t.wraps, 1, most_wraps, "wraps", fmt::format("{:g}", t.wraps), "1 to 60",
                "4 or 5 are usual");
  check_length(checks, t.length_m, "length_m");
  checks.within(t.mass_share_sigma, 0, 1, "mass_share_sigma",
                fmt::format("{:g}", t.mass_share_sigma), "0 to 1", "0.1 is usual");
  return checks.take();
}

base::Problems root_problems(const SparRoot& root) {
  Checks checks;
  checks.within(root.width_m, 0.1e-3, 20e-3, "width_m", in_mm(root.width_m), "0.1 to 20 mm",
                "measure the root");
  checks.within(root.depth_m, 0.1e-3, 20e-3, "depth_m", in_mm(root.depth_m), "0.1 to 20 mm",
                "measure the root");
  checks.within(root.corner_radius_m, 0, std::min(root.width_m, root.depth_m) / 2,
                "corner_radius_m", in_mm(root.corner_radius_m), "0 to half the smaller side",
                "0 for sharp corners, half the width for a round root");
  checks.within(root.fit_allowance_m, 0, 0.5e-3, "fit_allowance_m", in_mm(root.fit_allowance_m),
                "0 to 0.5 mm", "0.02 to 0.05 mm slides");
  return checks.take();
}

/// Antiderivative of sqrt(r^2 + b^2)/b, the arc length of r = b angle.
double spiral_arc(double r, double b) {
  return (r * std::hypot(r, b) + b * b * std::asinh(r / b)) / (2 * b);
}

}  // namespace

double spiral_length_m(double first_radius_m, double lap_m, double wraps) {
  const double b = lap_m / (2 * base::pi);
  // So flat a spiral is circles to 13 digits, and the difference below would lose more.
  if (lap_m < 1e-6 * first_radius_m) {
    return 2 * base::pi * wraps * (first_radius_m + wraps * lap_m / 2);
  }
  return spiral_arc(first_radius_m + lap_m * wraps, b) - spiral_arc(first_radius_m, b);
}

base::Expected<TubeFigures> tube_figures(const RolledTube& t) {
  if (auto problems = tube_problems(t); !problems.empty()) return base::fail(std::move(problems));
  const double glue_m = t.glue_areal_mass_kg_m2 / t.glue_density_kg_m3;
  const double thin_lap = t.paper_thickness_m, thick_lap = t.paper_thickness_m + glue_m;
  const double lap = (thin_lap + thick_lap) / 2;
  const double lap_sigma = (thick_lap - thin_lap) / std::sqrt(12.0);
  const auto strip_m = [&](double lap_m) {
    return spiral_length_m(t.mandrel_diameter_m / 2, lap_m, t.wraps);
  };
  TubeFigures f;
  f.bore_m = t.mandrel_diameter_m + t.bore_gain_m;
  f.wall_m = {t.wraps * lap, t.wraps * lap_sigma};
  f.outside_diameter_m = {f.bore_m + 2 * f.wall_m.value, 2 * f.wall_m.sigma};
  f.paper_length_m = {strip_m(lap), (strip_m(thick_lap) - strip_m(thin_lap)) / std::sqrt(12.0)};
  const double area = f.paper_length_m.value * t.length_m;
  const double area_share = f.paper_length_m.sigma / f.paper_length_m.value;
  const double share = std::hypot(t.mass_share_sigma, area_share);
  f.paper_mass_kg = {area * t.paper_areal_mass_kg_m2, area * t.paper_areal_mass_kg_m2 * share};
  f.glue_mass_kg = {area * t.glue_areal_mass_kg_m2, area * t.glue_areal_mass_kg_m2 * share};
  f.mass_kg.value = f.paper_mass_kg.value + f.glue_mass_kg.value;
  // Paper and glue vary apart, the area they share varies together.
  f.mass_kg.sigma =
      std::hypot(t.mass_share_sigma * std::hypot(f.paper_mass_kg.value, f.glue_mass_kg.value),
                 area_share * f.mass_kg.value);
  return f;
}

double root_circle_m(const SparRoot& root) {
  const double r = root.corner_radius_m;
  return std::hypot(root.width_m - 2 * r, root.depth_m - 2 * r) + 2 * r;
}

base::Expected<MandrelChoice> choose_mandrel(const SparRoot& root,
                                             const std::vector<double>& mandrels_m,
                                             double bore_gain_m) {
  Checks checks;
  checks.add(root_problems(root));
  checks.within(bore_gain_m, 0, 0.5e-3, "bore_gain_m", in_mm(bore_gain_m), "0 to 0.5 mm",
                "measure a finished tube; 0 when in doubt");
  if (mandrels_m.empty()) {
    checks.add("mandrels_m", "none", "at least one", "list the wires and rods you have",
               "no mandrel to choose from");
  }
  for (std::size_t i = 0; i < mandrels_m.size(); ++i) {
    checks.within(mandrels_m[i], 0.1e-3, 20e-3, fmt::format("mandrels_m[{}]", i),
                  in_mm(mandrels_m[i]), "0.1 to 20 mm", "measure the wire across");
  }
  if (!checks.sound()) return base::fail(checks.take());
  const double circle = root_circle_m(root);
  MandrelChoice choice;
  choice.wanted_bore_m = circle + root.fit_allowance_m;
  for (std::size_t i = 0; i < mandrels_m.size(); ++i) {
    const double bore = mandrels_m[i] + bore_gain_m;
    const Mandrel mandrel{i, mandrels_m[i], bore - circle};
    if (bore >= choice.wanted_bore_m) {
      if (!choice.fits || mandrel.diameter_m < choice.fits->diameter_m) choice.fits = mandrel;
    } else if (!choice.next_below || mandrel.diameter_m > choice.next_below->diameter_m) {
      choice.next_below = mandrel;
    }
  }
  return choice;
}

base::Expected<WrapsChoice> wraps_for_mass(const RolledTube& tube, double wanted_mass_kg) {
  RolledTube t = tube;
  t.wraps = most_wraps;
  const auto heaviest = tube_figures(t);
  if (!heaviest) return base::fail(heaviest.error());
  Checks checks;
  checks.within(wanted_mass_kg, least_mass_kg, heaviest->mass_kg.value, "wanted_mass_kg",
                in_mg(wanted_mass_kg),
                fmt::format("above 0, at most {} (60 wraps)", in_mg(heaviest->mass_kg.value)),
                "take thicker paper or more glue for a heavier tube");
  if (!checks.sound()) return base::fail(checks.take());
  // Mass over wraps from the spiral; below one wrap it is still a smooth rising curve.
  const double lap = t.paper_thickness_m + t.glue_areal_mass_kg_m2 / t.glue_density_kg_m3 / 2;
  const double per_length = t.length_m * (t.paper_areal_mass_kg_m2 + t.glue_areal_mass_kg_m2);
  const auto mass = [&](double wraps) {
    return per_length * spiral_length_m(t.mandrel_diameter_m / 2, lap, wraps);
  };
  double low = 0, high = most_wraps;
  for (int i = 0; i < 60; ++i) {
    const double middle = (low + high) / 2;
    (mass(middle) < wanted_mass_kg ? low : high) = middle;
  }
  WrapsChoice choice;
  choice.exact = (low + high) / 2;
  choice.below = static_cast<int>(std::floor(choice.exact + 1e-9));
  choice.above = std::min(static_cast<int>(most_wraps), choice.below + 1);
  if (choice.below >= 1) {
    t.wraps = choice.below;
    choice.mass_below_kg = tube_figures(t)->mass_kg;
  }
  t.wraps = choice.above;
  choice.mass_above_kg = tube_figures(t)->mass_kg;
  return choice;
}

}  // namespace propwright::bench
