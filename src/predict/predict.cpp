#include "propwright/predict/predict.h"

#include <cmath>

#include "propwright/base/constants.h"

namespace propwright::predict {

namespace {

/// Speed of level flight at the trim, straight: the middle of the propeller map.
double level_speed_m_s(const brief::Assembly& a) {
  const double mass = a.airframe.mass_kg + a.motor.mass_kg + a.motor.spacer_mass_kg;
  return std::sqrt(2 * mass * base::gravity_m_s2 /
                   (a.air.density_kg_m3 * a.airframe.wing_area_m2 * a.airframe.trim_cl));
}

}  // namespace

base::Expected<Nominal> predict(const brief::Job& job, const brief::Attachments& attachments) {
  auto assembly = brief::assemble(job, attachments);
  if (!assembly) return base::fail(std::move(assembly.error()));
  auto rotor = rotor::Rotor::make(assembly->blade, assembly->family, assembly->rotor_options);
  if (!rotor) return base::fail(std::move(rotor.error()));
  const rotor::Flow flow{assembly->air.density_kg_m3, assembly->air.viscosity_Pa_s};
  auto map = rotor::make_map(*rotor, flow, level_speed_m_s(*assembly));
  if (!map) return base::fail(std::move(map.error()));
  flight::Setup setup = brief::make_setup(*assembly, *map);
  auto flight = flight::fly(setup);
  if (!flight) return base::fail(std::move(flight.error()));
  const double bound = flight::duration_bound_s(setup, job.rules.largest_propeller_m.value_or(0));
  return Nominal{std::move(*assembly), std::move(*rotor),  std::move(*map),
                 std::move(setup),     std::move(*flight), bound};
}

}  // namespace propwright::predict
