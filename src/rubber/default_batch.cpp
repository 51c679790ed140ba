/// The default strip: a guess of the curve's shape that agrees with the few facts read.
#include <fmt/format.h>

#include "energy_balance.h"

namespace propwright::rubber {
namespace {

/// Nodes of the default curve, by hand and a least-roughness fit, to these facts
/// (indoor-construction mailing-list archive, msgs 0612/1700 and 0612/1707, 2006; u = energy left
/// over energy at breaking):
///   backing off 10, 15, 20 % of the turns costs 30, 40, 45 % of the energy: u(0.90) = 0.70,
///   u(0.85) = 0.60, u(0.80) = 0.55;  torque at 23 % over torque at 54 % of the turns 0.70;
///   a quarter of the energy is left at 0.47 of the turns (the others pull this to 0.266);
///   0.9 ozf in at 94 % of the turns falls to 0.30 after backing off 15 %: q(0.79)/q(0.94) = 1/3.
/// The fast fall below x = 0.08 is common practice; its height is a guess.
/// Winding is unwinding over r(x), r = 0.5712 up to x = 0.7, then rising with the square of the
/// distance to 1 at x = 1, so that returned over stored energy is 0.66 (modelling article on rubber
/// motors, 0.65 to 0.67). Where along the curve the loss falls is a guess.
struct Node {
  double x, unwinding, winding;
};
constexpr Node nodes[] = {
    {0.00, 0.0000, 0.0000}, {0.02, 0.0450, 0.0788}, {0.04, 0.0825, 0.1444}, {0.08, 0.1205, 0.2110},
    {0.15, 0.1365, 0.2390}, {0.23, 0.1540, 0.2696}, {0.35, 0.1830, 0.3204}, {0.47, 0.2080, 0.3642},
    {0.54, 0.2175, 0.3808}, {0.65, 0.2265, 0.3965}, {0.75, 0.2345, 0.4022}, {0.80, 0.2530, 0.4088},
    {0.84, 0.3445, 0.5184}, {0.87, 0.4670, 0.6588}, {0.90, 0.6015, 0.7896}, {0.93, 0.7270, 0.8831},
    {0.96, 0.8455, 0.9465}, {1.00, 1.0000, 1.0000},
};

base::MonotoneCurve curve(double Node::*member) {
  std::vector<double> x, y;
  for (const Node& node : nodes) {
    x.push_back(node.x);
    y.push_back(node.*member);
  }
  return base::MonotoneCurve::through(x, y).value();
}

void check_range(base::Problems& problems, const char* field, double value, double low, double high,
                 const char* remedy) {
  if (value >= low && value <= high) return;
  problems.push_back({.field = field,
                      .value = fmt::format("{:g}", value),
                      .allowed = fmt::format("{:g} to {:g}", low, high),
                      .remedy = remedy,
                      .message = "outside what rubber strip can be"});
}

}  // namespace

base::Expected<Batch> default_batch(double energy_J_per_kg, double turns_constant,
                                    double density_kg_m3) {
  base::Problems problems;
  check_range(problems, "energy_J_per_kg", energy_J_per_kg, 6e3, 16e3,
              "give the energy returned from breaking turns, 9000 to 14300 for modern strip");
  check_range(problems, "turns_constant", turns_constant, turns_constant_low, turns_constant_high,
              "give breaking turns times root of the section over the loop length, about 10.6");
  check_range(problems, "density_kg_m3", density_kg_m3, density_low_kg_m3, density_high_kg_m3,
              "give the density of the strip, about 930 to 980");
  if (!problems.empty()) return base::fail(std::move(problems));

  Batch batch;
  batch.unwinding = curve(&Node::unwinding);
  batch.winding = curve(&Node::winding);
  batch.turns_constant = turns_constant;
  batch.density_kg_m3 = density_kg_m3;
  batch.energy_J_per_kg = energy_J_per_kg;
  const double unwinding_area = batch.unwinding.integral(0, 1);
  batch.returned_over_stored = unwinding_area / batch.winding.integral(0, 1);
  set_torque_constant(batch, unwinding_area);
  batch.notes.push_back(
      "The torque curve is the default guess, not a measured one: test a motor of this batch on a "
      "torque meter and give the test.");
  return batch;
}

}  // namespace propwright::rubber
