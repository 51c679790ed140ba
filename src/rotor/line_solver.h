/// The circulation of a lifting line whose sections obey their polars.
#pragma once

#include <vector>

#include "lifting_line.h"
#include "propwright/rotor/fine.h"

namespace propwright::rotor {

/// A control point of the line, prepared.
struct Section {
  double radius_m = 0, chord_m = 0, blade_angle_rad = 0;
  const section::Polar* polar = nullptr;
};

/// Flow and force at a control point.
struct SectionState {
  double circulation_m2_s = 0;
  double axial_m_s = 0, tangential_m_s = 0;  // with the induced velocity
  double swirl_m_s = 0;                      // induced, < 0 where the blade drives the air round
  double speed_m_s = 0, phi = 0, alpha = 0, ln_re = 0;
  section::Coefficients force;
};

struct LineSolution {
  bool solved = false;
  std::size_t worst = 0;  // control point that kept it from being solved
  bool reversed = false;  // because the air there flows back through the disc
  std::vector<SectionState> states;
};

/// A guess at every control point.
struct Guess {
  double phi = 0, circulation_m2_s = 0;
};

/// Circulation and wake in balance.
LineSolution solve_line(const LiftingLine& line, const std::vector<Section>& sections,
                        const Condition& condition, const Flow& flow, Wake wake,
                        const std::vector<Guess>& start);

}  // namespace propwright::rotor
