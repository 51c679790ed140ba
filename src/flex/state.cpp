// The bending moments follow from equilibrium of all that lies outside a radius, so that they are
// those of the rotor's own integrals.
#include "state.h"

#include <cmath>

#include "propwright/base/constants.h"

namespace propwright::flex {

namespace {

/// Bending moments of the part outside a radius, in the axes of the disc: each is stiffness times
/// curvature of the deflection in that direction.
struct Moments {
  double in_disc_Nm = 0, out_of_disc_Nm = 0;
};

class Outside {
 public:
  Outside(const FlexRotor& flex, const Walker& walker, double omega)
      : fem_(flex.fem()), walker_(walker), omega2_(omega * omega), q_(walker.unknowns().data()) {
    for (const BeamElement& e : fem_.elements) {
      for (const GaussPoint& p : e.points) masses_.push_back({&p, fem_.point_at(p.radius_m, q_)});
    }
  }

  Moments at(double radius_m) const {
    Moments m;
    for (std::size_t i = 0; i < walker_.stations().size(); ++i) {
      const double arm = walker_.stations()[i].radius_m - radius_m;
      if (arm <= 0) continue;
      m.in_disc_Nm += arm * walker_.spot_loads()[i].in_disc_N;
      m.out_of_disc_Nm += arm * walker_.spot_loads()[i].out_of_disc_N;
    }
    const BeamPoint here = fem_.point_at(radius_m, q_);
    for (const auto& [p, there] : masses_) {
      const double arm = p->radius_m - radius_m;
      if (arm <= 0) continue;
      const double pull = omega2_ * p->weight_m * p->mass_kg_per_m;
      m.in_disc_Nm +=
          pull * (there.in_disc_m * arm - p->radius_m * (there.in_disc_m - here.in_disc_m));
      m.out_of_disc_Nm -= pull * p->radius_m * (there.out_of_disc_m - here.out_of_disc_m);
    }
    return m;
  }

  double tension_N(double radius_m) const {
    double sum = 0;
    for (const auto& [p, there] : masses_) {
      if (p->radius_m > radius_m) {
        sum += omega2_ * p->weight_m * p->mass_kg_per_m * p->radius_m;
      }
    }
    return sum;
  }

 private:
  const Fem& fem_;
  const Walker& walker_;
  double omega2_;
  const double* q_;
  std::vector<std::pair<const GaussPoint*, BeamPoint>> masses_;
};

struct Bending {
  double flapwise_Nm = 0, chordwise_Nm = 0, stress_Pa = 0;
};

/// Moments in blade axes, and the stress of the corner fibre from the curvatures in the principal
/// axes turned back to the chord.
Bending bending(const Moments& m, const BeamRow& row, double twist_rad) {
  const double theta = row.angle_rad + twist_rad;
  Bending b;
  b.flapwise_Nm = m.out_of_disc_Nm * std::cos(theta) - m.in_disc_Nm * std::sin(theta);
  b.chordwise_Nm = m.out_of_disc_Nm * std::sin(theta) + m.in_disc_Nm * std::cos(theta);
  const double c = std::cos(row.principal_rad), s = std::sin(row.principal_rad);
  const double across = (b.flapwise_Nm * c - b.chordwise_Nm * s) / row.flapwise_Nm2;
  const double along = (b.flapwise_Nm * s + b.chordwise_Nm * c) / row.chordwise_Nm2;
  const double flap = across * c + along * s, chord = along * c - across * s;
  b.stress_Pa =
      row.modulus_Pa * (std::abs(flap) * row.half_depth_m + std::abs(chord) * row.half_width_m);
  return b;
}

Strength strength_of(const Fem& fem, const Outside& outside, const double* q) {
  Strength s;
  double least = 0;
  const auto look = [&](double radius_m) {
    const BeamRow row = fem.row(radius_m);
    if (!(row.rupture_Pa > 0)) return;
    const double stress =
        bending(outside.at(radius_m), row, fem.point_at(radius_m, q).twist_rad).stress_Pa;
    if (!s.known) {
      s.root_stress_Pa = stress;
      s.root_margin = stress > 0 ? row.rupture_Pa / stress : 0;
    }
    s.known = true;
    if (!(stress > 0)) return;
    const double margin = row.rupture_Pa / stress;
    if (least > 0 && margin >= least) return;
    least = margin;
    s.stress_Pa = stress;
    s.radius_m = radius_m;
    s.margin = margin;
  };
  for (const BeamElement& e : fem.elements) {
    for (const double share : {0.0, 0.25, 0.5, 0.75, 0.999999}) {
      look(e.start_m + share * e.length_m);
    }
  }
  return s;
}

double pitch_of(double radius_m, double angle_rad) {
  if (!(angle_rad > 0 && angle_rad < base::pi / 2)) return 0;
  return 2 * base::pi * radius_m * std::tan(angle_rad);
}

}  // namespace

State make_state(const FlexRotor& flex, Walker& walker, rotor::Result result) {
  const Fem& fem = flex.fem();
  const double omega = 2 * base::pi * result.condition.rev_per_s;
  const Outside outside(flex, walker, omega);
  const double* q = walker.unknowns().data();
  State state;
  state.iterations = walker.iterations();
  for (std::size_t i = 0; i < walker.stations().size(); ++i) {
    const rotor::Station& at = walker.stations()[i];
    const BeamPoint point = fem.point_at(at.radius_m, q);
    const BeamRow row = fem.row(at.radius_m);
    const Bending b = bending(outside.at(at.radius_m), row, point.twist_rad);
    const Spot& spot = walker.spots()[i];
    const double* own = q + node_unknowns * spot.element;
    StationState s;
    s.radius_m = at.radius_m;
    s.flare_rad = walker.twist_rad()[i];
    s.pitch_m = pitch_of(at.radius_m, at.blade_angle_rad + s.flare_rad);
    const double unloaded = pitch_of(at.radius_m, at.blade_angle_rad);
    if (s.pitch_m > 0 && unloaded > 0) s.pitch_rise_m = s.pitch_m - unloaded;
    s.in_disc_m = point.in_disc_m;
    s.out_of_disc_m = point.out_of_disc_m;
    s.flapwise_Nm = b.flapwise_Nm;
    s.chordwise_Nm = b.chordwise_Nm;
    s.twist_Nm =
        fem.elements[static_cast<std::size_t>(spot.element)].torsion_Nm * (own[9] - own[4]);
    s.stress_Pa = row.rupture_Pa > 0 ? b.stress_Pa : 0;
    state.stations.push_back(s);
  }
  state.tip = fem.point_at(fem.tip_m, q);
  const Moments root = outside.at(fem.root_m);
  state.root = {root.out_of_disc_Nm, root.in_disc_Nm, -walker.root_reaction()[4],
                outside.tension_N(fem.root_m)};
  state.strength = strength_of(fem, outside, q);
  state.divergence_factor = walker.divergence(omega);
  state.rotor = std::move(result);
  return state;
}

}  // namespace propwright::flex
