// When a propeller should be measured again. That sockets slip, covering pulls pitch and glue bows
// tips weeks later is common practice; the number of weeks is ours.
#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "life_figures.h"

namespace propwright::answer {
namespace {

constexpr long weeks_of_trust = 4;

/// By kind of the event: what to do.
const std::map<std::string, std::string>& reasons() {
  static const std::map<std::string, std::string> all{
      {"covered", "Covering shrinks and pulls pitch: measure the angles of both blades again."},
      {"stored", "Blades turn and sockets slip in storage: measure the angles before flying."},
      {"crash",
       "After a crash look for cracks, then measure angles and mass again; a bent shaft or a loose "
       "socket shows first in the angles."},
      {"repair",
       "A repair adds mass and may pull the blade: weigh it and measure angles and balance again."},
      {"setting", "The setting was changed: measure the angles of both blades as they now stand."}};
  return all;
}

bool unlike(const LifeFigures& before, const LifeFigures& after) {
  const std::vector<LifeChange> changes = life_changes(before, after);
  return std::any_of(changes.begin(), changes.end(),
                     [](const LifeChange& change) { return change.before != change.after; });
}

std::string last_measured(const LifeRecords& life) {
  std::string last = life.propeller.created_at.substr(0, 10);
  const auto take = [&](const std::optional<workshop::Record>& record) {
    if (record) last = std::max(last, record->updated_at.substr(0, 10));
  };
  take(life.blade_a);
  take(life.blade_b);
  for (const workshop::Record& event : life.events) {
    if (life_kind(event) == "measured") last = std::max(last, life_time(event).substr(0, 10));
  }
  return last;
}

Json prompt_json(const std::string& kind, const std::string& since, const std::string& words) {
  return {{"kind", kind}, {"since", since}, {"words", words}};
}

}  // namespace

Json life_prompts(const LifeRecords& life, const std::string& day) {
  Json list = Json::array();
  const LifeFigures now = life_figures(life_readings(life));
  std::string measured;  // by an event of its own
  for (const workshop::Record& event : life.events) {
    if (life_kind(event) == "measured") measured = std::max(measured, life_time(event));
  }
  for (const workshop::Record& event : life.events) {
    const auto reason = reasons().find(life_kind(event));
    if (reason == reasons().end() || life_time(event) <= measured) continue;
    const Json table = life_table(Json::parse(event.content.section_json), "event");
    if (unlike(life_figures(life_table(table, "readings")), now)) continue;  // measured since
    list.push_back(prompt_json(reason->first, life_time(event), reason->second));
  }
  const auto hung = std::find_if(
      life.flights.rbegin(), life.flights.rend(), [&](const workshop::FlownFlight& flight) {
        return flight.flag.find("hang_up") != std::string::npos && !flight.time.empty();
      });
  const std::string last = last_measured(life);
  if (hung != life.flights.rend() && hung->time.substr(0, 10) > last) {
    list.push_back(prompt_json("hang_up", hung->time,
                               "It hung up since it was measured: look at spars and tips, then "
                               "measure the angles again."));
  }
  const auto today = life_days(day), then = life_days(last);
  if (today && then && *today - *then >= 7 * weeks_of_trust) {
    list.push_back(prompt_json(
        "weeks", last,
        fmt::format(
            "Last measured {}\u00a0weeks ago: glue creeps and sockets slip with time. Measure "
            "the angles again before you compare flights.",
            (*today - *then) / 7)));
  }
  return list;
}

}  // namespace propwright::answer
