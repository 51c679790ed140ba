#include "paper.h"

#include <fmt/format.h>

#include <ctime>

namespace propwright::desk {

std::string today() {
  const std::time_t now = std::time(nullptr);
  std::tm local{};
  localtime_r(&now, &local);
  return fmt::format("{:04}-{:02}-{:02}", local.tm_year + 1900, local.tm_mon + 1, local.tm_mday);
}

std::vector<Option> paper_options() {
  const std::string paper = "The paper";
  return {{"--paper", "SIZE", paper, "a4 or letter; left out: a4"},
          {"--bar-measured", "L", paper,
           "What the 100 mm bar of an earlier print measured, e.g. \"99.2 mm\""},
          {"--date", "DATE", paper, "Printed on every page, e.g. 2026-11-25; left out: today"}};
}

sheet::PacketOptions read_paper(const Arguments& arguments, OptionReader& reader) {
  sheet::PacketOptions options;
  options.paper =
      reader.word("--paper", {"a4", "letter"}) == "a4" ? sheet::Paper::a4 : sheet::Paper::letter;
  options.bar_measured_m =
      reader.quantity("--bar-measured", units::Dimension::length, {0.095, 0.105});
  options.date = arguments.text("--date", today());
  return options;
}

base::Problems as_paper_options(base::Problems problems) {
  for (base::Problem& problem : problems) {
    if (problem.field == "bar_measured") problem.field = "--bar-measured";
    if (problem.field == "date") problem.field = "--date";
  }
  return problems;
}

}  // namespace propwright::desk
