#include <fmt/format.h>

#include <ctime>
#include <filesystem>

#include "command.h"
#include "files.h"
#include "prediction.h"
#include "propwright/answer/json_answers.h"
#include "propwright/answer/packet.h"
#include "text_table.h"

namespace propwright::desk {
namespace {

using D = units::Dimension;

std::string today() {
  const std::time_t now = std::time(nullptr);
  std::tm local{};
  localtime_r(&now, &local);
  return fmt::format("{:04}-{:02}-{:02}", local.tm_year + 1900, local.tm_mon + 1, local.tm_mday);
}

/// The drawing names its settings as members; here they are options.
base::Problems as_options(base::Problems problems) {
  for (base::Problem& problem : problems) {
    if (problem.field == "bar_measured") problem.field = "--bar-measured";
    if (problem.field == "date") problem.field = "--date";
  }
  return problems;
}

std::string packet_text(const Prediction& prediction, const sheet::PacketFiles& files) {
  std::string out = answer::headline(prediction) + "\n\n";
  TextTable table;
  for (const sheet::PacketFile& file : files) {
    table.add({file.path, file.kind == "pdf" ? fmt::format("{} pages", file.pages) : ""});
  }
  out += table.text() + bullet_list("Warnings", prediction.warnings);
  return out + "\nPrint packet.pdf at 100 % and measure its 100 mm bar before you cut.\n";
}

Answer answer_packet(const Arguments& arguments) {
  OptionReader reader(arguments);
  const PredictionOptions how = read_interval_options(arguments, reader);
  sheet::PacketOptions options;
  options.paper =
      reader.word("--paper", {"a4", "letter"}) == "a4" ? sheet::Paper::a4 : sheet::Paper::letter;
  options.bar_measured_m = reader.quantity("--bar-measured", D::length, {0.095, 0.105});
  options.date = arguments.text("--date", today());
  if (!reader.problems.empty()) return no_answer(std::move(reader.problems));
  const auto prediction = make_prediction(arguments.input, how);
  if (!prediction) return tl::unexpected<Failure>(prediction.error());
  options.profile = prediction->loaded.profile();
  const std::string folder = arguments.text("--output");
  auto files = sheet::write_packet(answer::packet_data(*prediction), options, folder);
  if (!files) return no_answer(as_options(std::move(files.error())));
  const std::string path = (std::filesystem::path(folder) / "prediction.json").string();
  auto written = write_whole(path, answer::prediction_json(*prediction));
  if (!written) return no_answer(std::move(written.error()));
  files->push_back({path, "json", 1});
  return arguments.json() ? answer::files_json(*files) : packet_text(*prediction, *files);
}

}  // namespace

Command packet_command() {
  const std::string paper = "The paper";
  std::vector<Option> options{
      {"--output", "DIR", "Output", "Folder for the packet; made where needed", true, false, "-o"},
      {"--paper", "SIZE", paper, "a4 or letter; left out: a4"},
      {"--bar-measured", "L", paper,
       "What the 100 mm bar of an earlier print measured, e.g. \"99.2 mm\""},
      {"--date", "DATE", paper, "Printed on every page, e.g. 2026-11-25; left out: today"}};
  for (Option& option : interval_options()) options.push_back(std::move(option));
  return {.name = "packet",
          .purpose = "The build packet of a job: templates, tables and charts to print",
          .input = "JOB.toml",
          .input_help = "The job file (docs/job-file.md)",
          .input_required = true,
          .options = std::move(options),
          .example =
              "  propwright packet examples/lantern46.toml -o packet\n"
              "  propwright packet examples/lantern46.toml -o packet --bar-measured "
              "\"99.2 mm\"",
          .answer = answer_packet};
}

}  // namespace propwright::desk
