/// A blade as a beam along its spar line: bending in two planes, torsion, centrifugal tension.
/// Axes of the disc: in the disc, positive the way the blade turns; out of the disc, positive
/// forward, where thrust points. A twist is positive nose-up, to a higher blade angle. Blade axes:
/// flapwise is square to the chord, chordwise along it.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "propwright/base/problem.h"

namespace propwright::flex {

/// Stiffness and mass at one radius. Between rows every column runs straight; two rows at the same
/// radius make a step, as where a spar ends.
struct BeamRow {
  double radius_m = 0;
  double flapwise_Nm2 = 0;   ///< EI against bending square to the chord, > 0
  double chordwise_Nm2 = 0;  ///< EI against bending along the chord, > 0
  /// Turn of the principal axes of EI against the chord, nose-up positive; with it the two EI are
  /// those of the principal axes (a product term written as an angle).
  double principal_rad = 0;
  double torsion_Nm2 = 0;       ///< GJ, > 0
  double mass_kg_per_m = 0;     ///< of one blade, >= 0
  double inertia_kg_m = 0;      ///< chordwise second moment of that mass about the spar line
  double angle_rad = 0;         ///< blade angle of the unloaded blade
  double behind_quarter_m = 0;  ///< spar line behind the quarter chord, along the chord
  double above_chord_m = 0;     ///< spar line off the chord line, to the side lift points to
  // For stress; a row without a rupture stress tells none.
  double half_depth_m = 0;  ///< outermost fibre of the spar, square to the chord
  double half_width_m = 0;  ///< the same along the chord
  double modulus_Pa = 0;    ///< E of that fibre
  double rupture_Pa = 0;    ///< modulus of rupture; 0 = not known
};

/// Rotational stiffness of the socket at the root; empty = held fast.
struct Socket {
  std::optional<double> out_of_disc_Nm;  ///< N m per rad, against coning
  std::optional<double> in_disc_Nm;      ///< against lagging
  std::optional<double> twist_Nm;        ///< about the spar line
};

struct BladeBeam {
  std::vector<BeamRow> rows;  ///< root (in the hub tube) to tip, radii not decreasing
  Socket socket;
};

/// Everything wrong with a beam at once.
base::Problems check(const BladeBeam& beam);

/// A load at a point of the spar line, of fixed direction.
struct PointLoad {
  double radius_m = 0;
  double in_disc_N = 0, out_of_disc_N = 0;
  double twist_Nm = 0;  ///< nose-up
};

/// Change of the loads at a point with the twist there.
struct TwistLoad {
  double radius_m = 0;
  double in_disc_N_per_rad = 0, out_of_disc_N_per_rad = 0, twist_Nm_per_rad = 0;
};

/// The deformed beam at one radius.
struct BeamPoint {
  double radius_m = 0;
  double in_disc_m = 0, out_of_disc_m = 0;
  double twist_rad = 0;
};

class Fem;

/// Finite elements: cubic bending, linear twist with the element's exact torsional flexibility, and
/// between them what a twist does to the direction of bending and bending to torsion, to second
/// order (the energy is that of moderate rotations, after Hodges & Dowell, NASA TN D-7818 (1974)).
/// Rotation adds centrifugal tension and the moment that turns a blade's masses into the disc.
class Beam {
 public:
  /// Problem: bad_input for a row out of range. elements 4..128 over the length.
  static base::Expected<Beam> make(const BladeBeam& beam, int elements = 16);

  double root_radius_m() const;
  double tip_radius_m() const;

  /// Deflection under point loads while turning at `rev_per_s`, at `radii_m`. Problem: no_solution
  /// where the loads buckle the beam.
  base::Expected<std::vector<BeamPoint>> deflect(const std::vector<PointLoad>& loads,
                                                 double rev_per_s,
                                                 const std::vector<double>& radii_m) const;

  /// The factor on loads that follow the twist at which the beam at rest no longer holds against
  /// them: static divergence. Empty where none below a hundred does.
  std::optional<double> divergence_factor(const std::vector<TwistLoad>& loads) const;

  /// The elements, for this module's own use.
  const Fem& fem() const { return *fem_; }

 private:
  std::shared_ptr<const Fem> fem_;
};

}  // namespace propwright::flex
