/// Slopes of flights across what is still believed, from flights one step either way. Symbols:
/// those of posterior.h.
#pragma once

#include <vector>

#include "propwright/learn/posterior.h"

namespace propwright::learn {

/// What must be flown for the slopes about a point.
class SlopeFlights {
 public:
  /// C = `believed`, along whose axes the steps of one deviation are taken: those of Cholesky's
  /// factor, the later of which leave the earlier parameters alone.
  SlopeFlights(const std::vector<Observed>& flights, const Eigen::VectorXd& z,
               const Eigen::MatrixXd& believed);

  /// For the flights that stand for others.
  const std::vector<Query>& queries() const { return queries_; }
  /// df/dz of each flight of the log, [kind, parameter]. Those not flown count as no change;
  /// flights that others stand for have theirs lent.
  std::vector<Eigen::MatrixXd> read(const std::vector<std::optional<Outcome>>& flown) const;

 private:
  const std::vector<Observed>& flights_;
  Eigen::Index count_;
  std::vector<Eigen::MatrixXd> axes_;
  std::vector<Query> queries_;
};

/// Gives flights that others stand for their slopes.
void lend(const std::vector<Observed>& flights, std::vector<Eigen::MatrixXd>& slopes);

}  // namespace propwright::learn
