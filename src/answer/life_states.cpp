// The states that repairs part a propeller's life into, and what differs from one to the next.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "life_figures.h"
#include "propwright/base/constants.h"
#include "propwright/units/units.h"

namespace propwright::answer {
namespace {

struct LifeState {
  std::string from;  ///< "" for the first
  const workshop::Record* repair = nullptr;
  LifeFigures figures;
  int flown = 0;
  std::vector<double> seconds;  ///< of flights that ended by themselves, without a steer
};

struct LifeSpread {
  double mean_s = 0, sd_s = 0;
};

LifeSpread spread_of(const std::vector<double>& seconds) {
  const auto count = static_cast<double>(seconds.size());
  LifeSpread spread;
  for (const double each : seconds) spread.mean_s += each / count;
  double squares = 0;
  for (const double each : seconds) squares += (each - spread.mean_s) * (each - spread.mean_s);
  if (seconds.size() > 1) spread.sd_s = std::sqrt(squares / (count - 1));
  return spread;
}

/// A repair keeps the readings of the state that it ends.
std::vector<LifeState> life_states_of(const LifeRecords& life) {
  std::vector<LifeState> states(1);
  states.reserve(life.events.size() + 1);
  for (const workshop::Record& event : life.events) {
    if (life_kind(event) != "repair") continue;
    const Json table = life_table(Json::parse(event.content.section_json), "event");
    states.back().figures = life_figures(life_table(table, "readings"));
    states.emplace_back();
    states.back().from = life_time(event);
    states.back().repair = &event;
  }
  states.back().figures = life_figures(life_readings(life));
  for (const workshop::FlownFlight& flight : life.flights) {
    if (flight.time.empty()) continue;
    auto state = states.begin();
    while (state + 1 != states.end() && flight.time >= (state + 1)->from) ++state;
    ++state->flown;
    if (flight.flag.empty() && flight.duration_s) state->seconds.push_back(*flight.duration_s);
  }
  return states;
}

Json life_change_json(const LifeChange& change) {
  const std::string what = change.what;
  const bool angular = what == "angle" || what == "twist";
  const double unit = angular ? base::degree_rad : 1;
  return {{"what", what},
          {"of", change.of},
          {"unit", angular          ? "deg"
                   : what == "mass" ? "kg"
                                    : "kg_m"},
          {"before", change.before / unit},
          {"after", change.after / unit},
          {"measured_again", change.before != change.after}};
}

std::string time_flown(double seconds) {
  return units::duration_text(std::max(0.0, seconds));
}

std::string flights_sentence(const LifeState& before, const LifeState& after) {
  const std::size_t count = before.seconds.size(), next = after.seconds.size();
  if (count < 2 || next < 2) {
    return fmt::format(
        "Too few flights to compare seconds: {} before and {} after; it takes two of each at "
        "least. Aborted, steered and hung-up flights do not count.",
        count, next);
  }
  const LifeSpread was = spread_of(before.seconds), is = spread_of(after.seconds);
  const double change_s = is.mean_s - was.mean_s;
  return fmt::format(
      "{} flights before, {} on average; {} after, {}: {:.0f}\u00a0s {}. Hall, air and motor are "
      "not taken into account. Verdict takes them into account, but holds flights before and after "
      "for those of one propeller: after a repair log it under a new name to compare them there.",
      count, time_flown(was.mean_s), next, time_flown(is.mean_s), std::abs(change_s),
      change_s < 0 ? "shorter" : "longer");
}

Json seconds_json(const LifeState& before, const LifeState& after) {
  if (before.seconds.size() < 2 || after.seconds.size() < 2) return nullptr;
  const LifeSpread was = spread_of(before.seconds), is = spread_of(after.seconds);
  const auto share = [](const LifeSpread& spread, const LifeState& state) {
    return spread.sd_s * spread.sd_s / static_cast<double>(state.seconds.size());
  };
  return {{"change_s", is.mean_s - was.mean_s},
          {"sigma_s", std::sqrt(share(was, before) + share(is, after))}};
}

Json state_flights_json(const LifeState& state) {
  const bool some = !state.seconds.empty();
  const LifeSpread spread = some ? spread_of(state.seconds) : LifeSpread{};
  return {{"flown", state.flown},
          {"counted", state.seconds.size()},
          {"mean_s", some ? Json(spread.mean_s) : Json(nullptr)},
          {"sd_s", state.seconds.size() > 1 ? Json(spread.sd_s) : Json(nullptr)},
          {"best_s", some ? Json(*std::max_element(state.seconds.begin(), state.seconds.end()))
                          : Json(nullptr)}};
}

}  // namespace

Json life_states(const LifeRecords& life) {
  const std::vector<LifeState> states = life_states_of(life);
  Json list = Json::array();
  for (std::size_t at = 0; at < states.size(); ++at) {
    const LifeState& state = states[at];
    Json item{{"number", at + 1},
              {"from", state.from.empty() ? Json(nullptr) : Json(state.from)},
              {"event_id", state.repair != nullptr ? Json(state.repair->id) : Json(nullptr)},
              {"figures", life_figures_json(state.figures)},
              {"flights", state_flights_json(state)},
              {"changes", Json::array()},
              {"seconds", nullptr},
              {"sentence", ""}};
    if (at > 0) {
      const std::vector<LifeChange> changes = life_changes(states[at - 1].figures, state.figures);
      for (const LifeChange& change : changes) item["changes"].push_back(life_change_json(change));
      item["seconds"] = seconds_json(states[at - 1], state);
      item["sentence"] = flights_sentence(states[at - 1], state);
    }
    list.push_back(std::move(item));
  }
  return list;
}

}  // namespace propwright::answer
