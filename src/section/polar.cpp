// t, u   place in the cell along alpha and ln Re, 0..1
// Hermite basis of t: (1 + 2t)(1 - t)^2, t (1 - t)^2, t^2 (3 - 2t), t^2 (t - 1)
#include <algorithm>
#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/section/section.h"

namespace propwright::section {

using base::pi;

namespace {

using Pair = Polar::Pair;

/// Weights of (value, slope) at both ends of an interval of length h, and their derivatives.
struct Basis {
  double v0, s0, v1, s1;
};
Basis basis(double t, double h) {
  const double r = 1 - t;
  return {(1 + 2 * t) * r * r, h * t * r * r, t * t * (3 - 2 * t), -h * t * t * r};
}
Basis basis_slope(double t, double h) {
  const double r = 1 - t;
  const double v = 6 * t * r / h;
  return {-v, r * (1 - 3 * t), v, t * (3 * t - 2)};
}

struct AlongAlpha {
  Pair value, by_alpha, by_ln_re, cross;
};

inline AlongAlpha along_alpha(const Polar::Node& a, const Polar::Node& b, const Basis& w,
                              const Basis& d) {
  return {w.v0 * a.value + w.s0 * a.by_alpha + w.v1 * b.value + w.s1 * b.by_alpha,
          d.v0 * a.value + d.s0 * a.by_alpha + d.v1 * b.value + d.s1 * b.by_alpha,
          w.v0 * a.by_ln_re + w.s0 * a.cross + w.v1 * b.by_ln_re + w.s1 * b.cross,
          d.v0 * a.by_ln_re + d.s0 * a.cross + d.v1 * b.by_ln_re + d.s1 * b.cross};
}

/// How far past the table's Re the trend is followed, in ln Re: the value leaves the edge with its
/// slope and levels out within about this distance.
constexpr double trend_reach = 0.7;

double wrapped(double angle_rad) {
  if (angle_rad >= -pi && angle_rad <= pi) return angle_rad;
  return std::remainder(angle_rad, 2 * pi);
}

}  // namespace

struct Polar::Cell {
  std::size_t alpha_index, re_index;
  double t, alpha_width;
  double u, re_width;    // re_width 0: no dependence on Re, or past an edge
  double past_edge = 0;  // bounded distance past the edge, ln Re
  double past_edge_slope = 0;
};

void Polar::index_angles() {
  std::size_t node = 0;
  for (std::size_t degree = 0; degree < node_below_degree_.size(); ++degree) {
    const double angle = (static_cast<double>(degree) - 180) * base::degree_rad;
    while (node + 2 < alpha_.size() && alpha_[node + 1] <= angle) ++node;
    node_below_degree_[degree] = static_cast<unsigned short>(node);
  }
}

Polar::Cell Polar::locate(double alpha_rad, double ln_re) const {
  Cell cell{};
  const double alpha = wrapped(alpha_rad - alpha_shift_);
  const auto degree = static_cast<std::size_t>((alpha + pi) / base::degree_rad);
  std::size_t i = node_below_degree_[std::min<std::size_t>(degree, 360)];
  while (i + 2 < alpha_.size() && alpha_[i + 1] <= alpha) ++i;
  cell.alpha_index = i;
  cell.alpha_width = alpha_[i + 1] - alpha_[i];
  cell.t = (alpha - alpha_[i]) / cell.alpha_width;
  const std::size_t last = ln_re_.size() - 1;
  if (last == 0) return cell;
  if (ln_re < ln_re_.front() || ln_re > ln_re_.back()) {
    const bool below = ln_re < ln_re_.front();
    cell.re_index = below ? 0 : last;
    const double distance = (ln_re - (below ? ln_re_.front() : ln_re_.back())) / trend_reach;
    const double bounded = std::tanh(distance);
    cell.past_edge = trend_reach * bounded;
    cell.past_edge_slope = 1 - bounded * bounded;
    return cell;
  }
  std::size_t j = 0;
  while (j + 1 < last && ln_re_[j + 1] <= ln_re) ++j;
  cell.re_index = j;
  cell.re_width = ln_re_[j + 1] - ln_re_[j];
  cell.u = (ln_re - ln_re_[j]) / cell.re_width;
  return cell;
}

namespace {

/// Drag past the table's Re, from the edge's value, slope and their change with alpha. Friction
/// goes on as laminar friction does, 2 x 1.328/sqrt(Re) (Blasius); the rest keeps its value and,
/// for about `trend_reach`, its trend: a plate square to the flow keeps its drag, a smooth one its
/// law.
void drag_past_edge(const AlongAlpha& edge, double edge_ln_re, double ln_re, double past_edge,
                    double past_edge_slope, Coefficients& c) {
  constexpr double friction = 2 * 1.328;
  const double edge_root = std::exp(-0.5 * edge_ln_re);
  const double root = std::exp(-0.5 * ln_re);
  const double slope = (edge.by_ln_re[1] - 0.5 * edge.value[1] + 0.5 * friction) * edge_root;
  const double slope_by_alpha = (edge.cross[1] - 0.5 * edge.by_alpha[1]) * edge_root;
  c.cd = edge.value[1] * edge_root + friction * (root - edge_root) + slope * past_edge;
  c.cd_alpha = edge.by_alpha[1] * edge_root + slope_by_alpha * past_edge;
  c.cd_ln_re = -0.5 * friction * root + slope * past_edge_slope;
}

}  // namespace

Coefficients Polar::at(double alpha_rad, double ln_re) const {
  const Cell cell = locate(alpha_rad, ln_re);
  const Basis w = basis(cell.t, cell.alpha_width);
  const Basis d = basis_slope(cell.t, cell.alpha_width);
  const Node* row = nodes_.data() + cell.re_index * alpha_.size() + cell.alpha_index;
  const AlongAlpha low = along_alpha(row[0], row[1], w, d);
  Coefficients c;
  if (cell.re_width > 0) {
    const Node* next = row + alpha_.size();
    const AlongAlpha high = along_alpha(next[0], next[1], w, d);
    const Basis p = basis(cell.u, cell.re_width);
    const Basis q = basis_slope(cell.u, cell.re_width);
    const Pair value =
        p.v0 * low.value + p.s0 * low.by_ln_re + p.v1 * high.value + p.s1 * high.by_ln_re;
    const Pair by_alpha =
        p.v0 * low.by_alpha + p.s0 * low.cross + p.v1 * high.by_alpha + p.s1 * high.cross;
    const Pair by_ln_re =
        q.v0 * low.value + q.s0 * low.by_ln_re + q.v1 * high.value + q.s1 * high.by_ln_re;
    const double root_re_inverse = std::exp(-0.5 * ln_re);
    c = {value[0],    value[1] * root_re_inverse,
         by_alpha[0], by_alpha[1] * root_re_inverse,
         by_ln_re[0], (by_ln_re[1] - 0.5 * value[1]) * root_re_inverse};
    return c;
  }
  c.cl = low.value[0] + cell.past_edge * low.by_ln_re[0];
  c.cl_alpha = low.by_alpha[0] + cell.past_edge * low.cross[0];
  c.cl_ln_re = cell.past_edge_slope * low.by_ln_re[0];
  if (ln_re_.size() == 1) {  // no dependence on Re: the table's own stands for every other
    const double root_re_inverse = std::exp(-0.5 * ln_re_.front());
    c.cd = low.value[1] * root_re_inverse;
    c.cd_alpha = low.by_alpha[1] * root_re_inverse;
    return c;
  }
  drag_past_edge(low, ln_re_[cell.re_index], ln_re, cell.past_edge, cell.past_edge_slope, c);
  return c;
}

Moment Polar::moment(double alpha_rad, double ln_re) const {
  if (moments_.empty()) return {};
  const Cell cell = locate(alpha_rad, ln_re);
  const Basis w = basis(cell.t, cell.alpha_width);
  const Basis d = basis_slope(cell.t, cell.alpha_width);
  const Node* row = moments_.data() + cell.re_index * alpha_.size() + cell.alpha_index;
  const AlongAlpha low = along_alpha(row[0], row[1], w, d);
  if (cell.re_width <= 0) {
    return {low.value[0] + cell.past_edge * low.by_ln_re[0],
            low.by_alpha[0] + cell.past_edge * low.cross[0]};
  }
  const Node* next = row + alpha_.size();
  const AlongAlpha high = along_alpha(next[0], next[1], w, d);
  const Basis p = basis(cell.u, cell.re_width);
  return {
      p.v0 * low.value[0] + p.s0 * low.by_ln_re[0] + p.v1 * high.value[0] + p.s1 * high.by_ln_re[0],
      p.v0 * low.by_alpha[0] + p.s0 * low.cross[0] + p.v1 * high.by_alpha[0] +
          p.s1 * high.cross[0]};
}

bool Polar::in_table(double alpha_rad, double ln_re) const {
  const double alpha = wrapped(alpha_rad - alpha_shift_);
  const bool re_covered =
      ln_re_.size() == 1 || (ln_re >= ln_re_.front() - 1e-9 && ln_re <= ln_re_.back() + 1e-9);
  return re_covered && alpha >= table_low_rad_ - 1e-9 && alpha <= table_high_rad_ + 1e-9;
}

}  // namespace propwright::section
