#include "propwright/rubber/strip.h"

#include <fmt/format.h>

#include <cmath>

#include "energy_balance.h"
#include "propwright/rubber/usual_strip.h"
#include "range_check.h"

namespace propwright::rubber {
namespace {

constexpr double said_twice = 0.05;  // a scale, a knot and the lubricant

base::Problems strip_problems(const StripGiven& given) {
  RangeChecks checks("cannot be the measure of rubber strip");
  const auto in = [&](const char* field, const std::optional<double>& value, double low,
                      double high) {
    if (value) checks.within(field, *value, low, high, "measure the strip again");
  };
  in("width_m", given.width_m, 1e-4, 0.05);
  in("thickness_m", given.thickness_m, 2e-4, 3e-3);
  in("density_kg_m3", given.density_kg_m3, density_low_kg_m3, density_high_kg_m3);
  in("line_density_kg_m", given.line_density_kg_m, 1e-5, 0.05);
  in("loop_length_m", given.loop_length_m, 0.01, 5);
  in("mass_kg", given.mass_kg, 1e-6, 0.1);
  checks.within("strands", given.strands, 1, 64, "count the strands: 2 for one loop");
  if (!given.width_m && !given.line_density_kg_m && !(given.mass_kg && given.loop_length_m)) {
    checks.add({.field = "width_m",
                .allowed = "width, mass per length, or mass and loop length",
                .remedy = "give one of these",
                .message = "the size of the strip is not known"});
  }
  return checks.take();
}

/// Thickness and density as given, or what the rest leaves, or the usual ones.
void strip_material(const StripGiven& given, double line_density_kg_m, StripFigures& f) {
  const bool weighed = line_density_kg_m > 0;
  if (given.width_m && weighed && given.thickness_m && !given.density_kg_m3) {
    f.density_kg_m3 = line_density_kg_m / (*given.width_m * *given.thickness_m);
    f.thickness_m = *given.thickness_m;
    f.notes.push_back(fmt::format("The density, {:.0f} kg/m3, is that of this mass and section.",
                                  f.density_kg_m3));
    return;
  }
  f.density_kg_m3 = given.density_kg_m3.value_or(usual_rubber_density_kg_m3);
  if (!given.density_kg_m3) {
    f.notes.push_back(fmt::format("Density taken as {:.0f} kg/m3.", usual_rubber_density_kg_m3));
  }
  if (given.width_m && weighed && !given.thickness_m) {
    f.thickness_m = line_density_kg_m / (*given.width_m * f.density_kg_m3);
    f.notes.push_back(fmt::format("The thickness, {:.3f} mm, is that of this mass and width.",
                                  1e3 * f.thickness_m));
    return;
  }
  f.thickness_m = given.thickness_m.value_or(usual_strip_thickness_m);
  if (!given.thickness_m) {
    f.notes.push_back(
        fmt::format("Thickness taken as {:.2f} mm: strips run 0.99 to 1.07 mm, so measure yours.",
                    1e3 * usual_strip_thickness_m));
  }
}

base::Problems result_problems(const StripFigures& f) {
  RangeChecks checks("mass, width, thickness and length do not fit one another");
  const char* remedy = "check the strands, that the length is that of the loop, and the scale";
  checks.within("density_kg_m3", f.density_kg_m3, density_low_kg_m3, density_high_kg_m3, remedy);
  checks.within("thickness_m", f.thickness_m, 2e-4, 3e-3, remedy);
  checks.within("width_m", f.width_m, 1e-4, 0.05, remedy);
  return checks.take();
}

}  // namespace

base::Expected<StripFigures> strip_figures(const StripGiven& given) {
  auto problems = strip_problems(given);
  if (!problems.empty()) return base::fail(std::move(problems));
  const bool loop_weighed = given.mass_kg && given.loop_length_m;
  const double from_loop =
      loop_weighed ? *given.mass_kg / (given.strands * *given.loop_length_m) : 0;
  const double weighed = given.line_density_kg_m.value_or(from_loop);
  StripFigures f;
  strip_material(given, weighed, f);
  f.width_m = given.width_m.value_or(weighed / (f.density_kg_m3 * f.thickness_m));
  problems = result_problems(f);
  if (!problems.empty()) return base::fail(std::move(problems));
  const double computed = f.density_kg_m3 * f.width_m * f.thickness_m;
  f.line_density_kg_m = weighed > 0 ? weighed : computed;
  if (std::abs(computed / f.line_density_kg_m - 1) > said_twice) {
    f.notes.push_back(fmt::format(
        "Width, thickness and density give {:.3f} g/m, the scale {:.3f} g/m: one of them is off.",
        1e3 * computed, 1e3 * f.line_density_kg_m));
  }
  if (loop_weighed && given.line_density_kg_m &&
      std::abs(from_loop / *given.line_density_kg_m - 1) > said_twice) {
    f.notes.push_back(
        fmt::format("The loop weighs {:.3f} g/m of strand, where {:.3f} g/m is given.",
                    1e3 * from_loop, 1e3 * *given.line_density_kg_m));
  }
  f.section_m2 = given.strands * f.width_m * f.thickness_m;
  f.loop_density_kg_m = given.strands * f.line_density_kg_m;
  f.loop_length_m = given.loop_length_m;
  f.mass_kg = given.mass_kg;
  if (f.loop_length_m && !f.mass_kg) f.mass_kg = f.loop_density_kg_m * *f.loop_length_m;
  if (f.mass_kg && !f.loop_length_m) f.loop_length_m = *f.mass_kg / f.loop_density_kg_m;
  return f;
}

}  // namespace propwright::rubber
