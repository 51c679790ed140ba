#include "propeller.h"

#include <algorithm>
#include <cmath>

#include "propwright/base/constants.h"

namespace propwright::asbuilt {

namespace {

double of(const Deviation& deviation, Aspect aspect) {
  return deviation[static_cast<std::size_t>(aspect)];
}

/// Straight between the points, held outside them.
double at(const AngleCurve& curve, double radius_m) {
  if (curve.radius_m.empty()) return 0;
  const auto above = std::upper_bound(curve.radius_m.begin(), curve.radius_m.end(), radius_m);
  if (above == curve.radius_m.begin()) return curve.turn_rad.front();
  if (above == curve.radius_m.end()) return curve.turn_rad.back();
  const auto i = static_cast<std::size_t>(above - curve.radius_m.begin());
  const double share =
      (radius_m - curve.radius_m[i - 1]) / (curve.radius_m[i] - curve.radius_m[i - 1]);
  return curve.turn_rad[i - 1] + share * (curve.turn_rad[i] - curve.turn_rad[i - 1]);
}

/// How a longer blade moves its rows: evenly from the first on, which stays.
class Stretch {
 public:
  Stretch(const rotor::Blade& blade, double longer_m)
      : first_(blade.rows.front().radius_m), tip_(blade.rows.back().radius_m), longer_(longer_m) {}
  double operator()(double radius_m) const {
    return radius_m <= first_ ? radius_m
                              : radius_m + longer_ * (radius_m - first_) / (tip_ - first_);
  }

