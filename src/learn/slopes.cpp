#include "slopes.h"

namespace propwright::learn {

using Eigen::MatrixXd;
using Eigen::VectorXd;

namespace {

/// Columns, none shorter than a hundredth.
MatrixXd axes_of(const MatrixXd& believed, const std::vector<std::size_t>& parameters) {
  const auto n = static_cast<Eigen::Index>(parameters.size());
  MatrixXd part(n, n);
  for (Eigen::Index i = 0; i < n; ++i) {
    for (Eigen::Index j = 0; j < n; ++j) {
      part(i, j) = believed(static_cast<Eigen::Index>(parameters[static_cast<std::size_t>(i)]),
                            static_cast<Eigen::Index>(parameters[static_cast<std::size_t>(j)]));
    }
    part(i, i) += 1e-4;
  }
  return part.llt().matrixL();
}

VectorXd vector_of(const Outcome& outcome) {
  return Eigen::Map<const VectorXd>(outcome.data(), kind_count);
}

}  // namespace

SlopeFlights::SlopeFlights(const std::vector<Observed>& flights, const VectorXd& z,
                           const MatrixXd& believed)
    : flights_(flights), count_(z.size()), axes_(flights.size()) {
  std::size_t count = 0;
  for (std::size_t i = 0; i < flights.size(); ++i) {
    if (flights[i].slopes_of == i) count += 2 * flights[i].parameters.size();
  }
  queries_.reserve(count);
  for (std::size_t i = 0; i < flights.size(); ++i) {
    if (flights[i].slopes_of != i) continue;
    const std::vector<std::size_t>& parameters = flights[i].parameters;
    axes_[i] = axes_of(believed, parameters);
    for (Eigen::Index a = 0; a < axes_[i].cols(); ++a) {
      for (const double side : {-1.0, 1.0}) {
        VectorXd moved = z;
        for (std::size_t p = 0; p < parameters.size(); ++p) {
          moved[static_cast<Eigen::Index>(parameters[p])] +=
              side * axes_[i](static_cast<Eigen::Index>(p), a);
        }
        queries_.push_back({i, std::move(moved), true});
      }
    }
  }
}

std::vector<MatrixXd> SlopeFlights::read(const std::vector<std::optional<Outcome>>& flown) const {
  std::vector<MatrixXd> slopes(flights_.size(), MatrixXd::Zero(kind_count, count_));
  auto next = flown.begin();
  for (std::size_t i = 0; i < flights_.size(); ++i) {
    if (flights_[i].slopes_of != i) continue;
    MatrixXd along = MatrixXd::Zero(kind_count, axes_[i].cols());
    for (Eigen::Index a = 0; a < axes_[i].cols(); ++a) {
      const std::optional<Outcome>& low = *next++;
      const std::optional<Outcome>& high = *next++;
      if (low && high) along.col(a) = 0.5 * (vector_of(*high) - vector_of(*low));
    }
    const MatrixXd part = along * axes_[i].inverse();
    for (std::size_t p = 0; p < flights_[i].parameters.size(); ++p) {
      slopes[i].col(static_cast<Eigen::Index>(flights_[i].parameters[p])) =
          part.col(static_cast<Eigen::Index>(p));
    }
  }
  lend(flights_, slopes);
  return slopes;
}

void lend(const std::vector<Observed>& flights, std::vector<MatrixXd>& slopes) {
  for (std::size_t i = 0; i < flights.size(); ++i) {
    if (flights[i].slopes_of == i) continue;
    const double share = flights[i].second_share;
    slopes[i] = (1 - share) * slopes[flights[i].slopes_of];
    if (share > 0) slopes[i] += share * slopes[flights[i].slopes_of_second];
  }
}

}  // namespace propwright::learn
