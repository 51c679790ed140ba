#include "spars_print.h"

#include <algorithm>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "paper.h"
#include "propwright/sheet/bench_sheets.h"

namespace propwright::desk {
namespace {

/// "63 thou, 28 thou, 7.5 in", or with the middle as the second of four.
answer::Json wanted_of(const std::string& text) {
  std::vector<std::string> parts;
  for (std::size_t at = 0; at <= text.size();) {
    const std::size_t comma = std::min(text.find(',', at), text.size());
    const std::string part = text.substr(at, comma - at);
    const std::size_t first = part.find_first_not_of(' ');
    parts.push_back(first == part.npos
                        ? std::string()
                        : part.substr(first, part.find_last_not_of(' ') - first + 1));
    at = comma + 1;
  }
  answer::Json wanted = answer::Json::object();
  if (parts.size() == 3) wanted = {{"root", parts[0]}, {"tip", parts[1]}, {"length", parts[2]}};
  if (parts.size() == 4) {
    wanted = {{"root", parts[0]}, {"middle", parts[1]}, {"tip", parts[2]}, {"length", parts[3]}};
  }
  return wanted;
}

}  // namespace

std::vector<Option> spars_print_options() {
  const std::string output = "Output";
  std::vector<Option> options{
      {"--output", "DIR", output, "Folder for bench.pdf and its true-scale drawings as SVG", false,
       false, "-o"},
      {"--batch", "NAME", output, "Printed on every page and tag; left out: the file's name"},
      {"--taper", "SIZES", output,
       "Root, tip, length of a spar to be made, \"63 thou, 28 thou, 7.5 in\", for sanding block "
       "and gauge; left out: the smallest of the batch"}};
  for (Option& option : paper_options()) options.push_back(std::move(option));
  return options;
}

base::Expected<SparsPrint> read_spars_print(const Arguments& arguments) {
  OptionReader reader(arguments);
  SparsPrint print;
  print.directory = arguments.text("--output");
  print.how = read_paper(arguments, reader);
  answer::Json wishes{
      {"batch", arguments.text("--batch", std::filesystem::path(arguments.input).stem().string())}};
  if (arguments.has("--taper")) wishes["wanted"] = wanted_of(arguments.text("--taper"));
  auto read = answer::read_spar_print_wishes(wishes);
  if (read) {
    print.wishes = std::move(*read);
  } else {
    base::Problem problem = read.error().front();
    problem.field = "--taper";
    problem.value = arguments.text("--taper");
    problem.remedy = "write root, tip and length, \"63 thou, 28 thou, 7.5 in\"";
    reader.problems.push_back(std::move(problem));
  }
  if (!reader.problems.empty()) return base::fail(std::move(reader.problems));
  return print;
}

base::Expected<sheet::PacketFiles> print_spars(const SparsPrint& print,
                                               const answer::SparsAnswer& answer) {
  if (print.directory.empty()) return sheet::PacketFiles{};
  sheet::PacketOptions how = print.how;
  how.profile = answer.batch.profile;
  auto files = sheet::write_bench(answer::spars_sheets(answer, print.wishes), how, print.directory);
  if (!files) return base::fail(as_paper_options(std::move(files.error())));
  return files;
}

}  // namespace propwright::desk
