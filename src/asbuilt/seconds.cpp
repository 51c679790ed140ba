// D(x) duration with both blades off by x, D(+-x) with one at +x and the other at -x.
#include <algorithm>
#include <cmath>

#include "propeller.h"
#include "propwright/asbuilt/ledger.h"
#include "propwright/base/constants.h"

namespace propwright::asbuilt {

namespace {

/// Steps small enough for a parabola and large enough that the flight's own tolerance, some
/// thousandths of a second, does not show: as much as a careless builder is off.
double step_of(Aspect aspect, double tip_radius_m) {
  switch (aspect) {
    case Aspect::angle:
      return base::degree_rad;
    case Aspect::twist:  // 1 degree between 0.7 of the radius and the tip
      return base::degree_rad / ((1 - reference_station) * tip_radius_m);
    case Aspect::length:
      return 0.01 * tip_radius_m;
    case Aspect::camber:
      return 0.01;
    case Aspect::mass:
      return 20e-6;
    case Aspect::flapwise:
    case Aspect::chordwise:
    case Aspect::torsion:
      return 0.2;
    case Aspect::spar_turn:
      return 10 * base::degree_rad;
  }
  return 0;
}

bool needs_beam(Aspect aspect) {
  return aspect == Aspect::flapwise || aspect == Aspect::chordwise || aspect == Aspect::torsion ||
         aspect == Aspect::spar_turn;
}

/// The design one doubt away.
Design moved_to(const Design& design, const World& world) {
  Design moved = design;
  moved.shift = world.shift;
  for (rotor::BladeRow& row : moved.blade.rows) row.angle_rad += world.turn_rad;
  if (moved.beam) {
    for (flex::BeamRow& row : moved.beam->rows) {
      row.angle_rad += world.turn_rad;
      row.flapwise_Nm2 *= world.stiffness;
      row.chordwise_Nm2 *= world.stiffness;
      row.torsion_Nm2 *= world.stiffness;
    }
  }
  moved.flex_options.moment_factor *= world.moment;
  return moved;
}

/// The propellers one step to either side of the design in each aspect, as maps.
struct Neighbours {
  rotor::Map design;
  std::array<std::optional<rotor::Map>, aspect_count> low, high;
};

base::Expected<Neighbours> neighbours(const Design& design, const EachOf& each_of) {
  auto centre = map_of(design, Deviation{});
  if (!centre) return base::fail(std::move(centre.error()));
  Neighbours made;
  made.design = std::move(*centre);
  const double tip = design.blade.rows.back().radius_m;
  each_of(2 * aspect_count, [&](std::size_t i) {
    const auto aspect = static_cast<Aspect>(i / 2);
    const bool low = i % 2 == 0;
    if (aspect == Aspect::mass || (needs_beam(aspect) && !design.beam)) return;
    Deviation deviation{};
    deviation[i / 2] = (low ? -1 : 1) * step_of(aspect, tip);
    auto map = map_of(design, deviation);
    if (map) (low ? made.low : made.high)[i / 2] = std::move(*map);
  });
  return made;
}

/// Both blades' mass moves the model by twice as much.
double both_mass_kg(Aspect aspect, double x) {
  return aspect == Aspect::mass ? 2 * x : 0;
}

/// D one step up less D at the design, by aspect; empty without flight.
using Gains = std::array<std::optional<double>, aspect_count>;

/// Flown by a set-up, with the propellers `map_up` gives, or none.
Gains gains_up(const flight::Setup& setup, const rotor::Map& centre_map, double tip_m,
               const std::function<std::optional<rotor::Map>(std::size_t)>& map_up) {
  Gains gains;
  const auto centre = duration_s(setup, centre_map, 0);
  if (!centre) return gains;
  for (std::size_t i = 0; i < aspect_count; ++i) {
    const auto aspect = static_cast<Aspect>(i);
    const auto map = aspect == Aspect::mass ? std::optional(centre_map) : map_up(i);
    if (!map) continue;
    const auto up = duration_s(setup, *map, both_mass_kg(aspect, step_of(aspect, tip_m)));
    if (up) gains[i] = *up - *centre;
  }
  return gains;
}

/// The gains in a world. Where it changes the propeller, its own map is found for the design alone;
/// what an aspect changes of the loads is taken to be what it changes at home. The doubt of a slope
/// is where the design stands on the hill of the duration rather than the shape of the hill.
Gains gains_in(const World& world, const Design& design, const Neighbours& n) {
  const double tip = design.blade.rows.back().radius_m;
  if (world.same_propeller) {
    return gains_up(world.setup, n.design, tip, [&](std::size_t i) { return n.high[i]; });
  }
  const auto centre = map_of(moved_to(design, world), Deviation{});
  if (!centre) return {};
  return gains_up(world.setup, *centre, tip, [&](std::size_t i) -> std::optional<rotor::Map> {
    if (!n.high[i]) return std::nullopt;
    return weighted_map(design, {{1, &*centre}, {1, &*n.high[i]}, {-1, &n.design}});
  });
}

Seconds parabola(const Design& design, const Neighbours& n, std::size_t i, double centre_s) {
  const auto aspect = static_cast<Aspect>(i);
  const bool mass = aspect == Aspect::mass;
  Seconds seconds;
  seconds.step = step_of(aspect, design.blade.rows.back().radius_m);
  if (!mass && (!n.low[i] || !n.high[i])) return seconds;
  const double h = seconds.step;
  const auto low = duration_s(design.setup, mass ? n.design : *n.low[i], both_mass_kg(aspect, -h));
  const auto high = duration_s(design.setup, mass ? n.design : *n.high[i], both_mass_kg(aspect, h));
  if (!low || !high) return seconds;
  seconds.slope = (*high - *low) / (2 * h);
  seconds.curvature = (*high + *low - 2 * centre_s) / (2 * h * h);
  if (!mass) {
    const auto apart =
        duration_s(design.setup, weighted_map(design, {{0.5, &*n.high[i]}, {0.5, &*n.low[i]}}), 0);
    if (!apart) return seconds;
    seconds.apart = (*apart - centre_s) / (h * h);
  }
  seconds.known = true;
  return seconds;
}

}  // namespace

void in_turn(std::size_t count, const std::function<void(std::size_t)>& work) {
  for (std::size_t i = 0; i < count; ++i) work(i);
}

namespace {

void add_doubt(Sensitivities& made, const std::vector<World>& worlds, const Gains& here,
               const std::vector<Gains>& there) {
  for (std::size_t i = 0; i < aspect_count; ++i) {
    double variance = 0, most = 0;
    for (std::size_t w = 0; w < worlds.size(); ++w) {
      if (!here[i] || !there[w][i]) continue;
      const double change = (*there[w][i] - *here[i]) / made.of[i].step;
      const double part = worlds[w].weight * change * change;
      variance += part;
      if (part <= most) continue;
      most = part;
      made.of[i].doubt = worlds[w].doubt;
    }
    made.of[i].slope_sigma = std::sqrt(variance);
  }
}

}  // namespace

// The doubt of a slope: how it differs in worlds one standard deviation away, one or two for each
// doubt, all independent. Most of it is the doubt where on the hill of the duration the design
// stands.
base::Expected<Sensitivities> sensitivities(const Design& design, const std::vector<World>& worlds,
                                            const EachOf& each_of) {
  const auto n = neighbours(design, each_of);
  if (!n) return base::fail(n.error());
  const auto centre = duration_s(design.setup, n->design, 0);
  if (!centre) return base::fail(centre.error());
  Sensitivities made;
  made.perfect_s = *centre;
  each_of(aspect_count, [&](std::size_t i) { made.of[i] = parabola(design, *n, i, *centre); });
  if (worlds.empty()) return made;
  const Gains here = gains_in({.setup = design.setup}, design, *n);
  std::vector<Gains> there(worlds.size());
  each_of(worlds.size(), [&](std::size_t w) { there[w] = gains_in(worlds[w], design, *n); });
  add_doubt(made, worlds, here, there);
  return made;
}

}  // namespace propwright::asbuilt
