// The fields of [rubber], [motor], [launch] and [doubts].
#include "fields.h"
#include "propwright/base/constants.h"

namespace propwright::brief {
namespace {

using D = units::Dimension;

std::vector<Field<Job>> rubber_fields() {
  return {
      text("rubber.name", 120, at(&Job::rubber, &Rubber::name), "Batch, as written on the box."),
      quantity("rubber.energy", D::energy_per_mass, 6000, 16000,
               at(&Job::rubber, &Rubber::energy_J_per_kg),
               "Energy given back from breaking turns, per mass of rubber. The default is what "
               "careful winders report (common practice); a bench test is better."),
      quantity("rubber.turns_constant", D::ratio, 5, 20, at(&Job::rubber, &Rubber::turns_constant),
               "Breaking turns are this times loop length over the root of the section of all "
               "strands (common practice: 9 to 13)."),
      quantity("rubber.density", D::density, 800, 1150, at(&Job::rubber, &Rubber::density_kg_m3),
               "Of the rubber (930 raw, about 950 vulcanised)."),
      file("rubber.test_file", at(&Job::rubber, &Rubber::test_file),
           "CSV of a bench test with the columns turns, torque_winding_Nm, torque_unwinding_Nm. It "
           "takes the place of energy, turns_constant and density."),
      quantity("rubber.test_section", D::area, 1e-8, 1e-4,
               at(&Job::rubber, &Rubber::test_section_m2),
               "Section of all strands of the tested motor; needed with test_file.")
          .absent("no test"),
      quantity("rubber.test_length", D::length, 0.01, 5, at(&Job::rubber, &Rubber::test_length_m),
               "Loop length of the tested motor, unloaded, broken in; needed with test_file.")
          .absent("no test"),
      quantity("rubber.test_mass", D::mass, 0.00001, 0.1, at(&Job::rubber, &Rubber::test_mass_kg),
               "Mass of the tested motor; needed with test_file.")
          .absent("no test"),
      quantity("rubber.test_temperature", D::temperature, 253.15, 323.15,
               at(&Job::rubber, &Rubber::test_temperature_K), "Of the rubber in the test.")
          .absent("20 degC"),
  };
}

std::vector<Field<Job>> cut_motor_fields() {
  return {
      quantity("motor.strip_width", D::length, 0.0003, 0.012,
               at(&Job::motor, &Motor::strip_width_m),
               "Width of one strand. Give this, or mass, or both.")
          .absent("from mass and loop length"),
      quantity("motor.strip_thickness", D::length, 0.0003, 0.003,
               at(&Job::motor, &Motor::strip_thickness_m),
               "Thickness of the strip (common practice: about 1 mm, 0.04 in)."),
      whole("motor.strands", 1, 24, at(&Job::motor, &Motor::strands),
            "Strands side by side: 2 for one loop."),
      quantity("motor.loop_length", D::length, 0.01, 3, at(&Job::motor, &Motor::loop_length_m),
               "Of the loop, unloaded and broken in.")
          .needed(),
      quantity("motor.mass", D::mass, 0.00005, 0.05, at(&Job::motor, &Motor::mass_kg),
               "Rubber as weighed.")
          .absent("section times length times density"),
      quantity("motor.spacer_mass", D::mass, 0, 0.05, at(&Job::motor, &Motor::spacer_mass_kg),
               "Spacer stick flown with a partial motor."),
      quantity("motor.temperature", D::temperature, 253.15, 323.15,
               at(&Job::motor, &Motor::temperature_K), "Of the rubber in flight.")
          .absent("the hall's air"),
  };
}

std::vector<Field<Job>> launch_fields() {
  return {
      quantity("launch.height", D::length, 0.05, 4, at(&Job::launch, &Launch::height_m),
               "Of the model above the floor when it leaves the hand."),
      quantity("launch.wind_fraction", D::ratio, 0.3, 1, at(&Job::launch, &Launch::wind_fraction),
               "Turns wound, as a fraction of breaking turns."),
      quantity("launch.wound_turns", D::ratio, 10, 20000, at(&Job::launch, &Launch::wound_turns),
               "Turns wound, counted at the motor; instead of wind_fraction.")
          .absent("wind_fraction of breaking turns"),
      quantity("launch.margin", D::length, 0, 60, at(&Job::launch, &Launch::margin_m),
               "Back off turns until the climb tops out this far under the roof. At most one of "
               "margin, turns and torque.")
          .absent("0.5 m when turns and torque are left out too"),
      quantity("launch.turns", D::ratio, 1, 20000, at(&Job::launch, &Launch::turns),
               "Turns in the motor at launch.")
          .absent("found from the margin"),
      quantity("launch.torque", D::torque, 1e-5, 0.2, at(&Job::launch, &Launch::torque_Nm),
               "Torque of the motor at launch.")
          .absent("found from the margin"),
      quantity("launch.wait", D::time, 0, 3600, at(&Job::launch, &Launch::wait_s),
               "Between the last turn wound and launch."),
      quantity("launch.relaxation", D::relative_rate, 0, 0.005,
               at(&Job::launch, &Launch::relaxation_per_s),
               "Torque lost by the motor while it waits wound. The default is a guess: no "
               "measurement was found. Read a torque meter twice and replace it."),
  };
}

}  // namespace

std::vector<Field<Job>> motor_fields() {
  std::vector<Field<Job>> all = rubber_fields();
  for (auto part : {cut_motor_fields(), launch_fields()}) {
    all.insert(all.end(), part.begin(), part.end());
  }
  return all;
}

std::vector<Field<Job>> doubt_fields() {
  return {
      quantity("doubts.polar_scale", D::ratio, 0, 5, at(&Job::doubts, &Doubts::polar_scale),
               "Multiplies the doubt that comes with the section polars."),
      quantity("doubts.airframe_drag", D::ratio, 0, 0.5, at(&Job::doubts, &Doubts::airframe_drag),
               "Of the drag of the model."),
      quantity("doubts.trim_lift", D::ratio, 0, 0.3, at(&Job::doubts, &Doubts::trim_lift),
               "Of the trim lift coefficient."),
      quantity("doubts.rubber_energy", D::ratio, 0, 0.3, at(&Job::doubts, &Doubts::rubber_energy),
               "Of the energy of the rubber; 0.03 is usual with a bench test (judgement)."),
      quantity("doubts.rubber_turns", D::ratio, 0, 0.3, at(&Job::doubts, &Doubts::rubber_turns),
               "Of the breaking turns."),
      quantity("doubts.blade_angle", D::angle, 0, 6 * base::degree_rad,
               at(&Job::doubts, &Doubts::blade_angle_rad),
               "Of the blade angles, the same at all stations."),
      difference("doubts.temperature", 0, 15, at(&Job::doubts, &Doubts::temperature_K),
                 "Of the temperature of air and rubber, as a difference: `1 K`."),
      quantity("doubts.circle_radius", D::ratio, 0, 0.5, at(&Job::doubts, &Doubts::circle_radius),
               "Of the radius of the circle."),
      quantity(
          "doubts.blade_stiffness", D::ratio, 0, 1, at(&Job::doubts, &Doubts::blade_stiffness),
          "Of a flexing blade, in bending and torsion alike; 0.05 is usual with a twist test."),
      quantity("doubts.blade_moment", D::ratio, 0, 1, at(&Job::doubts, &Doubts::blade_moment),
               "Of the moment of a flexing blade's sections about the quarter chord."),
  };
}

}  // namespace propwright::brief
