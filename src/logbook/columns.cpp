#include "propwright/logbook/flight_log.h"

namespace propwright::logbook {

const std::vector<Column>& columns() {
  using F = Flight;
  // The believed ranges are wide: what lies outside is a slip of the pen or of the unit.
  static const std::vector<Column> all{
      {"id", "name of the entry, made where it was logged", nullptr, &F::id},
      {"time", "local date and time of launch", nullptr, &F::time},
      {"session", "visit to a hall", nullptr, &F::session},
      {"model", "name of the model", nullptr, &F::model},
      {"propeller", "name of the propeller", nullptr, &F::propeller},
      {"setting", "setting of propeller or model", nullptr, &F::setting},
      {"motor", "name of the motor", nullptr, &F::motor},
      {"batch", "batch of rubber", nullptr, &F::batch},
      {"wind_number", "times this motor had been wound, this one included", &F::wind_number,
       nullptr, 1, 500},
      {"turns_wound", "turns wound in", &F::turns_wound, nullptr, 1, 10000},
      {"turns_at_launch", "turns in the motor at launch", &F::turns_at_launch, nullptr, 1, 10000},
      {"turns_left", "turns left after landing", &F::turns_left, nullptr, 0, 10000},
      {"torque_wound_Nm", "greatest torque while winding", &F::torque_wound_Nm, nullptr, 1e-5, 0.1},
      {"launch_torque_Nm", "torque at launch", &F::launch_torque_Nm, nullptr, 1e-5, 0.1},
      {"wait_s", "time from the last turn wound to launch", &F::wait_s, nullptr, 0, 3600},
      {"duration_s", "time flown", &F::duration_s, nullptr, 1, 7200},
      {"top_height_m", "greatest height above the floor", &F::top_height_m, nullptr, 0.3, 120},
      {"top_time_s", "time from launch to the greatest height", &F::top_time_s, nullptr, 0, 7200},
      {"touches", "touches of the roof", &F::touches, nullptr, 0, 200},
      {"steers", "times steered", &F::steers, nullptr, 0, 200},
      {"mean_rev_per_s", "revolutions, tapped or counted, mean of a while", &F::mean_rev_per_s,
       nullptr, 0.2, 20},
      {"mean_rev_sigma_per_s", "its standard deviation", &F::mean_rev_sigma_per_s, nullptr, 0, 5},
      {"mean_rev_time_s", "time from launch to the middle of that while", &F::mean_rev_time_s,
       nullptr, 0, 7200},
      {"roof_m", "lowest obstacle above the floor", &F::roof_m, nullptr, 2, 120},
      {"launch_height_m", "height of the launch above the floor", &F::launch_height_m, nullptr, 0,
       20},
      {"temperature_K", "of the air", &F::temperature_K, nullptr, 253, 323},
      {"pressure_Pa", "of the air in the hall", &F::pressure_Pa, nullptr, 60000, 110000},
      {"humidity", "relative, 0 to 1", &F::humidity, nullptr, 0, 1},
      {"model_mass_kg", "ready to fly, ballast included, without rubber", &F::model_mass_kg,
       nullptr, 0.0001, 0.05},
      {"ballast_kg", "of it, added to make propellers equally heavy", &F::ballast_kg, nullptr, 0,
       0.01},
      {"motor_mass_kg", "of the rubber", &F::motor_mass_kg, nullptr, 0.00001, 0.05},
      {"motor_section_m2", "of all strands", &F::motor_section_m2, nullptr, 1e-8, 1e-4},
      {"motor_length_m", "of the loop, unloaded, broken in", &F::motor_length_m, nullptr, 0.01, 5},
      {"spacer_mass_kg", "of a partial motor's spacer", &F::spacer_mass_kg, nullptr, 0, 0.05},
      {"motor_part", "1 full, 0.5 half, 0.25 quarter motor", &F::motor_part, nullptr, 0.1, 1},
      {"expected_s", "what one and the same propeller should make of this flight", &F::expected_s,
       nullptr, 1, 7200},
      {"weight", "in comparisons, 0 to 1", &F::weight, nullptr, 0, 1},
      {"flag", "aborted, steered, hang_up, left_out"},
      {"reason", "why it was flagged", nullptr, &F::reason},
      {"notes", "anything else", nullptr, &F::notes},
  };
  return all;
}

}  // namespace propwright::logbook
