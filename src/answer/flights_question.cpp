// Questions about logged flights taken apart.
#include "flights_question.h"

#include <fmt/format.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <map>

#include "bench_reader.h"
#include "flights_said.h"
#include "propwright/answer/document.h"
#include "propwright/answer/flight_json.h"

namespace propwright::answer {
namespace {

void add_to(base::Problems& all, const base::Problems& more) {
  all.insert(all.end(), more.begin(), more.end());
}

/// A job is an object that mirrors its file, or the text of the file.
base::Expected<LoadedJob> read_flown_job(const Json& entry, const std::string& place) {
  Json document = Json::object();
  if (!entry.is_object()) {
    return base::fail({.field = place,
                       .remedy = "send an object with job and attachments",
                       .message = "this is no job"});
  }
  base::Problems problems = unknown_members(entry, {"job", "attachments"});
  for (base::Problem& problem : problems) problem.field = place + "." + problem.field;
  for (const char* name : {"job", "attachments"}) {
    if (entry.contains(name)) document[name] = entry[name];
  }
  if (document.contains("job") && document["job"].is_string()) {
    auto job = job_json(document["job"].get<std::string>(), place);
    if (!job) return base::fail(job.error());
    document["job"] = std::move(*job);
  }
  add_to(problems, check_document(document, place + "."));
  if (!problems.empty()) return base::fail(std::move(problems));
  auto loaded = load_document(document["job"], document.value("attachments", Json::object()));
  if (!loaded) {
    for (base::Problem& problem : loaded.error()) {
      if (problem.file == "job") problem.file = place;
    }
    return base::fail(std::move(loaded.error()));
  }
  loaded->path = place;
  return loaded;
}

base::Problem propeller_twice(const LoadedJob& job) {
  return {.file = job.path,
          .field = "propeller.name",
          .value = job.job.propeller.name,
          .allowed = "a name that no other job has",
          .remedy = "name the propellers apart, or leave one of the jobs out",
          .message = "two jobs have a propeller of this name"};
}

void read_jobs(const Json& list, FlightsQuestion& asked, base::Problems& problems) {
  if (list.is_null()) return;
  if (!list.is_array() || list.size() > most_flown_jobs) {
    problems.push_back({.field = "jobs",
                        .allowed = fmt::format("a list of up to {}", most_flown_jobs),
                        .remedy = "send a list of {\"job\": ..., \"attachments\": {...}}",
                        .message = "this is no such list of jobs"});
    return;
  }
  asked.loaded.reserve(list.size());
  for (std::size_t i = 0; i < list.size(); ++i) {
    auto loaded = read_flown_job(list[i], fmt::format("jobs[{}]", i + 1));
    if (!loaded) {
      add_to(problems, loaded.error());
      continue;
    }
    const bool twice = std::any_of(asked.loaded.begin(), asked.loaded.end(), [&](const auto& l) {
      return l.job.propeller.name == loaded->job.propeller.name;
    });
    if (twice) problems.push_back(propeller_twice(*loaded));
    // Learned from the sheet each time: what a job holds may come from the same flights.
    loaded->job.learned = {};
    asked.loaded.push_back(std::move(*loaded));
  }
}

void fly_jobs(FlightsQuestion& asked, base::Problems& problems) {
  asked.subjects.reserve(asked.loaded.size());
  for (const LoadedJob& loaded : asked.loaded) {
    auto nominal = predict::predict(loaded.job, loaded.attachments);
    if (nominal) {
      asked.subjects.push_back({loaded.job, std::move(*nominal)});
    } else {
      add_to(problems, in_file(std::move(nominal.error()), loaded.path));
    }
  }
}

base::Problem no_flights(const char* field) {
  return {.field = field,
          .allowed = fmt::format("flights or csv, up to {} flights", most_asked_flights),
          .remedy = "send the flights as a list, or the log as text in csv",
          .message = "there is no such list of flights"};
}

void read_flight_list(const Json& list, FlightsQuestion& asked, base::Problems& problems) {
  if (!list.is_array() || list.size() > most_asked_flights) {
    problems.push_back(no_flights("flights"));
    return;
  }
  asked.flights.reserve(list.size());
  for (std::size_t i = 0; i < list.size(); ++i) {
    auto flight = read_logged_flight(list[i], fmt::format("flights[{}]", i + 1));
    if (flight) {
      asked.flights.push_back(std::move(*flight));
    } else {
      add_to(problems, flight.error());
    }
  }
}

void read_flight_csv(const Json& csv, FlightsQuestion& asked, base::Problems& problems) {
  if (!csv.is_string()) {
    problems.push_back(no_flights("csv"));
    return;
  }
  auto log = logbook::read_csv(csv.get_ref<const std::string&>(), "csv");
  if (!log) {
    add_to(problems, log.error());
    return;
  }
  if (log->flights.size() > most_asked_flights) {
    problems.push_back(no_flights("csv"));
    return;
  }
  asked.flights = std::move(log->flights);
  for (const std::string& column : log->unknown_columns) {
    asked.notes.push_back(
        fmt::format("The column {} is not one of a flight log: left alone.", column));
  }
}

/// The same id is the same flight.
void leave_repeated_out(FlightsQuestion& asked) {
  std::map<std::string, std::size_t> known;
  for (std::size_t i = 0; i < asked.flights.size(); ++i) {
    logbook::Flight& flight = asked.flights[i];
    if (flight.id.empty()) continue;
    const auto [place, fresh] = known.try_emplace(flight.id, i);
    if (fresh) continue;
    flight.left_out = true;
    flight.reason = fmt::format("same id as flight {}", place->second + 1);
  }
}

base::Problem too_many_settings(const FlightsQuestion& asked) {
  return {.field = "jobs",
          .value = fmt::format("{} with their settings", asked.loaded.size()),
          .allowed = fmt::format("up to {}", most_flown_jobs),
          .remedy = "compare fewer propellers or settings at a time",
          .message = "there are too many propellers and settings"};
}

learn::Scatter read_flown_scatter(const Json& table, base::Problems& problems) {
  learn::Scatter scatter;
  if (table.is_null()) return scatter;
  BenchReader reader(table, "scatter",
                     {"duration", "top_height_m", "top_height", "turns_left", "launch_torque",
                      "mean_rev", "steered_weight", "unread_temperature_K"});
  const auto take = [&](const char* name, double& into, BenchRange range) {
    into = reader.quantity(name, units::Dimension::ratio, range).value_or(into);
  };
  for (const auto& [name, into] :
       {std::pair{"duration", &scatter.duration}, std::pair{"top_height", &scatter.top_height},
        std::pair{"turns_left", &scatter.turns_left},
        std::pair{"launch_torque", &scatter.launch_torque},
        std::pair{"mean_rev", &scatter.mean_rev}}) {
    take(name, *into, {0.001, 1});
  }
  take("top_height_m", scatter.top_height_m, {0.01, 10});
  take("steered_weight", scatter.steered_weight, {0.01, 1});
  take("unread_temperature_K", scatter.unread_temperature_K, {0, 15});
  add_to(problems, reader.problems());
  return scatter;
}

learn::Beliefs read_learning(const Json& table, base::Problems& problems) {
  learn::Beliefs beliefs;
  if (table.is_null()) return beliefs;
  BenchReader reader(table, "learning", {"tail_freedom", "scatter_spread"});
  beliefs.tail_freedom = reader.quantity("tail_freedom", units::Dimension::ratio, {1, 200})
                             .value_or(beliefs.tail_freedom);
  beliefs.scatter_spread = reader.quantity("scatter_spread", units::Dimension::ratio, {0, 3})
                               .value_or(beliefs.scatter_spread);
  add_to(problems, reader.problems());
  return beliefs;
}

}  // namespace

units::Profile FlightsQuestion::profile() const {
  return loaded.empty() ? units::Profile::metric : loaded.front().profile();
}

base::Problems unknown_members(const Json& question, const std::vector<std::string>& known) {
  if (!question.is_object()) {
    return {{.remedy = "send an object", .message = "the question is no object"}};
  }
  base::Problems problems;
  for (const auto& [name, value] : question.items()) {
    if (std::find(known.begin(), known.end(), name) != known.end()) continue;
    const std::string near = base::nearest_name(name, known);
    problems.push_back({.field = name,
                        .remedy = near.empty() ? "leave it out" : "did you mean " + near + "?",
                        .message = "no member has this name"});
  }
  return problems;
}

Json question_member(const Json& question, const char* name) {
  const auto found = question.find(name);
  return found == question.end() ? Json() : *found;
}

base::Expected<FlightsQuestion> read_flights_question(const Json& question, std::size_t least_jobs,
                                                      bool each_setting) {
  FlightsQuestion asked;
  base::Problems problems;
  read_jobs(question_member(question, "jobs"), asked, problems);
  if (problems.empty() && asked.loaded.size() < least_jobs) {
    problems.push_back({.field = "jobs",
                        .remedy = "give the job of each propeller that flew",
                        .message = "without a job there is no model to learn of"});
  }
  const Json list = question_member(question, "flights"), csv = question_member(question, "csv");
  if (list.is_null() == csv.is_null()) {
    problems.push_back(no_flights("flights"));
  } else if (csv.is_null()) {
    read_flight_list(list, asked, problems);
  } else {
    read_flight_csv(csv, asked, problems);
  }
  asked.scatter = read_flown_scatter(question_member(question, "scatter"), problems);
  asked.beliefs = read_learning(question_member(question, "learning"), problems);
  if (problems.empty()) {
    leave_repeated_out(asked);
    tell_settings_apart(asked, each_setting);
    if (asked.loaded.size() > most_flown_jobs) problems.push_back(too_many_settings(asked));
  }
  if (problems.empty()) fly_jobs(asked, problems);
  if (!problems.empty()) return base::fail(std::move(problems));
  take_questioned_for_unknown(asked);
  take_temperature_of_the_day(asked);
  note_taps_without_time(asked);
  note_several_models(asked);
  return asked;
}

void on_all_processors(std::size_t count, const std::function<void(std::size_t)>& task) {
  tbb::parallel_for(std::size_t{0}, count, task);
}

learn::FlownLog flown_log(const FlightsQuestion& asked) {
  return {asked.subjects, asked.flights, asked.scatter, on_all_processors};
}

Json flight_row(const FlightsQuestion& asked, std::size_t flight) {
  const logbook::Flight& f = asked.flights[flight];
  return {{"flight", flight + 1},
          {"id", f.id},
          {"time", f.time},
          {"propeller", f.propeller},
          {"setting", f.setting}};
}

}  // namespace propwright::answer
