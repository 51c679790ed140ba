/// One blade element: the inflow angle that balances blade forces and induced flow.
// phi    inflow angle from the disc plane        sigma  solidity B c/(2 pi r)
// cn,ct  force coefficients along and across the shaft: cl cos - cd sin, cl sin + cd cos
// k,k'   axial and swirl induction over W: sigma cn/(4 F sin), sigma ct/(4 F sin)
#pragma once

#include "circulation.h"
#include "propwright/rotor/rotor.h"

namespace propwright::rotor {

/// Below Re 50 the polar's trend means nothing; chords this small (a pointed tip) carry no load,
/// and the floor keeps drag and local speed from running away against each other.
inline constexpr double least_ln_re = 3.912;

/// A station, prepared.
struct Element {
  double radius_m = 0, weight_m = 0;  // quadrature place and weight
  double chord_m = 0, blade_angle_rad = 0, camber = 0;
  double solidity = 0;
  const section::Polar* polar = nullptr;
  FactorTable factor;
};

/// Flow at the element before induction.
struct ElementFlow {
  double axial_m_s = 0;        // V >= 0
  double tangential_m_s = 0;   // Omega r >= 0
  double ln_re_per_speed = 0;  // ln(rho c/mu)
};

struct ElementState {
  double phi = 0, sine = 0, cosine = 1;
  double ln_re = 0;
  double speed_m_s = 0;  // W
  double alpha = 0, cl = 0, cd = 0;
  double factor = 1;
  double cn = 0, ct = 0;
  bool braked = false;  // empirical windmill-brake relation used
  bool falling = true;  // the residual falls through zero here
  bool solved = false;
};

/// Solves one element. `guess` (phi of a neighbouring condition) speeds it up; without a usable
/// guess (NaN) the whole range is searched. Among several solutions the attached one is returned.
/// Not solved: `solved` is false.
ElementState solve_element(const Element& element, const ElementFlow& flow, double guess,
                           double guess_ln_re);

/// Change of a solved state with the blade angle, induction following.
struct ElementSlopes {
  double phi = 0, ln_speed = 0;  // of the inflow angle and of ln W
  double cn = 0, ct = 0, cd = 0;
};
ElementSlopes slopes(const Element& element, const ElementFlow& flow, const ElementState& state);

/// How many solutions with 0 < phi <= 90 degrees the element has: more than one means that a
/// stalled state exists beside the one returned by solve_element.
int count_solutions(const Element& element, const ElementFlow& flow);

}  // namespace propwright::rotor
