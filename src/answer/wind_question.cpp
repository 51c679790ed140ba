// The question of a winding card: the job, what was read in the hall, winder, meter, breaks.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "propwright/answer/document.h"
#include "wind_parts.h"

namespace propwright::answer {
namespace {

using D = units::Dimension;

constexpr int own_statistics = 3;  // breaks; with fewer the first note says so

WindToday read_today(const Json& table, base::Problems& problems) {
  BenchReader reader(table, "today", {"temperature", "pressure", "humidity", "roof"});
  WindToday today;
  today.temperature_K = reader.quantity("temperature", D::temperature, floor_temperature_K);
  today.pressure_Pa = reader.quantity("pressure", D::pressure, {60000, 110000});
  today.humidity = reader.share("humidity");
  today.roof_m = reader.length("roof", {2, 120});
  const auto wrong = reader.problems();
  problems.insert(problems.end(), wrong.begin(), wrong.end());
  return today;
}

/// Safe turns at the chosen risk instead of the job's share of breaking turns.
std::optional<WindBreaks> read_wind_breaking(const Json& table, base::Problems& problems,
                                             const rubber::Motor& motor, double strip_thickness_m) {
  BenchReader reader(table, "breaking", {"risk", "needs_breaks", "winds"});
  const double risk = reader.share("risk", {0.001, 0.5}).value_or(0.05);
  const int needed = reader.count("needs_breaks", 0, 500).value_or(0);
  const auto winds =
      read_floor_winds(reader, {motor.section_m2, motor.length_m, strip_thickness_m});
  auto wrong = reader.problems();
  if (wrong.empty()) {
    // The motor's own, so that what flights taught of its turns counts here as well.
    const double constant =
        motor.breaking_turns / rubber::turns_at(1, motor.section_m2, motor.length_m);
    const auto found =
        rubber::breaking_statistics(winds, risk, {.median = constant, .median_sigma = 0.06});
    if (found) return WindBreaks{.known = *found, .needed = needed};
    wrong = bench_fields(found.error(), "breaking");
  }
  problems.insert(problems.end(), wrong.begin(), wrong.end());
  return std::nullopt;
}

void wind_to_risk(WindQuestion& asked, brief::Job& job, const rubber::Motor& motor) {
  const rubber::Breaking& known = asked.breaking->known;
  const double safe = rubber::turns_at(known.safe_kappa, motor.section_m2, motor.length_m);
  // Above breaking turns of the job's own batch the curve is only held.
  asked.breaking->held_at_curve = safe > motor.breaking_turns;
  job.launch.wound_turns = std::floor(std::min(safe, motor.breaking_turns));
  // The rest of them is in the words of the card.
  if (known.broke < own_statistics && !known.notes.empty()) {
    asked.notes.push_back(known.notes.front());
  }
}

}  // namespace

base::Expected<WindQuestion> read_wind_question(const Json& question) {
  const auto& known = wind_members();
  base::Problems problems;
  for (const auto& [name, value] : question.items()) {
    if (std::find(known.begin(), known.end(), name) != known.end()) continue;
    problems.push_back(
        {.field = name, .remedy = "leave it out", .message = "no member has this name"});
  }
  Json document = Json::object();
  for (const char* name : {"job", "attachments"}) {
    if (question.contains(name)) document[name] = question[name];
  }
  for (base::Problem& problem : check_document(document)) problems.push_back(std::move(problem));
  if (!problems.empty()) return base::fail(std::move(problems));
  auto loaded = load_document(document["job"], document.value("attachments", Json::object()));
  if (!loaded) return base::fail(loaded.error());
  WindQuestion asked;
  asked.loaded = std::move(*loaded);
  const auto part = [&](const char* name) {
    const auto found = question.find(name);
    return found == question.end() ? Json() : *found;
  };
  if (!part("today").is_null()) asked.today = read_today(part("today"), problems);
  BenchReader reader(Json{{"winder_ratio", part("winder_ratio")}}, "wind", {"winder_ratio"});
  asked.winder_ratio = reader.quantity("winder_ratio", D::ratio, {0.1, 100}).value_or(1);
  for (base::Problem& problem : reader.problems()) {
    problem.field = "winder_ratio";
    problems.push_back(problem);
  }
  if (!part("meter").is_null()) {
    base::Problems wrong;
    asked.meter = read_floor_meter(part("meter"), "meter", wrong);
    problems.insert(problems.end(), wrong.begin(), wrong.end());
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  return asked;
}

base::Expected<brief::Job> wind_job(WindQuestion& asked, const Json& breaking) {
  brief::Job job = asked.loaded.job;
  auto planned = fly_on_day(asked, job, {});
  if (!planned) return base::fail(planned.error());
  if (!breaking.is_null()) {
    base::Problems problems;
    const rubber::Motor& motor = planned->setup.motor;
    asked.breaking = read_wind_breaking(breaking, problems, motor, job.motor.strip_thickness_m);
    if (!asked.breaking) return base::fail(std::move(problems));
    if (!asked.breaking->too_few()) wind_to_risk(asked, job, motor);
  }
  if (job.launch.turns || job.launch.torque_Nm) {
    const double under_m = job.hall.roof_height_m - planned->flight.top_height_m;
    job.launch.turns.reset();
    job.launch.torque_Nm.reset();
    job.launch.margin_m = std::max(0.0, under_m);
    asked.notes.push_back(
        fmt::format("The job fixes the launch; today's is for the same {} under the roof.",
                    height_text(std::max(0.0, under_m), asked.loaded.profile())));
  }
  return job;
}

const std::vector<std::string>& wind_members() {
  static const std::vector<std::string> members{"job",   "attachments",  "today",
                                                "meter", "winder_ratio", "breaking"};
  return members;
}

}  // namespace propwright::answer
