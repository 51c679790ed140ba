#include "mass_cost.h"

#include <cmath>

namespace propwright::answer {
namespace {

// Large against the steps of the integration, small against what bends the duration: 60 mg on a
// model of 3 g, about what an overweight propeller brings.
constexpr double mass_step = 0.02;

base::Expected<double> duration_with_s(const predict::Nominal& nominal, double extra_kg) {
  flight::Setup setup = nominal.setup;
  setup.airframe.mass_kg += extra_kg;
  const auto flown = flight::fly(setup);
  if (!flown) return tl::unexpected(flown.error());
  return flown->duration_s;
}

}  // namespace

base::Expected<MassCost> mass_cost(const predict::Nominal& nominal, double relative_sigma) {
  const double step_kg = mass_step * nominal.setup.airframe.mass_kg;
  const auto lighter = duration_with_s(nominal, -step_kg);
  if (!lighter) return tl::unexpected(lighter.error());
  const auto heavier = duration_with_s(nominal, step_kg);
  if (!heavier) return tl::unexpected(heavier.error());
  MassCost cost{.duration_s = nominal.flight.duration_s};
  cost.slope_s_per_kg = (*heavier - *lighter) / (2 * step_kg);
  const double bend = (*heavier + *lighter - 2 * cost.duration_s) / (2 * step_kg);
  cost.slope_sigma_s_per_kg = std::hypot(relative_sigma * cost.slope_s_per_kg, bend);
  return cost;
}

}  // namespace propwright::answer
