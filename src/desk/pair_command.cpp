#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "command.h"
#include "field_lines.h"
#include "files.h"
#include "job_files.h"
#include "propwright/answer/document.h"
#include "propwright/answer/pair_answer.h"
#include "propwright/base/constants.h"
#include "text_table.h"

namespace propwright::desk {
namespace {

std::string card_text(const std::vector<asbuilt::Tolerance>& tolerances) {
  TextTable table({"what a tolerance costs", "both blades s", "one up, one down s", "±"});
  for (const asbuilt::Tolerance& t : tolerances) {
    table.add({t.label, fmt::format("{:.1f}", t.both_s), fmt::format("{:.1f}", t.apart_s),
               fmt::format("{:.1f}", t.sigma_s)});
  }
  return table.text();
}

/// With its sign, but for nothing.
std::string signed_text(double seconds) {
  return std::abs(seconds) < 0.05 ? "0.0" : fmt::format("{:+.1f}", seconds);
}

std::string ledger_text(const asbuilt::Ledger& ledger) {
  TextTable table({"flaw", "gained by curing it s", "±"});
  for (const asbuilt::Flaw& flaw : ledger.flaws) {
    table.add({flaw.label, flaw.computed ? signed_text(flaw.seconds) : "-",
               flaw.computed ? fmt::format("{:.1f}", flaw.sigma_s) : "-"});
  }
  table.add({"what they do together", signed_text(ledger.cross_s), ""});
  table.add({"all of it", signed_text(ledger.perfect_s - ledger.duration_s), ""});
  return table.text();
}

std::string states_text(const answer::PairAnswer& answer) {
  const bool inch = answer.design.profile == units::Profile::inch;
  TextTable table({inch ? "torque in-oz" : "torque mN·m", "rpm", "thrust A mN", "thrust B mN",
                   "rocking µN·m", "flare A °", "flare B °"});
  for (const asbuilt::PairState& s : answer.states) {
    const auto flare = [](const std::optional<double>& rad) {
      return rad ? fmt::format("{:+.2f}", *rad / base::degree_rad) : std::string("-");
    };
    table.add({inch ? units::print_in(s.torque_Nm, units::Dimension::torque, "ozf.in", 3).number
                    : fmt::format("{:.2f}", s.torque_Nm * 1e3),
               fmt::format("{:.0f}", s.condition.rev_per_s * 60),
               fmt::format("{:.2f}", s.blades[0].thrust_N * 1e3),
               fmt::format("{:.2f}", s.blades[1].thrust_N * 1e3),
               fmt::format("{:+.1f}", s.rocking_Nm * 1e6), flare(s.blades[0].flare_rad),
               flare(s.blades[1].flare_rad)});
  }
  return table.text(true);
}

std::string pair_text(const answer::PairAnswer& answer) {
  const asbuilt::Ledger& ledger = answer.ledger;
  const double lost = std::round(ledger.perfect_s - ledger.duration_s);
  const std::string against =
      lost == 0 ? ", the same"
                : fmt::format(", {} s {}", std::abs(lost), lost > 0 ? "more" : "less");
  std::string out = fmt::format("As built it flies {}; as designed {}{}.\n\n",
                                units::duration_text(ledger.duration_s),
                                units::duration_text(ledger.perfect_s), against);
  out += ledger_text(ledger);
  std::vector<std::string> advice;
  for (const asbuilt::Flaw& flaw : ledger.flaws) advice.push_back(flaw.advice);
  out += bullet_list("What to do, the costliest first", advice);
  out += "\nFrom level flight to launch\n\n" + states_text(answer);
  if (answer.imbalance.moment_kgm) {
    out += fmt::format("\nStatic imbalance {:.1f} ± {:.1f} mg·mm, blade {} heavy.\n",
                       std::abs(answer.imbalance.moment_kgm->value) * 1e9,
                       answer.imbalance.moment_kgm->sigma * 1e9,
                       answer.imbalance.moment_kgm->value >= 0 ? "A" : "B");
  }
  return out + bullet_list("Notes", answer.notes);
}

Answer answer_tolerances(const Arguments& arguments, const LoadedJob& loaded) {
  const auto known = answer::known_design(loaded);
  if (!known) return no_answer(known.error());
  const answer::ToleranceCard card = answer::tolerance_card(**known);
  if (arguments.json()) return answer::document(answer::tolerance_document(card));
  return fmt::format("The design flies {}.\n\n", units::duration_text(card.perfect_s)) +
         card_text(card.tolerances) + bullet_list("Notes", card.notes);
}

Answer answer_pair(const Arguments& arguments) {
  const auto loaded = load_job(arguments.input);
  if (!loaded) return no_answer(loaded.error());
  if (arguments.file.empty()) {
    if (arguments.has("--tolerances")) return answer_tolerances(arguments, *loaded);
    return wrong_usage({{.field = "AS_BUILT.toml",
                         .remedy = "name the file of the readings, or ask for --tolerances",
                         .message = "there is nothing to compare the design with"}});
  }
  const auto text = read_text(arguments.file);
  if (!text) return no_answer(text.error());
  const auto as_built = answer::job_json(*text, arguments.file);
  if (!as_built) return no_answer(as_built.error());
  const auto known = answer::known_design(*loaded);
  if (!known) return no_answer(known.error());
  const auto pair = answer::pair_answer(*loaded, **known, *as_built, arguments.file);
  if (!pair) return no_answer(with_lines(pair.error(), arguments.file, answer::toml_lines(*text)));
  if (arguments.json()) return answer::document(answer::pair_document(*pair));
  const std::string out = pair_text(*pair);
  return arguments.has("--tolerances") ? out + "\n" + card_text(pair->tolerances) : out;
}

}  // namespace

Command pair_command() {
  return {
      .name = "pair",
      .purpose = "A built propeller against its design: every flaw of its two blades in seconds",
      .input = "JOB.toml",
      .input_help = "The job file (docs/job-file.md)",
      .input_required = true,
      .options = {{"--tolerances", "", "Output", "What tolerances cost, also before it is built"}},
      .example =
          "  propwright pair examples/lantern46.toml "
          "examples/bench/as-built-lantern46.toml\n"
          "  propwright pair examples/lantern46.toml --tolerances",
      .answer = answer_pair,
      .second_input = "AS_BUILT.toml",
      .second_input_help = "Both blades as measured (docs/as-built-file.md)"};
}

}  // namespace propwright::desk
