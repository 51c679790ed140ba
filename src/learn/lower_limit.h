/// A reading that is only a lower limit: the upper tail of the same law as the others'.
#pragma once

namespace propwright::learn {

/// Student's t given a flight's exact readings is Student's t again; its probability above the
/// limit as a function of a, the model over the limit in units of the scatter.
struct LowerLimit {
  double ln_p = 0;    ///< ln of that probability
  double slope = 0;   ///< of it along a, > 0
  double bend = 0;    ///< minus its second derivative; >= 0, nought where the far tail bends up
  double weight = 1;  ///< mean of the flight's weight, the limit considered
};

/// `above` = a; `freedom` of the t, with `exact` readings of squared misfit `misfit`. Below
/// a = -100 it goes on as there.
LowerLimit lower_limit(double above, double freedom, double exact, double misfit);

}  // namespace propwright::learn
