/// Which of several propellers is the better, from timed flights: odds, seconds with their doubt,
/// and how many further flights would settle it.
/// Model: ln(share) of a flight = level of its propeller + shift of its day + scatter; share =
/// flown over expected time, the expectation being that of one and the same propeller in the
/// flight's conditions. The scatter is Student's t, so that one bad flight moves the level little
/// (Lange, Little & Taylor, J. American Statistical Association 84 (1989) 881-896). Levels and
/// scatter are integrated over numerically; nothing is sampled. The days' shifts are integrated
/// over as normal about their most probable values (Laplace), at each scatter and each spread of
/// the days.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace propwright::verdict {

/// One flight that counts.
struct Score {
  std::size_t propeller = 0;  ///< index, below the number of propellers
  double share = 1;           ///< flown time over expected time, > 0
  double weight = 1;          ///< 0..1, 1 over the variance of its scatter; 0 = does not count
  std::size_t day = 0;        ///< flights of one day share its shift; counted from 0
};

/// What is held of a propeller's level before its flights: ln(share), normal.
struct LevelPrior {
  double centre = 0;
  double sigma = 0.1;  ///< > 0
};

/// What is taken as given. All of it is shown with a verdict, and can be changed.
struct Beliefs {
  std::optional<double> tail_freedom = 4;  ///< of Student's t, 1..200; empty = normal scatter
  bool shared_scatter = true;              ///< one scatter for all propellers
  /// Scatter of a flight, of its time: ln(scatter) is normal about ln(0.04) (4 %: common practice)
  /// with this standard deviation (0.7: a factor of 2 either way is usual); empty = flat in
  /// ln(scatter) between 0.05 % and 100 %.
  std::optional<double> scatter_spread = 0.7;
  double scatter_median = 0.04;
  /// What a day does to all times alike, ln: normal about nought with a standard deviation that is
  /// itself half-normal with this scale; 0 = days are alike. Of no account where all flights are of
  /// one day.
  double day_scatter = 0.03;
  /// For each propeller; missing or empty = flat, all levels alike beforehand.
  std::vector<std::optional<LevelPrior>> levels = {};
};

/// When a verdict is given.
struct Thresholds {
  double sure = 0.95;              ///< odds of the best, 0.5..0.999
  double sure_without_one = 0.90;  ///< the same with any one flight left out
  int least_flights = 3;           ///< of each propeller
  double margin = 0.01;            ///< a difference below it, as a share, does not matter
  double planned = 0.8;            ///< chance that the further flights settle it
  int most_flights = 100;          ///< of each propeller, looked at for the plan
};

/// Median and 5 % and 95 % of what is known of a number.
struct Range {
  double median = 0, low = 0, high = 0;
};

/// One propeller as it stands.
struct Standing {
  int flights = 0;  ///< that count
  double probability_best = 0;
  Range share;       ///< of the expected time
  Range duration_s;  ///< under the reference conditions
  Range gain_s;      ///< over the best of the others
};

enum class Decision {
  best,             ///< the leader is the best
  no_matter,        ///< the first two differ by less than the margin
  cannot_tell_yet,  ///< neither
};

/// What so many further flights of each contender promise.
struct Outlook {
  int each = 0;
  double settles = 0;  ///< chance that they settle it
  double worth_s = 0;  ///< expected seconds gained by choosing after them instead of now
};

struct Verdict {
  std::vector<Standing> propellers;
  Decision decision = Decision::cannot_tell_yet;
  std::size_t leader = 0, runner_up = 0;
  std::string reason;  ///< why it is not settled, "" when it is
  Range scatter;       ///< of one flight's time, as a share; the widest propeller's if not shared
  Range day_scatter;   ///< of the days' shifts; noughts where no days are told apart
  /// Of each day of the scores, ln of what it did to all times; empty where no days are told apart.
  std::vector<double> day_shift;
  double no_matter_probability = 0;
  /// Least odds of the leader with one flight left out, and which score that is.
  double probability_without_one = 0;
  std::optional<std::size_t> score_without_one;
  std::vector<std::size_t> contenders;  ///< worth flying on, the leader first
  std::vector<Outlook> outlook;         ///< 1, 2, 3 ... each, thinned out; empty when settled
  /// Further flights of each contender at an even chance, and at the planned chance, of settling
  /// it; empty when settled or when most_flights do not get there.
  std::optional<int> even_each, planned_each;
};

/// Judges `propellers` >= 1 propellers. `reference_s` > 0: time at a share of 1. Valid for any
/// number of scores; a propeller without any has no odds unless its level has a prior. Error of the
/// odds against exact integration: below 1e-5 with one day (tests); with several days below 0.01
/// (tests). The plan takes what is known of the levels
/// as normal, which is good to some flights.
Verdict judge(const std::vector<Score>& scores, std::size_t propellers, double reference_s,
              const Beliefs& beliefs = {}, const Thresholds& thresholds = {});

/// Odds of being the best of each propeller alone: those that judge gives, at a fraction of the
/// time, for looking back over a log.
std::vector<double> odds_of_best(const std::vector<Score>& scores, std::size_t propellers,
                                 const Beliefs& beliefs = {});

/// In which order to fly `each` flights of every contender: there and back again (A B B A), so that
/// what drifts during the session falls on all alike.
std::vector<std::size_t> flying_order(const std::vector<std::size_t>& contenders, int each);

/// Flights of each of two propellers that show a relative difference at a scatter, two-sided
/// `confidence`, with chance `power`: 2 (z_confidence + z_power)^2 (scatter/difference)^2, rounded
/// up. scatter and difference > 0.
int flights_each(double scatter, double difference, double confidence = 0.95, double power = 0.8);

}  // namespace propwright::verdict
