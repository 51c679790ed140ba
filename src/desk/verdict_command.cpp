#include <algorithm>
#include <charconv>

#include "files.h"
#include "flights_files.h"
#include "paper.h"
#include "propwright/answer/flights_answer.h"
#include "propwright/sheet/fair_test.h"

namespace propwright::desk {
namespace {

using answer::Json;

/// Options that stand for a place in the question.
struct VerdictOption {
  const char *option, *table, *key;
  enum class Kind { quantity, flag, no_flag, count } kind = Kind::quantity;
};
using Kind = VerdictOption::Kind;
constexpr VerdictOption verdict_options[] = {
    {"--tail-freedom", "beliefs", "tail_freedom"},
    {"--normal", "beliefs", "normal", Kind::flag},
    {"--own-scatter", "beliefs", "shared_scatter", Kind::no_flag},
    {"--scatter-median", "beliefs", "scatter_median"},
    {"--scatter-spread", "beliefs", "scatter_spread"},
    {"--flat-scatter", "beliefs", "flat_scatter", Kind::flag},
    {"--day-scatter", "beliefs", "day_scatter"},
    {"--level-sigma", "beliefs", "level_sigma"},
    {"--sure", "thresholds", "sure"},
    {"--sure-without-one", "thresholds", "sure_without_one"},
    {"--margin", "thresholds", "margin"},
    {"--least-flights", "thresholds", "least_flights", Kind::count},
    {"--planned", "thresholds", "planned"},
    {"--most-flights", "thresholds", "most_flights", Kind::count},
    {"--reference-duration", "", "reference_duration"},
    {"--winder-ratio", "", "winder_ratio"},
    {"--as-sheet", "", "learn", Kind::no_flag}};

/// "L46-A=1.02 g"
void put_masses(const Arguments& arguments, Json& question, base::Problems& problems) {
  for (const std::string& text : arguments.all("--mass")) {
    const auto at = text.rfind('=');
    if (at == std::string::npos || at == 0) {
      problems.push_back({.field = "--mass",
                          .value = text,
                          .allowed = "NAME=MASS, e.g. \"L46-A=1.02 g\"",
                          .remedy = "write the propeller's name, =, and its mass",
                          .message = "this is no mass of a propeller"});
      continue;
    }
    question["masses"][text.substr(0, at)] = text.substr(at + 1);
  }
}

/// A whole number as such; its range is for the answer to look at, together with all others.
Json count_value(const std::string& text) {
  int number = 0;
  const char* end = text.data() + text.size();
  const auto [stop, error] = std::from_chars(text.data(), end, number);
  return error == std::errc() && stop == end ? Json(number) : Json(text);
}

Json option_value(const Arguments& arguments, const VerdictOption& option) {
  switch (option.kind) {
    case Kind::flag:
      return true;
    case Kind::no_flag:
      return false;
    case Kind::count:
      return count_value(arguments.text(option.option));
    case Kind::quantity:
      break;
  }
  return arguments.text(option.option);
}

base::Expected<Json> verdict_question(const Arguments& arguments, OptionReader& reader) {
  auto question = flights_question(arguments);
  if (!question) return question;
  for (const VerdictOption& option : verdict_options) {
    if (!arguments.has(option.option)) continue;
    Json& into = *option.table == '\0' ? *question : (*question)[option.table];
    into[option.key] = option_value(arguments, option);
  }
  put_masses(arguments, *question, reader.problems);
  if (!reader.problems.empty()) return base::fail(std::move(reader.problems));
  return question;
}

base::Problems verdict_problems(base::Problems problems, const Arguments& arguments) {
  problems = flights_problems(std::move(problems), arguments);
  for (base::Problem& problem : problems) {
    for (const auto& [option, table, key, kind] : verdict_options) {
      const std::string field = *table == '\0' ? key : std::string(table) + "." + key;
      if (problem.field == field) problem.field = option;
    }
    if (problem.field.starts_with("masses.")) problem.field = "--mass";
  }
  return problems;
}

Answer answer_verdict(const Arguments& arguments) {
  OptionReader reader(arguments);
  sheet::PacketOptions paper = read_paper(arguments, reader);
  const int each = static_cast<int>(reader.count("--each", 1, 100).value_or(0));
  const auto question = verdict_question(arguments, reader);
  if (!question) return no_answer(question.error());
  const auto found = while_wanted("comparing", [&](const answer::StillWanted& wanted) {
    return answer::verdict_document(*question, nullptr, wanted);
  });
  if (!found) return no_flights_answer(verdict_problems(found.error(), arguments));
  if (arguments.has("--output")) {
    paper.profile = (*found)["units"] == "inch" ? units::Profile::inch : units::Profile::metric;
    const auto pdf = sheet::fair_test_pdf(answer::fair_test_sheet(*found, each), paper);
    if (!pdf) return no_answer(as_paper_options(pdf.error()));
    const auto written = write_whole(arguments.text("--output"), pdf->bytes);
    if (!written) return no_answer(written.error());
  }
  return arguments.json() ? answer::document(*found) : verdict_text(*found);
}

std::vector<Option> all_verdict_options() {
  const std::string flown = "What was flown", beliefs = "What is taken as given",
                    when = "When a verdict is given", sheet = "The sheet of a fair test";
  std::vector<Option> options{
      {"--job", "JOB.toml", flown,
       "The job of a propeller; flights are shares of what the first one's should make", false,
       true},
      {"--as-sheet", "", flown, "The first job as its sheet has it, not as the flights taught it"},
      {"--reference-duration", "T", flown,
       "The time under this roof that shares become seconds of"},
      {"--mass", "NAME=M", flown, "Mass of a propeller as weighed, e.g. \"L46-A=1.02 g\"", false,
       true},
      {"--tail-freedom", "N", beliefs, "Of Student's t, by which flights scatter; left out: 4"},
      {"--normal", "", beliefs, "Normal scatter: one bad flight counts in full"},
      {"--own-scatter", "", beliefs, "Each propeller has a scatter of its own"},
      {"--scatter-median", "S", beliefs, "Likely scatter of a flight's time; left out: 4 %"},
      {"--scatter-spread", "S", beliefs, "Spread of its logarithm; left out: 0.7"},
      {"--flat-scatter", "", beliefs, "Nothing is held of the scatter"},
      {"--day-scatter", "S", beliefs,
       "What a day does to all times alike, in 2 of 3 days; left out: 3 %, 0: nothing"},
      {"--level-sigma", "S", beliefs,
       "How far propellers are expected to differ; left out: nothing is held"},
      {"--sure", "P", when, "Odds of the best; left out: 95 %"},
      {"--sure-without-one", "P", when, "The same without any one flight; left out: 90 %"},
      {"--margin", "S", when, "A difference below it does not matter; left out: 1 %"},
      {"--least-flights", "N", when, "Of each propeller; left out: 3"},
      {"--planned", "P", when, "Chance that the further flights settle it; left out: 80 %"},
      {"--most-flights", "N", when, "Of each, looked at for the plan; left out: 100"},
      {"--output", "FILE.pdf", sheet, "The sheet to print", false, false, "-o"},
      {"--winder-ratio", "N", sheet, "Turns of the motor for one of the crank; left out: 1"},
      {"--each", "N", sheet, "Flights of each on the sheet; left out: as the verdict has it"}};
  for (Option& option : paper_options()) options.push_back(std::move(option));
  return options;
}

}  // namespace

Command verdict_command() {
  return {.name = "verdict",
          .purpose = "Which propeller is the better: odds, seconds, how many more flights",
          .input = "FLIGHTS.csv",
          .input_help = "The flight log (docs/flight-log-file.md)",
          .input_required = true,
          .options = all_verdict_options(),
          .example =
              "  propwright verdict examples/flights/lantern46-two-propellers.csv --job "
              "examples/lantern46.toml --job examples/flights/lantern46-b.toml\n"
              "  propwright verdict examples/flights/lantern46-two-propellers.csv",
          .answer = answer_verdict};
}

}  // namespace propwright::desk
