// The fields of [job], [hall], [air], [model] and [rules].
#include "fields.h"

namespace propwright::brief {
namespace {

using D = units::Dimension;

std::vector<Field<Job>> hall_and_air_fields() {
  return {
      quantity("hall.roof_height", D::length, 2, 120, at(&Job::hall, &Hall::roof_height_m),
               "Floor to the lowest obstacle over the flying area: lights, girders, nets.")
          .needed(),
      text("hall.name", 120, at(&Job::hall, &Hall::name), "The hall."),
      words("hall.contact", {"none", "light"}, at(&Job::hall, &Hall::touching_allowed),
            "Whether the model may touch the roof: `light` touches cost height, with `none` the "
            "first touch ends the flight."),
      quantity("hall.touch_loss", D::length, 0.05, 3, at(&Job::hall, &Hall::touch_loss_m),
               "Height lost by one light touch (judgement)."),

      quantity("air.temperature", D::temperature, 253.15, 323.15,
               at(&Job::air, &Air::temperature_K), "Of the hall's air."),
      quantity("air.pressure", D::pressure, 50e3, 110e3, at(&Job::air, &Air::pressure_Pa),
               "Barometer reading in the hall.")
          .absent("standard atmosphere at the altitude"),
      flag("air.pressure_is_reduced", at(&Job::air, &Air::pressure_is_reduced),
           "`true` when the pressure is reduced to sea level, as weather services give it; needs "
           "pressure and altitude."),
      quantity("air.altitude", D::length, -500, 5000, at(&Job::air, &Air::altitude_m),
               "Of the hall above sea level.")
          .absent("sea level"),
      quantity("air.humidity", D::ratio, 0, 1, at(&Job::air, &Air::relative_humidity),
               "Relative humidity."),
  };
}

std::vector<Field<Job>> model_fields() {
  return {
      text("model.name", 120, at(&Job::model, &Model::name), "The model."),
      quantity("model.mass", D::mass, 0.0001, 0.05, at(&Job::model, &Model::mass_kg),
               "Ready to fly, with the propeller, without rubber and spacer.")
          .needed(),
      quantity("model.wing_span", D::length, 0.05, 2, at(&Job::model, &Model::wing_span_m),
               "Projected span of the wing.")
          .needed(),
      quantity("model.wing_chord", D::length, 0.005, 0.6, at(&Job::model, &Model::wing_chord_m),
               "Mean chord of the wing. Give this or wing_area.")
          .absent("from wing_area"),
      quantity("model.wing_area", D::area, 0.0005, 1, at(&Job::model, &Model::wing_area_m2),
               "Projected area of the wing. Give this or wing_chord.")
          .absent("span times chord"),
      quantity("model.wing_camber", D::ratio, 0, 0.10, at(&Job::model, &Model::wing_camber),
               "Height of the wing's arch over its chord."),
      quantity("model.tail_area", D::area, 0, 0.5, at(&Job::model, &Model::tail_area_m2),
               "Stabiliser and fin together, one side; 0 without."),
      quantity("model.trim_lift_coefficient", D::ratio, 0.1, 1.6,
               at(&Job::model, &Model::trim_lift_coefficient),
               "Lift coefficient of the trim, on wing area.")
          .absent("best endurance"),
      quantity("model.span_efficiency", D::ratio, 0.3, 1, at(&Job::model, &Model::span_efficiency),
               "Oswald's e: induced drag is CL^2/(pi AR e) (0.7 to 0.9, judgement)."),
      quantity("model.body_drag_area", D::area, 0, 0.02, at(&Job::model, &Model::body_drag_area_m2),
               "Drag coefficient times area of stick, bracing, wire and wheels."),
      quantity("model.circle_radius", D::length, 0, 60, at(&Job::model, &Model::circle_radius_m),
               "Radius of the flown circle; 0 is straight flight."),
      quantity("model.glide_sink_rate", D::speed, 0.02, 2, at(&Job::model, &Model::glide_sink_m_s),
               "Measured sink rate in a straight glide at flying weight, propeller taken off and "
               "its weight replaced. The whole drag is scaled to it.")
          .absent("drag built up from the parts"),
  };
}

std::vector<Field<Job>> rule_fields() {
  return {
      text("rules.name", 120, at(&Job::rules, &Rules::name), "The class and edition."),
      quantity("rules.least_mass", D::mass, 0, 0.1, at(&Job::rules, &Rules::least_mass_kg),
               "Least mass of the model without rubber.")
          .absent("no limit"),
      quantity("rules.largest_rubber", D::mass, 0.00005, 0.1,
               at(&Job::rules, &Rules::largest_rubber_kg), "Largest mass of rubber.")
          .absent("no limit"),
      quantity("rules.largest_propeller", D::length, 0.05, 1,
               at(&Job::rules, &Rules::largest_propeller_m), "Largest propeller diameter.")
          .absent("no limit"),
      quantity("rules.largest_span", D::length, 0.05, 2, at(&Job::rules, &Rules::largest_span_m),
               "Largest span.")
          .absent("no limit"),
  };
}

}  // namespace

std::vector<Field<Job>> site_fields() {
  std::vector<Field<Job>> all = {
      text("job.name", 120, at(&Job::info, &JobInfo::name), "Printed on every page.").needed(),
      whole("job.version", 1, 9999, at(&Job::info, &JobInfo::version),
            "Count it up whenever the design changes; printed on every part."),
      text("job.note", 4000, at(&Job::info, &JobInfo::note), "Anything worth keeping."),
      words("job.units", {"metric", "inch"}, at(&Job::info, &JobInfo::units),
            "What the packet is printed in. Every field takes either, whatever stands here."),
  };
  for (auto part : {hall_and_air_fields(), model_fields(), rule_fields()}) {
    all.insert(all.end(), part.begin(), part.end());
  }
  return all;
}

}  // namespace propwright::brief
