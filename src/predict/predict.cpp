#include "propwright/predict/predict.h"

#include <fmt/format.h>

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

struct Propeller {
  rotor::Map map;
  std::optional<flex::FlexRotor> flexing;
  std::optional<flex::Limit> limit;
};

base::Expected<Propeller> propeller_of(const brief::Assembly& a, const rotor::Rotor& rotor,
                                       const rotor::Flow& flow) {
  const double speed = level_speed_m_s(a);
  if (!a.beam) {
    auto map = rotor::make_map(rotor, flow, speed);
    if (!map) return base::fail(std::move(map.error()));
    return Propeller{std::move(*map), {}, {}};
  }
  auto flexing = flex::FlexRotor::make(rotor, *a.beam, a.flex_options);
  if (!flexing) return base::fail(std::move(flexing.error()));
  auto made = flex::make_map(*flexing, flow, speed);
  if (!made) return base::fail(std::move(made.error()));
  return Propeller{std::move(made->map), std::move(*flexing), std::move(made->limit)};
}

/// What the flight could not do may be the blade's doing.
base::Problems with_limit(base::Problems problems, const std::optional<flex::Limit>& limit) {
  if (!limit) return problems;
  problems.push_back({.kind = base::Kind::no_solution,
                      .field = "propeller.flex.fly",
                      .value = fmt::format("{:.2f} mN m at {:.2f} rev/s", 1000 * limit->torque_Nm,
                                           limit->condition.rev_per_s),
                      .allowed = "torques the flexing blade holds",
                      .remedy = "launch at less torque, or make the blade stiffer in torsion",
                      .message = limit->reason});
  return problems;
}

/// What a reader of the prediction must know of the blade.
void note_flex(brief::Assembly& assembly, const Propeller& propeller) {
  if (!propeller.flexing) return;
  assembly.notes.push_back(
      "The blade flies as it bends and twists under its loads. Curves and stations of the "
      "propeller are those of the unloaded blade.");
  if (propeller.limit) {
    assembly.notes.push_back(
        fmt::format("The flexing blade holds its shape up to about {:.2f} mN\u00b7m ({:.0f} rpm).",
                    1000 * propeller.limit->torque_Nm, 60 * propeller.limit->condition.rev_per_s));
  }
}

}  // namespace

base::Expected<Nominal> predict(const brief::Job& job, const brief::Attachments& attachments) {
  auto assembly = brief::assemble(job, attachments);
  if (!assembly) return base::fail(std::move(assembly.error()));
  auto rotor = rotor::Rotor::make(assembly->blade, assembly->family, assembly->rotor_options);
  if (!rotor) return base::fail(std::move(rotor.error()));
  const rotor::Flow flow{assembly->air.density_kg_m3, assembly->air.viscosity_Pa_s};
  auto propeller = propeller_of(*assembly, *rotor, flow);
  if (!propeller) return base::fail(std::move(propeller.error()));
  note_flex(*assembly, *propeller);
  flight::Setup setup = brief::make_setup(*assembly, propeller->map);
  auto flight = flight::fly(setup);
  if (!flight) return base::fail(with_limit(std::move(flight.error()), propeller->limit));
  const double bound = flight::duration_bound_s(setup, job.rules.largest_propeller_m.value_or(0));
  return Nominal{std::move(*assembly),
                 std::move(*rotor),
                 std::move(propeller->map),
                 std::move(setup),
                 std::move(*flight),
                 bound,
                 std::move(propeller->flexing),
                 std::move(propeller->limit)};
}

}  // namespace propwright::predict
