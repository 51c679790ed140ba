// k  own_induction_share: a blade's load is k times that of its own half-disc (a propeller of two
//    blades like it) plus 1 - k times that of its sections in the inflow of the mean propeller.
#include "propwright/asbuilt/comparison.h"

#include <cmath>
#include <map>

#include "propeller.h"
#include "propwright/base/constants.h"

namespace propwright::asbuilt {

using base::pi;

namespace {

struct ComparedBlade {
  rotor::Result result;  ///< of two blades like it
  std::vector<rotor::Station> places;
  std::optional<double> tip_bend_m, flare_rad;
};

base::Expected<ComparedBlade> solved(const Design& design, const Propeller& propeller,
                                     const rotor::Condition& condition) {
  ComparedBlade made;
  made.places = propeller.rotor.stations();
  if (!propeller.flexing) {
    auto result = propeller.rotor.solve(condition, design.flow);
    if (!result) return base::fail(std::move(result.error()));
    made.result = std::move(*result);
    return made;
  }
  auto state = propeller.flexing->solve(condition, design.flow);
  if (!state) return base::fail(std::move(state.error()));
  made.result = std::move(state->rotor);
  made.tip_bend_m = state->tip.out_of_disc_m;
  made.flare_rad = state->tip.twist_rad;
  return made;
}

/// One blade's loads on its own half of the disc.
BladeLoads half_disc(const ComparedBlade& blade) {
  BladeLoads loads;
  for (std::size_t i = 0; i < blade.places.size(); ++i) {
    const rotor::StationResult& s = blade.result.stations[i];
    const double weight = blade.places[i].weight_m / 2;
    loads.thrust_N += weight * s.thrust_N_per_m;
    loads.torque_Nm += weight * s.torque_Nm_per_m;
    loads.root_bending_Nm += weight * s.thrust_N_per_m * s.radius_m;
  }
  return loads;
}

/// One blade's loads in the inflow that the mean propeller makes, station by station.
BladeLoads shared_annulus(const Design& design, const ComparedBlade& blade,
                          const ComparedBlade& mean) {
  BladeLoads loads;
  std::map<double, section::Polar> polars;
  for (std::size_t i = 0; i < blade.places.size(); ++i) {
    const rotor::Station& place = blade.places[i];
    const rotor::StationResult& m = mean.result.stations[i];
    const double camber = place.camber;
    auto polar = polars.find(camber);
    if (polar == polars.end()) {
      polar = polars.emplace(camber, design.family.at_camber(camber, design.shift)).first;
    }
    if (!(m.re > 0) || !(m.chord_m > 0)) continue;  // bare arm or a propeller at rest
    const double speed =
        m.re * design.flow.viscosity_Pa_s / (design.flow.density_kg_m3 * m.chord_m);
    const double re = m.re * place.chord_m / m.chord_m;
    const auto c = polar->second.at(blade.result.stations[i].blade_angle_rad - m.inflow_rad,
                                    std::log(std::max(re, 1e-9)));
    const double force =
        0.5 * design.flow.density_kg_m3 * speed * speed * place.chord_m * place.weight_m;
    const double cosine = std::cos(m.inflow_rad), sine = std::sin(m.inflow_rad);
    const double thrust = force * (c.cl * cosine - c.cd * sine);
    loads.thrust_N += thrust;
    loads.torque_Nm += force * (c.cl * sine + c.cd * cosine) * place.radius_m;
    loads.root_bending_Nm += thrust * place.radius_m;
  }
  return loads;
}

BladeLoads blend(const BladeLoads& independent, const BladeLoads& shared) {
  constexpr double k = own_induction_share;
  BladeLoads loads;
  loads.thrust_N = k * independent.thrust_N + (1 - k) * shared.thrust_N;
  loads.torque_Nm = k * independent.torque_Nm + (1 - k) * shared.torque_Nm;
  loads.root_bending_Nm = k * independent.root_bending_Nm + (1 - k) * shared.root_bending_Nm;
  return loads;
}

BladeLoads less(const BladeLoads& a, const BladeLoads& b) {
  BladeLoads d{a.thrust_N - b.thrust_N,
               a.torque_Nm - b.torque_Nm,
               a.root_bending_Nm - b.root_bending_Nm,
               {},
               {}};
  if (a.tip_bend_m && b.tip_bend_m) d.tip_bend_m = *a.tip_bend_m - *b.tip_bend_m;
  if (a.flare_rad && b.flare_rad) d.flare_rad = *a.flare_rad - *b.flare_rad;
  return d;
}

AngleCurve angles_left(const BladeDeviation& d) {
  return {d.left_over_radius_m, d.left_over_rad};
}

/// Both blades' propellers and the one between them.
struct Compared {
  Propeller a, b, mean;
};

base::Expected<Compared> compared(const Design& design, const BladeDeviation& a,
                                  const BladeDeviation& b) {
  Deviation middle{};
  for (std::size_t i = 0; i < aspect_count; ++i) middle[i] = (a.value[i] + b.value[i]) / 2;
  auto pa = propeller_of(design, a.value, angles_left(a));
  if (!pa) return base::fail(std::move(pa.error()));
  auto pb = propeller_of(design, b.value, angles_left(b));
  if (!pb) return base::fail(std::move(pb.error()));
  auto pm = propeller_of(design, middle);
  if (!pm) return base::fail(std::move(pm.error()));
  return Compared{std::move(*pa), std::move(*pb), std::move(*pm)};
}

base::Expected<PairState> state_of(const Design& design, const Compared& pair,
                                   const rotor::Condition& condition, double imbalance_kgm) {
  const auto a = solved(design, pair.a, condition);
  if (!a) return base::fail(a.error());
  const auto b = solved(design, pair.b, condition);
  if (!b) return base::fail(b.error());
  const auto mean = solved(design, pair.mean, condition);
  if (!mean) return base::fail(mean.error());
  PairState state;
  state.condition = condition;
  const std::array<const ComparedBlade*, 2> blades{&*a, &*b};
  std::array<BladeLoads, 2> own, shared;
  for (std::size_t i = 0; i < 2; ++i) {
    own[i] = half_disc(*blades[i]);
    shared[i] = shared_annulus(design, *blades[i], *mean);
    state.blades[i] = blend(own[i], shared[i]);
    state.blades[i].tip_bend_m = blades[i]->tip_bend_m;
    state.blades[i].flare_rad = blades[i]->flare_rad;
    state.torque_Nm += state.blades[i].torque_Nm;
  }
  state.difference = less(state.blades[0], state.blades[1]);
  state.shared_thrust_N = shared[0].thrust_N - shared[1].thrust_N;
  state.independent_thrust_N = own[0].thrust_N - own[1].thrust_N;
  state.rocking_Nm = state.difference.root_bending_Nm;
  const double omega = 2 * pi * condition.rev_per_s;
  state.shaking_N = imbalance_kgm * omega * omega;
  return state;
}

}  // namespace

Imbalance imbalance_of(const Design& design, const BladeDeviation& a, const BladeDeviation& b) {
  Imbalance found;
  if (a.moment_kgm && b.moment_kgm) {
    found.moment_kgm = Measured{a.moment_kgm->value - b.moment_kgm->value,
                                std::hypot(a.moment_kgm->sigma, b.moment_kgm->sigma)};
    return found;
  }
  constexpr auto mass = static_cast<std::size_t>(Aspect::mass);
  if (!a.measured[mass] || !b.measured[mass] || !(design.blade_mass_kg > 0)) return found;
  const double arm = design.blade_moment_kgm / design.blade_mass_kg;
  found.from_masses = true;
  found.moment_kgm = Measured{arm * (a.value[mass] - b.value[mass]),
                              arm * std::hypot(a.sigma[mass], b.sigma[mass])};
  return found;
}

base::Expected<PairState> compare_at(const Design& design, const BladeDeviation& a,
                                     const BladeDeviation& b, const rotor::Condition& condition) {
  const auto pair = compared(design, a, b);
  if (!pair) return base::fail(pair.error());
  const Imbalance imbalance = imbalance_of(design, a, b);
  return state_of(design, *pair, condition, imbalance.moment_kgm.value_or(Measured{}).value);
}

base::Expected<std::vector<PairState>> compare(const Design& design, const BladeDeviation& a,
                                               const BladeDeviation& b, double low_torque_Nm,
                                               double high_torque_Nm, int count) {
  const auto pair = compared(design, a, b);
  if (!pair) return base::fail(pair.error());
  const double imbalance_kgm = imbalance_of(design, a, b).moment_kgm.value_or(Measured{}).value;
  std::vector<PairState> states;
  for (int i = 0; i < count; ++i) {
    const double share = count > 1 ? static_cast<double>(i) / (count - 1) : 0;
    const auto flying =
        flight::equilibrium(design.setup, low_torque_Nm + share * (high_torque_Nm - low_torque_Nm));
    if (!flying) return base::fail(flying.error());
    auto state = state_of(design, *pair, {flying->speed_m_s, flying->rev_per_s}, imbalance_kgm);
    if (!state) return base::fail(std::move(state.error()));
    states.push_back(*state);
  }
  return states;
}

}  // namespace propwright::asbuilt
