// The winding card: the motor wound, backed off for today's air and roof, against the sheet.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "bench_cautions.h"
#include "bench_parts.h"
#include "floor_parts.h"
#include "propwright/answer/document.h"
#include "propwright/answer/floor.h"
#include "propwright/answer/prediction.h"
#include "propwright/base/constants.h"
#include "propwright/rubber/breaking.h"

namespace propwright::answer {
namespace {

using D = units::Dimension;

constexpr int card_points = 60;

/// What was read in the hall; what is left out is as the job has it.
struct Today {
  std::optional<double> temperature_K, pressure_Pa, humidity, roof_m;
};

struct WindQuestion {
  LoadedJob loaded;
  Today today;
  double winder_ratio = 1;
  std::optional<FloorMeter> meter;
  std::optional<rubber::Breaking> breaking;
  std::vector<std::string> notes;
};

Today read_today(const Json& table, base::Problems& problems) {
  BenchReader reader(table, "today", {"temperature", "pressure", "humidity", "roof"});
  Today today;
  today.temperature_K = reader.quantity("temperature", D::temperature, floor_temperature_K);
  today.pressure_Pa = reader.quantity("pressure", D::pressure, {60000, 110000});
  today.humidity = reader.share("humidity");
  today.roof_m = reader.length("roof", {2, 120});
  const auto wrong = reader.problems();
  problems.insert(problems.end(), wrong.begin(), wrong.end());
  return today;
}

/// Safe turns at the chosen risk instead of the job's share of breaking turns.
std::optional<rubber::Breaking> read_wind_breaking(const Json& table, base::Problems& problems,
                                                   double kappa, const rubber::Motor& motor) {
  BenchReader reader(table, "breaking", {"risk", "winds"});
  const double risk = reader.share("risk", {0.001, 0.5}).value_or(0.05);
  const auto winds = read_floor_winds(reader, {motor.section_m2, motor.length_m});
  auto wrong = reader.problems();
  if (wrong.empty()) {
    const auto found =
        rubber::breaking_statistics(winds, risk, {.median = kappa, .median_sigma = 0.06});
    if (found) return *found;
    wrong = bench_fields(found.error(), "breaking");
  }
  problems.insert(problems.end(), wrong.begin(), wrong.end());
  return std::nullopt;
}

/// One of the things that a contest day changes.
struct DayField {
  const char* word;
  std::optional<double> Today::*member;
};
constexpr DayField day_fields[] = {{"temperature", &Today::temperature_K},
                                   {"pressure", &Today::pressure_Pa},
                                   {"humidity", &Today::humidity},
                                   {"roof", &Today::roof_m}};

brief::Job on_day(brief::Job job, const Today& today) {
  if (today.temperature_K) {
    job.air.temperature_K = *today.temperature_K;
    job.motor.temperature_K.reset();  // the rubber has the hall's temperature today
  }
  if (today.pressure_Pa) {
    job.air.pressure_Pa = today.pressure_Pa;
    job.air.pressure_is_reduced = false;
    job.air.altitude_m.reset();
  }
  job.air.relative_humidity = today.humidity.value_or(job.air.relative_humidity);
  job.hall.roof_height_m = today.roof_m.value_or(job.hall.roof_height_m);
  return job;
}

base::Expected<predict::Nominal> fly_on(const WindQuestion& asked, const brief::Job& job,
                                        const Today& today) {
  auto nominal = predict::predict(on_day(job, today), asked.loaded.attachments);
  if (!nominal) return base::fail(in_file(nominal.error(), "job"));
  return nominal;
}

std::string day_text(const char* word, double value, units::Profile profile) {
  const bool inch = profile == units::Profile::inch;
  const auto shown = [](const units::Printed& printed) {
    return printed.number + " " + printed.unit;
  };
  const std::string field = word;
  if (field == "temperature") {
    return shown(units::print_in(value, D::temperature, inch ? "degF" : "degC", inch ? 0 : 1));
  }
  if (field == "pressure") return shown(units::print_in(value, D::pressure, "hPa", 0));
  if (field == "humidity") return fmt::format("{:.0f} %", 100 * value);
  return height_text(value, profile);
}

/// What the sheet took for it.
double on_sheet(const char* word, const predict::Nominal& planned, const brief::Job& job) {
  const std::string field = word;
  if (field == "temperature") return planned.setup.motor.temperature_K;
  if (field == "pressure") return planned.assembly.air.pressure_Pa;
  if (field == "humidity") return job.air.relative_humidity;
  return job.hall.roof_height_m;
}

Json change_json(const char* word, const std::string& from, const std::string& to,
                 const flight::Flight& planned, const flight::Flight& flown) {
  const auto backed_off = [](const flight::Flight& f) { return f.turns_wound - f.turns_at_launch; };
  return {{"what", word},
          {"from", from},
          {"to", to},
          {"back_off_change_turns", backed_off(flown) - backed_off(planned)},
          {"launch_torque_change_Nm", flown.launch_torque_Nm - planned.launch_torque_Nm},
          {"duration_change_s", flown.duration_s - planned.duration_s},
          {"energy_change", flown.energy.at_break / planned.energy.at_break - 1}};
}

Json flight_json(const predict::Nominal& nominal, double roof_m) {
  const flight::Flight& f = nominal.flight;
  return {{"duration_s", f.duration_s},
          {"top_height_m", f.top_height_m},
          {"under_roof_m", roof_m - f.top_height_m},
          {"wind_turns", f.turns_wound},
          {"back_off_turns", f.turns_wound - f.turns_at_launch},
          {"launch_turns", f.turns_at_launch},
          {"launch_torque_Nm", f.launch_torque_Nm},
          {"turns_left", f.turns_left},
          {"mean_rev_per_s", f.mean_rev_per_s},
          {"density_kg_m3", nominal.setup.density_kg_m3},
          {"temperature_K", nominal.setup.motor.temperature_K},
          {"warnings", f.warnings}};
}

Json step_json(const WindQuestion& asked, const char* words, double turns, double torque_Nm) {
  Json step{{"words", words}, {"turns", turns}, {"winder_turns", turns / asked.winder_ratio}};
  step.update(floor_torque(torque_Nm));
  step["reading"] = asked.meter ? Json(rubber::scale_reading(asked.meter->fit, torque_Nm)) : Json();
  return step;
}

/// Half, three quarters and nine tenths of the way, to whole turns of the crank; never past the
/// end.
Json steps_json(const WindQuestion& asked, const predict::Nominal& today) {
  const rubber::Motor& motor = today.setup.motor;
  const flight::Flight& f = today.flight;
  Json steps = Json::array();
  const std::pair<const char*, double> ways[] = {
      {"half of the turns", 0.5}, {"three quarters", 0.75}, {"nine tenths", 0.9}};
  for (const auto& [words, share] : ways) {
    const double turns =
        std::round(share * f.turns_wound / asked.winder_ratio) * asked.winder_ratio;
    steps.push_back(step_json(asked, words, turns, rubber::winding_torque_Nm(motor, turns)));
  }
  // Of a winder with gears only whole turns can be counted; a hundredth of one is rounding.
  const double ratio = asked.winder_ratio;
  const double end = ratio == 1 ? f.turns_wound : std::floor(f.turns_wound / ratio + 0.01) * ratio;
  steps.push_back(step_json(asked, "stop", end, rubber::winding_torque_Nm(motor, end)));
  steps.push_back(
      step_json(asked, "hook up", f.turns_at_launch, rubber::torque_Nm(motor, f.turns_at_launch)));
  return steps;
}

Json motor_curve_json(const rubber::Motor& motor) {
  Json curve = Json::array();
  for (int i = 0; i <= card_points; ++i) {
    const double turns = motor.breaking_turns * i / card_points;
    curve.push_back({{"turns", turns},
                     {"torque_winding_Nm", rubber::winding_torque_Nm(motor, turns)},
                     {"torque_unwinding_Nm", rubber::torque_Nm(motor, turns)}});
  }
  return curve;
}

Json card_json(const WindQuestion& asked, const predict::Nominal& today) {
  const rubber::Motor& motor = today.setup.motor;
  const flight::Flight& f = today.flight;
  const brief::Motor& strip = asked.loaded.job.motor;
  return {{"winder_ratio", asked.winder_ratio},
          {"winder_turns", f.turns_wound / asked.winder_ratio},
          {"back_off_winder_turns", (f.turns_wound - f.turns_at_launch) / asked.winder_ratio},
          {"breaking_turns", motor.breaking_turns},
          {"risk", asked.breaking ? Json(asked.breaking->risk) : Json()},
          {"risk_interval",
           asked.breaking ? Json{asked.breaking->risk_low, asked.breaking->risk_high} : Json()},
          {"wait_s", asked.loaded.job.launch.wait_s},
          {"rubber", asked.loaded.job.rubber.name},
          {"strands", strip.strands},
          {"section_m2", motor.section_m2},
          {"loop_length_m", motor.length_m},
          {"mass_kg", motor.mass_kg},
          {"meter_unit", asked.meter ? Json(asked.meter->unit) : Json()},
          {"steps", steps_json(asked, today)},
          {"curve", motor_curve_json(motor)}};
}

std::string turns_word(double turns) {
  return fmt::format("{:.0f} {}", std::abs(turns),
                     std::lround(std::abs(turns)) == 1 ? "turn" : "turns");
}

/// "Colder than the sheet, 16.0 °C, not 20.0 °C: the motor gives 3 % less, so ..."
std::vector<std::string> day_sentences(const WindQuestion& asked, const predict::Nominal& planned,
                                       const predict::Nominal& today, const Json& changes) {
  const flight::Flight &p = planned.flight, &t = today.flight;
  const double back = t.turns_wound - t.turns_at_launch, was = p.turns_wound - p.turns_at_launch;
  std::string first;
  for (const Json& change : changes) {
    if (change["what"] == "all") continue;
    first +=
        fmt::format("{}{} {}, not {}", first.empty() ? "" : "; ", change["what"].get<std::string>(),
                    change["to"].get<std::string>(), change["from"].get<std::string>());
  }
  if (first.empty()) {
    first = "As on the sheet";
  } else {
    first.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(first.front())));
    const double energy = 100 * (t.energy.at_break / p.energy.at_break - 1);
    if (std::abs(energy) >= 0.5) {
      first += fmt::format(". The motor gives {:.0f} % {}", std::abs(energy),
                           energy < 0 ? "less" : "more");
    }
  }
  first += fmt::format(": back off {}", turns_word(back));
  if (std::lround(back) != std::lround(was))
    first += fmt::format(" where the sheet says {:.0f}", was);
  const double under = today.setup.hall.roof_m - t.top_height_m;
  const double wait_s = asked.loaded.job.launch.wait_s;
  const double hooked_Nm = rubber::torque_Nm(today.setup.motor, t.turns_at_launch);
  const std::string waited = wait_s > 0 ? fmt::format(", {} after the wait of {:.0f}\u00a0s,",
                                                      torque_words(t.launch_torque_Nm), wait_s)
                                        : std::string();
  const auto profile = asked.loaded.profile();
  const std::string second =
      fmt::format("Hooked up at {}{} it tops out {} under {}.", torque_words(hooked_Nm), waited,
                  height_text(under, profile), height_text(today.setup.hall.roof_m, profile));
  return {first + ".", second};
}