 private:
  double first_, tip_, longer_;
};

/// Change of a helical-like blade's angle when its row is moved out: it takes the angle the design
/// has at that radius, past the last row that of the last row's pitch.
double designed_angle(const rotor::Blade& blade, double radius_m) {
  const auto& rows = blade.rows;
  if (radius_m >= rows.back().radius_m) {
    const double pitch = rows.back().radius_m * std::tan(rows.back().angle_rad);
    return radius_m == rows.back().radius_m ? rows.back().angle_rad : std::atan(pitch / radius_m);
  }
  std::size_t i = 1;
  while (rows[i].radius_m < radius_m) ++i;
  const double share =
      (radius_m - rows[i - 1].radius_m) / (rows[i].radius_m - rows[i - 1].radius_m);
  return rows[i - 1].angle_rad + share * (rows[i].angle_rad - rows[i - 1].angle_rad);
}

double turn_at(const Design& design, const Deviation& deviation, const AngleCurve& left,
               double radius_m) {
  const double reference = reference_station * design.blade.rows.back().radius_m;
  return of(deviation, Aspect::angle) + of(deviation, Aspect::twist) * (radius_m - reference) +
         at(left, radius_m);
}

flex::BladeBeam beam_of(const Design& design, const Deviation& deviation, const AngleCurve& left) {
  flex::BladeBeam beam = *design.beam;
  const double longer = of(deviation, Aspect::length);
  const Stretch stretch(design.blade, longer);
  const double mass_factor =
      design.blade_mass_kg > 0
          ? std::max(0.0, 1 + of(deviation, Aspect::mass) / design.blade_mass_kg)
          : 1;
  for (flex::BeamRow& row : beam.rows) {
    if (longer != 0) row.radius_m = stretch(row.radius_m);
    row.angle_rad += turn_at(design, deviation, left, row.radius_m);
    row.principal_rad += of(deviation, Aspect::spar_turn);
    row.flapwise_Nm2 *= std::exp(of(deviation, Aspect::flapwise));
    row.chordwise_Nm2 *= std::exp(of(deviation, Aspect::chordwise));
    row.torsion_Nm2 *= std::exp(of(deviation, Aspect::torsion));
    row.mass_kg_per_m *= mass_factor;
    row.inertia_kg_m *= mass_factor;
  }
  return beam;
}

}  // namespace

rotor::Blade blade_of(const Design& design, const Deviation& deviation, const AngleCurve& left) {
  rotor::Blade blade = design.blade;
  const double longer = of(deviation, Aspect::length);
  const Stretch stretch(design.blade, longer);
  for (rotor::BladeRow& row : blade.rows) {
    if (longer != 0) {
      row.radius_m = stretch(row.radius_m);
      row.angle_rad = designed_angle(design.blade, row.radius_m);
    }
    row.angle_rad += turn_at(design, deviation, left, row.radius_m);
    row.camber = std::clamp(row.camber + of(deviation, Aspect::camber), 0.0, 0.25);
  }
  if (blade.tip_radius_m > 0) blade.tip_radius_m += longer;
  return blade;
}

base::Expected<Propeller> propeller_of(const Design& design, const Deviation& deviation,
                                       const AngleCurve& left) {
  auto rotor = rotor::Rotor::make(blade_of(design, deviation, left), design.family, design.options,
                                  design.shift);
  if (!rotor) return base::fail(std::move(rotor.error()));
  Propeller made{std::move(*rotor), {}};
  if (!design.beam) return made;
  auto flexing =
      flex::FlexRotor::make(made.rotor, beam_of(design, deviation, left), design.flex_options);
  if (!flexing) return base::fail(std::move(flexing.error()));
  made.flexing = std::move(*flexing);
  return made;
}

base::Expected<rotor::Map> map_of(const Design& design, const Propeller& propeller) {
  const double speed = design.setup.propeller.middle_speed_m_s();
  if (!propeller.flexing) return rotor::make_map(propeller.rotor, design.flow, speed);
  auto map = flex::make_map(*propeller.flexing, design.flow, speed);
  if (!map) return base::fail(std::move(map.error()));
  return std::move(map->map);
}

base::Expected<rotor::Map> map_of(const Design& design, const Deviation& deviation,
                                  const AngleCurve& left) {
  const auto propeller = propeller_of(design, deviation, left);
  if (!propeller) return base::fail(propeller.error());
  return map_of(design, *propeller);
}

// Maps of one tip radius share their nodes, where nothing is interpolated; of two, the other's
// values are read between its nodes. A map cut short at its fast end cuts the mean.
rotor::Map weighted_map(const Design& design, const std::vector<WeightedMap>& parts) {
  double tip = 0, least = 0;
  for (const WeightedMap& part : parts) {
    tip = std::max(tip, part.map->tip_radius_m());
    least = std::max(least, part.map->beta_low_rad());
  }
  const rotor::MapGrid grid = rotor::map_grid(tip, parts.front().map->middle_speed_m_s());
  std::vector<double> beta;
  for (const double angle : grid.beta_rad) {
    if (angle >= least - 1e-12) beta.push_back(angle);
  }
  std::vector<std::vector<rotor::Loads>> loads(3);
  for (std::size_t s = 0; s < 3; ++s) {
    const double speed =
        grid.middle_speed_m_s * std::pow(grid.speed_ratio, static_cast<double>(s) - 1);
    loads[s].reserve(beta.size());
    for (const double angle : beta) {
      const double rev = angle == base::pi / 2
                             ? 0
                             : speed / std::tan(angle) / (reference_station * 2 * base::pi * tip);
      rotor::Loads sum;
      for (const WeightedMap& part : parts) {
        const rotor::Loads p = part.map->at(speed, rev).loads;
        sum.thrust_N += part.weight * p.thrust_N;
        sum.torque_Nm += part.weight * p.torque_Nm;
        sum.profile_power_W += part.weight * p.profile_power_W;
      }
      loads[s].push_back(sum);
    }
  }
  return rotor::Map::from_loads(std::move(beta), grid.middle_speed_m_s, grid.speed_ratio, loads,
                                design.flow, tip);
}

base::Expected<double> duration_s(const flight::Setup& setup, const rotor::Map& map,
                                  double more_mass_kg) {
  flight::Setup moved = setup;
  moved.propeller = map;
  moved.airframe.mass_kg += more_mass_kg;
  const auto flown = flight::fly(moved);
  if (!flown) return base::fail(flown.error());
  return flown->duration_s;
}

}  // namespace propwright::asbuilt
