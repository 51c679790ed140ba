#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "propwright/base/constants.h"
#include "propwright/data/data.h"
#include "propwright/section/section.h"

namespace propwright::section {

using base::degree_rad;

namespace {

using Node = Polar::Node;
using Pair = Polar::Pair;

Pair combine(double a, Pair p, double b, Pair q) {
  return a * p + b * q;
}
Node combine(double a, const Node& p, double b, const Node& q) {
  return {combine(a, p.value, b, q.value), combine(a, p.by_alpha, b, q.by_alpha),
          combine(a, p.by_ln_re, b, q.by_ln_re), combine(a, p.cross, b, q.cross)};
}

/// 0 below `from`, 1 above `to`, smooth between; and its derivative.
struct Step {
  double value, slope;
};
Step smooth_step(double x, double from, double to) {
  const double s = std::clamp((x - from) / (to - from), 0.0, 1.0);
  return {s * s * (3 - 2 * s), 6 * s * (1 - s) / (to - from)};
}

/// Factor f(alpha) a coefficient is multiplied with, applied to a node's Hermite data.
void scale(int member, Node& node, double factor, double factor_slope) {
  node.by_alpha[member] = factor * node.by_alpha[member] + factor_slope * node.value[member];
  node.cross[member] = factor * node.cross[member] + factor_slope * node.by_ln_re[member];
  node.value[member] *= factor;
  node.by_ln_re[member] *= factor;
}

/// Moves a polar by one draw of its doubt. The lift-slope change fades out towards the separated
/// plate (25 degrees), the cl_max change fades in from 6 to 10 degrees and out as well.
void apply(const Shift& shift, const std::vector<double>& alpha, std::vector<Node>& nodes) {
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    const double angle = std::abs(alpha[i % alpha.size()]);
    const double sign = alpha[i % alpha.size()] < 0 ? -1 : 1;
    const Step fade = smooth_step(angle, 10 * degree_rad, 25 * degree_rad);
    const Step stall = smooth_step(angle, 6 * degree_rad, 10 * degree_rad);
    const double kept = 1 - fade.value;
    const double lift = 1 + kept * (shift.lift_slope + shift.cl_max * stall.value);
    const double lift_slope =
        sign * (-fade.slope * (shift.lift_slope + shift.cl_max * stall.value) +
                kept * shift.cl_max * stall.slope);
    scale(0, nodes[i], lift, lift_slope);
    scale(1, nodes[i], 1 + kept * shift.drag, -sign * fade.slope * shift.drag);
  }
}

double first_fall_of_lift(const std::vector<double>& alpha, const std::vector<Node>& nodes) {
  double onset = base::pi / 2;
  for (std::size_t row = 0; row < nodes.size(); row += alpha.size()) {
    for (std::size_t i = 0; i + 1 < alpha.size(); ++i) {
      if (alpha[i] < 0 || alpha[i] >= onset) continue;
      if (nodes[row + i + 1].value[0] <= nodes[row + i].value[0]) onset = alpha[i];
    }
  }
  return onset;
}

}  // namespace

double Family::re_low() const {
  return std::exp(ln_re_.front());
}
double Family::re_high() const {
  return std::exp(ln_re_.back());
}

Family Family::moved(const Shift& shift, const Uncertainty& uncertainty) const {
  Family family = *this;
  family.lasting_.push_back(shift);
  family.uncertainty_ = uncertainty;
  return family;
}

Polar Family::at_camber(double camber, const Shift& shift) const {
  Polar polar;
  polar.alpha_ = alpha_;
  polar.ln_re_ = ln_re_;
  polar.table_low_rad_ = table_low_rad_;
  polar.table_high_rad_ = table_high_rad_;
  polar.alpha_shift_ = shift.zero_lift_rad;
  for (const Shift& lasting : lasting_) polar.alpha_shift_ += lasting.zero_lift_rad;
  const double held = std::clamp(camber, cambers_.front(), cambers_.back());
  if (cambers_.size() == 1) {
    polar.nodes_ = planes_->front().nodes;
    polar.moments_ = planes_->front().moments;
  } else {
    std::size_t c = 0;
    while (c + 2 < cambers_.size() && cambers_[c + 1] <= held) ++c;
    const double h = cambers_[c + 1] - cambers_[c];
    const double t = (held - cambers_[c]) / h;
    const double r = 1 - t;
    const auto blend = [&](std::vector<Node> Plane::*values, std::vector<Node> Plane::*slopes) {
      const std::vector<Node>& low = (*planes_)[c].*values;
      std::vector<Node> result;
      result.reserve(low.size());
      for (std::size_t i = 0; i < low.size(); ++i) {
        const Node ends = combine((1 + 2 * t) * r * r, low[i], t * t * (3 - 2 * t),
                                  ((*planes_)[c + 1].*values)[i]);
        const Node bends = combine(h * t * r * r, ((*planes_)[c].*slopes)[i], -h * t * t * r,
                                   ((*planes_)[c + 1].*slopes)[i]);
        result.push_back(combine(1, ends, 1, bends));
      }
      return result;
    };
    polar.nodes_ = blend(&Plane::nodes, &Plane::nodes_by_camber);
    polar.moments_ = blend(&Plane::moments, &Plane::moments_by_camber);
  }
  for (const Shift& lasting : lasting_) apply(lasting, polar.alpha_, polar.nodes_);
  apply(shift, polar.alpha_, polar.nodes_);
  polar.stall_onset_rad_ = first_fall_of_lift(polar.alpha_, polar.nodes_) + polar.alpha_shift_;
  polar.index_angles();
  return polar;
}

const Family& Family::thin_arc() {
  static const Family family = [] {
    auto read = Family::read(data::file("polars/thin_arc_ns2d.csv"), "polars/thin_arc_ns2d.csv");
    if (!read) throw std::logic_error("built-in polar table: " + base::to_line(read.error()[0]));
    return std::move(*read);
  }();
  return family;
}

}  // namespace propwright::section