/// Each thing alone, then all together.
base::Expected<Json> day_changes(const WindQuestion& asked, const brief::Job& job,
                                 const predict::Nominal& planned, const predict::Nominal& today) {
  Json changes = Json::array();
  for (const auto& [word, member] : day_fields) {
    const auto& value = asked.today.*member;
    if (!value) continue;
    const double sheet = on_sheet(word, planned, asked.loaded.job);
    if (std::abs(*value - sheet) < 1e-6 * std::abs(sheet)) continue;
    Today only;
    only.*member = value;
    const auto flown = fly_on(asked, job, only);
    if (!flown) return base::fail(flown.error());
    const auto profile = asked.loaded.profile();
    const std::string from = day_text(word, sheet, profile), to = day_text(word, *value, profile);
    if (from == to) continue;  // the same as far as anybody reads it
    changes.push_back(change_json(word, from, to, planned.flight, flown->flight));
  }
  if (changes.size() > 1) {
    changes.push_back(change_json("all", "", "", planned.flight, today.flight));
  }
  return changes;
}

base::Expected<WindQuestion> read_wind(const Json& question) {
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

/// The job as the card winds it: safe turns where breaks are known, and a launch for the same
/// height under the roof as on the sheet, also where the sheet fixes turns or torque.
base::Expected<brief::Job> card_job(WindQuestion& asked, const Json& breaking) {
  brief::Job job = asked.loaded.job;
  auto planned = fly_on(asked, job, {});
  if (!planned) return base::fail(planned.error());
  if (!breaking.is_null()) {
    base::Problems problems;
    const rubber::Motor& motor = planned->setup.motor;
    asked.breaking = read_wind_breaking(breaking, problems, motor.batch.turns_constant, motor);
    if (!asked.breaking) return base::fail(std::move(problems));
    const double safe =
        rubber::turns_at(asked.breaking->safe_kappa, motor.section_m2, motor.length_m);
    // Above breaking turns of the job's own batch the curve is only held.
    job.launch.wound_turns = std::floor(std::min(safe, motor.breaking_turns));
    for (const std::string& note : asked.breaking->notes) asked.notes.push_back(note);
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

}  // namespace

const std::vector<std::string>& wind_members() {
  static const std::vector<std::string> members{"job",   "attachments",  "today",
                                                "meter", "winder_ratio", "breaking"};
  return members;
}

base::Expected<Json> wind_document(const Json& question) {
  auto asked = read_wind(question);
  if (!asked) return base::fail(asked.error());
  const auto found = question.find("breaking");
  const auto job = card_job(*asked, found == question.end() ? Json() : *found);
  if (!job) return base::fail(job.error());
  const auto planned = fly_on(*asked, *job, {});
  if (!planned) return base::fail(planned.error());
  const auto today = fly_on(*asked, *job, asked->today);
  if (!today) return base::fail(today.error());
  const auto changes = day_changes(*asked, *job, *planned, *today);
  if (!changes) return base::fail(changes.error());
  for (const std::string& note : today->setup.motor.notes) asked->notes.push_back(note);
  for (const std::string& note : today->setup.motor.batch.notes) asked->notes.push_back(note);
  Json answer{{"units", asked->loaded.profile() == units::Profile::inch ? "inch" : "metric"},
              {"design", asked->loaded.job.propeller.name},
              {"version", asked->loaded.job.info.version},
              {"model", asked->loaded.job.model.name},
              {"hall", asked->loaded.job.hall.name},
              {"roof_m", today->setup.hall.roof_m},
              {"planned", flight_json(*planned, planned->setup.hall.roof_m)},
              {"today", flight_json(*today, today->setup.hall.roof_m)},
              {"card", card_json(*asked, *today)},
              {"changes", *changes},
              {"notes", asked->notes},
              {"sentences", day_sentences(*asked, *planned, *today, *changes)},
              {"caution", cautions::wind}};
  compact(answer);  // finds numbers that are not finite
  return answer;
}

sheet::WindingCard winding_card(const Json& answer) {
  const Json &card = answer["card"], &today = answer["today"];
  sheet::WindingCard sheet;
  sheet.job = {.design = answer["design"].get<std::string>(),
               .version = answer["version"].get<int>(),
               .model = answer["model"].get<std::string>(),
               .hall = answer["hall"].get<std::string>(),
               .roof_m = answer["roof_m"].get<double>()};
  sheet.motor = {.rubber = card["rubber"].get<std::string>(),
                 .strands = card["strands"].get<int>(),
                 .loop_length_m = card["loop_length_m"].get<double>(),
                 .mass_kg = card["mass_kg"].get<double>(),
                 .breaking_turns = card["breaking_turns"].get<double>(),
                 .wind_turns = today["wind_turns"].get<double>(),
                 .backed_off_turns = today["back_off_turns"].get<double>(),
                 .launch_turns = today["launch_turns"].get<double>(),
                 .launch_torque_Nm = today["launch_torque_Nm"].get<double>(),
                 .wait_s = card["wait_s"].get<double>()};
  sheet.winder_ratio = card["winder_ratio"].get<double>();
  for (const Json& sentence : answer["sentences"]) {
    sheet.sentence += (sheet.sentence.empty() ? "" : " ") + sentence.get<std::string>();
  }
  if (card["meter_unit"].is_string()) sheet.meter_unit = card["meter_unit"].get<std::string>();
  for (const Json& step : card["steps"]) {
    const std::string words = step["words"].get<std::string>();
    sheet.steps.push_back({.words = words,
                           .turns = step["turns"].get<double>(),
                           .torque_Nm = step["torque_Nm"].get<double>(),
                           .reading = step["reading"].is_null()
                                          ? std::nullopt
                                          : std::optional(step["reading"].get<double>()),
                           .strong = words == "stop"});
    if (words == "stop") sheet.motor.wind_torque_Nm = step["torque_Nm"].get<double>();
  }
  for (const Json& change : answer["changes"]) {
    const std::string what = change["what"].get<std::string>();
    sheet.changes.push_back(
        {.what = what == "all" ? "all together" : what,
         .from = change["from"].get<std::string>(),
         .to = change["to"].get<std::string>(),
         .back_off_change_turns = change["back_off_change_turns"].get<double>(),
         .launch_torque_change_Nm = change["launch_torque_change_Nm"].get<double>(),
         .duration_change_s = change["duration_change_s"].get<double>(),
         .strong = what == "all"});
  }
  for (const Json& point : card["curve"]) {
    sheet.winding_Nm.x.push_back(point["turns"].get<double>());
    sheet.winding_Nm.y.push_back(point["torque_winding_Nm"].get<double>());
    sheet.unwinding_Nm.y.push_back(point["torque_unwinding_Nm"].get<double>());
  }
  sheet.unwinding_Nm.x = sheet.winding_Nm.x;
  for (const Json& note : answer["notes"]) sheet.notes.push_back(note.get<std::string>());
  return sheet;
}

}  // namespace propwright::answer
