#include "beam_grid.h"

#include <algorithm>
#include <array>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>

namespace propwright::spar {
namespace {

/// Gauss-Legendre points of a panel running from 0 to 1, and the matrix that integrates the
/// polynomial through their values from the panel's start to each of them.
struct PanelRule {
  std::array<double, panel_points> x{}, weight{};
  std::array<std::array<double, panel_points>, panel_points> upto{};
  std::array<double, panel_points> barycentric{};
};

PanelRule make_panel_rule() {
  using Gauss = boost::math::quadrature::gauss<double, panel_points>;
  PanelRule rule;
  std::array<double, panel_points> t{};
  for (int i = 0; i < panel_points / 2; ++i) {
    const double a = Gauss::abscissa()[static_cast<std::size_t>(panel_points / 2 - 1 - i)];
    const double w = Gauss::weights()[static_cast<std::size_t>(panel_points / 2 - 1 - i)];
    t[i] = -a, t[panel_points - 1 - i] = a;
    rule.weight[i] = rule.weight[panel_points - 1 - i] = w / 2;
  }
  // P_0 ... P_n at each point by their recurrence; integral of P_k is (P_k+1 - P_k-1)/(2k + 1).
  std::array<std::array<double, panel_points + 1>, panel_points> p{};
  for (int i = 0; i < panel_points; ++i) {
    rule.x[i] = (1 + t[i]) / 2;
    p[i][0] = 1, p[i][1] = t[i];
    for (int k = 1; k < panel_points; ++k) {
      p[i][k + 1] = ((2 * k + 1) * t[i] * p[i][k] - k * p[i][k - 1]) / (k + 1);
    }
  }
  for (int i = 0; i < panel_points; ++i) {
    rule.barycentric[i] = 1;
    for (int j = 0; j < panel_points; ++j) {
      double sum = t[i] + 1;
      for (int k = 1; k < panel_points; ++k) sum += p[j][k] * (p[i][k + 1] - p[i][k - 1]);
      rule.upto[i][j] = rule.weight[j] / 2 * sum;
      if (j != i) rule.barycentric[i] /= (rule.x[i] - rule.x[j]);
    }
  }
  return rule;
}

const PanelRule& panel_rule() {
  static const PanelRule rule = make_panel_rule();
  return rule;
}

/// Splits a piece of the spar into panels. `log_change` is how much its sizes change, as a
/// logarithm: by 0.7 at most within a panel, so that the integrand's nearest pole is far enough
/// away for eight points to be good for nine digits.
void add_panels(double from_m, double to_m, double log_change, BeamGrid& grid) {
  const double by_size = log_change / std::log(1 / 0.7);
  const double by_length = 3 * (to_m - from_m) / grid.length_m;
  const int parts = std::max(1, static_cast<int>(std::ceil(std::max(by_size, by_length) - 1e-9)));
  const double panel = (to_m - from_m) / parts;
  for (int k = 0; k < parts; ++k) {
    grid.start_m.push_back(from_m + panel * k);
    grid.panel_m.push_back(panel);
  }
}

double bent_moment_m4(const Section& section, Bending bending) {
  const SecondMoments moments = second_moments(section);
  return bending == Bending::width ? moments.i_90_m4 : moments.i_0_m4;
}

void make_panels(const Taper& taper, const Rig& rig, BeamGrid& grid) {
  std::vector<double> ends;
  for (const Station& station : taper.stations) ends.push_back(station.x_m);
  ends.push_back(rig.load_at_m);
  ends.push_back(rig.read_at_m);
  std::sort(ends.begin(), ends.end());
  double from = 0;
  for (const double to : ends) {
    if (to - from < 1e-9 * grid.length_m || to > grid.length_m * (1 + 1e-9)) continue;
    const Section a = section_at(taper, from), b = section_at(taper, to);
    const double change = std::max(std::abs(std::log(b.width_m / a.width_m)),
                                   std::abs(std::log(b.depth_m / a.depth_m)));
    add_panels(from, to, change, grid);
    from = to;
  }
}

/// Sections and weights at the points.
void fill(const Beam& beam, const Rig& rig, BeamGrid& grid) {
  const PanelRule& rule = panel_rule();
  const std::size_t n = grid.panel_m.size() * panel_points;
  grid.s_m.resize(n), grid.softness.assign(n, 1), grid.weight_N.assign(n, 0);
  std::vector<double> area(n), upto(n);
  const double root = bent_moment_m4(beam.taper.stations.front().section, beam.bending);
  for (std::size_t i = 0; i < n; ++i) {
    const std::size_t p = i / panel_points;
    grid.s_m[i] = grid.start_m[p] + grid.panel_m[p] * rule.x[i % panel_points];
    const Section section = section_at(beam.taper, grid.s_m[i]);
    area[i] = area_m2(section);
    if (beam.bending != Bending::uniform) {
      grid.softness[i] = root / bent_moment_m4(section, beam.bending);
    }
    if (grid.s_m[i] < rig.read_at_m) grid.read_points = (p + 1) * panel_points;
  }
  const double volume = integral_upto(grid, area.data(), upto.data());
  grid.loaded_N.resize(n);
  for (std::size_t i = 0; i < n; ++i) {
    grid.weight_N[i] = beam.mass_kg * rig.gravity_m_s2 * (1 - upto[i] / volume);
    const bool before_load = grid.s_m[i] < rig.load_at_m;
    grid.loaded_N[i] = grid.weight_N[i] + (before_load ? rig.load_kg * rig.gravity_m_s2 : 0);
  }
}

}  // namespace

double integral_upto(const BeamGrid& grid, const double* value, double* upto) {
  const PanelRule& rule = panel_rule();
  double before = 0;
  for (std::size_t p = 0; p < grid.panel_m.size();
       ++p, value += panel_points, upto += panel_points) {
    const double h = grid.panel_m[p];
    double whole = 0;
    for (int i = 0; i < panel_points; ++i) {
      double sum = 0;
      for (int j = 0; j < panel_points; ++j) sum += rule.upto[i][j] * value[j];
      upto[i] = before + h * sum;
      whole += rule.weight[i] * value[i];
    }
    before += h * whole;
  }
  return before;
}

/// Integral over the first `count` points' panels.
double integral(const BeamGrid& grid, const std::vector<double>& value, std::size_t count) {
  const PanelRule& rule = panel_rule();
  double sum = 0;
  for (std::size_t p = 0; p * panel_points < count; ++p) {
    double panel = 0;
    for (int i = 0; i < panel_points; ++i) panel += rule.weight[i] * value[p * panel_points + i];
    sum += grid.panel_m[p] * panel;
  }
  return sum;
}

/// Value at s by the polynomial through its panel's points.
double value_at(const BeamGrid& grid, const std::vector<double>& value, double s_m) {
  const PanelRule& rule = panel_rule();
  const auto next = std::upper_bound(grid.start_m.begin() + 1, grid.start_m.end(), s_m);
  const std::size_t p = next - grid.start_m.begin() - 1;
  const double x = (s_m - grid.start_m[p]) / grid.panel_m[p];
  double over = 0, under = 0;
  for (int i = 0; i < panel_points; ++i) {
    const double gap = x - rule.x[i];
    if (gap == 0) return value[p * panel_points + i];
    over += rule.barycentric[i] / gap * value[p * panel_points + i];
    under += rule.barycentric[i] / gap;
  }
  return over / under;
}

BeamGrid beam_grid(const Beam& beam, const Rig& rig) {
  BeamGrid grid;
  grid.length_m = length_m(beam.taper);
  grid.read_at_m = rig.read_at_m;
  grid.fixed_distance = rig.follows == Follows::fixed_distance;
  grid.zero_droops = rig.zero == Zero::unloaded_spar && beam.mass_kg > 0;
  make_panels(beam.taper, rig, grid);
  fill(beam, rig, grid);
  return grid;
}

double flexibility_m3(const BeamGrid& grid, double load_at_m) {
  std::vector<double> value(grid.s_m.size(), 0);
  for (std::size_t i = 0; i < value.size(); ++i) {
    const double s = grid.s_m[i];
    if (s < load_at_m && s < grid.read_at_m) {
      value[i] = (load_at_m - s) * (grid.read_at_m - s) * grid.softness[i];
    }
  }
  return integral(grid, value, value.size());
}

}  // namespace propwright::spar
