#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

#include "letters.h"
#include "propwright/base/table.h"
#include "propwright/logbook/flight_log.h"
#include "propwright/logbook/row_id.h"

namespace propwright::logbook {

namespace {

std::optional<double> number_of(const std::string& text) {
  double number = 0;
  const char* end = text.data() + text.size();
  const auto [stop, error] = std::from_chars(text.data(), end, number);
  if (error != std::errc() || stop != end || !std::isfinite(number)) return std::nullopt;
  return number;
}

std::vector<std::string> words_of(const std::string& text) {
  std::vector<std::string> words(1);
  for (const char c : text) {
    if (c == ' ' || c == ';' || c == '+' || c == '/') {
      words.emplace_back();
    } else if (c == '-') {
      words.back() += '_';
    } else {
      words.back() += static_cast<char>(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
    }
  }
  std::erase(words, std::string());
  return words;
}

/// Sets a flag; false where the word is none.
bool set_flag(Flight& flight, const std::string& word) {
  if (word == "aborted" || word == "abort") return flight.aborted = true;
  if (word == "steered" || word == "steer") return flight.steered = true;
  if (word == "hang_up" || word == "hung_up") return flight.hung_up = true;
  if (word == "left_out") return flight.left_out = true;
  return word == "ok" || word == "none";
}

void read_flags(const std::string& text, const std::string& file, Flight& flight,
                base::Problems& questions) {
  for (const std::string& word : words_of(text)) {
    if (set_flag(flight, word)) continue;
    flight.left_out = true;
    if (flight.reason.empty()) flight.reason = text;
    questions.push_back({.file = file,
                         .line = flight.line,
                         .field = "flag",
                         .value = text,
                         .allowed = "aborted, steered, hang_up, left_out, or nothing",
                         .remedy = "use one of these, and the column reason for words of your own",
                         .message = "unknown flag: the flight is kept and left out of the fits"});
  }
}

void read_cell(const Column& column, const base::Table& table, std::size_t row,
               const std::string& file, Flight& flight, base::Problems& problems) {
  const std::string name(column.name);
  if (column.text != nullptr) flight.*column.text = table.text(row, name);
  if (column.number == nullptr) return;
  const std::string text = table.number_text(row, name);
  if (text.empty()) return;
  flight.*column.number = number_of(text);
  if (flight.*column.number) return;
  problems.push_back({.file = file,
                      .line = flight.line,
                      .field = name,
                      .value = text,
                      .allowed = "a number in SI units, or nothing where it is not known",
                      .remedy = "correct the cell",
                      .message = "not a number"});
}

std::vector<std::string> known_names() {
  std::vector<std::string> names;
  names.reserve(columns().size() + 1);
  for (const Column& column : columns()) names.emplace_back(column.name);
  names.emplace_back("turns_backed_off");
  return names;
}

void check_columns(const base::Table& table, const std::string& file, base::Problems& problems) {
  for (const std::string& name : known_names()) {
    const auto& names = table.names();
    if (std::count(names.begin(), names.end(), name) > 1) {
      problems.push_back({.file = file,
                          .field = name,
                          .remedy = "remove or rename one of them",
                          .message = "the column is there twice"});
    }
  }
  if (table.has("propeller") || table.has("duration_s")) return;
  problems.push_back(
      {.file = file,
       .field = "propeller",
       .allowed = "a first line that names the columns, as in docs/flight-log-file.md",
       .remedy = "name the columns: propeller, duration_s and what else is known",
       .message = "no column of a flight log was found"});
}

base::Problem ask_backed_off(const Flight& flight, const std::string& file, double turns,
                             std::string allowed, std::string remedy, std::string message) {
  return {.file = file,
          .line = flight.line,
          .field = "turns_backed_off",
          .value = fmt::format("{}", turns),
          .allowed = std::move(allowed),
          .remedy = std::move(remedy),
          .message = std::move(message)};
}

/// Builders log turns in, out and left: what is at launch is in less out. Where neither is known,
/// the turns let out teach nothing by themselves; they are kept in the notes.
void take_backed_off(double turns, const std::string& file, Flight& flight, base::Problems& asked) {
  if (flight.turns_at_launch && flight.turns_wound) {
    const double out = *flight.turns_wound - *flight.turns_at_launch;
    if (std::abs(out - turns) < 0.5) return;
    asked.push_back(ask_backed_off(flight, file, turns, fmt::format("{}, wound less launched", out),
                                   "correct one of the three; turns at launch are taken as written",
                                   "turns wound, backed off and at launch do not fit together"));
  } else if (flight.turns_wound) {
    flight.turns_at_launch = *flight.turns_wound - turns;
  } else if (flight.turns_at_launch) {
    flight.turns_wound = *flight.turns_at_launch + turns;
  } else {
    flight.notes += fmt::format("{}turns backed off {}, turns wound not known",
                                flight.notes.empty() ? "" : "; ", turns);
    asked.push_back(ask_backed_off(flight, file, turns, "turns_wound in the same row",
                                   "give the turns wound, or leave both empty",
                                   "turns backed off say nothing without the turns wound: they are "
                                   "kept in the notes"));
  }
}

void read_backed_off(const std::string& text, const std::string& file, Flight& flight,
                     base::Problems& problems, base::Problems& asked) {
  if (text.empty()) return;
  if (const auto turns = number_of(text)) return take_backed_off(*turns, file, flight, asked);
  problems.push_back({.file = file,
                      .line = flight.line,
                      .field = "turns_backed_off",
                      .value = text,
                      .allowed = "a number of turns, or nothing where it is not known",
                      .remedy = "correct the cell",
                      .message = "not a number"});
}

Flight read_row(const base::Table& table, std::size_t row, const std::string& file,
                base::Problems& problems, base::Problems& asked) {
  Flight flight;
  flight.line = table.line(row);
  for (const Column& column : columns()) {
    read_cell(column, table, row, file, flight, problems);
  }
  read_backed_off(table.number_text(row, "turns_backed_off"), file, flight, problems, asked);
  read_flags(table.text(row, "flag"), file, flight, asked);
  const base::Problems doubted = questions(flight, file);
  asked.insert(asked.end(), doubted.begin(), doubted.end());
  return flight;
}

}  // namespace

base::Expected<Log> read_csv(std::string_view csv, const std::string& file) {
  if (const int line = line_of_no_letter(csv); line > 0) {
    return base::fail({.file = file,
                       .line = line,
                       .allowed = "text in UTF-8",
                       .remedy = "save the table as CSV in UTF-8",
                       .message = "there are letters in another encoding than UTF-8"});
  }
  const std::vector<std::string> known = known_names();
  const auto table = base::Table::read_log(csv, known, file);
  if (!table) return base::fail(table.error());
  base::Problems problems;
  check_columns(*table, file, problems);
  Log log;
  log.passed_over = table->passed_over();
  for (const std::string& name : table->names()) {
    if (std::find(known.begin(), known.end(), name) == known.end()) {
      log.unknown_columns.push_back(name);
    }
  }
  log.flights.reserve(table->rows());
  log.row_ids.reserve(table->rows());
  RowIds ids;
  for (std::size_t row = 0; row < table->rows(); ++row) {
    log.flights.push_back(read_row(*table, row, file, problems, log.questions));
    const std::string made = ids.next(table->cells(row));
    const std::string& written = log.flights.back().id;
    log.row_ids.push_back(is_entry_id(written) ? written : made);
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  return log;
}

}  // namespace propwright::logbook
