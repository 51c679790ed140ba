// The motor, its curve, and what backing off more or fewer turns would do.
#include <algorithm>
#include <cmath>

#include "packet_data.h"
#include "propwright/rubber/winder.h"

namespace propwright::answer {
namespace {

void add_motor(const Prediction& prediction, sheet::MotorFacts& facts) {
  const brief::Job& job = prediction.loaded.job;
  const rubber::Motor& motor = prediction.nominal.setup.motor;
  const flight::Flight& flight = prediction.nominal.flight;
  const double thickness_m = job.motor.strip_thickness_m;
  // As the winding card of the day counts them: whole turns, never past what is planned.
  const double wound = rubber::crank_turns(flight.turns_wound, 1),
               launched = rubber::crank_turns(flight.turns_at_launch, 1);
  facts = {.rubber = job.rubber.name,
           .strip_width_m = job.motor.strip_width_m.value_or(motor.section_m2 /
                                                             (thickness_m * job.motor.strands)),
           .strip_thickness_m = thickness_m,
           .strands = job.motor.strands,
           .loop_length_m = motor.length_m,
           .mass_kg = motor.mass_kg,
           .breaking_turns = motor.breaking_turns,
           .wind_turns = wound,
           .wind_torque_Nm = rubber::winding_torque_Nm(motor, wound),
           .backed_off_turns = wound - launched,
           .launch_turns = launched,
           .launch_torque_Nm = flight.launch_torque_Nm,
           .wait_s = job.launch.wait_s};
}

void add_curve(const rubber::Motor& motor, sheet::WindingData& winding) {
  for (int i = 0; i <= drawn_points; ++i) {
    const double turns = motor.breaking_turns * i / drawn_points;
    winding.unwinding_Nm.x.push_back(turns);
    winding.unwinding_Nm.y.push_back(rubber::torque_Nm(motor, turns));
    winding.winding_Nm.x.push_back(turns);
    winding.winding_Nm.y.push_back(rubber::winding_torque_Nm(motor, turns));
  }
}

sheet::BackOffRow fly_row(const flight::Setup& planned, double wound, double backed_off) {
  flight::Setup setup = planned;
  setup.launch.margin_m.reset();
  setup.launch.torque_Nm.reset();
  setup.launch.turns = wound - backed_off;
  sheet::BackOffRow row{.backed_off_turns = backed_off,
                        .launch_turns = wound - backed_off,
                        .launch_torque_Nm = rubber::torque_Nm(setup.motor, wound - backed_off),
                        .top_height_m = {},
                        .duration_s = {}};
  const auto flown = flight::fly(setup);
  if (!flown) return row;
  row.launch_torque_Nm = flown->launch_torque_Nm;
  row.top_height_m = flown->top_height_m;
  row.duration_s = flown->duration_s;
  return row;
}

/// A step that a turn counter shows well, about a fortieth of the turns wound.
double back_off_step(double wound) {
  for (const double step : {5.0, 10.0, 20.0, 25.0, 50.0}) {
    if (wound / step <= 40) return step;
  }
  return 100;
}

/// The plan and three round numbers on either side of it.
std::vector<double> back_off_choices(double wound, double planned) {
  const double step = back_off_step(wound);
  std::vector<double> all{planned};
  const auto keep = [&](double choice) {
    const bool possible = choice >= 0 && choice < wound;
    if (possible && std::abs(choice - planned) >= 0.2 * step) all.push_back(choice);
  };
  for (int i = 0; i < 3; ++i) {
    keep((std::floor(planned / step) - i) * step);
    keep((std::floor(planned / step) + 1 + i) * step);
  }
  std::sort(all.begin(), all.end());
  return all;
}

}  // namespace

void add_winding(const Prediction& prediction, sheet::PacketData& data) {
  const flight::Setup& setup = prediction.nominal.setup;
  add_motor(prediction, data.motor);
  add_curve(setup.motor, data.winding);
  const double wound = data.motor.wind_turns;
  for (const double choice : back_off_choices(wound, data.motor.backed_off_turns)) {
    data.winding.back_off.push_back(fly_row(setup, wound, choice));
    if (choice == data.motor.backed_off_turns) {
      data.motor.launch_torque_Nm = data.winding.back_off.back().launch_torque_Nm;
    }
  }
}

}  // namespace propwright::answer
