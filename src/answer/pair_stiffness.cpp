#include "pair_stiffness.h"

#include <cmath>

namespace propwright::answer {

base::Expected<double> DesignStiffness::with_spar(double root_ei_Nm2,
                                                  flex::Strike direction) const {
  const brief::Spar& spar = propeller_.spar;
  if (!(spar.length_m > 0) || !(spar.root_width_m > 0) || !(spar.root_depth_m > 0)) {
    return base::fail({.field = "propeller.spar",
                       .remedy = "give the design its spar, or the stiffness in percent",
                       .message = "the design has no spar to compare it with"});
  }
  const auto plain = [&](std::optional<double> modulus_Pa) {
    brief::Propeller propeller = propeller_;
    propeller.flex = {};  // a test of the designed blade is not one of this
    propeller.spar.modulus_Pa = modulus_Pa;
    return brief::make_beam(propeller, blade_);
  };
  const bool flapwise = direction == flex::Strike::flapwise;
  const double bent = flapwise ? spar.root_depth_m : spar.root_width_m;
  const double across = flapwise ? spar.root_width_m : spar.root_depth_m;
  const auto usual = plain(spar.modulus_Pa);
  if (!usual) return base::fail(usual.error());
  const auto built = plain(root_ei_Nm2 / (across * bent * bent * bent / 12));
  if (!built) return base::fail(built.error());
  const double tip = blade_.rows.back().radius_m;
  return flex::bend_compliance(*usual, tip, direction) /
         flex::bend_compliance(*built, tip, direction);
}

double DesignStiffness::inner_end_m() const {
  const auto beam = brief::make_beam(propeller_, blade_);
  return beam ? beam->rows.front().radius_m : 0;
}

base::Expected<double> DesignStiffness::in_test(const flex::BendCheck& test) const {
  const auto designed = brief::make_beam(propeller_, blade_);
  if (!designed) return base::fail(designed.error());
  const auto scaled = flex::scaled_to(*designed, test);
  if (!scaled) return base::fail(scaled.error());
  return scaled->rows.front().flapwise_Nm2 / designed->rows.front().flapwise_Nm2;
}

base::Expected<double> DesignStiffness::in_test(const flex::TwistCheck& test) const {
  const auto designed = brief::make_beam(propeller_, blade_);
  if (!designed) return base::fail(designed.error());
  const auto scaled = flex::scaled_to(*designed, test);
  if (!scaled) return base::fail(scaled.error());
  return scaled->rows.front().torsion_Nm2 / designed->rows.front().torsion_Nm2;
}

}  // namespace propwright::answer
