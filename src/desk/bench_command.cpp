#include <algorithm>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "bench_question.h"
#include "paper.h"
#include "propwright/answer/bench.h"
#include "propwright/answer/target_sheets.h"
#include "propwright/sheet/bench_sheets.h"

namespace propwright::desk {
namespace {

using Kind = BenchOption::Kind;

/// -o DIR: the targets of a replacement blade, which are all that the bench prints by this command.
base::Expected<sheet::PacketFiles> print_targets(const Arguments& arguments,
                                                 const BenchQuestion& asked,
                                                 const answer::Json& answer) {
  if (!arguments.has("--output")) return sheet::PacketFiles{};
  OptionReader reader(arguments);
  sheet::PacketOptions how;
  how.paper =
      reader.word("--page", {"a4", "letter"}) == "a4" ? sheet::Paper::a4 : sheet::Paper::letter;
  how.date = arguments.text("--date", today());
  how.profile = answer["units"] == "inch" ? units::Profile::inch : units::Profile::metric;
  if (!reader.problems.empty()) return base::fail(std::move(reader.problems));
  const std::string name = std::filesystem::path(asked.file).stem().string();
  const auto sheets = answer::target_sheets(answer, name);
  if (!sheets) {
    if (!answer.contains("replacement")) {
      return base::fail({.field = "--output",
                         .remedy = "ask for \"replace\", or leave it out",
                         .message = "only the targets of a replacement blade are printed"});
    }
    return sheet::PacketFiles{};  // why not is told with the answer
  }
  auto files = sheet::write_bench(*sheets, how, arguments.text("--output"));
  if (!files) return base::fail(as_paper_options(std::move(files.error())));
  return files;
}

bool answers_anything(const answer::Json& answer) {
  for (const auto& [name, part] : answer.items()) {
    if (part.is_object()) return true;
  }
  return false;
}

/// Text or JSON, with the files that were written.
std::string bench_output(const Arguments& arguments, answer::Json answer,
                         const sheet::PacketFiles& files) {
  if (arguments.json()) {
    for (const sheet::PacketFile& file : files) {
      answer["files"].push_back({{"path", file.path}, {"kind", file.kind}, {"pages", file.pages}});
    }
    return answer::document(answer);
  }
  std::string text = bench_text(answer);
  for (const sheet::PacketFile& file : files) text += "\nWritten: " + file.path + "\n";
  return text;
}

Answer answer_bench(const Arguments& arguments) {
  const auto asked = read_bench(arguments);
  if (!asked) return tl::unexpected<Failure>(asked.error());
  answer::Json answer = answer::bench_document(asked->question);
  const auto files = print_targets(arguments, *asked, answer);
  if (!files) return no_answer(files.error());
  base::Problems problems =
      bench_problems(answer::problems_of(answer["problems"]), *asked, arguments);
  answer["problems"] = answer::problem_list(problems);
  const bool anything = answers_anything(answer);
  const std::string text = bench_output(arguments, std::move(answer), *files);
  if (problems.empty()) return text;
  if (!anything) return no_answer(std::move(problems));
  return partly(text, std::move(problems));
}

std::string group_of(const std::string& option) {
  std::string group;
  for (const BenchOption& known : bench_options()) {
    if (option == known.option) group += (group.empty() ? "" : ", ") + std::string(known.subject);
  }
  return "For " + group;
}

std::vector<Option> command_options() {
  std::vector<Option> options{
      {"--job", "JOB.toml", "For ledger, hub, shaking",
       "The job for planned masses, seconds and loads; left out: the one that the file names"},
      {"--units", "UNITS", "Output", "metric or inch, of the sentences; left out: the job's"},
      {"--output", "DIR", "Output", "Folder for bench.pdf with the targets of a replacement blade",
       false, false, "-o"},
      {"--page", "SIZE", "Output", "Of bench.pdf: a4 or letter; left out: a4"},
      {"--date", "DATE", "Output", "Printed on it, e.g. 2026-11-25; left out: today"}};
  for (const BenchOption& known : bench_options()) {
    const std::string name = known.option;
    const bool told = std::any_of(options.begin(), options.end(),
                                  [&](const Option& option) { return option.name == name; });
    if (told) continue;
    const bool repeatable = name == "--mass" || name == "--angle" || name == "--weighed";
    options.push_back({name, known.value, group_of(name), known.help, false, repeatable});
  }
  return options;
}

}  // namespace

const std::vector<BenchOption>& bench_options() {
  static const std::vector<BenchOption> options{
      {"stock", "--kind", "kind", "KIND", "sheet, strip, film, tissue, wire or glue"},
      {"stock", "--length", "length", "L", "Of the piece, the tube, or from the clamp to the arm"},
      {"stock", "--width", "width", "W", "Of the piece"},
      {"stock", "--thickness", "thickness", "T", "Of the piece"},
      {"stock", "--diameter", "diameter", "D", "Of wire"},
      {"stock", "--mass", "mass", "M", "Of all the pieces; in a twist test, hung on the arm"},
      {"stock", "--count", "count", "N", "How many were weighed together", Kind::whole},
      {"stock", "--grain", "grain", "CUT", "A, B or C"},
      {"twist", "--length", "length", "L", ""},
      {"twist", "--arm", "arm", "L", "From the spar's axis to the thread"},
      {"twist", "--second-arm", "second_arm", "L", "Of a couple over a pulley"},
      {"twist", "--rest-angle", "rest_angle", "A", "Of the arm without mass above the horizontal"},
      {"twist", "--mass", "readings", "M", ""},
      {"twist", "--angle", "readings", "A", "How far the mass before it turned the arm"},
      {"twist", "--shape", "shape", "SHAPE", "square, rectangular, round or rounded square"},
      {"twist", "--root-width", "root_width", "W", "Of a spar; left out: a blade"},
      {"twist", "--root-depth", "root_depth", "D", "Left out: as wide"},
      {"twist", "--tip-width", "tip_width", "W", "Left out: as at the root"},
      {"twist", "--tip-depth", "tip_depth", "D", "Left out: as wide"},
      {"twist", "--density", "density", "RHO", "To hold the shear modulus against"},
      {"tube", "--mandrel", "mandrel", "D", "Wire, rod or drill shank to roll on"},
      {"tube", "--spar-root", "spar_root", "D", "Or the root to choose one for"},
      {"tube", "--spar-shape", "spar_shape", "SHAPE", "round or square"},
      {"tube", "--fit", "fit", "L", "Bore over the root; left out: 0.03 mm"},
      {"tube", "--bore-gain", "bore_gain", "L", "Bore over the mandrel once it is pulled off"},
      {"tube", "--paper", "paper", "T", "Thickness of the paper"},
      {"tube", "--paper-areal", "paper_areal", "M", "Its mass per area"},
      {"tube", "--glue-areal", "glue_areal", "M", "Dried glue on one face; left out: 5 g/m2"},
      {"tube", "--wraps", "wraps", "N", "Left out: 4, or what --wanted-mass gives", Kind::number},
      {"tube", "--wanted-mass", "wanted_mass", "M", "Of the tube, to choose the wraps for"},
      {"tube", "--length", "length", "L", ""},
      {"hub", "--hook-run-out", "hook_run_out", "L", "To and fro of the hook in one turn"},
      {"hub", "--tension", "tension", "F", "Pull of the motor"},
      {"weigh", "--reading", "reading", "M", "Of the scale"},
      {"weigh", "--zero", "zero", "M", "Of the scale without the parts, or with the tare alone"},
      {"weigh", "--count", "count", "N", "", Kind::whole},
      {"weigh", "--repeats", "repeats", "N", "Readings that the mean was taken of", Kind::whole},
      {"weigh", "--on-tare", "on_tare", "", "A tare of many digits lay on the scale", Kind::flag},
      {"weigh", "--humidity", "humidity", "RH", "Of the air when it was weighed"},
      {"weigh", "--to-humidity", "to_humidity", "RH", "Of the other air; left out: 50 %"},
      {"weigh", "--wanted", "wanted", "S", "Doubt wanted, to tell how many to weigh together"},
      {"ledger", "--weighed", "parts", "PART=MASS", "What a part weighs, e.g. \"Spars=52 mg\""},
      {"ledger", "--model-mass", "model_mass", "M", "With the propeller; left out: the job's"},
      {"shaking", "--angle-difference", "angle_difference", "A", "Between the blades"},
      {"shaking", "--hook-offset", "hook_offset", "L", "Half the hook's run-out"},
      {"shaking", "--spar-mismatch", "spar_mismatch", "S", "Of the spars' stiffness"},
      {"shaking", "--length-difference", "length_difference", "L", "Between the blades"},
      {"shaking", "--rev", "rev", "N", "Left out: the job's cruise"},
      {"shaking", "--tension", "tension", "F", ""}};
  return options;
}

Command bench_command() {
  return {.name = "bench",
          .purpose =
              "Stock, blades and their pair, twist test, tube, hub, weighings, weight ledger, "
              "shaking, replacement blade",
          .input = "SUBJECT",
          .input_help =
              "stock, blades, twist, tube, hub, weigh, ledger, shaking or replace; or a file, for "
              "all its tables",
          .input_required = true,
          .options = command_options(),
          .example =
              "  propwright bench examples/bench/lantern46.toml\n"
              "  propwright bench tube --spar-root \"2.3 mm\" --paper \"25 um\" --paper-areal "
              "\"12 g/m2\"\n"
              "  propwright bench weigh --reading \"64 mg\" --count 18 --wanted \"5 %\"\n"
              "  propwright bench ledger --job examples/lantern46.toml --weighed \"Spars=126 mg\"",
          .answer = answer_bench,
          .second_input = "FILE.toml",
          .second_input_help = "A file with the tables of the bench (docs/commands.md)"};
}

}  // namespace propwright::desk
