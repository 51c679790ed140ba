// Where the turns to stop at come from, in a sentence that screen, paper and command line share.
#include <fmt/format.h>

#include <cmath>

#include "wind_parts.h"

namespace propwright::answer {
namespace {

/// "1 in 20 motors breaks", or in percent where it is no such part.
std::string break_odds_words(double risk) {
  const long one_in = std::lround(1 / risk);
  if (std::abs(risk * static_cast<double>(one_in) - 1) < 1e-6) {
    return fmt::format("1 in {} motors breaks", one_in);
  }
  return fmt::format("{:.3g}\u00a0% of motors break", 100 * risk);
}

/// What of the batch is known.
std::string batch_breaks_words(const rubber::Breaking& b) {
  if (b.broke + b.held == 0) return "none of this batch has told yet, so that is by other rubber";
  return fmt::format("{} of this batch broke, {} held", b.broke, b.held);
}

/// How far that leaves the chance open.
std::string true_chance_words(const rubber::Breaking& b) {
  const std::string low = fmt::format("{:.0f}", 100 * b.risk_low),
                    high = fmt::format("{:.0f}", 100 * b.risk_high);
  return low == high ? fmt::format("the true chance is near {}\u00a0%", high)
                     : fmt::format("the true chance may be {} to {}\u00a0%", low, high);
}

/// Where the breaks of the batch say it.
std::string risk_stop_words(const WindBreaks& breaks, double breaking_turns) {
  const rubber::Breaking& b = breaks.known;
  const std::string odds = break_odds_words(b.risk), known = batch_breaks_words(b);
  if (breaks.held_at_curve) {
    return fmt::format(
        "Wound to the {:.0f} turns at which the job's rubber breaks, beyond which its curve is not "
        "known; {} only later: {}.",
        breaking_turns, odds, known);
  }
  if (b.by_rule) {
    return fmt::format(
        "Wound to 0.9 of the turns that half of the motors reach, by which about {:.2g}\u00a0% "
        "break, and not to where {}: {}; {}.",
        100 * b.safe_risk, odds, known, true_chance_words(b));
  }
  return fmt::format("Wound to where {}: {}; {}.", odds, known, true_chance_words(b));
}

std::string share_stop_words(const brief::Launch& launch, double breaking_turns) {
  if (launch.wound_turns) {
    return fmt::format(
        "Wound to the job's {:.0f} turns, {:.0f}\u00a0% of the {:.0f} at which its rubber breaks",
        *launch.wound_turns, 100 * *launch.wound_turns / breaking_turns, breaking_turns);
  }
  return fmt::format("Wound to {:.3g}\u00a0% of the {:.0f} turns at which the job's rubber breaks",
                     100 * launch.wind_fraction, breaking_turns);
}

}  // namespace

std::string wind_stop_words(const WindQuestion& asked, double breaking_turns) {
  if (asked.breaking && !asked.breaking->too_few()) {
    return risk_stop_words(*asked.breaking, breaking_turns);
  }
  const std::string share = share_stop_words(asked.loaded.job.launch, breaking_turns);
  if (!asked.breaking) return share + ".";
  return fmt::format("{}: {} of this batch broke, and its own breaks count from {} on.", share,
                     asked.breaking->known.broke, asked.breaking->needed);
}

}  // namespace propwright::answer
