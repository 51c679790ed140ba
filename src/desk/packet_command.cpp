#include <fmt/format.h>

#include <filesystem>

#include "command.h"
#include "files.h"
#include "paper.h"
#include "prediction.h"
#include "propwright/answer/json_answers.h"
#include "propwright/answer/packet.h"
#include "text_table.h"

namespace propwright::desk {
namespace {

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
  sheet::PacketOptions options = read_paper(arguments, reader);
  if (!reader.problems.empty()) return no_answer(std::move(reader.problems));
  const auto prediction = make_prediction(arguments.input, how);
  if (!prediction) return tl::unexpected<Failure>(prediction.error());
  options.profile = prediction->loaded.profile();
  const std::string folder = arguments.text("--output");
  auto files = sheet::write_packet(answer::packet_data(*prediction), options, folder);
  if (!files) return no_answer(as_paper_options(std::move(files.error())));
  const std::string path = (std::filesystem::path(folder) / "prediction.json").string();
  auto written = write_whole(path, answer::prediction_json(*prediction));
  if (!written) return no_answer(std::move(written.error()));
  files->push_back({path, "json", 1});
  return arguments.json() ? answer::files_json(*files) : packet_text(*prediction, *files);
}

}  // namespace

Command packet_command() {
  std::vector<Option> options{
      {"--output", "DIR", "Output", "Folder for the packet; made where needed", true, false, "-o"}};
  for (Option& option : paper_options()) options.push_back(std::move(option));
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
