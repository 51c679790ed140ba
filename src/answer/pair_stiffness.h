/// A blade's stiffness over the design's, from tests of its spar or of the finished blade.
#pragma once

#include "propwright/base/problem.h"
#include "propwright/brief/assemble.h"
#include "propwright/brief/job.h"
#include "propwright/flex/parts.h"

namespace propwright::answer {

class DesignStiffness {
 public:
  DesignStiffness(brief::Propeller propeller, rotor::Blade blade)
      : propeller_(std::move(propeller)), blade_(std::move(blade)) {}

  /// Of the whole blade, whose spar has this EI at its root in a direction, N m2: the rest of it is
  /// as designed. Problem: bad_input where the design has no spar, or as brief::make_beam.
  base::Expected<double> with_spar(double root_ei_Nm2, flex::Strike direction) const;
  /// Radius at which the blade begins, where its tests hold it, m; 0 where it cannot be told.
  double inner_end_m() const;
  /// Of a finished blade in a test. Problem: as flex::scaled_to.
  base::Expected<double> in_test(const flex::BendCheck& test) const;
  base::Expected<double> in_test(const flex::TwistCheck& test) const;

 private:
  brief::Propeller propeller_;
  rotor::Blade blade_;
};

}  // namespace propwright::answer
