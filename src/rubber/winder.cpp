#include "propwright/rubber/winder.h"

#include <cmath>

namespace propwright::rubber {

double crank_turns(double motor_turns, double ratio) {
  constexpr double rounding_turns = 1e-6;
  return std::floor(motor_turns / ratio + rounding_turns);
}

}  // namespace propwright::rubber
