#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "command.h"
#include "files.h"
#include "propwright/answer/spars.h"
#include "propwright/answer/spars_files.h"
#include "spars_print.h"
#include "text_table.h"

namespace propwright::desk {
namespace {

using D = units::Dimension;

/// Prints a length in the batch's unit.
std::string spar_length(double si, bool inch, int metric_digits, int inch_digits) {
  return units::print_in(si, D::length, inch ? "thou" : "mm", inch ? inch_digits : metric_digits)
      .number;
}

std::string spars_table(const answer::SparsAnswer& answer) {
  const bool inch = answer.batch.profile == units::Profile::inch;
  const std::string unit = inch ? "thou" : "mm";
  TextTable table({"spar", "mass mg", "kg/m³", "mark up " + unit, "at side " + unit, "E up GPa",
                   "E side GPa", "EI up N·mm²", "EI side N·mm²", "± %"});
  for (const answer::SparAnswer& spar : answer.spars) {
    const spar::Measured* const m = spar.measured();
    if (m == nullptr) {
      table.add({spar.id, "not measured", "", "", "", "", "", "", "", ""});
      continue;
    }
    const answer::SparState& state = spar.history[static_cast<std::size_t>(spar.latest)];
    table.add({spar.id, fmt::format("{:.1f}", 1e6 * m->spar.mass_kg),
               fmt::format("{:.0f}", m->density_kg_m3), spar_length(*state.reading_0_m, inch, 2, 0),
               spar_length(*state.reading_90_m, inch, 2, 0),
               fmt::format("{:.2f}", 1e-9 * m->at_0.modulus_Pa.value),
               fmt::format("{:.2f}", 1e-9 * m->at_90.modulus_Pa.value),
               fmt::format("{:.1f}", 1e6 * m->at_0.ei_Nm2),
               fmt::format("{:.1f}", 1e6 * m->at_90.ei_Nm2),
               fmt::format("{:.1f}",
                           100 * std::max(m->at_0.ei_sigma_relative, m->at_90.ei_sigma_relative))});
  }
  return table.text();
}

std::string pairs_table(const answer::SparsAnswer& answer) {
  std::size_t longest = 0;
  for (const answer::SparPair& pair : answer.pairs) {
    longest = std::max(longest, width_of(pair.pair.a + " + " + pair.pair.b));
  }
  std::string text;
  for (const answer::SparPair& pair : answer.pairs) {
    const std::string name = pair.pair.a + " + " + pair.pair.b;
    text += "  " + name + std::string(longest - width_of(name), ' ') + "  " + pair.verdict_word +
            ". " + pair.sentence + " " + pair.mount_sentence + "\n";
  }
  return text;
}

std::string spars_text(const answer::SparsAnswer& answer) {
  std::string text;
  if (answer.now) {
    const answer::SparNow& now = *answer.now;
    text = now.headline + "\n";
    if (!now.number.empty()) text += now.number + " " + now.unit + ". ";
    text += now.sentence + "\n";
    if (!now.caution.empty()) text += now.caution + "\n";
    text += "\n";
  }
  if (answer.batch.rig) {
    text += answer::rig_sentence(*answer.batch.rig, answer.batch.profile) + "\n\n";
  }
  text += spars_table(answer);
  if (!answer.pairs.empty()) text += "\nPairs\n\n" + pairs_table(answer);
  std::vector<std::string> sandings;
  for (const answer::SparSanding& sanding : answer.sanding) {
    for (const std::string& sentence : sanding.sentences) {
      sandings.push_back("Spar " + sanding.id + ". " + sentence);
    }
  }
  text += bullet_list("Sanding", sandings);
  if (!answer.unpaired.empty()) {
    text += fmt::format("\nWithout a partner: {}\n", fmt::join(answer.unpaired, ", "));
  }
  std::vector<std::string> questions;
  for (const answer::SparQuestion& question : answer.questions) {
    questions.push_back("Spar " + question.id + ": " + question.message);
  }
  return text + bullet_list("To be looked at again", questions) +
         bullet_list("Notes", answer.notes);
}

/// The request of the pages, out of files and options.
answer::Json request_of(const Arguments& arguments, const answer::Json& rig,
                        const answer::Json& spars) {
  answer::Json request{{"rig", rig}, {"spars", spars}};
  const std::pair<const char*, const char*> options[] = {
      {"--tolerance", "tolerance"},   {"--minimum-size", "minimum_size"},
      {"--keep-root", "keep_root"},   {"--step", "step"},
      {"--size-sigma", "size_sigma"}, {"--units", "units"}};
  for (const auto& [option, member] : options) {
    if (arguments.has(option)) request[member] = arguments.text(option);
  }
  for (const std::string& pair : arguments.all("--keep-pair")) {
    const std::size_t comma = pair.find(',');
    request["keep_pairs"].push_back(
        comma == pair.npos ? answer::Json::array({pair})
                           : answer::Json::array({pair.substr(0, comma), pair.substr(comma + 1)}));
  }
  return request;
}

/// Line of `key = ` in a TOML text; 0 where it has none.
int line_of_key(const std::string& toml, const std::string& key) {
  int line = 1;
  for (std::size_t at = 0; at < toml.size(); ++line) {
    const std::size_t end = std::min(toml.find('\n', at), toml.size());
    const std::string text = toml.substr(at, end - at);
    const std::size_t first = text.find_first_not_of(" \t");
    if (first != text.npos && text.compare(first, key.size(), key) == 0) {
      const std::size_t after = text.find_first_not_of(" \t", first + key.size());
      if (after != text.npos && text[after] == '=') return line;
    }
    at = end + 1;
  }
  return 0;
}

/// Under the file, line and column, or the option, that the problem comes from.
base::Problem where_written(base::Problem problem, const Arguments& arguments,
                            const answer::SparsOfCsv& csv, const std::string& toml) {
  const std::pair<const char*, const char*> options[] = {
      {"tolerance", "--tolerance"},   {"minimum_size", "--minimum-size"},
      {"keep_root", "--keep-root"},   {"step", "--step"},
      {"size_sigma", "--size-sigma"}, {"units", "--units"}};
  for (const auto& [member, option] : options) {
    if (problem.field == member) problem.field = option;
  }
  if (problem.field.starts_with("keep_pairs")) problem.field = "--keep-pair";
  if (problem.field.starts_with("rig.")) {
    std::string key = problem.field.substr(4);
    key = key.substr(0, key.find('['));
    problem.file = arguments.text("--rig");
    problem.line = line_of_key(toml, key);
  }
  return answer::in_csv(std::move(problem), csv, arguments.input);
}

/// Text or JSON, with the files that were written.
std::string spars_output(const Arguments& arguments, const answer::SparsAnswer& answer,
                         const sheet::PacketFiles& files) {
  if (arguments.json()) {
    answer::Json json = answer::spars_json(answer);
    for (const sheet::PacketFile& file : files) {
      json["files"].push_back({{"path", file.path}, {"kind", file.kind}, {"pages", file.pages}});
    }
    return answer::document(json);
  }
  std::string text = spars_text(answer);
  if (files.empty()) return text;
  text += fmt::format("\n{} files:\n\n", files.size());
  for (const sheet::PacketFile& file : files) text += "  " + file.path + "\n";
  return text;
}

Answer answer_spars(const Arguments& arguments) {
  const auto print = read_spars_print(arguments);
  if (!print) return no_answer(print.error());
  const auto toml = read_text(arguments.text("--rig"), "--rig");
  const auto csv = read_text(arguments.input);
  base::Problems missing;
  if (!toml) missing.push_back(toml.error().front());
  if (!csv) missing.push_back(csv.error().front());
  if (!missing.empty()) return no_answer(std::move(missing));
  const auto rig = answer::rig_of_toml(*toml, arguments.text("--rig"));
  if (!rig) return no_answer(rig.error());
  const bool metric = arguments.text("--units") == "metric";
  const auto spars = answer::spars_of_csv(*csv, arguments.input,
                                          metric ? units::Profile::metric : units::Profile::inch);
  const answer::Json request = request_of(arguments, *rig, spars.spars);
  answer::SparsAnswer answer = answer::spars_answer(answer::read_spars(request));
  base::Problems problems = spars.problems;
  for (answer::SparProblem& each : answer.problems) {
    each.problem = where_written(std::move(each.problem), arguments, spars, *toml);
    problems.push_back(each.problem);
  }
  if (answer.spars.empty() && !problems.empty()) return no_answer(std::move(problems));
  for (std::size_t i = spars.problems.size(); i-- > 0;) {
    answer.problems.insert(answer.problems.begin(), {"", spars.problems[i]});
  }
  if (arguments.has("--csv")) {
    const auto written = write_whole(arguments.text("--csv"), answer::spars_csv(answer));
    if (!written) return no_answer(written.error());
  }
  const auto files = print_spars(*print, answer);
  if (!files) return no_answer(files.error());
  std::string text = spars_output(arguments, answer, *files);
  if (problems.empty()) return text;
  Failure failure(std::move(problems));
  failure.rest = std::move(text);
  return tl::unexpected<Failure>(std::move(failure));
}

}  // namespace

Command spars_command() {
  const std::string rig = "The rig", limits = "Pairs and sanding", output = "Output";
  Command command{
      .name = "spars",
      .purpose = "Spars of a batch: stiffness from the deflection test, best pairs, what to sand",
      .input = "BATCH.csv",
      .input_help =
          "Columns id, width_root_m, width_tip_m, length_m, mass_kg, reading_0_m, reading_90_m and "
          "more; a row for each repeat",
      .input_required = true,
      .options = {{"--rig", "RIG.toml", rig, "The set-up of the test (docs/commands.md)", true},
                  {"--size-sigma", "S", rig,
                   "1-sigma of a measured width; left out: \"0.5 thou\" (judgement)"},
                  {"--tolerance", "T", limits,
                   "Spars alike within this are a pair; left out: 5 % (common practice)"},
                  {"--minimum-size", "L", limits, "Nothing is sanded below it; left out: 0.5 mm"},
                  {"--keep-root", "L", limits,
                   "Left alone at the clamp when sanding; left out: 12 mm or 0.5 in"},
                  {"--step", "L", limits,
                   "Sanding in steps of this; left out: 0.1 thou or 0.005 mm"},
                  {"--keep-pair", "A,B", limits, "Two ids that are not to be parted", false, true},
                  {"--units", "WORD", output,
                   "metric or inch; left out: inch where the rig is read in inches"},
                  {"--csv", "FILE", output, "Writes the batch with what was found"}},
      .example =
          "  propwright spars examples/bench/spars-batch-7.csv --rig examples/bench/rig-2.toml\n"
          "  propwright spars examples/bench/spars-batch-7.csv --rig examples/bench/rig-2.toml "
          "--tolerance \"3 %\" --json\n"
          "  propwright spars examples/bench/spars-batch-7.csv --rig examples/bench/rig-2.toml "
          "-o bench --paper letter",
      .answer = answer_spars};
  for (Option& option : spars_print_options()) command.options.push_back(std::move(option));
  return command;
}

}  // namespace propwright::desk
