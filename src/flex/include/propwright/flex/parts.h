/// A blade's stiffness from what it is built of, and from tests of the finished blade.
#pragma once

#include <optional>
#include <vector>

#include "propwright/base/problem.h"
#include "propwright/flex/beam.h"
#include "propwright/spar/section.h"

namespace propwright::flex {

/// Shear over long modulus of balsa for a bar of equal sides: the harmonic mean of 0.054 and 0.037
/// for the two shear planes along the grain (Wood Handbook, FPL-GTR-190, table 5-1, from memory).
inline constexpr double balsa_shear_ratio = 0.044;

/// Modulus of rupture of balsa over its density, J/kg: 21.6 MPa at 160 kg/m3 (Wood Handbook, table
/// 5-5, from memory); strength is linear in density (Borrega & Gibson, Mech. Mater. 84 (2015)).
inline constexpr double balsa_rupture_J_kg = 0.135e6;

/// Balsa of a density: what is not measured is usual (E 21.25 MJ/kg times density, see spar).
struct Wood {
  double density_kg_m3 = 0;
  std::optional<double> modulus_Pa = {};
  double modulus() const;
  double shear_Pa() const { return balsa_shear_ratio * modulus(); }
  double rupture_Pa() const { return balsa_rupture_J_kg * density_kg_m3; }
};

/// The blade at one radius, unloaded.
struct PlanRow {
  double radius_m = 0, chord_m = 0, angle_rad = 0, camber = 0;
};

/// A spar with its depth square to the chord, marked face up.
struct SparPart {
  spar::Taper taper;         ///< from its inner end outward
  double root_radius_m = 0;  ///< where the inner end sits
  double position = 0.4;     ///< of the chord, behind the leading edge
  Wood wood;
};

/// Square strips along both edges, ribs between them, film on one side or both.
struct BuiltUpPart {
  double edge_size_m = 0;
  int rib_count = 0;
  double rib_depth_m = 0, rib_thickness_m = 0;
  Wood wood;
};

struct SheetPart {
  double thickness_m = 0;
  Wood wood;
};

/// Film of polyester: E 4.5 GPa (a supplier's sheet), Poisson's ratio 0.35 and 1390 kg/m3 (from
/// memory) give its shear stiffness from its mass.
struct FilmPart {
  double mass_kg_m2 = 0;  ///< of one side
  int sides = 1;          ///< 1 or 2
};

/// At least a spar, or edges, or a sheet.
struct Parts {
  std::vector<PlanRow> plan;  ///< root to tip, radii increasing
  std::optional<SparPart> spar;
  std::optional<BuiltUpPart> built_up;
  std::optional<SheetPart> sheet;
  FilmPart film;
  Socket socket;
};

/// The beam of the parts.
/// Bending: every part by its own EI; an edge strip moreover with its area at its distance, as far
/// as the film between it and the spar shears with it: share 1/(1 + pi^2 E A/(k l^2)), k the film's
/// shear stiffness over the distance, l twice the blade (mechanically jointed beams, EN 1995-1-1
/// annex B, cantilever; from memory). A sheet bends as an arch: c t^3/12 + 4/45 c t h^2. A spar is
/// one with its sheet.
/// Torsion: Saint-Venant's of spar, edges (square) and sheet (c t^3/3) added up. A film on one side
/// only closes no tube and adds nothing; on both it adds Bredt's 4 A^2 G t/s with the lens between
/// the films as A. Ribs hold the shape and add mass; glue is left out.
/// The line about which it twists is the mean place of the parts, weighted by their own EI.
/// Problem: bad_input naming the part.
base::Expected<BladeBeam> beam_of(const Parts& parts);

/// A twist test of the finished blade: held at its root, a torque at one radius.
struct TwistCheck {
  double radius_m = 0, torque_Nm = 0, angle_rad = 0;  ///< all > 0
};
/// A bend test square to the chord: held at its root, load and reading at one radius.
struct BendCheck {
  double radius_m = 0, load_N = 0, deflection_m = 0;  ///< all > 0
};

/// Square to the chord, or along it.
enum class Strike { flapwise, chordwise };

/// Twist per torque and deflection per load that the beam's rows give, rad/(N m) and m/N.
double twist_compliance(const BladeBeam& beam, double radius_m);
double bend_compliance(const BladeBeam& beam, double radius_m, Strike direction = Strike::flapwise);

/// The beam with GJ, or both EI, scaled to the test. Problem: bad_input for a test out of range.
base::Expected<BladeBeam> scaled_to(const BladeBeam& beam, const TwistCheck& test);
base::Expected<BladeBeam> scaled_to(const BladeBeam& beam, const BendCheck& test);

/// What a load at the tip does until the first fibre breaks, to first order in the deflection.
struct TipStrike {
  double load_N = 0, deflection_m = 0, energy_J = 0;
  double break_radius_m = 0;
  double mass_kg = 0;  ///< of the blade
};
/// Problem: bad_input where no row tells a rupture stress.
base::Expected<TipStrike> tip_strike(const BladeBeam& beam, Strike direction);

}  // namespace propwright::flex
