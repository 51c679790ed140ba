/// Flaws and tolerances in plain words.
#pragma once

#include <string>

#include "propwright/asbuilt/ledger.h"

namespace propwright::asbuilt {

/// What the sentences of one design need.
struct Wording {
  double outer_m = 0;  ///< from the reference station to the tip, over which a twist is told
  units::Profile profile = units::Profile::metric;
};

/// "0.5°", "1.0 mm", "3.0 mg", "10 %": an amount of an aspect, without sign.
std::string amount_text(Aspect aspect, double amount, const Wording& wording);
/// An amount that is nothing in the digits shown.
bool reads_nothing(const std::string& amount);
std::string subject_of(Aspect aspect);  ///< "blade angle", "stiffness in bending (flapwise)"
/// Both blades, or A against B, off by a value.
std::string label_of(Aspect aspect, bool apart, double value, const Wording& wording);
/// What to do about a flaw; seconds, sigma and value are read.
std::string advice_for(const Flaw& flaw, const Wording& wording);

}  // namespace propwright::asbuilt
