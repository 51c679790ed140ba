#include "propwright/flight/climb_table.h"

#include <algorithm>
#include <cmath>

#include "equilibrium.h"

namespace propwright::flight {
namespace {

constexpr std::size_t intervals = 64;

/// Slopes of the cubic spline on a uniform grid, per interval (Thomas algorithm). Its ends are
/// "not a knot": the first two pieces are one cubic, and the last two, which keeps the fourth
/// order.
std::vector<double> spline_slopes(const std::vector<double>& y) {
  const std::size_t n = y.size();
  std::vector<double> diagonal(n), right(n), slope(n);
  diagonal[0] = 1;
  right[0] = (-5 * y[0] + 4 * y[1] + y[2]) / 2;
  double above = 2;
  for (std::size_t i = 1; i < n; ++i) {
    const bool last = i + 1 == n;
    const double factor = (last ? 2 : 1) / diagonal[i - 1];
    const double rhs = last ? (5 * y[i] - 4 * y[i - 1] - y[i - 2]) / 2 : 3 * (y[i + 1] - y[i - 1]);
    diagonal[i] = (last ? 1 : 4) - factor * above;
    right[i] = rhs - factor * right[i - 1];
    above = 1;
  }
  slope[n - 1] = right[n - 1] / diagonal[n - 1];
  for (std::size_t i = n - 1; i-- > 1;) slope[i] = (right[i] - slope[i + 1]) / diagonal[i];
  slope[0] = right[0] - 2 * slope[1];
  return slope;
}

/// Where the next of a row of states should lie: on the parabola through the last three.
NearState next_near(const std::vector<NearState>& row) {
  const std::size_t n = row.size();
  if (n == 0) return {};
  if (n < 3) return row.back();
  const NearState &a = row[n - 3], &b = row[n - 2], &c = row[n - 1];
  const double angle = 3 * (c.path_angle_rad - b.path_angle_rad) + a.path_angle_rad;
  return {3 * (c.rev_per_s - b.rev_per_s) + a.rev_per_s,
          std::clamp(angle, -steepest_climb_rad, steepest_climb_rad)};
}

}  // namespace

base::Expected<ClimbTable> ClimbTable::make(const Setup& setup, double highest_torque_Nm) {
  ClimbTable table;
  table.highest_ = highest_torque_Nm;
  table.value_.reserve(intervals + 1);
  std::vector<NearState> row;
  row.reserve(intervals + 1);
  for (std::size_t i = 0; i <= intervals; ++i) {
    const double s = static_cast<double>(i) / intervals;
    const auto e = equilibrium_from(setup, highest_torque_Nm * s * s, next_near(row));
    if (!e) return base::fail(e.error());
    row.push_back({e->rev_per_s, e->path_angle_rad});
    table.value_.push_back(
        {e->speed_m_s, e->rev_per_s, e->climb_m_s, e->drag_N * e->speed_m_s, e->profile_power_W});
  }
  table.slope_.resize(table.value_.size());
  std::vector<double> column(table.value_.size());
  for (std::size_t f = 0; f < fields; ++f) {
    for (std::size_t i = 0; i < column.size(); ++i) column[i] = table.value_[i][f];
    const std::vector<double> slope = spline_slopes(column);
    for (std::size_t i = 0; i < column.size(); ++i) table.slope_[i][f] = slope[i];
  }
  return table;
}

ClimbTable ClimbTable::between(const ClimbTable& other, double share) const {
  ClimbTable made = *this;
  for (std::size_t i = 0; i < value_.size(); ++i) {
    for (std::size_t f = 0; f < fields; ++f) {
      made.value_[i][f] += share * (other.value_[i][f] - value_[i][f]);
      made.slope_[i][f] += share * (other.slope_[i][f] - slope_[i][f]);
    }
  }
  return made;
}

ClimbTable::State ClimbTable::at(double torque_Nm) const {
  const double s = std::sqrt(std::clamp(torque_Nm / highest_, 0.0, 1.0)) * intervals;
  const std::size_t i = std::min(static_cast<std::size_t>(s), intervals - 1);
  const double t = s - static_cast<double>(i);
  const double r = 1 - t;
  Row v;
  for (std::size_t f = 0; f < fields; ++f) {
    v[f] = (1 + 2 * t) * r * r * value_[i][f] + t * r * r * slope_[i][f] +
           t * t * (3 - 2 * t) * value_[i + 1][f] - t * t * r * slope_[i + 1][f];
  }
  return {v[0], v[1], v[2], v[3], v[4]};
}

bool ClimbTable::held() const {
  const State top = at(highest_);
  return top.climb_m_s > 0.99 * std::sin(steepest_climb_rad) * top.speed_m_s;
}

double ClimbTable::level_torque_Nm() const {
  std::size_t best = 0;
  for (std::size_t i = 0; i < value_.size(); ++i) {
    if (std::abs(value_[i][2]) < std::abs(value_[best][2])) best = i;
  }
  for (std::size_t i = 0; i + 1 < value_.size(); ++i) {
    if (value_[i][2] > 0 || value_[i + 1][2] <= 0) continue;
    double low = static_cast<double>(i) / intervals;
    double high = static_cast<double>(i + 1) / intervals;
    for (int k = 0; k < 60; ++k) {
      const double middle = (low + high) / 2;
      (at(highest_ * middle * middle).climb_m_s < 0 ? low : high) = middle;
    }
    return highest_ * low * low;
  }
  const double s = static_cast<double>(best) / intervals;
  return highest_ * s * s;
}

}  // namespace propwright::flight
