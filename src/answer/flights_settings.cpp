// Settings of one propeller as propellers of their own.
#include <fmt/format.h>

#include <algorithm>

#include "flights_said.h"

namespace propwright::answer {
namespace {

/// A propeller's settings as first written, and how its flights tell them.
struct Flown {
  std::string propeller;
  std::vector<std::string> keys, names;  ///< "24°", "P18 at 24°"
  std::size_t untold = 0;
};

std::string name_at(const std::string& propeller, const std::string& setting) {
  return propeller + " at " + setting;
}

std::vector<Flown> flown_at(const FlightsQuestion& asked) {
  std::vector<Flown> all;
  for (const logbook::Flight& flight : asked.flights) {
    if (flight.propeller.empty()) continue;
    auto of = std::find_if(all.begin(), all.end(),
                           [&](const Flown& f) { return f.propeller == flight.propeller; });
    if (of == all.end()) of = all.insert(all.end(), Flown{flight.propeller, {}, {}, 0});
    const std::string key = logbook::setting_key(flight.setting);
    if (key.empty()) {
      ++of->untold;
    } else if (std::find(of->keys.begin(), of->keys.end(), key) == of->keys.end()) {
      of->keys.push_back(key);
      of->names.push_back(name_at(flight.propeller, flight.setting));
    }
  }
  return all;
}

/// The job of a setting, by its name: "P18 at 24°" whatever way the setting is written.
std::vector<LoadedJob>::iterator job_of(FlightsQuestion& asked, const Flown& flown,
                                        std::size_t at) {
  const std::string start = flown.propeller + " at ";
  return std::find_if(asked.loaded.begin(), asked.loaded.end(), [&](const LoadedJob& loaded) {
    const std::string& name = loaded.job.propeller.name;
    return name.starts_with(start) &&
           logbook::setting_key(name.substr(start.size())) == flown.keys[at];
  });
}

/// The job of the propeller becomes one for each setting that has none.
void share_job(FlightsQuestion& asked, const Flown& flown) {
  const auto own = std::find_if(asked.loaded.begin(), asked.loaded.end(), [&](const auto& l) {
    return l.job.propeller.name == flown.propeller;
  });
  if (own == asked.loaded.end()) return;
  std::vector<LoadedJob> each;
  each.reserve(flown.keys.size());
  for (std::size_t at = 0; at < flown.keys.size(); ++at) {
    if (job_of(asked, flown, at) != asked.loaded.end()) continue;
    each.push_back(*own);
    each.back().job.propeller.name = flown.names[at];
  }
  std::sort(each.begin(), each.end(), [](const LoadedJob& a, const LoadedJob& b) {
    return a.job.propeller.name < b.job.propeller.name;
  });
  const auto place = asked.loaded.erase(own);
  asked.loaded.insert(place, each.begin(), each.end());
}

std::string listed(const std::vector<std::string>& names) {
  std::string text;
  for (std::size_t i = 0; i < names.size(); ++i) {
    text += (i == 0 ? "" : i + 1 == names.size() ? " and " : ", ") + names[i];
  }
  return text;
}

std::string flights_of(std::size_t count, const std::string& propeller) {
  return fmt::format("{} of {} {} no setting",
                     count == 1 ? "One flight" : fmt::format("{} flights", count), propeller,
                     count == 1 ? "tells" : "tell");
}

void rename_flights(FlightsQuestion& asked, const Flown& flown) {
  for (logbook::Flight& flight : asked.flights) {
    if (flight.propeller != flown.propeller) continue;
    const std::string key = logbook::setting_key(flight.setting);
    if (key.empty()) {
      if (!logbook::why_left_out(flight).empty()) continue;
      flight.left_out = true;
      flight.reason = setting_untold;
      continue;
    }
    const auto at = std::find(flown.keys.begin(), flown.keys.end(), key) - flown.keys.begin();
    flight.propeller = flown.names[static_cast<std::size_t>(at)];
  }
}

}  // namespace

void tell_settings_apart(FlightsQuestion& asked, bool for_each) {
  for (Flown& flown : flown_at(asked)) {
    bool own_job = false;
    for (std::size_t at = 0; at < flown.keys.size(); ++at) {
      const auto job = job_of(asked, flown, at);
      if (job == asked.loaded.end()) continue;
      own_job = true;
      flown.names[at] = job->job.propeller.name;
    }
    if (!own_job && flown.keys.size() < 2) {
      if (flown.keys.size() == 1 && flown.untold > 0) {
        asked.notes.push_back(fmt::format("{}: taken as at the only one it flew at, {}.",
                                          flights_of(flown.untold, flown.propeller),
                                          flown.names[0].substr(flown.propeller.size() + 4)));
      }
      continue;
    }
    if (!own_job && !for_each && !asked.loaded.empty()) {
      asked.notes.push_back(fmt::format(
          "{} are taken as one propeller here: a job for each, its propeller named so, tells them "
          "apart.",
          listed(flown.names)));
      continue;
    }
    if (for_each) share_job(asked, flown);
    rename_flights(asked, flown);
    asked.notes.push_back(fmt::format("{} {}.", listed(flown.names),
                                      flown.names.size() == 1
                                          ? "is taken as a propeller of its own"
                                          : "are compared as propellers of their own"));
    if (flown.untold > 0) {
      asked.notes.push_back(fmt::format("{}: left out, since it flew at more than one.",
                                        flights_of(flown.untold, flown.propeller)));
    }
  }
}

}  // namespace propwright::answer
