/// Of many flights some lend their slopes to those flown much alike, and show the way to the rest.
#pragma once

#include <vector>

#include "lines.h"

namespace propwright::learn {

/// Some of the members, evenly spread, lend their slopes to those between them. `torque`, of each
/// member, rises. `lenders` from 2 to the number of members.
void lend_slopes(const std::vector<std::size_t>& members, const std::vector<double>& torque,
                 std::size_t lenders, std::vector<Observed>& observed);

/// A part of a log that tells roughly what the whole does.
struct Sample {
  std::vector<std::size_t> flights;  ///< in the log; none where the log is too small for a sample
  std::vector<Observed> observed;    ///< the same, with slopes that few of them lend to the others
};

/// Those that lend their slopes. `here`: the flights of the log as the sheet has them.
Sample sample_of(const std::vector<Observed>& log, const std::vector<Local>& here);

}  // namespace propwright::learn
