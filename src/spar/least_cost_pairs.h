/// The matching itself, behind a plain interface: its library does not compile as C++20.
#pragma once

#include <vector>

namespace propwright::spar {

/// The perfect matching of least total cost on the complete graph. `cost` is symmetric, its size
/// even, its values from 0 to 1e5; they are rounded to 1e-12. Returns the partner of each node.
std::vector<int> least_cost_pairs(const std::vector<std::vector<double>>& cost);

}  // namespace propwright::spar
