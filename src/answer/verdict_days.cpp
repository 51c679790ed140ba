// The days of a log, and the order in which a fair test goes on.
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

}  // namespace

std::vector<std::size_t> days_of_flights(const std::vector<logbook::Flight>& flights,
                                         std::vector<std::string>& days) {
  std::map<std::string, std::set<std::string>> sessions;
  for (const logbook::Flight& flight : flights) {
    if (!flight.session.empty()) sessions[date_of(flight)].insert(flight.session);
  }
  std::vector<std::size_t> of_flights;
  of_flights.reserve(flights.size());
  for (const logbook::Flight& flight : flights) {
    std::string name = date_of(flight);
    if (name.empty()) {
      name = flight.session;
    } else if (sessions[name].size() > 1 && !flight.session.empty()) {
      name += ", " + flight.session;
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
        "Each of the {} days may have its own good or bad air: it is held apart from the "
        "propellers. Here the days were alike.",
        count);
  }
  return fmt::format(
      "Each of the {} days may have its own good or bad air: it is held apart from the propellers, "
      "which are compared within a day. {} was {:.1f}\u00a0% better than {}.",
      count, name(high), 100 * apart, name(low));
}

}  // namespace propwright::answer
