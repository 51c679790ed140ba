/// When motors of a batch break, and how many turns are safe at a chosen risk.
///
/// Model: the breaking constant kappa = N_break sqrt(A)/L of a motor is log-normal about the
/// batch's median with the spread s. A motor that broke tells its kappa; one that was wound to N
/// and held tells that its kappa is above. What is not known before any break is a prior:
/// median 10.6 within 12 % (posted motors, builders' archive), spread 6 % within a factor of 1.6
/// (ours; the archive tells motors breaking from 90 % of the usual turns on). The chance that the
/// next motor breaks is the mean over what the breaks leave possible, so few breaks give fewer safe
/// turns.
#pragma once

#include <string>
#include <vector>

#include "propwright/base/problem.h"

namespace propwright::rubber {

/// The end of one wind. Of a motor that held several times only the greatest is given: the others
/// tell nothing more.
struct Wind {
  double turns = 0;        ///< motor turns
  double section_m2 = 0;   ///< all strands
  double length_m = 0;     ///< loop, broken in
  bool broke = false;      ///< else it held at these turns
  std::string motor = {};  ///< its name; empty where it is not known
  bool logged = false;     ///< taken from the log; else entered by hand
};

/// Whether a wind goes into the statistics.
enum class Counted {
  yes,
  told_twice,    ///< the log and an entry by hand tell of one and the same motor
  unbelievable,  ///< logged, and no motor of its size breaks there
};

struct BreakingPrior {
  double median = 10.6;           ///< of kappa; the batch's bench test gives a better one
  double median_sigma = 0.12;     ///< of ln kappa, 0.005..1
  double spread = 0.06;           ///< from motor to motor, of ln kappa, 0.005..0.5
  double spread_log_sigma = 0.5;  ///< of ln spread, 0.01..2
};

struct Breaking {
  int broke = 0, held = 0;                                   ///< of the winds that count
  int broke_logged = 0, held_logged = 0;                     ///< of them, taken from the log
  std::vector<Counted> counted = {};                         ///< of each wind handed in
  double median_kappa = 0, median_low = 0, median_high = 0;  ///< with its 90 % interval
  double spread = 0, spread_low = 0, spread_high = 0;        ///< of ln kappa
  double risk = 0;                                           ///< as asked
  double safe_kappa = 0;  ///< N sqrt(A)/L that the next motor breaks at with that chance
  double safe_risk = 0;   ///< chance that it breaks by safe_kappa: `risk`, or less with by_rule
  double risk_low = 0, risk_high = 0;  ///< 90 % interval of the true risk at those turns
  bool by_rule = false;  ///< fewer than three breaks: 0.9 of the median if that is less
  std::vector<std::string> notes = {};
};

/// Which of the winds count. A motor that the log and an entry by hand tell of counts once: they
/// are one where they have the same name, else, where either has none, where they ended alike at
/// the same turns, each with one other at most. Of the two the break counts; where both broke the
/// entry by hand, where both held the greater turns. A logged wind that no motor of its size can
/// have been wound to is left out; the same entered by hand is a problem of breaking_statistics.
std::vector<Counted> counted_winds(const std::vector<Wind>& winds, const BreakingPrior& prior = {});

/// The letters and digits of a name, small: "No. 3" and "no 3" are one motor. Letters outside
/// ASCII stay as they are.
std::string name_key(const std::string& name);

/// Those of counted_winds are used. risk 0.001..0.5. Up to 500 winds; none is allowed and gives
/// what the prior says. Problem: bad_input naming the wind ("winds[2].turns").
base::Expected<Breaking> breaking_statistics(const std::vector<Wind>& winds, double risk,
                                             const BreakingPrior& prior = {});

/// Turns of a motor at kappa: N = kappa L/sqrt(A).
double turns_at(double kappa, double section_m2, double length_m);

}  // namespace propwright::rubber
