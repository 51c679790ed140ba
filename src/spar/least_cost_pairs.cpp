#include "least_cost_pairs.h"

#include <lemon/full_graph.h>
#include <lemon/matching.h>

#include <cmath>
#include <cstddef>
#include <cstdint>

namespace propwright::spar {

std::vector<int> least_cost_pairs(const std::vector<std::vector<double>>& cost) {
  const int n = static_cast<int>(cost.size());
  if (n == 0) return {};
  const lemon::FullGraph graph(n);
  // Whole numbers: with fractions the algorithm's comparisons would depend on rounding. It
  // multiplies weights by four, which leaves room for costs up to 1e6.
  lemon::FullGraph::EdgeMap<std::int64_t> weight(graph);
  for (lemon::FullGraph::EdgeIt edge(graph); edge != lemon::INVALID; ++edge) {
    const auto i = static_cast<std::size_t>(graph.index(graph.u(edge)));
    const auto j = static_cast<std::size_t>(graph.index(graph.v(edge)));
    weight[edge] = -std::llround(1e12 * cost[i][j]);
  }
  lemon::MaxWeightedPerfectMatching<lemon::FullGraph, lemon::FullGraph::EdgeMap<std::int64_t>>
      matching(graph, weight);
  matching.run();
  std::vector<int> partner(cost.size());
  for (int i = 0; i < n; ++i) {
    partner[static_cast<std::size_t>(i)] = graph.index(matching.mate(graph(i)));
  }
  return partner;
}

}  // namespace propwright::spar
