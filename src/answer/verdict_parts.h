/// A question of which propeller is the better, taken apart, and what its answer is made of.
/// Private.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "flights_question.h"
#include "propwright/answer/known_learning.h"
#include "propwright/verdict/verdict.h"

namespace propwright::answer {

/// One of the propellers compared.
struct Contestant {
  std::string name, letter;       ///< "L46-B", "B"
  std::optional<double> mass_kg;  ///< of the propeller, or of the model ready to fly with it
  std::string setting = {};       ///< of its blades, as its last flight in the log says
};

/// A flight as it is judged.
struct SharedFlight {
  std::size_t flight = 0;                ///< index of the log
  std::optional<std::size_t> propeller;  ///< index of the contestants
  std::optional<double> expected_s, share;
  double weight = 1;
  std::string left_out;  ///< "" where it counts
  std::size_t day = 0;   ///< index of the days of Shares
};

struct VerdictQuestion {
  FlightsQuestion flown;
  verdict::Beliefs beliefs;
  std::optional<double> level_sigma;  ///< of every propeller's level beforehand; empty = flat
  verdict::Thresholds thresholds;
  bool learn = true;
  std::optional<double> reference_s;  ///< "under this roof", as asked
  double winder_ratio = 1;  ///< of the fair test's winder, motor turns for one of the crank
  std::vector<std::pair<std::string, double>> masses;  ///< as asked, by propeller
  std::vector<Contestant> propellers;
};

/// Problems: as read_flights_question; "beliefs.tail_freedom", "thresholds.sure", "masses.L46-A".
base::Expected<VerdictQuestion> read_verdict_question(const Json& question);

/// Time at a share of 1, and what the shares are of.
struct Reference {
  std::string propeller;  ///< "" without jobs
  double duration_s = 0;
  std::string what;
  bool learned = false;  ///< the model flew as the flights taught it
  /// Its own flight under its own roof, launched as its plan says; empty without jobs.
  std::optional<flight::Flight> own;
};

struct Shares {
  Reference reference;
  std::vector<SharedFlight> flights;  ///< one for each of the log
  std::vector<verdict::Score> scores;
  std::vector<std::size_t> score_flight;  ///< index of the log, of each score
  /// "2026-11-24", with the session and the batch where a day has several.
  std::vector<std::string> days;
};

/// Day, session and batch of each flight as an index into `days`, which it fills: flights of one
/// day are of one session, and on one batch, unless the log names several that day; those without
/// a date are of theirs. Which batch flew is held apart like the day: of a propeller that alone
/// flew on one nobody can tell what was the rubber's.
std::vector<std::size_t> days_of_flights(const std::vector<logbook::Flight>& flights,
                                         std::vector<std::string>& days);

/// Letters in the order to fly next, `each` times the number of `letters`, so that each goes on
/// there and back again: the one flown least on the log's last day, of several the one flown last.
/// `rows`: the answer's shares.
std::vector<std::string> fair_order(const Json& rows, const std::vector<std::string>& letters,
                                    int each);
/// Which days differed, in words; "" where none are told apart.
std::string days_text(const Shares& shares, const verdict::Verdict& verdict);
/// Where the two in front share no day with one batch, or no motor, so that the one coincides with
/// the other: sentences that say so and what to fly.
std::vector<std::string> never_shared(const VerdictQuestion& question, const Shares& shares,
                                      const verdict::Verdict& verdict);
/// Adds what it assumed to the question's notes. Problem: learn::learning_stopped().
base::Expected<Shares> shares_of_flights(VerdictQuestion& question, KnownLearning* known,
                                         const StillWanted& wanted);

struct Judged {
  verdict::Verdict verdict;
  Json odds_history;
};
/// The verdict and the odds after rounds of the log, all at once on all processors: of a long log
/// they take some tens of milliseconds together.
Judged judge_all(const VerdictQuestion& question, const Shares& shares);

/// Headline and sentence.
struct VerdictWords {
  std::string headline, sentence;
};
VerdictWords verdict_words(const VerdictQuestion& question, const Shares& shares,
                           const verdict::Verdict& verdict);

/// Half of a 5 to 95 % range in standard deviations of a normal distribution.
double sigma_of_range(const verdict::Range& range);

}  // namespace propwright::answer
