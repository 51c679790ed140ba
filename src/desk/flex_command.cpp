#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "command.h"
#include "job_files.h"
#include "propwright/answer/document.h"
#include "propwright/answer/flex_answer.h"
#include "propwright/base/constants.h"
#include "text_table.h"

namespace propwright::desk {
namespace {

using answer::FlexAnswer;

std::string signed_seconds(double seconds) {
  return fmt::format("{:+.1f}", std::round(seconds * 10) / 10 + 0.0);
}

std::string flex_flights_text(const FlexAnswer& a) {
  TextTable table({"flight", "duration", "top m", "turns at launch", "same turns, no roof m"});
  const auto add = [&](const char* name, const answer::FlexFlight& f) {
    table.add({name, units::duration_text(f.duration_s), fmt::format("{:.2f}", f.top_height_m),
               fmt::format("{:.0f}", f.turns_at_launch),
               f.free_top_height_m ? fmt::format("{:.2f}", *f.free_top_height_m) : "-"});
  };
  if (a.rigid) add("rigid blade", *a.rigid);
  add("flexing blade", a.flexing);
  return table.text();
}

std::string flex_states_text(const FlexAnswer& a) {
  TextTable table({"torque mN·m", "rpm", "pitch at 0.7 R mm", "rise mm", "tip flare °",
                   "tip forward mm", "root MPa", "margin"});
  for (const answer::FlexAtTorque& at : a.states) {
    const flex::State& s = at.state;
    table.add({fmt::format("{:.2f}", at.motor_torque_Nm * 1e3),
               fmt::format("{:.0f}", s.rotor.condition.rev_per_s * 60),
               fmt::format("{:.0f}", at.pitch_m * 1e3),
               fmt::format("{:+.1f}", at.pitch_rise_m * 1e3),
               fmt::format("{:+.2f}", s.tip.twist_rad / base::degree_rad),
               fmt::format("{:+.1f}", s.tip.out_of_disc_m * 1e3),
               s.strength.known ? fmt::format("{:.2f}", s.strength.root_stress_Pa * 1e-6) : "-",
               s.strength.known ? fmt::format("{:.1f}", s.strength.margin) : "-"});
  }
  return table.text(true);
}

std::string flex_ends_text(const FlexAnswer& a) {
  TextTable table({"spar ends at", "propeller mg", "tip bears, flat mJ", "edgewise mJ",
                   "breaks at mm", "seconds", "at the same mass"});
  const auto seconds = [&](const std::optional<double>& s) {
    return s ? signed_seconds(*s - a.flexing.duration_s) : std::string("-");
  };
  for (const answer::FlexSparEnd& row : a.spar_ends) {
    table.add({fmt::format("{:.0f} % R{}", 100 * row.end.share, row.present ? ", yours" : ""),
               fmt::format("{:+.1f}", row.propeller_mass_change_kg * 1e6),
               fmt::format("{:.2f}", row.end.flapwise.energy_J * 1e3),
               fmt::format("{:.2f}", row.end.chordwise.energy_J * 1e3),
               fmt::format("{:.0f}", row.end.flapwise.break_radius_m * 1e3),
               seconds(row.duration_s), seconds(row.same_mass_s)});
  }
  return table.text();
}

std::string flex_choices_text(const FlexAnswer& a) {
  TextTable table({"spar at", "torsion", "pitch rise launch mm", "level mm", "margin", "seconds",
                   "same turns, no roof m"});
  for (const answer::FlexChoice& c : a.choices) {
    const auto rise = [](const flex::FlareChoice& f) {
      return f.holds ? fmt::format("{:+.1f}", f.pitch_rise_m * 1e3) : std::string("diverges");
    };
    const bool top = c.flight && c.flight->free_top_height_m;
    table.add(
        {fmt::format("{:.0f} % chord{}", 100 * c.launch.spar_position, c.present ? ", yours" : ""),
         fmt::format("x {:g}", c.launch.torsion_factor), rise(c.launch), rise(c.cruise),
         c.launch.holds ? fmt::format("{:.1f}", c.launch.margin) : "-",
         c.flight ? signed_seconds(c.flight->duration_s - a.flexing.duration_s) : "-",
         top ? fmt::format("{:.2f}", *c.flight->free_top_height_m) : "-"});
  }
  return table.text();
}

std::string flex_text(const FlexAnswer& a) {
  std::string out = flex_flights_text(a);
  out += "\nFrom level flight to launch\n\n" + flex_states_text(a);
  if (a.limit) out += "\n" + a.limit->reason + "\n";
  if (!a.spar_ends.empty()) {
    out += "\nWhat the tip bears where the spar ends\n\n" + flex_ends_text(a);
  }
  if (!a.choices.empty()) out += "\nFlare chosen on purpose\n\n" + flex_choices_text(a);
  return out + bullet_list("Notes", a.notes);
}

Answer answer_flex(const Arguments& arguments) {
  OptionReader reader(arguments);
  const auto states = reader.count("--states", answer::flex_states_least, answer::flex_states_most);
  if (!reader.problems.empty()) return no_answer(std::move(reader.problems));
  const auto loaded = load_job(arguments.input);
  if (!loaded) return no_answer(loaded.error());
  const auto found =
      answer::flex_answer(*loaded, static_cast<int>(states.value_or(answer::flex_states_default)));
  if (!found) return no_answer(found.error());
  return arguments.json() ? answer::document(answer::flex_document(*found)) : flex_text(*found);
}

}  // namespace

Command flex_command() {
  return {.name = "flex",
          .purpose = "How the blade bends and twists, what its spar bears, flare chosen on purpose",
          .input = "JOB.toml",
          .input_help = "The job file (docs/job-file.md)",
          .input_required = true,
          .options = {{"--states", "N", "Output",
                       fmt::format("States from level flight to launch, {} to {}; left out: {}",
                                   answer::flex_states_least, answer::flex_states_most,
                                   answer::flex_states_default)}},
          .example = "  propwright flex examples/lantern46.toml",
          .answer = answer_flex};
}

}  // namespace propwright::desk
