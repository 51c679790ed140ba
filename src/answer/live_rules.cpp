// What the rules leave, and the value in effect of every number of the job.
#include <nlohmann/json.hpp>
#include <optional>

#include "live_parts.h"
#include "propwright/brief/fields.h"

namespace propwright::answer {
namespace {

Json rule(const char* field, const char* limit, const char* kind, double rule_si, double yours_si,
          double spare_si) {
  return {{"field", field},
          {"limit", limit},
          {"kind", kind},
          {"rule", six_digits(rule_si)},
          {"yours", six_digits(yours_si)},
          {"spare", six_digits(spare_si)}};
}

}  // namespace

Json rules_part(const brief::Job& job, const predict::Nominal& nominal) {
  Json list = Json::array();
  const brief::Rules& rules = job.rules;
  const auto at_most = [&](const char* field, const char* limit, const char* kind,
                           const std::optional<double>& most, double yours) {
    if (most) list.push_back(rule(field, limit, kind, *most, yours, *most - yours));
  };
  if (rules.least_mass_kg) {
    list.push_back(rule("rules.least_mass", "least mass without rubber", "mass",
                        *rules.least_mass_kg, job.model.mass_kg,
                        job.model.mass_kg - *rules.least_mass_kg));
  }
  at_most("rules.largest_rubber", "most rubber", "mass", rules.largest_rubber_kg,
          nominal.setup.motor.mass_kg);
  at_most("rules.largest_propeller", "largest propeller", "length", rules.largest_propeller_m,
          job.propeller.diameter_m);
  at_most("rules.largest_span", "largest span", "length", rules.largest_span_m,
          job.model.wing_span_m);
  return list;
}

Json values_part(const brief::Job& job, const predict::Nominal& nominal) {
  Json values = Json::object();
  for (const auto& [name, value] : brief::numbers_of(job)) values[name] = six_digits(value);
  // What the job leaves to the program, as it came out; what the job says stands already.
  const auto add = [&](const char* name, double value) {
    if (!values.contains(name)) values[name] = six_digits(value);
  };
  const brief::Assembly& a = nominal.assembly;
  const flight::Flight& flight = nominal.flight;
  add("air.pressure", a.air.pressure_Pa);
  add("model.wing_chord", a.airframe.wing_area_m2 / job.model.wing_span_m);
  add("model.wing_area", a.airframe.wing_area_m2);
  add("model.trim_lift_coefficient", a.airframe.trim_cl);
  add("motor.mass", a.motor.mass_kg);
  add("motor.strip_width", a.motor.section_m2 / (job.motor.strip_thickness_m * job.motor.strands));
  add("motor.temperature", a.motor.temperature_K);
  add("launch.wound_turns", flight.turns_wound);
  add("launch.turns", flight.turns_at_launch);
  add("launch.torque", flight.launch_torque_Nm);
  add("launch.margin", job.hall.roof_height_m - flight.top_height_m);
  add("propeller.pitch", a.set_pitch_m);
  add("propeller.form_pitch", a.form.pitch_m);
  add("propeller.gauge_radius", a.gauge_radius_m);
  return values;
}

}  // namespace propwright::answer
