/// The readings of a log, of the model made linear about a point. Symbols: those of posterior.h.
#pragma once

#include <vector>

#include "propwright/learn/posterior.h"

namespace propwright::learn {

/// What the model makes of a flight at one point.
struct Local {
  bool flown = false;
  Outcome outcome{};
};

/// One reading.
struct Line {
  std::size_t kind = 0;
  double scatter = 0;   ///< expected, the flight's own weight included; without its kind's factor
  double residual = 0;  ///< reading less model at the point
  bool at_least = false;
};

/// The readings of all flights that are flown at the point, one after the other.
struct Lines {
  Lines(const std::vector<Observed>& flights, const std::vector<Local>& here,
        const std::vector<Eigen::MatrixXd>& slopes_of_flights, std::size_t parameters);

  std::vector<Line> lines;
  std::vector<std::size_t> first;  ///< line of each flight; at the end, the number of lines
  Eigen::MatrixXd slopes;          ///< [line, parameter]
};

/// I + sum over the lines of their weights (>= 0) times slope slope'; only its lower triangle.
Eigen::MatrixXd precision_of(const Eigen::MatrixXd& slopes, const Eigen::VectorXd& weights);

}  // namespace propwright::learn
