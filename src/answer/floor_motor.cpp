// Breaking turns, a motor's life, strip sizes, partial motors.
#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "bench_cautions.h"
#include "bench_parts.h"
#include "floor_parts.h"
#include "propwright/base/constants.h"
#include "propwright/rubber/breaking.h"
#include "propwright/rubber/history.h"
#include "propwright/rubber/partial.h"
#include "propwright/rubber/strip.h"

namespace propwright::answer {
namespace {

using D = units::Dimension;

constexpr double default_risk = 0.05, default_kappa = 10.6;
constexpr double inch_m = 0.0254;

std::vector<std::string> with_section(std::vector<std::string> members) {
  members.insert(members.end(), floor_section_members.begin(), floor_section_members.end());
  return members;
}

std::string breaking_sentence(const rubber::Breaking& b, double safe, double median) {
  const double in_100 = 100 * b.safe_risk;
  return fmt::format(
      "Wind to {:.0f} turns: about {} in 100 motors like this break by then. Half of them "
      "break by {:.0f}.",
      safe, in_100 < 1 ? fmt::format("{:.1g}", in_100) : fmt::format("{:.0f}", in_100), median);
}

/// What of it comes from the log.
std::string logged_sentence(const rubber::Breaking& b) {
  std::string words;
  const auto part = [&](int logged, int all, const char* what) {
    if (logged == 0) return;
    words +=
        fmt::format("{}{} of {} {}", words.empty() ? "From the log: " : ", ", logged, all, what);
  };
  part(b.broke_logged, b.broke, b.broke == 1 ? "break" : "breaks");
  part(b.held_logged, b.held, "that held");
  return words.empty() ? words : words + ".";
}

/// Places from 1.
Json uncounted_json(const std::vector<rubber::Counted>& counted) {
  Json list = Json::array();
  for (std::size_t i = 0; i < counted.size(); ++i) {
    if (counted[i] == rubber::Counted::yes) continue;
    const bool twice = counted[i] == rubber::Counted::told_twice;
    list.push_back({{"wind", i + 1}, {"why", twice ? "told_twice" : "unbelievable"}});
  }
  return list;
}

Json breaking_json(const rubber::Breaking& b, const LoopSize& motor) {
  Json sentences = Json::array();
  const std::string logged = logged_sentence(b);
  const double per_kappa = motor.length_m / std::sqrt(motor.section_m2);
  const double safe = b.safe_kappa * per_kappa, median = b.median_kappa * per_kappa;
  sentences.push_back(breaking_sentence(b, safe, median));
  if (!logged.empty()) sentences.push_back(logged);
  return {{"broke", b.broke},
          {"held", b.held},
          {"broke_logged", b.broke_logged},
          {"held_logged", b.held_logged},
          {"uncounted", uncounted_json(b.counted)},
          {"risk", b.risk},
          {"risk_interval", {b.risk_low, b.risk_high}},
          {"safe_turns", safe},
          {"safe_turns_constant", b.safe_kappa},
          {"safe_share", b.safe_kappa / b.median_kappa},
          {"safe_risk", b.safe_risk},
          {"median_turns", median},
          {"median_turns_interval", {b.median_low * per_kappa, b.median_high * per_kappa}},
          {"turns_constant", b.median_kappa},
          {"spread", b.spread},
          {"spread_interval", {b.spread_low, b.spread_high}},
          {"by_rule", b.by_rule},
          {"notes", b.notes},
          {"sentences", std::move(sentences)},
          {"caution", cautions::wind}};
}

const char* state_word(rubber::MotorState state) {
  switch (state) {
    case rubber::MotorState::fresh:
      return "fresh";
    case rubber::MotorState::breaking_in:
      return "breaking_in";
    case rubber::MotorState::broken_in:
      break;
  }
  return "broken_in";
}

double strip_thickness_m(const FloorContext& context) {
  return context.thickness_m.value_or(rubber::usual_strip_thickness_m);
}

rubber::MotorLife read_life(BenchReader& reader, const FloorContext& context) {
  rubber::MotorLife life;
  life.section_m2 = read_floor_section(reader, strip_thickness_m(context));
  life.fresh_length_m = reader.needed("fresh_length", D::length, floor_loop_m);
  life.turns_constant = reader.quantity("turns_constant", D::ratio, {5, 20})
                            .value_or(context.turns_constant.value_or(default_kappa));
  life.rested_length_m = reader.length("rested_length", floor_loop_m);
  life.rest_s = reader.quantity("rest", D::time, floor_time_s);
  for (const auto& [row, place] : reader.tables("winds")) {
    BenchReader cells(row, place, {"turns", "torque", "rested_length", "rest_before"});
    rubber::MotorWind wind;
    wind.turns = cells.needed("turns", D::ratio, floor_turns);
    wind.torque_Nm = cells.quantity("torque", D::torque, floor_torque_Nm);
    wind.rested_length_m = cells.length("rested_length", floor_loop_m);
    wind.rest_before_s = cells.quantity("rest_before", D::time, floor_time_s);
    reader.add(cells.problems());
    life.winds.push_back(wind);
  }
  return life;
}

std::string history_sentence(const rubber::MotorHistory& h) {
  const char* state = h.state == rubber::MotorState::fresh         ? "Fresh"
                      : h.state == rubber::MotorState::breaking_in ? "Breaking in"
                                                                   : "Broken in";
  return fmt::format(
      "{}: {} winds, {} of them full, {:.0f} turns in all; {:.1f} % longer than fresh, "
      "breaks at about {:.0f} turns.",
      state, h.winds, h.full_winds, h.turns_total, 100 * h.length_gain, h.breaking_turns);
}

rubber::StripGiven read_strip(BenchReader& reader, const FloorContext& context) {
  rubber::StripGiven given;
  given.width_m = reader.length("width", {1e-4, 0.05});
  given.thickness_m = reader.length("thickness", {2e-4, 3e-3});
  given.density_kg_m3 = reader.quantity("density", D::density, {800, 1150});
  given.strands = reader.count("strands", 1, 64).value_or(2);
  given.line_density_kg_m = reader.quantity("line_density", D::line_density, {1e-5, 0.05});
  if (const auto loop = reader.quantity("loop_density", D::line_density, {1e-5, 1})) {
    if (given.line_density_kg_m) {
      reader.wrong("loop_density", "the mass per length is given twice",
                   "give it of one strand or of the loop");
    }
    given.line_density_kg_m = *loop / given.strands;
  }
  given.loop_length_m = reader.length("loop_length", floor_loop_m);
  given.mass_kg = reader.mass("mass", floor_rubber_kg);
  // Of a batch that was measured, its strip; but what a scale and a caliper tell goes before it.
  const bool weighed = given.line_density_kg_m || (given.mass_kg && given.loop_length_m);
  if (!given.density_kg_m3 && !(weighed && given.width_m && given.thickness_m)) {
    given.density_kg_m3 = context.density_kg_m3;
  }
  if (!given.thickness_m && !(weighed && given.width_m)) given.thickness_m = context.thickness_m;
  return given;
}

std::string strip_sentence(const rubber::StripFigures& f) {
  return fmt::format(
      "{:.2f} mm ({:.4f} in) wide: {:.3f} g/m or {:.4f} g/in of strip, {:.0f} mg per "
      "10 cm of loop.",
      1e3 * f.width_m, f.width_m / inch_m, 1e3 * f.line_density_kg_m,
      1e3 * f.line_density_kg_m * inch_m, 1e5 * f.loop_density_kg_m);
}

Json partial_setup_json(const rubber::PartialSetup& setup) {
  return {{"share", setup.share},
          {"loop_length_m", setup.length_m},
          {"mass_kg", setup.mass_kg},
          {"breaking_turns", setup.breaking_turns},
          {"spacer_mass_kg", setup.spacer_mass_kg},
          {"spacer_length_m", setup.spacer_length_m},
          {"notes", setup.notes}};
}

// A flight that is over sooner says nothing of a motor: the trim or the launch went wrong.
constexpr double shortest_partial_s = 10;

std::optional<rubber::PartialFlight> read_partial_flight(BenchReader& reader, double share) {
  if (!reader.has("duration")) return std::nullopt;
  rubber::PartialFlight flight;
  flight.share = share;
  flight.duration_s = reader.needed("duration", D::time, {shortest_partial_s, 7200});
  flight.top_height_m = reader.needed("top_height", D::length, {0, 200});
  const auto take = [](std::optional<double> value, double& into) { into = value.value_or(into); };
  take(reader.quantity("duration_sigma", D::time, {0.1, 600}), flight.duration_sigma_s);
  take(reader.length("top_sigma", {0, 10}), flight.top_sigma_m);
  take(reader.length("launch_height", {0, 5}), flight.launch_height_m);
  flight.sink_m_s = reader.quantity("sink_rate", D::speed, {0.01, 3});
  take(reader.quantity("relaxation", D::relative_rate, {0, 0.005}), flight.relaxation_per_s);
  take(reader.length("roof", {0, 200}), flight.roof_m);
  flight.touched = reader.truth("touched").value_or(false);
  if (flight.roof_m > 0 && flight.top_height_m > 1.001 * flight.roof_m) {
    reader.wrong("top_height", "higher than the roof", "correct it or roof");
  }
  return flight;
}

Json full_json(const rubber::FullEstimate& e, double share) {
  const std::string words = fmt::format(
      "The full motor from the same torque: {} ± {:.0f} s, top {:.1f} ± {:.1f} m. Time over {:g} "
      "alone would read {:.0f} s high.",
      units::duration_text(std::max(0.0, e.duration_s)), e.duration_sigma_s, e.top_height_m,
      e.top_sigma_m, share, e.reads_high_s);
  return {{"duration_s", e.duration_s},
          {"duration_sigma_s", e.duration_sigma_s},
          {"top_height_m", e.top_height_m},
          {"top_sigma_m", e.top_sigma_m},
          {"reads_high_s", e.reads_high_s},
          {"sound", e.sound},
          {"notes", e.notes},
          {"sentences", {words}}};
}

}  // namespace

std::vector<rubber::Wind> read_floor_winds(BenchReader& reader, const LoopSize& own) {
  std::vector<rubber::Wind> winds;
  for (const auto& [row, place] : reader.tables("winds")) {
    BenchReader cells(row, place, with_section({"turns", "length", "broke", "motor", "from_log"}));
    rubber::Wind wind{.section_m2 = own.section_m2, .length_m = own.length_m};
    wind.turns = cells.needed("turns", D::ratio, floor_turns);
    if (cells.has("section") || cells.has("width")) {
      wind.section_m2 = read_floor_section(cells, own.thickness_m);
    }
    wind.length_m = cells.length("length", floor_loop_m).value_or(wind.length_m);
    wind.broke = cells.truth("broke").value_or(true);
    wind.motor = cells.text("motor");
    wind.logged = cells.truth("from_log").value_or(false);
    reader.add(cells.problems());
    winds.push_back(wind);
  }
  return winds;
}

Json floor_breaking(const Json& table, FloorContext& context) {
  BenchReader reader(table, "breaking",
                     with_section({"risk", "length", "winds", "turns_constant", "needs_breaks"}));
  reader.count("needs_breaks", 0, 500);  // the winding card's, which takes the same table
  const double thickness_m = strip_thickness_m(context);
  const LoopSize motor{read_floor_section(reader, thickness_m),
                       reader.needed("length", D::length, floor_loop_m), thickness_m};
  const double risk = reader.share("risk", {0.001, 0.5}).value_or(default_risk);
  rubber::BreakingPrior prior;
  // A bench test that ran to the break knows the median better than other strip does.
  const auto given = reader.quantity("turns_constant", D::ratio, {5, 20});
  if (given || context.turns_constant) {
    prior.median = given.value_or(context.turns_constant.value_or(default_kappa));
    prior.median_sigma = 0.06;
  }
  const auto winds = read_floor_winds(reader, motor);
  if (const auto wrong = reader.problems(); !wrong.empty()) {
    context.add(wrong);
    return nullptr;
  }
  const auto found = rubber::breaking_statistics(winds, risk, prior);
  if (!found) {
    context.add(bench_fields(found.error(), "breaking"));
    return nullptr;
  }
  return breaking_json(*found, motor);
}

Json floor_history(const Json& table, FloorContext& context) {
  BenchReader reader(
      table, "history",
      with_section({"fresh_length", "rested_length", "rest", "turns_constant", "winds"}));
  const rubber::MotorLife life = read_life(reader, context);
  if (const auto wrong = reader.problems(); !wrong.empty()) {
    context.add(wrong);
    return nullptr;
  }
  const auto h = rubber::motor_history(life);
  if (!h) {
    context.add(bench_fields(h.error(), "history"));
    return nullptr;
  }
  return {{"state", state_word(h->state)},
          {"winds", h->winds},
          {"full_winds", h->full_winds},
          {"turns_total", h->turns_total},
          {"loop_length_m", h->length_m},
          {"length_gain", h->length_gain},
          {"greatest_share", h->greatest_share},
          {"breaking_turns", h->breaking_turns},
          {"shares", h->shares},
          {"recovered", number_or_null(h->recovered)},
          {"notes", h->notes},
          {"sentences", {history_sentence(*h)}}};
}

Json floor_strip(const Json& table, FloorContext& context) {
  BenchReader reader(table, "strip",
                     {"width", "thickness", "density", "strands", "line_density", "loop_density",
                      "loop_length", "mass"});
  const rubber::StripGiven given = read_strip(reader, context);
  if (const auto wrong = reader.problems(); !wrong.empty()) {
    context.add(wrong);
    return nullptr;
  }
  const auto f = rubber::strip_figures(given);
  if (!f) {
    context.add(bench_fields(f.error(), "strip"));
    return nullptr;
  }
  return {{"strip_width_m", f->width_m},
          {"strip_thickness_m", f->thickness_m},
          {"density_kg_m3", f->density_kg_m3},
          {"strands", given.strands},
          {"line_density_kg_m", f->line_density_kg_m},
          {"line_density_g_in", 1e3 * f->line_density_kg_m * inch_m},
          {"loop_density_kg_m", f->loop_density_kg_m},
          {"loop_density_mg_10cm", 1e5 * f->loop_density_kg_m},
          {"section_m2", f->section_m2},
          {"loop_length_m", number_or_null(f->loop_length_m)},
          {"mass_kg", number_or_null(f->mass_kg)},
          {"breaking_turns",
           f->loop_length_m ? Json(rubber::turns_at(context.turns_constant.value_or(default_kappa),
                                                    f->section_m2, *f->loop_length_m))
                            : Json()},
          {"notes", f->notes},
          {"sentences", {strip_sentence(*f)}}};
}

Json floor_partial(const Json& table, FloorContext& context) {
  BenchReader reader(table, "partial",
                     with_section({"share", "length", "mass", "breaking_turns", "duration",
                                   "duration_sigma", "top_height", "top_sigma", "launch_height",
                                   "sink_rate", "relaxation", "roof", "touched"}));
  rubber::FullMotor full;
  full.section_m2 = read_floor_section(reader, strip_thickness_m(context));
  full.length_m = reader.needed("length", D::length, floor_loop_m);
  full.mass_kg = reader.needed("mass", D::mass, floor_rubber_kg);
  const double share = reader.share("share", {0.1, 1}).value_or(0.5);
  const double usual = full.section_m2 > 0
                           ? rubber::turns_at(context.turns_constant.value_or(default_kappa),
                                              full.section_m2, full.length_m)
                           : 0;
  full.breaking_turns = reader.quantity("breaking_turns", D::ratio, floor_turns).value_or(usual);
  const auto flight = read_partial_flight(reader, share);
  if (const auto wrong = reader.problems(); !wrong.empty()) {
    context.add(wrong);
    return nullptr;
  }
  const auto setup = rubber::partial_setup(full, share);
  if (!setup) {
    context.add(bench_fields(setup.error(), "partial"));
    return nullptr;
  }
  Json answer{{"setup", partial_setup_json(*setup)}, {"full", nullptr}};
  if (!flight) return answer;
  const auto estimate = rubber::full_from_partial(*flight);
  if (!estimate) {
    context.add(bench_fields(estimate.error(), "partial"));
    return answer;
  }
  answer["full"] = full_json(*estimate, share);
  return answer;
}

}  // namespace propwright::answer
