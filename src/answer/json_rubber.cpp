#include <cmath>
#include <nlohmann/json.hpp>

#include "propwright/answer/json_answers.h"
#include "propwright/answer/json_text.h"

namespace propwright::answer {
namespace {

constexpr int answered_points = 41;

}  // namespace

std::string rubber_json(const rubber::Batch& batch, const rubber::TestMotor& motor) {
  const double breaking = rubber::breaking_turns(batch, motor.section_m2, motor.length_m);
  const double torque = batch.torque_constant_Pa * std::pow(motor.section_m2, 1.5);
  Json curve = Json::array();
  for (int i = 0; i < answered_points; ++i) {
    const double x = static_cast<double>(i) / (answered_points - 1);
    const double q = batch.unwinding.value(x), q_winding = batch.winding.value(x);
    curve.push_back({{"x", x},
                     {"q", q},
                     {"q_winding", q_winding},
                     {"turns", x * breaking},
                     {"torque_unwinding_Nm", q * torque},
                     {"torque_winding_Nm", q_winding * torque}});
  }
  return document({{"energy_out_J_per_kg", batch.energy_J_per_kg},
                   {"returned_over_stored", batch.returned_over_stored},
                   {"turns_constant", batch.turns_constant},
                   {"torque_constant_Pa", batch.torque_constant_Pa},
                   {"breaking_turns", breaking},
                   {"density_kg_m3", batch.density_kg_m3},
                   {"temperature_K", batch.test_temperature_K},
                   {"curve", curve},
                   {"notes", batch.notes}});
}

}  // namespace propwright::answer
