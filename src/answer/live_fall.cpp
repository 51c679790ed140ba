// From the bound that no propeller passes down to the flight, in seconds: the same bound with the
// energy that is left after each loss, then with the useful energy the propeller really gave, then
// the flight. What remains is the model away from its least sink: other speeds, the circle, the
// roof.
#include <algorithm>
#include <nlohmann/json.hpp>

#include "live_parts.h"
#include "propwright/base/constants.h"

namespace propwright::answer {
namespace {

/// The bound with another energy in the motor.
class BoundOfEnergy {
 public:
  BoundOfEnergy(const brief::Job& job, const predict::Nominal& nominal)
      : setup_(nominal.setup),
        whole_J_(nominal.flight.energy.at_break),
        torque_constant_Pa_(nominal.setup.motor.batch.torque_constant_Pa),
        largest_m_(job.rules.largest_propeller_m.value_or(0)) {}

  double with_energy_s(double energy_J) {
    // Energy is proportional to torque; an empty motor still glides down from the launch.
    const double share = std::max(energy_J / whole_J_, 1e-9);
    setup_.motor.batch.torque_constant_Pa = torque_constant_Pa_ * share;
    return flight::duration_bound_s(setup_, largest_m_);
  }

  /// A propeller without any loss, at the model's least sink.
  double with_useful_energy_s(double energy_J) const {
    const flight::Airframe& airframe = setup_.airframe;
    const double mass = airframe.mass_kg + setup_.motor.mass_kg + setup_.motor.spacer_mass_kg;
    const double sink_m_s = flight::best_glide(airframe, mass, setup_.density_kg_m3).sink_m_s;
    return (energy_J / (mass * base::gravity_m_s2) + setup_.launch.height_m) / sink_m_s;
  }

 private:
  flight::Setup setup_;
  double whole_J_, torque_constant_Pa_, largest_m_;
};

}  // namespace

Json fall_part(const brief::Job& job, const predict::Nominal& nominal) {
  const flight::Energy& e = nominal.flight.energy;
  BoundOfEnergy bound(job, nominal);
  Json list = Json::array();
  double before_s = thousandths(nominal.bound_s);
  const auto fall_to = [&](double time_s, const char* key, const char* label) {
    const double now_s = thousandths(time_s);
    list.push_back({{"key", key}, {"label", label}, {"seconds", thousandths(before_s - now_s)}});
    before_s = now_s;
  };
  double left_J = e.at_break - e.not_wound;
  fall_to(bound.with_energy_s(left_J), "not_wound", "turns not wound");
  left_J -= e.backed_off;
  fall_to(bound.with_energy_s(left_J), "backed_off", "backed off before launch");
  left_J -= e.left_in_motor;
  fall_to(bound.with_energy_s(left_J), "left_in_motor", "left in the motor at landing");
  left_J -= e.motor_loss + e.shaft_friction;
  fall_to(bound.with_energy_s(left_J), "motor", "lost in the rubber and at the shaft");
  left_J -= e.induced + e.profile;
  fall_to(bound.with_useful_energy_s(left_J), "propeller", "the propeller, against an ideal one");
  fall_to(nominal.flight.duration_s, "flight", "the model away from its least sink");
  return list;
}

}  // namespace propwright::answer
