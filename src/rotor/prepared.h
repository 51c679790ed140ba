/// A rotor as prepared for analysis, and what its solvers share.
#pragma once

#include <cmath>
#include <limits>
#include <map>
#include <vector>

#include "element.h"
#include "propwright/base/constants.h"
#include "propwright/rotor/rotor.h"

namespace propwright::rotor {

struct Rotor::Prepared {
  std::vector<Element> elements;
  std::map<double, section::Polar> polars;  // by camber; elements point into it
  Options options;
  double tip_radius_m = 0, hub_radius_m = 0, arm_diameter_m = 0;
  int blades = 2;
};

struct ElementLoads {
  double thrust_N_per_m, torque_Nm_per_m, profile_W_per_m;
};

inline ElementLoads loads_of(const Element& e, const ElementState& s, int blades, double density) {
  const double pressure = 0.5 * density * s.speed_m_s * s.speed_m_s * blades * e.chord_m;
  return {pressure * s.cn, pressure * s.ct * e.radius_m, pressure * s.cd * s.speed_m_s};
}

inline double ln_re_per_speed(const Element& e, const Flow& flow) {
  return std::log(flow.density_kg_m3 * std::max(e.chord_m, 1e-9) / flow.viscosity_Pa_s);
}

inline ElementFlow element_flow(const Element& e, const Condition& condition, const Flow& flow) {
  return {condition.speed_m_s, 2 * base::pi * condition.rev_per_s * e.radius_m,
          ln_re_per_speed(e, flow)};
}

base::Problem unsolved(const Element& e, const Condition& condition);

/// Guesses the next of a smoothly running series by a parabola through the last three.
class Trend {
 public:
  double next() const {
    if (count_ == 0) return std::numeric_limits<double>::quiet_NaN();
    if (count_ == 1) return last_;
    if (count_ == 2) return 2 * last_ - before_;
    return 3 * (last_ - before_) + earlier_;
  }
  void add(double value) {
    earlier_ = before_;
    before_ = last_;
    last_ = value;
    if (count_ < 3) ++count_;
  }

 private:
  double last_ = 0, before_ = 0, earlier_ = 0;
  int count_ = 0;
};

}  // namespace propwright::rotor
