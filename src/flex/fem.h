/// The finite elements of a blade.
// v, w    deflection in the disc and out of it        phi  twist, nose-up
// node    five unknowns: v, v', w, w', phi
// psi     angle of the stiffer principal axis from the disc: blade angle + principal turn + phi
// EI      mean a = (chordwise + flapwise)/2 and half difference d: E_vv = a + d cos 2psi,
//         E_ww = a - d cos 2psi, E_vw = d sin 2psi
#pragma once

#include <array>
#include <vector>

#include "propwright/flex/beam.h"

namespace propwright::flex {

inline constexpr int node_unknowns = 5;
inline constexpr int band = 9;  // unknowns coupled on either side of the diagonal

/// A banded matrix, rows one after the other, factored in place without pivoting.
class BandMatrix {
 public:
  explicit BandMatrix(int size) : size_(size), entries_(static_cast<std::size_t>(size) * width) {}

  void clear() { entries_.assign(entries_.size(), 0.0); }
  double& at(int row, int column) { return entries_[index(row, column)]; }
  void fix(int row);  ///< the unknown of this row is zero

  /// Number of pivots that are not positive: 0 for a matrix of a stable state.
  int factor();
  void solve(double* right_side) const;  ///< after factor()

 private:
  static constexpr int width = 2 * band + 1;
  std::size_t index(int row, int column) const {
    return static_cast<std::size_t>(row) * width + static_cast<std::size_t>(column - row + band);
  }
  int size_;
  std::vector<double> entries_;
};

/// Between two rows, straight: t 0..1.
BeamRow mixed_row(const BeamRow& low, const BeamRow& high, double t);

struct GaussPoint {
  double radius_m = 0, weight_m = 0;
  std::array<double, 4> value{}, slope{}, bend{};  // of the cubic: left v, v', right v, v'
  std::array<double, 2> twist{};
  double mean_Nm2 = 0, half_Nm2 = 0;    // a and d
  double cos_twice = 1, sin_twice = 0;  // of psi, untwisted
  double cos_chord = 1, sin_chord = 0;  // of twice the blade angle
  double mass_kg_per_m = 0, inertia_kg_m = 0;
  double tension_kg_m = 0;  // over Omega^2: integral of m r from here to the tip
};

struct BeamElement {
  double start_m = 0, length_m = 0;
  double torsion_Nm = 0;  // twisting moment per difference of twist: 1/integral of dr/GJ
  std::array<GaussPoint, 3> points;
};

/// A radius found among the elements.
struct Spot {
  int element = 0;
  std::array<double, 4> value{};
  std::array<double, 2> twist{};
};

/// A generalised load at a spot, and its slope with the twist there.
struct SpotLoad {
  double in_disc_N = 0, out_of_disc_N = 0, twist_Nm = 0;
  double in_disc_by_twist = 0, out_of_disc_by_twist = 0, moment_by_twist = 0;
};

class Fem {
 public:
  Fem(const BladeBeam& beam, int elements);

  int unknowns() const { return node_unknowns * (static_cast<int>(elements.size()) + 1); }
  Spot spot(double radius_m) const;
  /// The row at a radius; at a step the one outside it.
  BeamRow row(double radius_m) const;

  double twist_at(const Spot& s, const double* q) const {
    const double* left = q + node_unknowns * s.element;
    return s.twist[0] * left[4] + s.twist[1] * left[9];
  }
  BeamPoint point_at(double radius_m, const double* q) const;

  /// Adds the beam's own forces at `q` to `residual` and their slopes to `tangent`.
  void add_beam(const double* q, double omega, BandMatrix& tangent, double* residual) const;
  /// Takes a load and its slope away.
  void add_load(const Spot& s, const SpotLoad& load, BandMatrix& tangent, double* residual) const;
  /// Springs of the socket, and what is held.
  void add_root(const double* q, BandMatrix& tangent, double* residual) const;
  /// No load on what is held.
  void hold_root(double* right_side) const;

  double root_m = 0, tip_m = 0;
  std::vector<BeamElement> elements;
  std::vector<BeamRow> rows;
  Socket socket;
};

/// See Beam::divergence_factor; `factored` is the structure's own tangent.
std::optional<double> divergence_factor(const Fem& fem, const BandMatrix& factored,
                                        const std::vector<TwistLoad>& loads);

}  // namespace propwright::flex
