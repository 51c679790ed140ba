// From a job to what the computations take.
#include "propwright/brief/assemble.h"

#include <fmt/format.h>

#include <algorithm>

#include "fields.h"
#include "parts.h"

namespace propwright::brief {
namespace {

using D = units::Dimension;

constexpr double default_margin_m = 0.5;

base::Expected<air::Air> make_air(const Air& air) {
  return air::moist_air({.temperature_K = air.temperature_K,
                         .pressure_Pa = air.pressure_Pa,
                         .pressure_is_reduced = air.pressure_is_reduced,
                         .altitude_m = air.altitude_m,
                         .relative_humidity = air.relative_humidity});
}

base::Expected<section::Family> make_family(const std::string& file, const std::string& csv) {
  if (file.empty()) return section::Family::thin_arc();
  if (csv.empty()) {
    return base::fail({.field = "propeller.polar_file",
                       .value = file,
                       .remedy = "check the path; it is relative to the job file",
                       .message = "the file of section polars is empty or was not read"});
  }
  return section::Family::read(csv, file);
}

base::Expected<rubber::Batch> make_batch(const Rubber& r, const std::string& csv) {
  if (r.test_file.empty()) {
    return rubber::default_batch(r.energy_J_per_kg, r.turns_constant, r.density_kg_m3);
  }
  if (csv.empty()) {
    return base::fail({.field = "rubber.test_file",
                       .value = r.test_file,
                       .remedy = "check the path; it is relative to the job file",
                       .message = "the bench test is empty or was not read"});
  }
  const rubber::TestMotor tested{r.test_section_m2.value_or(0), r.test_length_m.value_or(0),
                                 r.test_mass_kg.value_or(0)};
  auto batch = rubber::batch_from_test(csv, tested, r.test_file);
  if (batch && r.test_temperature_K) batch->test_temperature_K = *r.test_temperature_K;
  return batch;
}

base::Expected<rubber::Motor> make_cut_motor(const Job& job, const std::string& test_csv) {
  const auto batch = make_batch(job.rubber, test_csv);
  if (!batch) return base::fail(batch.error());
  const Motor& m = job.motor;
  const double mass_kg = m.mass_kg.value_or(0);
  const double section_m2 = m.strip_width_m ? *m.strip_width_m * m.strip_thickness_m * m.strands
                                            : mass_kg / (batch->density_kg_m3 * m.loop_length_m);
  return rubber::make_motor(*batch, section_m2, m.loop_length_m, mass_kg, m.spacer_mass_kg,
                            m.temperature_K.value_or(job.air.temperature_K));
}

base::Expected<flight::LaunchPlan> make_launch(const Launch& l, double breaking_turns) {
  flight::LaunchPlan plan;
  plan.height_m = l.height_m;
  plan.wound_turns = l.wound_turns.value_or(l.wind_fraction * breaking_turns);
  plan.margin_m = l.margin_m;
  plan.turns = l.turns;
  plan.torque_Nm = l.torque_Nm;
  if (!l.margin_m && !l.turns && !l.torque_Nm) plan.margin_m = default_margin_m;
  plan.wait_s = l.wait_s;
  plan.relaxation_per_s = l.relaxation_per_s;
  if (plan.wound_turns > breaking_turns) {
    return base::fail({.field = "launch.wound_turns",
                       .value = fmt::format("{:.0f}", plan.wound_turns),
                       .allowed = fmt::format("up to {:.0f}", breaking_turns),
                       .remedy = "wind less, or check the size of the motor and "
                                 "rubber.turns_constant",
                       .message = "the motor would break before these turns are wound"});
  }
  if (plan.turns && *plan.turns > plan.wound_turns) {
    return base::fail({.field = "launch.turns",
                       .value = fmt::format("{:.0f}", *plan.turns),
                       .allowed = fmt::format("up to {:.0f}", plan.wound_turns),
                       .remedy = "launch with fewer turns or wind more",
                       .message = "more turns at launch than are wound"});
  }
  return plan;
}

/// What the rules say of this model, and what looks unusual. Not problems: it is flown anyway.
class Notes {
 public:
  Notes(const Job& job, Assembly& assembly)
      : job_(job), made_(assembly), profile_(profile_of(job)) {}

  void all() {
    rules();
    wood();
    propeller_mass();
  }

 private:
  template <class... Args>
  void add(fmt::format_string<Args...> pattern, Args&&... args) {
    made_.notes.push_back(fmt::format(pattern, std::forward<Args>(args)...));
  }
  std::string text(double si, D dimension) const { return units::to_text(si, dimension, profile_); }

  void at_most(const char* what, double value, const std::optional<double>& limit, D dimension) {
    if (!limit || value <= *limit * (1 + 1e-9)) return;
    add("Outside the rules: {} is {}, allowed are {}.", what, text(value, dimension),
        text(*limit, dimension));
  }

