// The fields of [learned].
#include "fields.h"
#include "propwright/base/constants.h"
#include "propwright/brief/assemble.h"

namespace propwright::brief {
namespace {

using D = units::Dimension;

Field<Job> factor(const char* name, LearnedFactor Learned::*what, const char* meaning) {
  return quantity(name, D::ratio, 0.3, 3, at(&Job::learned, what, &LearnedFactor::factor), meaning);
}
Field<Job> doubt(const char* name, LearnedFactor Learned::*what) {
  return quantity(name, D::ratio, 0, 1, at(&Job::learned, what, &LearnedFactor::doubt),
                  "The doubt left of it, relative.")
      .absent("as in doubts");
}
Field<Job> angle(const char* name, LearnedAngle Learned::*what, const char* meaning) {
  return quantity(name, D::angle, -10 * base::degree_rad, 10 * base::degree_rad,
                  at(&Job::learned, what, &LearnedAngle::angle_rad), meaning);
}
Field<Job> doubt(const char* name, LearnedAngle Learned::*what) {
  return quantity(name, D::angle, 0, 6 * base::degree_rad,
                  at(&Job::learned, what, &LearnedAngle::doubt_rad), "The doubt left of it.")
      .absent("as in doubts");
}

Field<LearnedDirection> component(const char* name, double LearnedDirection::*what) {
  return quantity<LearnedDirection>(name, D::ratio, -1, 1, at(what),
                                    "Component, in units of the doubt before flights.");
}

}  // namespace

std::vector<Field<Job>> learned_fields() {
  return {
      flag("learned.use", at(&Job::learned, &Learned::use),
           "Whether predictions use what flights taught."),
      text("learned.from", 200, at(&Job::learned, &Learned::from),
           "Which flights taught it: how many, from when to when."),
      text("learned.model", 120, at(&Job::learned, &Learned::model),
           "Model they were flown with. What they taught of another model is not used."),
      text("learned.rubber", 120, at(&Job::learned, &Learned::rubber),
           "Batch of its rubber. What they taught of another batch is not used."),
      text("learned.propeller", 120, at(&Job::learned, &Learned::propeller),
           "Propeller whose angle and flexing they taught; another has its own."),
      text("learned.sections", 200, at(&Job::learned, &Learned::sections),
           "Polar file of its sections; empty for the polars built in."),
      factor("learned.airframe_drag", &Learned::airframe_drag, "On the drag of the model."),
      doubt("learned.airframe_drag_doubt", &Learned::airframe_drag),
      factor("learned.trim_lift", &Learned::trim_lift, "On the trim lift coefficient."),
      doubt("learned.trim_lift_doubt", &Learned::trim_lift),
      factor("learned.circle_radius", &Learned::circle_radius, "On the radius of the circle."),
      doubt("learned.circle_radius_doubt", &Learned::circle_radius),
      factor("learned.rubber_energy", &Learned::rubber_energy, "On the energy of the rubber."),
      doubt("learned.rubber_energy_doubt", &Learned::rubber_energy),
      factor("learned.rubber_turns", &Learned::rubber_turns, "On the breaking turns."),
      doubt("learned.rubber_turns_doubt", &Learned::rubber_turns),
      factor("learned.polar_lift_slope", &Learned::polar_lift_slope,
             "On the lift slope of the blade's sections."),
      doubt("learned.polar_lift_slope_doubt", &Learned::polar_lift_slope),
      factor("learned.polar_drag", &Learned::polar_drag, "On the drag of the blade's sections."),
      doubt("learned.polar_drag_doubt", &Learned::polar_drag),
      factor("learned.polar_cl_max", &Learned::polar_cl_max,
             "On the greatest lift of the blade's sections."),
      doubt("learned.polar_cl_max_doubt", &Learned::polar_cl_max),
      angle("learned.polar_zero_lift", &Learned::polar_zero_lift,
            "Added to the zero-lift angle of the blade's sections."),
      doubt("learned.polar_zero_lift_doubt", &Learned::polar_zero_lift),
      angle("learned.blade_angle", &Learned::blade_angle,
            "How far the blades fly from the angle they are set to, + to higher pitch."),
      doubt("learned.blade_angle_doubt", &Learned::blade_angle),
      factor("learned.blade_stiffness", &Learned::blade_stiffness,
             "On the stiffness of a flexing blade."),
      doubt("learned.blade_stiffness_doubt", &Learned::blade_stiffness),
      factor("learned.blade_moment", &Learned::blade_moment,
             "On the moment of a flexing blade's sections."),
      doubt("learned.blade_moment_doubt", &Learned::blade_moment),
  };
}

const std::vector<Field<LearnedDirection>>& learned_direction_fields() {
  static const std::vector<Field<LearnedDirection>> fields = [] {
    std::vector<Field<LearnedDirection>> all{
        quantity<LearnedDirection>("left", D::ratio, 1e-4, 1, at(&LearnedDirection::left),
                                   "Doubt left along the direction, as a share of that before.")
            .needed()};
    for (const LearnedKey& key : learned_keys()) {
      all.push_back(component(key.key, key.component));
    }
    return all;
  }();
  return fields;
}

}  // namespace propwright::brief
