/// Every flaw of a built propeller in seconds of flight, and what tolerances cost before it is
/// built.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "propwright/asbuilt/blade.h"

namespace propwright::asbuilt {

/// The duration about the design, to second order in each aspect: of both blades alike, and of two
/// blades off by the same to either side.
struct Seconds {
  bool known = false;  ///< false: this aspect does nothing in the model (stiffness of rigid blades)
  double step = 0;     ///< at which it was found, unit of the aspect
  double slope = 0;    ///< s per unit, both blades
  double curvature = 0;    ///< s per unit squared: effect = slope x + curvature x^2
  double apart = 0;        ///< s per unit squared, blades at +x and -x
  double slope_sigma = 0;  ///< of the slope, from the doubts of the model
  std::string doubt = {};  ///< the world that adds most to it; empty: none
  double both(double x) const { return slope * x + curvature * x * x; }
  double pulled_apart(double x) const { return apart * x * x; }
};

struct Sensitivities {
  double perfect_s = 0;  ///< duration of the design
  std::array<Seconds, aspect_count> of;
  const Seconds& at(Aspect aspect) const { return of[static_cast<std::size_t>(aspect)]; }
};

/// A world one standard deviation of one doubt away: polars, angles, flexing and flight as they
/// would be.
struct World {
  std::string doubt = {};  ///< "the rubber's energy"
  double weight = 1;       ///< of the square of its change: 1/2 each where both signs are given
  section::Shift shift = {};
  double turn_rad = 0;
  double stiffness = 1, moment = 1;  ///< factors, of a flexing blade: EI and GJ, section moment
  flight::Setup setup = {};
  bool same_propeller = true;  ///< the propeller's own map holds; of the rest only setup is read
};

/// How many pieces of work are done, in any order and on any thread.
using EachOf = std::function<void(std::size_t count, const std::function<void(std::size_t)>&)>;
/// One after the other.
void in_turn(std::size_t count, const std::function<void(std::size_t)>& work);

/// Problem: no_solution where the design itself does not fly. An aspect whose neighbours do not is
/// marked unknown.
base::Expected<Sensitivities> sensitivities(const Design& design, const std::vector<World>& worlds,
                                            const EachOf& each_of = in_turn);

/// One flaw: what both blades have in common, or what sets them apart.
struct Flaw {
  std::string key;    ///< "angle of both", "angle apart", "imbalance"
  std::string label;  ///< "both blades set high by 0.5°"
  Aspect aspect = Aspect::angle;
  bool apart = false;
  double value = 0;    ///< mean of both, or half of A less B; unit of the aspect
  double sigma = 0;    ///< of the value, from the readings
  double seconds = 0;  ///< gained by curing it; negative: it helps
  double sigma_s = 0;
  double low_s = 0, high_s = 0;  ///< 5 and 95 %
  bool computed = true;          ///< false: the model gives no seconds for it
  std::string advice;            ///< one sentence
};

struct Ledger {
  double perfect_s = 0;     ///< duration of the design
  double duration_s = 0;    ///< of the pair as built, everything at once
  double sum_s = 0;         ///< of the flaws, one at a time
  double cross_s = 0;       ///< perfect less duration less sum: what flaws do together
  std::vector<Flaw> flaws;  ///< the costliest first
};
base::Expected<Ledger> ledger(const Design& design, const Sensitivities& sensitivities,
                              const BladeDeviation& a, const BladeDeviation& b);

/// What one tolerance costs: the worse of both signs, of both blades alike, and with one blade at
/// either end of it.
struct Tolerance {
  Aspect aspect = Aspect::angle;
  std::string label;  ///< "0.5° of blade angle"
  double amount = 0;  ///< unit of the aspect
  double both_s = 0, apart_s = 0, sigma_s = 0;
  std::string sentence;
};
/// 0.5 degree of angle and of twist over the outer blade, 1 mm of length, 1 % of camber, 3 mg, 10 %
/// of each stiffness, 5 degrees of spar turn: those known, the dearest first.
std::vector<Tolerance> tolerance_card(const Design& design, const Sensitivities& sensitivities);

}  // namespace propwright::asbuilt
