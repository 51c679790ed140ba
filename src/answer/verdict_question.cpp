// A question of which propeller is the better, taken apart.
#include <fmt/format.h>

#include <algorithm>

#include "bench_reader.h"
#include "flights_said.h"
#include "propwright/answer/flights_answer.h"
#include "verdict_parts.h"

namespace propwright::answer {
namespace {

using D = units::Dimension;

constexpr std::size_t most_contestants = 12;

void read_verdict_beliefs(const Json& table, VerdictQuestion& asked, base::Problems& problems) {
  if (table.is_null()) return;
  BenchReader reader(table, "beliefs",
                     {"tail_freedom", "normal", "shared_scatter", "scatter_median",
                      "scatter_spread", "flat_scatter", "day_scatter", "level_sigma"});
  verdict::Beliefs& beliefs = asked.beliefs;
  if (const auto nu = reader.quantity("tail_freedom", D::ratio, {1, 200})) {
    beliefs.tail_freedom = nu;
  }
  if (reader.truth("normal").value_or(false)) beliefs.tail_freedom.reset();
  beliefs.shared_scatter = reader.truth("shared_scatter").value_or(true);
  beliefs.scatter_median =
      reader.share("scatter_median", {0.001, 0.5}).value_or(beliefs.scatter_median);
  if (const auto spread = reader.quantity("scatter_spread", D::ratio, {0.01, 3})) {
    beliefs.scatter_spread = spread;
  }
  if (reader.truth("flat_scatter").value_or(false)) beliefs.scatter_spread.reset();
  beliefs.day_scatter = reader.share("day_scatter", {0, 0.3}).value_or(beliefs.day_scatter);
  asked.level_sigma = reader.share("level_sigma", {0.001, 1});
  const auto wrong = reader.problems();
  problems.insert(problems.end(), wrong.begin(), wrong.end());
}

void read_thresholds(const Json& table, verdict::Thresholds& thresholds, base::Problems& problems) {
  if (table.is_null()) return;
  BenchReader reader(
      table, "thresholds",
      {"sure", "sure_without_one", "least_flights", "margin", "planned", "most_flights"});
  const auto share = [&](const char* name, double& into, BenchRange range) {
    into = reader.share(name, range).value_or(into);
  };
  share("sure", thresholds.sure, {0.5, 0.999});
  share("sure_without_one", thresholds.sure_without_one, {0, 0.999});
  share("margin", thresholds.margin, {0.0001, 0.2});
  share("planned", thresholds.planned, {0.05, 0.99});
  thresholds.least_flights =
      reader.count("least_flights", 1, 100).value_or(thresholds.least_flights);
  thresholds.most_flights = reader.count("most_flights", 1, 1000).value_or(thresholds.most_flights);
  const auto wrong = reader.problems();
  problems.insert(problems.end(), wrong.begin(), wrong.end());
}

/// Whether a name as asked is the contestant's, or that of its propeller at whatever setting.
bool names_contestant(const std::string& name, const Contestant& c) {
  return c.name == name || c.name.starts_with(name + " at ");
}

void read_masses(const Json& table, VerdictQuestion& asked, base::Problems& problems) {
  if (table.is_null()) return;
  std::vector<std::string> names;
  if (table.is_object()) {
    for (const auto& [name, value] : table.items()) names.push_back(name);
  }
  BenchReader reader(table, "masses", names);
  for (const std::string& name : names) {
    const bool known = std::any_of(asked.propellers.begin(), asked.propellers.end(),
                                   [&](const Contestant& c) { return names_contestant(name, c); });
    if (!known) {
      problems.push_back({.field = "masses." + name,
                          .remedy = "name the propeller as in its job or the log",
                          .message = "no propeller has this name"});
    }
    if (const auto mass = reader.mass(name.c_str(), {1e-6, 0.1})) {
      asked.masses.emplace_back(name, *mass);
    }
  }
  const auto wrong = reader.problems();
  problems.insert(problems.end(), wrong.begin(), wrong.end());
}

/// "P9" before "P14": digits count as numbers.
bool before_by_name(const std::string& a, const std::string& b) {
  std::size_t i = 0, j = 0;
  const auto digit = [](char c) { return c >= '0' && c <= '9'; };
  while (i < a.size() && j < b.size()) {
    if (!digit(a[i]) || !digit(b[j])) {
      if (a[i] != b[j]) return a[i] < b[j];
      ++i;
      ++j;
      continue;
    }
    std::size_t to_i = i, to_j = j;
    while (to_i < a.size() && digit(a[to_i])) ++to_i;
    while (to_j < b.size() && digit(b[to_j])) ++to_j;
    while (i + 1 < to_i && a[i] == '0') ++i;
    while (j + 1 < to_j && b[j] == '0') ++j;
    if (to_i - i != to_j - j) return to_i - i < to_j - j;
    const int order = a.compare(i, to_i - i, b, j, to_j - j);
    if (order != 0) return order < 0;
    i = to_i;
    j = to_j;
  }
  return a.size() - i < b.size() - j;
}

/// The propellers of the jobs as they stand there; without jobs those of the log by their names, so
/// that their letters do not hang on which flew first.
void find_contestants(VerdictQuestion& asked, base::Problems& problems) {
  std::vector<std::string> names;
  const auto add = [&](const std::string& name) {
    if (!name.empty() && std::find(names.begin(), names.end(), name) == names.end()) {
      names.push_back(name);
    }
  };
  for (const LoadedJob& loaded : asked.flown.loaded) add(loaded.job.propeller.name);
  // With jobs, a propeller without one cannot be reckoned with: its flights are left out.
  if (asked.flown.loaded.empty()) {
    for (const logbook::Flight& flight : asked.flown.flights) {
      if (!flight.left_out || flight.reason != setting_untold) add(flight.propeller);
    }
    std::sort(names.begin(), names.end(), before_by_name);
  }
  if (names.size() > most_contestants) {
    problems.push_back({.field = "flights",
                        .value = fmt::format("{} propellers", names.size()),
                        .allowed = fmt::format("up to {}", most_contestants),
                        .remedy = "compare fewer at a time",
                        .message = "there are too many propellers"});
    return;
  }
  asked.propellers.reserve(names.size());
  for (const std::string& name : names) {
    const std::string letter(1, static_cast<char>('A' + asked.propellers.size()));
    asked.propellers.push_back({name, letter, {}});
  }
}

/// Mean mass of the model ready to fly with a propeller, ballast taken off.
std::optional<double> logged_mass(const FlightsQuestion& flown, const std::string& propeller) {
  double sum = 0;
  int count = 0;
  for (const logbook::Flight& flight : flown.flights) {
    if (flight.propeller != propeller || !flight.model_mass_kg) continue;
    sum += *flight.model_mass_kg - flight.ballast_kg.value_or(0);
    ++count;
  }
  return count > 0 ? std::optional(sum / count) : std::nullopt;
}

/// From one source for all, so that differences mean something: as asked, as weighed in the log, as
/// the jobs have it.
void find_masses(VerdictQuestion& asked) {
  const auto fill = [&](const auto& mass_of) {
    std::vector<std::optional<double>> masses;
    masses.reserve(asked.propellers.size());
    for (const Contestant& c : asked.propellers) masses.push_back(mass_of(c));
    for (const auto& mass : masses) {
      if (!mass) return false;
    }
    for (std::size_t k = 0; k < masses.size(); ++k) asked.propellers[k].mass_kg = masses[k];
    return !masses.empty();
  };
  if (fill([&](const Contestant& c) -> std::optional<double> {
        std::optional<double> of_all;
        for (const auto& [name, mass] : asked.masses) {
          if (name == c.name) return mass;
          if (names_contestant(name, c)) of_all = mass;
        }
        return of_all;
      })) {
    return;
  }
  if (fill([&](const Contestant& c) { return logged_mass(asked.flown, c.name); })) {
    asked.flown.notes.push_back(
        "Ballast is from the masses of the model ready to fly that the log has.");
    return;
  }
  if (fill([&](const Contestant& c) -> std::optional<double> {
        for (const learn::Subject& s : asked.flown.subjects) {
          if (s.job.propeller.name == c.name) return s.nominal.assembly.propeller_mass_kg;
        }
        return std::nullopt;
      })) {
    asked.flown.notes.push_back(
        "Ballast is from the masses that the jobs plan: weigh the propellers.");
  }
}

/// The blades' setting of each, as flown last.
void find_settings(VerdictQuestion& asked) {
  for (Contestant& c : asked.propellers) {
    const logbook::Flight* last = nullptr;
    for (const logbook::Flight& flight : asked.flown.flights) {
      const bool later = last == nullptr || flight.time >= last->time;
      if (flight.propeller == c.name && !flight.setting.empty() && later) last = &flight;
    }
    if (last != nullptr) c.setting = last->setting;
  }
}

}  // namespace

const std::vector<std::string>& verdict_members() {
  static const std::vector<std::string> members{"jobs",       "flights",     "csv",
                                                "scatter",    "learning",    "beliefs",
                                                "thresholds", "learn",       "reference_duration",
                                                "masses",     "winder_ratio"};
  return members;
}

base::Expected<VerdictQuestion> read_verdict_question(const Json& question) {
  base::Problems problems = unknown_members(question, verdict_members());
  if (!problems.empty()) return base::fail(std::move(problems));
  VerdictQuestion asked;
  read_verdict_beliefs(question_member(question, "beliefs"), asked, problems);
  read_thresholds(question_member(question, "thresholds"), asked.thresholds, problems);
  BenchReader reader(Json{{"reference_duration", question_member(question, "reference_duration")},
                          {"winder_ratio", question_member(question, "winder_ratio")},
                          {"learn", question_member(question, "learn")}},
                     "", {"reference_duration", "winder_ratio", "learn"});
  asked.winder_ratio = reader.quantity("winder_ratio", D::ratio, {0.1, 100}).value_or(1);
  asked.reference_s = reader.quantity("reference_duration", D::time, {1, 7200});
  asked.learn = reader.truth("learn").value_or(true);
  for (base::Problem& problem : reader.problems()) {
    problem.field.erase(0, 1);  // the point of a table without a name
    problems.push_back(problem);
  }
  auto flown = read_flights_question(question, 0, true);
  if (!flown) {
    problems.insert(problems.end(), flown.error().begin(), flown.error().end());
    return base::fail(std::move(problems));
  }
  asked.flown = std::move(*flown);
  find_contestants(asked, problems);
  read_masses(question_member(question, "masses"), asked, problems);
  if (!problems.empty()) return base::fail(std::move(problems));
  find_masses(asked);
  find_settings(asked);
  asked.beliefs.levels.reserve(asked.propellers.size());
  for (std::size_t k = 0; asked.level_sigma && k < asked.propellers.size(); ++k) {
    asked.beliefs.levels.push_back(verdict::LevelPrior{0, *asked.level_sigma});
  }
  return asked;
}

}  // namespace propwright::answer
