/// The makeable blades nearest to a design (private to the module).
#pragma once

#include "propwright/base/problem.h"
#include "propwright/shape/shape.h"

namespace propwright::shape {

/// What every candidate shares.
struct Bench {
  const section::Family* family = nullptr;
  rotor::Condition condition;
  rotor::Flow flow;
  double thrust_N = 0;
  rotor::Blade ideal;
  double gauge_radius_m = 0;
  double sheet_thickness_m = 0;  ///< 0 for a built-up blade
  double bend_limit = 0.02;      ///< strain a wet sheet takes (judgement, form::SheetLimit)
};

base::Expected<Candidate> helical(const Bench& bench);
base::Expected<Candidate> on_form(const Bench& bench, const OwnedForm& form);
base::Expected<Candidate> on_cylinder(const Bench& bench, const form::Cylinder& cylinder);

/// Camber at the widest chord.
double camber_of(const rotor::Blade& blade);

/// Angle of a blade at a radius, between its rows.
double angle_at(const rotor::Blade& blade, double radius_m);

}  // namespace propwright::shape
