#include <fmt/format.h>

#include <algorithm>

#include "command.h"
#include "files.h"
#include "propwright/answer/flight_merge.h"
#include "propwright/workshop/workshop.h"
#include "text_table.h"
#include "workshop_file.h"
#include "workshop_json.h"

namespace propwright::desk {
namespace {

namespace fs = std::filesystem;
using workshop::Workshop;

constexpr const char* actions[] = {"check",  "backup", "restore",
                                   "export", "import", "import-flights"};

/// All that a long life gathers: a hundred thousand flights are 70 MB, a photo is a third of one.
constexpr std::size_t largest_import_MB = 1024;

std::string counted(std::int64_t count, const std::string& what) {
  return fmt::format("{} {}{}", count, what, count == 1 ? "" : "s");
}

std::int64_t sum(const WorkshopAnswer& answer) {
  std::int64_t all = 0;
  for (const auto& [table, count] : answer.records) all += count;
  return all;
}

std::string remarks_of(const std::vector<int>& lines) {
  if (lines.empty()) return {};
  constexpr std::size_t most = 20;
  const std::vector<int> first(
      lines.begin(), lines.begin() + static_cast<std::ptrdiff_t>(std::min(most, lines.size())));
  return fmt::format("{} {}{} passed over: remarks, which begin with #.\n",
                     lines.size() == 1 ? "Line" : "Lines", fmt::join(first, ", "),
                     lines.size() > most ? fmt::format(" and {} more", lines.size() - most) : "");
}

std::string text_of(const WorkshopAnswer& answer) {
  TextTable table;
  for (const auto& [name, count] : answer.records) {
    if (count > 0) table.add({name, std::to_string(count)});
  }
  std::vector<std::string> questions;
  for (const base::Problem& question : answer.questions) {
    questions.push_back(base::to_line(question));
  }
  return answer.sentence + "\n" + table.text() +
         bullet_list("Kept as written, but questioned", questions) +
         bullet_list("Columns that are not known, not taken in", answer.unknown_columns) +
         remarks_of(answer.passed_over);
}

Answer print(const WorkshopAnswer& answer, const Arguments& arguments) {
  return arguments.json() ? workshop_json(answer) : text_of(answer);
}

/// Opens a file that must be there already.
base::Expected<Workshop> open_present(const fs::path& path) {
  workshop::Options options;
  options.create = false;
  return Workshop::open(path, options);
}

Answer check(const fs::path& path, const Arguments& arguments) {
  auto report = Workshop::check_file(path);
  if (!report) return no_answer(std::move(report.error()));
  if (!report->problems.empty()) return no_answer(std::move(report->problems));
  WorkshopAnswer done{.action = "check", .workshop = path.string(), .sentence = {}};
  done.schema_version = report->schema_version;
  done.size_bytes = report->size_bytes;
  done.records = report->records;
  done.sentence = fmt::format("{} is sound: {}, {} bytes.", path.string(),
                              counted(sum(done), "record"), report->size_bytes);
  return print(done, arguments);
}

Answer backup(const fs::path& path, const Arguments& arguments) {
  auto opened = open_present(path);
  if (!opened) return no_answer(std::move(opened.error()));
  if (auto copied = opened->backup_to(arguments.file); !copied) return no_answer(copied.error());
  auto report = Workshop::check_file(arguments.file);
  if (!report) return no_answer(std::move(report.error()));
  if (!report->problems.empty()) return no_answer(std::move(report->problems));
  WorkshopAnswer done{.action = "backup",
                      .workshop = path.string(),
                      .file = arguments.file,
                      .records = report->records,
                      .sentence = {}};
  done.sentence = fmt::format("{} is a checked copy of {}: {}.", arguments.file, path.string(),
                              counted(sum(done), "record"));
  return print(done, arguments);
}

Answer restore(const fs::path& path, const Arguments& arguments) {
  auto report = Workshop::restore_file(path, arguments.file);
  if (!report) return no_answer(std::move(report.error()));
  WorkshopAnswer done{.action = "restore",
                      .workshop = path.string(),
                      .file = arguments.file,
                      .kept_as = report->replaced_kept_as.string(),
                      .records = report->records,
                      .sentence = {}};
  done.sentence =
      fmt::format("{} now holds what {} held: {}. What it held before is kept as {}.",
                  path.string(), arguments.file, counted(sum(done), "record"), done.kept_as);
  return print(done, arguments);
}

Answer export_all(const fs::path& path, const Arguments& arguments) {
  auto opened = open_present(path);
  if (!opened) return no_answer(std::move(opened.error()));
  auto text = opened->export_json();
  if (!text) return no_answer(std::move(text.error()));
  if (arguments.file.empty()) return *text;
  if (auto written = write_whole(arguments.file, *text); !written) {
    return no_answer(std::move(written.error()));
  }
  WorkshopAnswer done{.action = "export",
                      .workshop = path.string(),
                      .file = arguments.file,
                      .sentence = fmt::format("{} holds every record of {}: {} bytes.",
                                              arguments.file, path.string(), text->size())};
  done.size_bytes = static_cast<std::int64_t>(text->size());
  return print(done, arguments);
}

Answer import_all(const fs::path& path, const Arguments& arguments) {
  const auto text = read_text(arguments.file, {}, largest_import_MB);
  if (!text) return no_answer(text.error());
  auto opened = Workshop::open(path);
  if (!opened) return no_answer(std::move(opened.error()));
  auto report = opened->import_json(*text, arguments.file);
  if (!report) return no_answer(std::move(report.error()));
  WorkshopAnswer done{.action = "import",
                      .workshop = path.string(),
                      .file = arguments.file,
                      .records = report->added,
                      .sentence = {}};
  done.skipped = report->skipped;
  done.sentence = fmt::format("{} added to {}, {} there already.", counted(sum(done), "record"),
                              path.string(), report->skipped);
  return print(done, arguments);
}

/// What is wrong with one flight of a file, named by its id. The flights before it are in.
base::Problems of_flight(base::Problems problems, const std::string& file,
                         const answer::FlightEntry& entry) {
  for (base::Problem& problem : problems) {
    problem.file = file;
    problem.field = fmt::format("flight {}: {}", entry.flight.id, problem.field);
  }
  return problems;
}

/// A flight that differs from the one that is there stays out; the Floor shows both.
Answer import_flights(const fs::path& path, const Arguments& arguments) {
  const auto text = read_text(arguments.file, {}, largest_import_MB);
  if (!text) return no_answer(text.error());
  auto file = answer::read_flight_file(*text, arguments.file);
  if (!file) return no_answer(file.error());
  auto opened = Workshop::open(path);
  if (!opened) return no_answer(std::move(opened.error()));
  answer::FlightMerge merge(*opened);
  WorkshopAnswer done{.action = "import-flights",
                      .workshop = path.string(),
                      .file = arguments.file,
                      .sentence = {}};
  done.questions = std::move(file->questions);
  done.unknown_columns = std::move(file->unknown_columns);
  done.passed_over = std::move(file->passed_over);
  std::int64_t added = 0, same = 0;
  for (const answer::FlightEntry& entry : file->entries) {
    const auto merged = merge.take(entry);
    if (!merged) return no_answer(of_flight(merged.error(), arguments.file, entry));
    const std::string_view what = merged->done;
    if (what == "added") ++added;
    if (what == "same") ++same;
    if (what == "conflict") done.differing.push_back(merged->present.id);
  }
  done.records = {{"flights", added}};
  done.skipped = same;
  done.sentence = fmt::format("{} added to {}, {} there already.", counted(added, "flight"),
                              path.string(), same);
  if (!done.differing.empty()) {
    done.sentence += fmt::format(
        " {} differ from what is there and were left out: take the file in on the Floor, which "
        "shows both ({}).",
        done.differing.size(), fmt::join(done.differing, ", "));
  }
  return print(done, arguments);
}

base::Problem unknown_action(const std::string& action) {
  const std::vector<std::string> known(std::begin(actions), std::end(actions));
  const std::string near = base::nearest_name(action, known);
  return {.field = "ACTION",
          .value = action,
          .allowed = fmt::format("{}", fmt::join(known, ", ")),
          .remedy = near.empty() ? "choose one of these" : "did you mean " + near + "?",
          .message = "there is no such action"};
}

Answer answer_workshop(const Arguments& arguments) {
  const std::string& action = arguments.input;
  if (std::find(std::begin(actions), std::end(actions), action) == std::end(actions)) {
    return wrong_usage({unknown_action(action)});
  }
  const bool needs_file =
      action == "backup" || action == "restore" || action == "import" || action == "import-flights";
  if (needs_file && arguments.file.empty()) {
    return wrong_usage({{.field = "FILE",
                         .remedy = fmt::format("write propwright workshop {} FILE", action),
                         .message = "the file is not given"}});
  }
  if (action == "check" && !arguments.file.empty()) {
    return wrong_usage({{.field = "FILE",
                         .value = arguments.file,
                         .remedy = "write --workshop " + arguments.file,
                         .message = "check looks at the workshop file itself"}});
  }
  const auto path = workshop_file(arguments);
  if (!path) return no_answer(path.error());
  if (action == "check") return check(*path, arguments);
  if (action == "backup") return backup(*path, arguments);
  if (action == "restore") return restore(*path, arguments);
  if (action == "export") return export_all(*path, arguments);
  if (action == "import-flights") return import_flights(*path, arguments);
  return import_all(*path, arguments);
}

}  // namespace

Command workshop_command() {
  return {.name = "workshop",
          .purpose = "Check, back up, restore, export or import your records",
          .input = "ACTION",
          .input_help =
              "check, backup FILE, restore FILE, export [FILE], import FILE or import-flights FILE",
          .input_required = true,
          .options = {workshop_option("Which records")},
          .example =
              "  propwright workshop backup my-backup.sqlite\n"
              "  propwright workshop export my-records.json",
          .answer = answer_workshop,
          .second_input = "FILE",
          .second_input_help = "The backup, the export or the log"};
}

}  // namespace propwright::desk