  void rules() {
    const Rules& rules = job_.rules;
    if (rules.least_mass_kg && job_.model.mass_kg < *rules.least_mass_kg * (1 - 1e-9)) {
      add("Outside the rules: the model weighs {}, at least {} is asked for.",
          text(job_.model.mass_kg, D::mass), text(*rules.least_mass_kg, D::mass));
    }
    at_most("the rubber", made_.motor.mass_kg, rules.largest_rubber_kg, D::mass);
    at_most("the propeller's diameter", job_.propeller.diameter_m, rules.largest_propeller_m,
            D::length);
    at_most("the span", job_.model.wing_span_m, rules.largest_span_m, D::length);
  }

  void wood() {
    // Balsa a builder can buy runs from about 64 to 250 kg/m3 (common practice).
    const auto unusual = [](double density) { return density < 60 || density > 260; };
    const Propeller& p = job_.propeller;
    if (unusual(p.build.wood_density_kg_m3)) {
      add("Blade wood of {} is unusual for balsa.", text(p.build.wood_density_kg_m3, D::density));
    }
    if (p.spar.length_m > 0 && unusual(p.spar.density_kg_m3)) {
      add("Spar wood of {} is unusual for balsa.", text(p.spar.density_kg_m3, D::density));
    }
  }

  void propeller_mass() {
    // 10 to 30 % of the model is what builders' lists show.
    const double share = made_.propeller_mass_kg / job_.model.mass_kg;
    if (share <= 0.4) return;
    add("The propeller comes to {}, {:.0f} % of the model's mass; 10 to 30 % is usual.",
        text(made_.propeller_mass_kg, D::mass), 100 * share);
  }

  const Job& job_;
  Assembly& made_;
  units::Profile profile_;
};

void take_blade(Assembly& made, BladeGeometry geometry) {
  made.blade = std::move(geometry.blade);
  made.outline = std::move(geometry.outline);
  made.form = geometry.form;
  made.radius_45_m = geometry.radius_45_m;
  made.gauge_radius_m = geometry.gauge_radius_m;
  made.gauge_angle_rad = geometry.gauge_angle_rad;
  made.set_pitch_m = geometry.set_pitch_m;
  made.reset_turn_rad = geometry.reset_turn_rad;
}

void append(std::vector<std::string>& notes, const std::vector<std::string>& more) {
  for (const std::string& note : more) {
    if (std::find(notes.begin(), notes.end(), note) == notes.end()) notes.push_back(note);
  }
}

}  // namespace

base::Expected<Assembly> assemble(const Job& job, const Attachments& attachments) {
  const auto air = make_air(job.air);
  if (!air) return base::fail(air.error());
  const auto family = make_family(job.propeller.polar_file, attachments.polar_csv);
  if (!family) return base::fail(family.error());
  auto blade = make_blade(job.propeller);
  if (!blade) return base::fail(blade.error());
  auto motor = make_cut_motor(job, attachments.rubber_test_csv);
  if (!motor) return base::fail(motor.error());
  apply_learned(job, *motor);
  const auto launch = make_launch(job.launch, motor->breaking_turns);
  if (!launch) return base::fail(launch.error());
  auto airframe =
      make_airframe(job.model, *air, job.model.mass_kg + motor->mass_kg + motor->spacer_mass_kg);
  if (!airframe) return base::fail(airframe.error());
  apply_learned(job, airframe->airframe);

  Assembly made;
  made.air = *air;
  made.family = learned_family(job, *family);
  for (const auto& notes :
       {air->notes, blade->notes, motor->batch.notes, motor->notes, airframe->notes}) {
    append(made.notes, notes);
  }
  take_blade(made, std::move(*blade));
  if (job.propeller.flex.fly) {
    auto beam = make_beam(job.propeller, made.blade);
    if (!beam) return base::fail(beam.error());
    made.beam = std::move(*beam);
    if (!made.family.has_cm()) {
      made.notes.push_back(
          "The polars tell no moment: the flexing blade takes that of thin arcs of the same "
          "camber.");
    }
  }
  apply_learned(job, made);
  made.motor = *motor;
  made.airframe = airframe->airframe;
  made.hall = {
      .roof_m = job.hall.roof_height_m,
      .contact = job.hall.touching_allowed ? flight::Contact::light : flight::Contact::none,
      .touch_loss_m = job.hall.touch_loss_m};
  made.launch = *launch;
  made.friction_fraction = job.propeller.hub.friction_fraction;
  made.freewheels = job.propeller.hub.freewheels;
  made.weights = propeller_weights(job, made.outline);
  for (const PartMass& part : made.weights) made.propeller_mass_kg += part.mass_kg;
  Notes(job, made).all();
  return made;
}

flight::Setup make_setup(const Assembly& assembly, const rotor::Map& map) {
  return {.airframe = assembly.airframe,
          .propeller = map,
          .motor = assembly.motor,
          .hall = assembly.hall,
          .launch = assembly.launch,
          .density_kg_m3 = assembly.air.density_kg_m3,
          .friction_fraction = assembly.friction_fraction,
          .freewheels = assembly.freewheels};
}

}  // namespace propwright::brief
