#include "mounting.h"

#include <cmath>

namespace propwright::spar {
namespace {

Comparison compare(const Stiffness& a, const Stiffness& b) {
  return {std::log(a.ei_Nm2 / b.ei_Nm2), std::hypot(a.sigma_relative, b.sigma_relative)};
}

double quarter_from(double turn_deg) {
  return turn_deg > 0 ? turn_deg - 90 : turn_deg + 90;
}

}  // namespace

std::array<Mounting, 2> mountings(const Measured& m) {
  const bool round = m.spar.taper.stations.front().section.shape == Shape::round;
  const bool to_axis = round && m.axes.from_third_reading && m.axes.has_direction;
  const double first = to_axis ? m.axes.soft_axis_deg : 0, second = quarter_from(first);
  const Stiffness along = turned(m, first), across = turned(m, second);
  return {{{first, along, across}, {second, across, along}}};
}

Mounted most_alike(const std::array<Mounting, 2>& a, const std::array<Mounting, 2>& b) {
  Mounted best;
  for (const Mounting& way : b) {
    Mounted mounted{a[0], way, compare(a[0].flap, way.flap), compare(a[0].edge, way.edge), 0};
    mounted.cost = std::pow(mounted.flap.log_ratio, 2) + std::pow(mounted.edge.log_ratio, 2);
    if (&way == &b[0] || mounted.cost < best.cost) best = mounted;
  }
  return best;
}

}  // namespace propwright::spar
