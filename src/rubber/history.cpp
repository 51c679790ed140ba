#include "propwright/rubber/history.h"

#include <algorithm>
#include <cmath>

#include "range_check.h"

namespace propwright::rubber {
namespace {

constexpr double full_share = 0.85, first_share = 0.25;  // ours: what counts as a full wind, a wind
constexpr double still_grows = 0.005;                    // of the length from wind to wind (ours)
constexpr double recovery_s = 24 * 3600;  // after a full wind; article of 1968, from its summary
constexpr double most_share = 1.3;
constexpr int usual_break_in = 3;  // winds; builders' archive

base::Problems life_problems(const MotorLife& life) {
  RangeChecks checks("out of range for a motor's life");
  checks.within("section_m2", life.section_m2, 1e-8, 1e-4, "give all strands together");
  checks.within("fresh_length_m", life.fresh_length_m, 0.01, 5, "give the loop as tied");
  checks.within("turns_constant", life.turns_constant, 5, 20, "about 10.6 for modern strip");
  const double shortest = 0.95 * life.fresh_length_m, longest = 1.25 * life.fresh_length_m;
  if (life.rested_length_m) {
    checks.within("rested_length_m", *life.rested_length_m, shortest, longest,
                  "measure the rested loop again, as long as the fresh one to a quarter more");
  }
  if (life.rest_s)
    checks.within("rest_s", *life.rest_s, 0, 1e9, "give the time since the last wind");
  for (std::size_t i = 0; i < life.winds.size(); ++i) {
    const MotorWind& wind = life.winds[i];
    const auto at = [&](const char* name) { return fmt::format("winds[{}].{}", i, name); };
    checks.within(at("turns"), wind.turns, 1, 1e6, "give motor turns");
    if (wind.torque_Nm) checks.within(at("torque_Nm"), *wind.torque_Nm, 0, 1, "give the torque");
    if (wind.rest_before_s) {
      checks.within(at("rest_before_s"), *wind.rest_before_s, 0, 1e9,
                    "give the time since the wind before");
    }
    if (wind.rested_length_m) {
      checks.within(at("rested_length_m"), *wind.rested_length_m, shortest, longest,
                    "measure the rested loop again, as long as the fresh one to a quarter more");
    }
  }
  return checks.take();
}

base::Problem too_many_turns(std::size_t i, double turns, double breaking) {
  return {.field = fmt::format("winds[{}].turns", i),
          .value = fmt::format("{:.0f}", turns),
          .allowed = fmt::format("up to {:.0f}, {:g} of breaking turns", most_share * breaking,
                                 most_share),
          .remedy = "check whether these are winder turns, and the section and length",
          .message = "no motor of this size takes so many turns"};
}

/// Growth of the rested length between the last two that were measured; nothing with fewer.
std::optional<double> last_growth(const MotorLife& life) {
  std::vector<double> lengths{life.fresh_length_m};
  for (const MotorWind& wind : life.winds) {
    if (wind.rested_length_m) lengths.push_back(*wind.rested_length_m);
  }
  if (life.rested_length_m) lengths.push_back(*life.rested_length_m);
  if (lengths.size() < 3) return std::nullopt;
  return lengths.back() / lengths[lengths.size() - 2] - 1;
}

MotorState state_of(const MotorLife& life, const MotorHistory& h) {
  if (h.greatest_share < first_share) return MotorState::fresh;
  if (h.winds < usual_break_in) return MotorState::breaking_in;
  const auto growth = last_growth(life);
  return growth && *growth > still_grows ? MotorState::breaking_in : MotorState::broken_in;
}

void history_notes(const MotorLife& life, MotorHistory& h) {
  const bool measured = life.rested_length_m ||
                        std::any_of(life.winds.begin(), life.winds.end(), [](const MotorWind& w) {
                          return w.rested_length_m.has_value();
                        });
  if (h.winds > 0 && !measured) {
    h.notes.push_back(
        "Measure the rested loop: breaking in lengthens it by about 3 %, and turns go "
        "with the length.");
  }
  if (h.state == MotorState::breaking_in) {
    h.notes.push_back(
        "Still breaking in: three winds of rising torque are usual, each followed by "
        "the rested length.");
  }
  if (h.length_gain > 0.08) {
    h.notes.push_back(
        fmt::format("{:.0f} % longer than fresh: more than break-in leaves. Look for "
                    "nicks, or let it rest.",
                    100 * h.length_gain));
  }
  if (h.recovered && *h.recovered < 1) {
    h.notes.push_back(
        fmt::format("Rested {:.1f} h since a full wind, where about 24 h bring it back: "
                    "expect less torque than on the card.",
                    *h.recovered * recovery_s / 3600));
  }
}

}  // namespace

base::Expected<MotorHistory> motor_history(const MotorLife& life) {
  auto problems = life_problems(life);
  if (!problems.empty()) return base::fail(std::move(problems));
  MotorHistory h{.winds = static_cast<int>(life.winds.size()), .length_m = life.fresh_length_m};
  const double per_length = life.turns_constant / std::sqrt(life.section_m2);
  bool any_full = false;
  double rest_s = 0;  // since the last full wind, as far as it was told
  for (std::size_t i = 0; i < life.winds.size(); ++i) {
    const MotorWind& wind = life.winds[i];
    h.length_m = wind.rested_length_m.value_or(h.length_m);
    const double share = wind.turns / (per_length * h.length_m);
    if (share > most_share) problems.push_back(too_many_turns(i, wind.turns, wind.turns / share));
    h.shares.push_back(share);
    h.greatest_share = std::max(h.greatest_share, share);
    h.turns_total += wind.turns;
    rest_s += wind.rest_before_s.value_or(0);
    if (share > full_share) {
      ++h.full_winds;
      any_full = true;
      rest_s = 0;
    }
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  h.length_m = life.rested_length_m.value_or(h.length_m);
  h.length_gain = h.length_m / life.fresh_length_m - 1;
  h.breaking_turns = per_length * h.length_m;
  if (!any_full) {
    h.recovered = 1.0;
  } else if (life.rest_s) {
    h.recovered = std::min(1.0, (rest_s + *life.rest_s) / recovery_s);
  }
  h.state = state_of(life, h);
  history_notes(life, h);
  return h;
}

}  // namespace propwright::rubber
