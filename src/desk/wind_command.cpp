#include <algorithm>

#include "files.h"
#include "floor_files.h"
#include "job_files.h"
#include "paper.h"
#include "propwright/answer/floor.h"

namespace propwright::desk {
namespace {

using answer::Json;

/// Options that stand for a place in the question.
struct WindOption {
  const char *option, *table, *key;
};
constexpr WindOption wind_options[] = {
    {"--temperature", "today", "temperature"}, {"--pressure", "today", "pressure"},
    {"--humidity", "today", "humidity"},       {"--roof", "today", "roof"},
    {"--winder-ratio", "", "winder_ratio"},    {"--risk", "breaking", "risk"}};

constexpr const char* floor_members[] = {"today", "meter", "winder_ratio", "breaking"};

/// Tables of `rubber` say a little more than the card asks for: the size of the motor to be wound,
/// which is that of each wind without one of its own.
void say_sizes(Json& breaking) {
  if (!breaking.is_object()) return;
  const auto winds = breaking.find("winds");
  if (winds != breaking.end() && winds->is_array()) {
    for (Json& wind : *winds) {
      if (!wind.is_object()) continue;
      const bool cut = wind.contains("section") || wind.contains("width");
      for (const char* own : {"section", "width", "thickness", "strands"}) {
        if (!cut && breaking.contains(own)) wind[own] = breaking[own];
      }
      if (!wind.contains("length") && breaking.contains("length")) {
        wind["length"] = breaking["length"];
      }
    }
  }
  for (const char* own : {"section", "width", "thickness", "strands", "length", "turns_constant"}) {
    breaking.erase(own);
  }
}

/// `floor` gets what the file of tables holds, where one is named.
base::Expected<Json> wind_question(const Arguments& arguments, FloorTables& floor) {
  auto question = job_document(arguments.input);
  if (!question) return question;
  if (!arguments.file.empty()) {
    auto read = floor_tables(arguments.file);
    if (!read) return base::fail(read.error());
    floor = std::move(*read);
    for (const char* name : floor_members) {
      if (floor.tables.contains(name)) (*question)[name] = floor.tables[name];
    }
    if (question->contains("breaking")) say_sizes((*question)["breaking"]);
  }
  for (const auto& [option, table, key] : wind_options) {
    if (!arguments.has(option)) continue;
    Json& into = *table == '\0' ? *question : (*question)[table];
    if (!into.is_object()) into = Json::object();
    into[key] = arguments.text(option);
  }
  // A chance that is asked for counts whatever is known.
  if (arguments.has("--risk")) (*question)["breaking"].erase("needs_breaks");
  return question;
}

bool is_of_floor(const std::string& field) {
  const std::string table = field.substr(0, field.find_first_of(".["));
  return std::find(std::begin(floor_members), std::end(floor_members), table) !=
         std::end(floor_members);
}

base::Problems wind_problems(base::Problems problems, const Arguments& arguments,
                             const FloorTables& floor) {
  for (base::Problem& problem : problems) {
    for (const auto& [option, table, key] : wind_options) {
      const std::string field = *table == '\0' ? key : std::string(table) + "." + key;
      if (problem.field == field && arguments.has(option)) problem.field = option;
    }
    if (problem.file == "job") problem.file = arguments.input;
    if (!problem.file.empty() || floor.file.empty() || !is_of_floor(problem.field)) continue;
    problem = floor.placed({problem}).front();
  }
  return problems;
}

Answer answer_wind(const Arguments& arguments) {
  OptionReader reader(arguments);
  sheet::PacketOptions paper = read_paper(arguments, reader);
  if (!reader.problems.empty()) return no_answer(std::move(reader.problems));
  FloorTables floor;
  const auto question = wind_question(arguments, floor);
  if (!question) return no_answer(question.error());
  const auto answer = answer::wind_document(*question);
  if (!answer) return no_answer(wind_problems(answer.error(), arguments, floor));
  if (arguments.has("--output")) {
    paper.profile = (*answer)["units"] == "inch" ? units::Profile::inch : units::Profile::metric;
    const auto pdf = sheet::winding_card_pdf(answer::winding_card(*answer), paper);
    if (!pdf) return no_answer(as_paper_options(pdf.error()));
    const auto written = write_whole(arguments.text("--output"), pdf->bytes);
    if (!written) return no_answer(written.error());
  }
  return arguments.json() ? answer::document(*answer) : wind_text(*answer);
}

}  // namespace

Command wind_command() {
  const std::string today = "Today, where it is not as in the job", winding = "Winding";
  std::vector<Option> options{
      {"--temperature", "T", today, "Of the hall, and of the rubber in it"},
      {"--pressure", "P", today, "Of the barometer in the hall"},
      {"--humidity", "RH", today, "0 to 1, or \"60 %\""},
      {"--roof", "H", today, "To the lowest thing a model can hit"},
      {"--winder-ratio", "N", winding, "Turns of the motor for one of the crank; left out: 1"},
      {"--risk", "R", winding,
       "Chance of a break that is taken, \"5 %\"; left out: the job's share of breaking turns"},
      {"--output", "FILE.pdf", "Output", "The card to print", false, false, "-o"}};
  for (Option& option : paper_options()) options.push_back(std::move(option));
  return {
      .name = "wind",
      .purpose = "The winding card: turns, torque on the way, back-off, and today's correction",
      .input = "JOB.toml",
      .input_help = "The job file (docs/job-file.md)",
      .input_required = true,
      .options = std::move(options),
      .example =
          "  propwright wind examples/lantern46.toml --temperature \"16 degC\" --winder-ratio 10\n"
          "  propwright wind examples/lantern46.toml examples/floor/box7.toml --roof \"9 m\"",
      .answer = answer_wind,
      .second_input = "FLOOR.toml",
      .second_input_help = "Tables today, meter and breaking (docs/commands.md)"};
}

}  // namespace propwright::desk
