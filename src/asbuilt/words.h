/// Flaws and tolerances in plain words.
#pragma once

#include <string>

#include "propwright/asbuilt/ledger.h"

namespace propwright::asbuilt {

/// "0.5°", "1.0 mm", "3.0 mg", "10 %": an amount of an aspect, without sign. `outer_m`: radius from
/// the reference station to the tip, over which a twist is told.
std::string amount_text(Aspect aspect, double amount, double outer_m);
std::string subject_of(Aspect aspect);  ///< "blade angle", "stiffness in bending (flapwise)"
/// Both blades, or A against B, off by a value.
std::string label_of(Aspect aspect, bool apart, double value, double outer_m);
/// What to do about a flaw; seconds, sigma and value are read.
std::string advice_for(const Flaw& flaw, double outer_m);

}  // namespace propwright::asbuilt
