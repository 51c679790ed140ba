/// Velocity induced by the helical vortices that a blade sheds.
// a       radius of the vortices          r      radius of the point looked at
// h       pitch of the helix over 2 pi; 1/h = 0 is a straight vortex, h < 0 a left-handed one
#pragma once

#include <vector>

namespace propwright::rotor {

/// Axial and tangential velocity, along the direction in which the vortex runs for h > 0.
struct Induced {
  double axial = 0, swirl = 0;
};

/// B equal semi-infinite helical vortices of unit circulation, starting equally spaced on the
/// circle z = 0 and running towards z > 0 as z = h theta. Their velocity is asked for on the radial
/// lines through their starting points, where by symmetry it is half that of doubly infinite ones.
/// Kawada (J. Aeronaut. Sci. 3, 1936) and Hardin (Phys. Fluids 25, 1982) give it as a series of
/// Bessel functions, from memory; the series is derived anew in helix.cpp. Orders m <= 8 are summed
/// as they stand, the others by four terms of the uniform expansion for high order, which sum to
/// polylogarithms (Wrench 1957 takes two). Error: 2e-6 of B/(4 pi a) (1 + a/h).
class HelixSet {
 public:
  HelixSet(int blades, double radius, double inverse_pitch);

  Induced at(double r) const;  ///< r > 0, r != radius

 private:
  double oscillating(double r) const;

  struct Harmonic {
    int order;
    double inside, outside;  // -2 X m K'_m(m X) and 2 X m I'_m(m X)
  };
  int blades_;
  double radius_, inverse_pitch_;
  double x_, root_, cosine_;         // X = a/|h|, sqrt(1 + X^2), its inverse
  double u_[5], v_[5];               // Debye's polynomials at this radius
  std::vector<Harmonic> harmonics_;  // those summed as they stand
};

/// The velocity near such a vortex is A/(a - r) + C ln|a - r| + ...; this is C.
Induced log_coefficient(double radius, double inverse_pitch);

/// Li_order(exp(-mu)) for mu > 0 and orders 1 to 4: sum over n of exp(-n mu)/n^order. Error: 1e-11.
double polylogarithm(int order, double mu);

}  // namespace propwright::rotor
