// The steps, curve and page of the winding card.
#include <algorithm>
#include <nlohmann/json.hpp>

#include "bench_parts.h"
#include "propwright/answer/floor.h"
#include "propwright/rubber/winder.h"
#include "wind_parts.h"

namespace propwright::answer {
namespace {

constexpr int card_points = 60;

/// A step at `counted` whole turns of the winder.
Json step_json(const WindQuestion& asked, const char* words, double counted, double torque_Nm) {
  Json step{{"words", words}, {"turns", counted * asked.winder_ratio}, {"winder_turns", counted}};
  step.update(floor_torque(torque_Nm));
  step["reading"] = Json();
  step["beyond"] = false;
  if (asked.meter) {
    const double reading = rubber::scale_reading(asked.meter->fit, torque_Nm);
    step["reading"] = reading;
    step["beyond"] = beyond_calibration(*asked.meter, reading);
  }
  return step;
}

/// Half, three quarters and nine tenths of the way, the end, and where it is hooked up: all in
/// whole turns of the crank, rounded down.
Json steps_json(const WindQuestion& asked, const WindFlights& flights) {
  const rubber::Motor& motor = flights.aim.setup.motor;
  const flight::Flight& f = flights.counted;
  const double ratio = asked.winder_ratio;
  Json steps = Json::array();
  const std::pair<const char*, double> ways[] = {
      {"half of the turns", 0.5}, {"three quarters", 0.75}, {"nine tenths", 0.9}, {"stop", 1}};
  for (const auto& [words, share] : ways) {
    const double counted = rubber::crank_turns(share * f.turns_wound, ratio);
    const double torque_Nm = rubber::winding_torque_Nm(motor, counted * ratio);
    steps.push_back(step_json(asked, words, counted, torque_Nm));
  }
  steps.push_back(step_json(asked, "hook up", rubber::crank_turns(f.turns_at_launch, ratio),
                            rubber::torque_Nm(motor, f.turns_at_launch)));
  return steps;
}

bool any_beyond(const Json& steps) {
  return std::any_of(steps.begin(), steps.end(),
                     [](const Json& step) { return step["beyond"].get<bool>(); });
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

}  // namespace

Json wind_card_json(const WindQuestion& asked, const WindFlights& flights) {
  const rubber::Motor& motor = flights.aim.setup.motor;
  const flight::Flight& f = flights.counted;
  const brief::Motor& strip = asked.loaded.job.motor;
  const double ratio = asked.winder_ratio;
  const double stop = rubber::crank_turns(f.turns_wound, ratio),
               hook = rubber::crank_turns(f.turns_at_launch, ratio);
  const Json steps = steps_json(asked, flights);
  const bool by_risk = asked.breaking && !asked.breaking->too_few();
  return {
      {"winder_ratio", ratio},
      {"winder_turns", stop},
      {"back_off_winder_turns", stop - hook},
      {"hook_up_winder_turns", hook},
      {"hook_up_torque_Nm", rubber::torque_Nm(motor, f.turns_at_launch)},
      {"back_off_aim_turns", flights.aim.flight.turns_wound - flights.aim.flight.turns_at_launch},
      {"breaking_turns", motor.breaking_turns},
      {"stop_words", wind_stop_words(asked, motor.breaking_turns)},
      {"risk", by_risk ? Json(asked.breaking->known.safe_risk) : Json()},
      {"risk_interval",
       by_risk ? Json{asked.breaking->known.risk_low, asked.breaking->known.risk_high} : Json()},
      {"wait_s", asked.loaded.job.launch.wait_s},
      {"rubber", asked.loaded.job.rubber.name},
      {"strands", strip.strands},
      {"section_m2", motor.section_m2},
      {"loop_length_m", motor.length_m},
      {"mass_kg", motor.mass_kg},
      {"meter_unit", asked.meter ? Json(asked.meter->unit) : Json()},
      {"meter_beyond", any_beyond(steps) ? Json(beyond_words(*asked.meter)) : Json()},
      {"steps", steps},
      {"curve", motor_curve_json(motor)}};
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
                 .launch_torque_Nm = card["hook_up_torque_Nm"].get<double>(),
                 .wait_s = card["wait_s"].get<double>()};
  sheet.winder_ratio = card["winder_ratio"].get<double>();
  sheet.winder_turns = card["winder_turns"].get<double>();
  sheet.back_off_winder_turns = card["back_off_winder_turns"].get<double>();
  if (card["meter_beyond"].is_string()) sheet.beyond = card["meter_beyond"].get<std::string>();
  for (const Json& sentence : answer["sentences"]) {
    sheet.sentence += (sheet.sentence.empty() ? "" : " ") + sentence.get<std::string>();
  }
  if (card["meter_unit"].is_string()) sheet.meter_unit = card["meter_unit"].get<std::string>();
  for (const Json& step : card["steps"]) {
    const std::string words = step["words"].get<std::string>();
    sheet.steps.push_back({.words = words,
                           .turns = step["turns"].get<double>(),
                           .winder_turns = step["winder_turns"].get<double>(),
                           .torque_Nm = step["torque_Nm"].get<double>(),
                           .reading = step["reading"].is_null()
                                          ? std::nullopt
                                          : std::optional(step["reading"].get<double>()),
                           .beyond = step["beyond"].get<bool>(),
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
