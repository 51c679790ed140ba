#include "instants.h"

#include <algorithm>

namespace propwright::answer {

bool driven(const flight::Instant& at) {
  return at.rev_per_s > 0 && at.torque_Nm > 0;
}

const flight::Instant* let_down(const flight::Flight& flight) {
  const double middle_s = (flight.top_time_s + flight.duration_s) / 2;
  const auto found = std::find_if(flight.history.begin(), flight.history.end(),
                                  [&](const auto& at) { return at.time_s >= middle_s; });
  return found != flight.history.end() && driven(*found) ? &*found : nullptr;
}

double telling_chord_m(const brief::Assembly& assembly) {
  constexpr double least_share = 0.15;
  double widest_m = 0;
  for (const auto& row : assembly.outline) widest_m = std::max(widest_m, row.chord_m);
  return least_share * widest_m;
}

}  // namespace propwright::answer
