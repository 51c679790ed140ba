#include "lend.h"

#include <algorithm>
#include <map>

namespace propwright::learn {

namespace {

// A sample pays where it is a small part of the log.
constexpr std::size_t least_share = 3;
// Lenders in a sample, among all that the same parameters bear on.
constexpr std::size_t sample_lenders = 16, sample_lenders_of_group = 3;

}  // namespace

void lend_slopes(const std::vector<std::size_t>& members, const std::vector<double>& torque,
                 std::size_t lenders, std::vector<Observed>& observed) {
  const std::size_t last = members.size() - 1;
  const auto place = [&](std::size_t l) { return l * last / (lenders - 1); };
  for (std::size_t l = 0; l + 1 < lenders; ++l) {
    const std::size_t from = place(l), to = place(l + 1);
    for (std::size_t m = from + 1; m < to; ++m) {
      Observed& one = observed[members[m]];
      const double width = torque[to] - torque[from];
      one.slopes_of = members[from];
      one.slopes_of_second = members[to];
      one.second_share = width > 0 ? (torque[m] - torque[from]) / width : 0.5;
    }
  }
}

Sample sample_of(const std::vector<Observed>& log, const std::vector<Local>& here) {
  Sample sample;
  sample.flights.reserve(log.size());
  for (std::size_t i = 0; i < log.size(); ++i) {
    if (log[i].slopes_of == i && here[i].flown) sample.flights.push_back(i);
  }
  if (sample.flights.size() * least_share > log.size()) return {};
  const auto torque_of = [&](std::size_t s) {
    return here[sample.flights[s]].outcome[static_cast<std::size_t>(Kind::launch_torque)];
  };
  std::map<std::vector<std::size_t>, std::vector<std::size_t>> groups;
  sample.observed.reserve(sample.flights.size());
  for (std::size_t s = 0; s < sample.flights.size(); ++s) {
    sample.observed.push_back(log[sample.flights[s]]);
    sample.observed.back().slopes_of = s;
    groups[sample.observed.back().parameters].push_back(s);
  }
  const std::size_t lenders = std::max(sample_lenders / groups.size(), sample_lenders_of_group);
  for (auto& [parameters, members] : groups) {
    if (members.size() <= lenders) continue;
    std::stable_sort(members.begin(), members.end(),
                     [&](std::size_t a, std::size_t b) { return torque_of(a) < torque_of(b); });
    std::vector<double> torque;
    torque.reserve(members.size());
    for (const std::size_t s : members) torque.push_back(torque_of(s));
    lend_slopes(members, torque, lenders, sample.observed);
  }
  return sample;
}

}  // namespace propwright::learn
