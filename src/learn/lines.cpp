#include "lines.h"

#include <cmath>

namespace propwright::learn {

Lines::Lines(const std::vector<Observed>& flights, const std::vector<Local>& here,
             const std::vector<Eigen::MatrixXd>& slopes_of_flights, std::size_t parameters) {
  first.reserve(flights.size() + 1);
  first.push_back(0);
  for (std::size_t i = 0; i < flights.size(); ++i) {
    if (here[i].flown) first.push_back(first.back() + flights[i].readings.size());
  }
  lines.reserve(first.back());
  slopes.resize(static_cast<Eigen::Index>(first.back()), static_cast<Eigen::Index>(parameters));
  for (std::size_t i = 0; i < flights.size(); ++i) {
    if (!here[i].flown) continue;
    for (const Reading& reading : flights[i].readings) {
      const auto kind = static_cast<std::size_t>(reading.kind);
      slopes.row(static_cast<Eigen::Index>(lines.size())) =
          slopes_of_flights[i].row(static_cast<Eigen::Index>(kind));
      lines.push_back({kind, reading.scatter / std::sqrt(flights[i].weight),
                       reading.value - here[i].outcome[kind], reading.at_least});
    }
  }
}

Eigen::MatrixXd precision_of(const Eigen::MatrixXd& slopes, const Eigen::VectorXd& weights) {
  const Eigen::MatrixXd weighed = weights.cwiseSqrt().asDiagonal() * slopes;
  Eigen::MatrixXd sum = Eigen::MatrixXd::Identity(slopes.cols(), slopes.cols());
  sum.selfadjointView<Eigen::Lower>().rankUpdate(weighed.transpose());
  return sum;
}

}  // namespace propwright::learn
