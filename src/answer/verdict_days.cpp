// The days of a log and the batches flown on them, and the order in which a fair test goes on.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "verdict_parts.h"

namespace propwright::answer {
namespace {

std::string date_of(const logbook::Flight& flight) {
  return flight.time.substr(0, 10);
}

struct Standing {
  std::string letter;
  int today = 0;   ///< flights on the last day that count
  long last = -1;  ///< when it flew last, of all flights
};

void count_flights(const Json& rows, std::vector<Standing>& all) {
  std::string day;
  for (const Json& row : rows) {
    day = std::max(day, row["time"].get<std::string>().substr(0, 10));
  }
  long at = 0;
  for (const Json& row : rows) {
    ++at;
    const std::string left_out = row["left_out"].get<std::string>();
    // A flight without a time was flown all the same.
    if (!left_out.empty() && left_out != "no time flown") continue;
    const auto of = std::find_if(all.begin(), all.end(), [&](const Standing& s) {
      return s.letter == row["letter"].get<std::string>();
    });
    if (of == all.end()) continue;
    of->last = at;
    if (row["time"].get<std::string>().substr(0, 10) == day) ++of->today;
  }
}

/// The date, with the session where the log names several that day.
std::vector<std::string> names_of_days(const std::vector<logbook::Flight>& flights) {
  std::map<std::string, std::set<std::string>> sessions;
  for (const logbook::Flight& flight : flights) {
    if (!flight.session.empty()) sessions[date_of(flight)].insert(flight.session);
  }
  std::vector<std::string> names;
  names.reserve(flights.size());
  for (const logbook::Flight& flight : flights) {
    std::string name = date_of(flight);
    if (name.empty()) {
      name = flight.session;
    } else if (sessions[name].size() > 1 && !flight.session.empty()) {
      name += ", " + flight.session;
    }
    names.push_back(std::move(name));
  }
  return names;
}

/// What the flights of one propeller that count were flown on.
struct FlownOn {
  std::set<std::size_t> days;
  std::set<std::string> motors;
  bool every_motor_named = true;
};

FlownOn flown_on(std::size_t propeller, const Shares& shares,
                 const std::vector<logbook::Flight>& flights) {
  FlownOn on;
  for (std::size_t i = 0; i < shares.scores.size(); ++i) {
    if (shares.scores[i].propeller != propeller) continue;
    on.days.insert(shares.scores[i].day);
    const std::string& motor = flights[shares.score_flight[i]].motor;
    if (motor.empty()) on.every_motor_named = false;
    on.motors.insert(motor);
  }
  return on;
}

template <class T>
bool disjoint(const std::set<T>& a, const std::set<T>& b) {
  return std::none_of(a.begin(), a.end(), [&](const T& one) { return b.contains(one); });
}

}  // namespace

std::vector<std::string> never_shared(const VerdictQuestion& question, const Shares& shares,
                                      const verdict::Verdict& verdict) {
  if (verdict.contenders.empty() || verdict.leader == verdict.runner_up) return {};
  const std::vector<logbook::Flight>& flights = question.flown.flights;
  const FlownOn a = flown_on(verdict.leader, shares, flights);
  const FlownOn b = flown_on(verdict.runner_up, shares, flights);
  if (a.days.empty() || b.days.empty()) return {};
  const std::string& leader = question.propellers[verdict.leader].name;
  const std::string& other = question.propellers[verdict.runner_up].name;
  std::vector<std::string> notes;
  if (disjoint(a.days, b.days)) {
    notes.push_back(fmt::format(
        "{} and {} never flew on one day with one batch of rubber: what days and batches did "
        "cannot "
        "be told from what the propellers did. Fly them there and back again on one day, on one "
        "batch.",
        leader, other));
  } else if (a.every_motor_named && b.every_motor_named && disjoint(a.motors, b.motors)) {
    notes.push_back(
        fmt::format("{} and {} never flew on the same motor: motors of one batch differ by 1 to "
                    "2\u00a0% (common "
                    "practice), which is not in these odds. Let them share one.",
                    leader, other));
  }
  return notes;
}

std::vector<std::size_t> days_of_flights(const std::vector<logbook::Flight>& flights,
                                         std::vector<std::string>& days) {
  const std::vector<std::string> dated = names_of_days(flights);
  std::map<std::string, std::set<std::string>> batches;
  for (std::size_t i = 0; i < flights.size(); ++i) {
    if (!flights[i].batch.empty()) batches[dated[i]].insert(flights[i].batch);
  }
  std::vector<std::size_t> of_flights;
  of_flights.reserve(flights.size());
  for (std::size_t i = 0; i < flights.size(); ++i) {
    std::string name = dated[i];
    if (batches[name].size() > 1) {
      const std::string& batch = flights[i].batch;
      name += (name.empty() ? "" : ", ") + (batch.empty() ? "no batch named" : batch);
    }
    const auto known = std::find(days.begin(), days.end(), name);
    of_flights.push_back(static_cast<std::size_t>(known - days.begin()));
    if (known == days.end()) days.push_back(name);
  }
  return of_flights;
}

std::vector<std::string> fair_order(const Json& rows, const std::vector<std::string>& letters,
                                    int each) {
  std::vector<Standing> all;
  all.reserve(letters.size());
  for (const std::string& letter : letters) all.push_back({letter});
  count_flights(rows, all);
  const std::size_t count = letters.size() * static_cast<std::size_t>(std::max(each, 0));
  std::vector<std::string> order;
  order.reserve(count);
  long at = static_cast<long>(rows.size());
  while (order.size() < count) {
    // The first of the list where none of them has flown.
    const auto next =
        std::min_element(all.begin(), all.end(), [](const Standing& a, const Standing& b) {
          return a.today != b.today ? a.today < b.today : a.last > b.last;
        });
    order.push_back(next->letter);
    ++next->today;
    next->last = ++at;
  }
  return order;
}

std::string days_text(const Shares& shares, const verdict::Verdict& verdict) {
  if (verdict.day_shift.empty()) return {};
  std::vector<int> flown(shares.days.size(), 0);
  for (const verdict::Score& score : shares.scores) ++flown[score.day];
  std::size_t low = shares.days.size(), high = low, count = 0;
  for (std::size_t t = 0; t < verdict.day_shift.size(); ++t) {
    if (flown[t] == 0) continue;
    ++count;
    if (low == shares.days.size() || verdict.day_shift[t] < verdict.day_shift[low]) low = t;
    if (high == shares.days.size() || verdict.day_shift[t] > verdict.day_shift[high]) high = t;
  }
  const double apart = std::exp(verdict.day_shift[high] - verdict.day_shift[low]) - 1;
  const auto name = [&](std::size_t t) {
    return shares.days[t].empty() ? std::string("the undated flights") : shares.days[t];
  };
  if (apart < 0.001) {
    return fmt::format(
        "Each of the {} days, and each batch of rubber on it, may have done better or worse: that "
        "is "
        "held apart from the propellers. Here they were alike.",
        count);
  }
  return fmt::format(
      "Each of the {} days, and each batch of rubber on it, may have done better or worse: that is "
      "held apart from the propellers, which are compared within one. {} was {:.1f}\u00a0% better "
      "than {}.",
      count, name(high), 100 * apart, name(low));
}

}  // namespace propwright::answer
