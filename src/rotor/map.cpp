// beta  advance angle atan2(V, 0.7 Omega R)
// C*    load over rho/2 (V^2 + (0.7 Omega R)^2) pi R^2 (thrust), times R (torque), times speed
// (power)
#include "propwright/rotor/map.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/base/monotone_curve.h"

namespace propwright::rotor {

using base::pi;

namespace {
constexpr double reference_station = 0.7;  // of the tip radius, the usual choice for this angle

/// Cubic-spline-like slopes: three-point differences, which reproduce parabolas exactly.
std::vector<double> parabola_slopes(const std::vector<double>& x, const std::vector<double>& y) {
  const std::size_t n = x.size();
  std::vector<double> slope(n);
  for (std::size_t i = 0; i < n; ++i) {
    const std::size_t m = std::clamp<std::size_t>(i, 1, n - 2);
    const double h0 = x[m] - x[m - 1];
    const double h1 = x[m + 1] - x[m];
    const double d0 = (y[m] - y[m - 1]) / h0;
    const double d1 = (y[m + 1] - y[m]) / h1;
    const double curvature = (d1 - d0) / (h0 + h1);
    slope[i] = d0 + curvature * (2 * x[i] - x[m - 1] - x[m]);
  }
  return slope;
}
}  // namespace

Map Map::from_loads(std::vector<double> beta_rad, double middle_speed_m_s, double speed_ratio,
                    const std::vector<std::vector<Loads>>& loads, const Flow& flow,
                    double tip_radius_m) {
  Map map;
  map.beta_ = std::move(beta_rad);
  map.middle_speed_m_s_ = middle_speed_m_s;
  map.ln_ratio_ = std::log(speed_ratio);
  map.tip_radius_m_ = tip_radius_m;
  map.density_kg_m3_ = flow.density_kg_m3;
  const std::size_t n = map.beta_.size();
  map.nodes_.resize(3 * n);
  const double area = pi * tip_radius_m * tip_radius_m;
  for (std::size_t s = 0; s < 3; ++s) {
    const double speed = middle_speed_m_s * std::pow(speed_ratio, static_cast<double>(s) - 1);
    std::vector<double> column(n);
    for (int quantity = 0; quantity < 3; ++quantity) {
      for (std::size_t i = 0; i < n; ++i) {
        const double w = speed / std::sin(map.beta_[i]);
        const double force = 0.5 * flow.density_kg_m3 * w * w * area;
        const Loads& l = loads[s][i];
        column[i] = quantity == 0   ? l.thrust_N / force
                    : quantity == 1 ? l.torque_Nm / (force * tip_radius_m)
                                    : l.profile_power_W / (force * w);
      }
      const std::vector<double> slope = parabola_slopes(map.beta_, column);
      for (std::size_t i = 0; i < n; ++i) {
        map.nodes_[s * n + i].value[quantity] = column[i];
        map.nodes_[s * n + i].slope[quantity] = slope[i];
      }
    }
  }
  return map;
}

double Map::highest_rev_per_s(double speed_m_s) const {
  return speed_m_s / (std::tan(beta_.front()) * reference_station * 2 * pi * tip_radius_m_);
}

MapLoads Map::at(double speed_m_s, double rev_per_s) const {
  const double tangential_per_rev = reference_station * 2 * pi * tip_radius_m_;
  const double tangential = tangential_per_rev * rev_per_s;
  const double w2 = speed_m_s * speed_m_s + tangential * tangential;
  const double beta = std::clamp(std::atan2(speed_m_s, tangential), beta_.front(), beta_.back());
  const auto above = std::upper_bound(beta_.begin() + 1, beta_.end() - 1, beta);
  const auto i = static_cast<std::size_t>(above - beta_.begin()) - 1;
  const double h = beta_[i + 1] - beta_[i];
  const double t = (beta - beta_[i]) / h;
  const double r = 1 - t;
  // Lagrange parabola through the three speeds, in v = ln(V/V_middle)/ln(ratio), held past 1.5.
  const double v = std::clamp(std::log(speed_m_s / middle_speed_m_s_) / ln_ratio_, -1.5, 1.5);
  const double weight[3] = {v * (v - 1) / 2, 1 - v * v, v * (v + 1) / 2};
  const double weight_slope[3] = {v - 0.5, -2 * v, v + 0.5};
  double c[3]{}, c_beta[3]{}, c_v[3]{};
  for (std::size_t s = 0; s < 3; ++s) {
    const Node& low = nodes_[s * beta_.size() + i];
    const Node& high = nodes_[s * beta_.size() + i + 1];
    for (int q = 0; q < 3; ++q) {
      const double value = (1 + 2 * t) * r * r * low.value[q] + h * t * r * r * low.slope[q] +
                           t * t * (3 - 2 * t) * high.value[q] - h * t * t * r * high.slope[q];
      const double slope = 6 * t * r * (high.value[q] - low.value[q]) / h +
                           r * (1 - 3 * t) * low.slope[q] + t * (3 * t - 2) * high.slope[q];
      c[q] += weight[s] * value;
      c_beta[q] += weight[s] * slope;
      c_v[q] += weight_slope[s] * value;
    }
  }
  const double force = 0.5 * density_kg_m3_ * pi * tip_radius_m_ * tip_radius_m_;
  const double beta_by_speed = tangential / w2;
  const double beta_by_rev = -speed_m_s * tangential_per_rev / w2;
  const double v_by_speed = 1 / (speed_m_s * ln_ratio_);
  MapLoads result;
  result.loads.thrust_N = force * w2 * c[0];
  result.loads.torque_Nm = force * tip_radius_m_ * w2 * c[1];
  result.loads.profile_power_W = force * w2 * std::sqrt(w2) * c[2];
  const auto by_speed = [&](int q) {
    return 2 * speed_m_s * c[q] + w2 * (c_beta[q] * beta_by_speed + c_v[q] * v_by_speed);
  };
  const auto by_rev = [&](int q) {
    return 2 * tangential * tangential_per_rev * c[q] + w2 * c_beta[q] * beta_by_rev;
  };
  result.thrust_by_speed = force * by_speed(0);
  result.thrust_by_rev = force * by_rev(0);
  result.torque_by_speed = force * tip_radius_m_ * by_speed(1);
  result.torque_by_rev = force * tip_radius_m_ * by_rev(1);
  return result;
}

MapGrid map_grid(double tip_radius_m, double flight_speed_m_s) {
  MapGrid grid;
  grid.middle_speed_m_s = flight_speed_m_s;
  // From a propeller flailing at four times its cruise revs to one standing still. The nodes crowd
  // where indoor propellers work, 20 to 60 degrees.
  for (double degree = 9; degree < 20; degree += 4)
    grid.beta_rad.push_back(degree * base::degree_rad);
  for (double degree = 21; degree < 60; degree += 2)
    grid.beta_rad.push_back(degree * base::degree_rad);
  for (double degree = 60; degree < 90; degree += 6)
    grid.beta_rad.push_back(degree * base::degree_rad);
  grid.beta_rad.push_back(pi / 2);
  // One walk through all conditions, to and fro, so that each starts from a neighbour's solution.
  const std::size_t n = grid.beta_rad.size();
  for (std::size_t s = 0; s < 3; ++s) {
    const double speed = flight_speed_m_s * std::pow(grid.speed_ratio, static_cast<double>(s) - 1);
    for (std::size_t k = 0; k < n; ++k) {
      const double angle = grid.beta_rad[s % 2 == 0 ? k : n - 1 - k];
      const double tangential = angle == pi / 2 ? 0 : speed / std::tan(angle);
      grid.conditions.push_back({speed, tangential / (reference_station * 2 * pi * tip_radius_m)});
    }
  }
  return grid;
}

Map map_on_grid(const MapGrid& grid, const std::vector<Loads>& walked, const Flow& flow,
                double tip_radius_m) {
  const std::size_t n = grid.beta_rad.size();
  std::vector<std::vector<Loads>> loads(3, std::vector<Loads>(n));
  for (std::size_t i = 0; i < 3 * n; ++i) {
    const std::size_t s = i / n;
    loads[s][s % 2 == 0 ? i % n : n - 1 - i % n] = walked[i];
  }
  return Map::from_loads(grid.beta_rad, grid.middle_speed_m_s, grid.speed_ratio, loads, flow,
                         tip_radius_m);
}

base::Expected<Map> make_map(const Rotor& rotor, const Flow& flow, double flight_speed_m_s) {
  const MapGrid grid = map_grid(rotor.tip_radius_m(), flight_speed_m_s);
  const auto walked = rotor.solve_all(grid.conditions, flow);
  if (!walked) return base::fail(walked.error());
  return map_on_grid(grid, *walked, flow, rotor.tip_radius_m());
}

}  // namespace propwright::rotor
