// Spars as CSV, in SI, a row for each repeat.
#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>
#include <tuple>

#include "propwright/answer/document.h"
#include "propwright/answer/spars_files.h"
#include "propwright/base/table.h"
#include "spars_parts.h"

namespace propwright::answer {
namespace {

using D = units::Dimension;

struct CsvColumn {
  const char* name;
  const char* requested;  ///< its name in a state of the request
  D dimension;
  bool reading = false;
};
constexpr CsvColumn csv_columns[] = {{"width_root_m", "root_width", D::length},
                                     {"depth_root_m", "root_depth", D::length},
                                     {"width_mid_m", "middle_width", D::length},
                                     {"depth_mid_m", "middle_depth", D::length},
                                     {"width_tip_m", "tip_width", D::length},
                                     {"depth_tip_m", "tip_depth", D::length},
                                     {"corner_radius_m", "corner_radius", D::length},
                                     {"length_m", "length", D::length},
                                     {"mass_kg", "mass", D::mass},
                                     {"reading_0_m", "reading_0", D::length, true},
                                     {"reading_90_m", "reading_90", D::length, true},
                                     {"reading_45_m", "reading_45", D::length, true}};
constexpr const char* needed_columns[] = {"id",      "width_root_m", "width_tip_m", "length_m",
                                          "mass_kg", "reading_0_m",  "reading_90_m"};
/// What spars_csv adds; passed over when it is read again.
constexpr const char* found_columns[] = {"modulus_0_Pa", "modulus_90_Pa",  "ei_0_Nm2",
                                         "ei_90_Nm2",    "sigma_relative", "soft_axis_deg",
                                         "partner",      "turn_deg",       "verdict"};

/// The names of the columns and the line they stand in, from 1.
std::pair<std::vector<std::string>, int> csv_header_of(std::string_view csv) {
  if (csv.substr(0, 3) == "\xEF\xBB\xBF") csv.remove_prefix(3);
  for (int line = 1; !csv.empty(); ++line) {
    const std::size_t end = std::min(csv.find('\n'), csv.size());
    const std::string_view text = csv.substr(0, end);
    csv.remove_prefix(std::min(end + 1, csv.size()));
    const auto first = text.find_first_not_of(" \t\r");
    if (first == text.npos || text[first] == '#') continue;
    std::vector<std::string> names(1);
    for (const char c : text) {
      if (c == ',') names.emplace_back();
      if (c != ',' && c != ' ' && c != '\r' && c != '\t' && c != '"') names.back() += c;
    }
    return {names, line};
  }
  return {};
}

/// The table, without the rows that have the wrong number of cells; these are told.
std::optional<base::Table> csv_table_of(std::string text, const std::string& file,
                                        base::Problems& problems) {
  auto table = base::Table::read(text, {}, file, true);
  if (table) return std::move(*table);
  std::set<int> wrong;
  for (const base::Problem& problem : table.error()) wrong.insert(problem.line);
  std::string rest;
  int line = 0;
  for (std::size_t at = 0; at < text.size(); ++line) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    rest += wrong.contains(line + 1) ? "#" : text.substr(at, end - at);
    rest += '\n';
    at = end + 1;
  }
  problems = table.error();
  if (wrong.contains(csv_header_of(text).second)) return std::nullopt;
  table = base::Table::read(rest, {}, file, true);
  if (!table) return std::nullopt;
  return std::move(*table);
}

class CsvReader {
 public:
  CsvReader(std::string_view csv, const std::string& file, units::Profile profile)
      : file_(file), profile_(profile) {
    found_.spars = Json::array();
    std::tie(header_, header_line_) = csv_header_of(csv);
    table_ = csv_table_of(std::string(csv), file, found_.problems);
  }

  SparsOfCsv read() {
    if (!table_ || !check_columns()) return std::move(found_);
    for (std::size_t row = 0; row < table_->rows(); ++row) read_row(row);
    for (const std::string& id : doubtful_) drop(id);
    return std::move(found_);
  }

 private:
  void tell(int line, const std::string& field, const std::string& value, std::string allowed,
            std::string remedy, std::string message) {
    found_.problems.push_back({.file = file_,
                               .line = line,
                               .field = field,
                               .value = value,
                               .allowed = std::move(allowed),
                               .remedy = std::move(remedy),
                               .message = std::move(message)});
  }

  bool check_columns() {
    bool sound = true;
    for (const char* const name : needed_columns) {
      if (table_->has(name)) continue;
      sound = false;
      tell(header_line_, name, "", fmt::format("columns {}", fmt::join(known_names(), ", ")),
           "add the column", "this column is missing");
    }
    for (const std::string& name : header_) {
      const std::vector<std::string> known = known_names();
      const auto is_name = [&](const std::string& each) { return each == name; };
      if (std::any_of(known.begin(), known.end(), is_name)) continue;
      if (std::any_of(std::begin(found_columns), std::end(found_columns), is_name)) continue;
      const std::string near = base::nearest_name(name, known);
      tell(header_line_, name, "", fmt::format("columns {}", fmt::join(known, ", ")),
           near.empty() ? "remove the column" : "did you mean " + near + "?",
           "unknown column; it is passed over");
    }
    return sound;
  }

  static std::vector<std::string> known_names() {
    std::vector<std::string> names{"id", "shape"};
    for (const CsvColumn& column : csv_columns) names.emplace_back(column.name);
    return names;
  }

  void read_row(std::size_t row) {
    const int line = table_->line(row);
    const std::string id = table_->text(row, "id");
    if (id.empty()) {
      return tell(line, "id", "", "1 to 80 letters", "give the spar a number or a name",
                  "the spar has no id");
    }
    Json spar{{"id", id}}, state = Json::object();
    bool sound = true;
    const std::string shape = table_->text(row, "shape");
    if (!shape.empty()) spar["shape"] = shape;
    for (const CsvColumn& column : csv_columns) {
      const std::string cell = table_->number_text(row, column.name);
      if (cell.empty()) continue;
      const auto text = with_unit(cell, column);
      if (!text) {
        sound = false;
        tell(line, column.name, cell, "a number in SI units, without text", "correct the cell",
             "not a number");
      } else if (column.name == std::string_view("length_m")) {
        spar["length"] = *text;
      } else if (column.reading) {
        state[column.requested] = Json::array({*text});
      } else {
        state[column.requested] = *text;
      }
    }
    if (sound) merge(std::move(spar), std::move(state), line);
  }

  std::optional<std::string> with_unit(const std::string& cell, const CsvColumn& column) const {
    double number = 0;
    const char* const end = cell.data() + cell.size();
    const auto [stop, error] = std::from_chars(cell.data(), end, number);
    if (error != std::errc() || stop != end || !std::isfinite(number)) return std::nullopt;
    const bool inch = profile_ == units::Profile::inch;
    const bool mass = column.dimension == D::mass;
    const double small = mass ? 1e-6 : inch ? 25.4e-6 : 1e-3;
    const std::string plain = fmt::format("{:.12g} {}", number / small,
                                          mass   ? "mg"
                                          : inch ? "thou"
                                                 : "mm");
    const auto again = units::parse(plain, column.dimension);
    // Within a few units of the last digit that a double has: no scale shows a difference.
    if (again && std::abs(*again - number) <= 1e-15 * std::abs(number)) return plain;
    return units::to_exact_text(number, column.dimension, profile_);
  }

  /// A further row of a spar adds repeats; all but the readings must be the same.
  void merge(Json spar, Json state, int line) {
    const std::string id = spar["id"];
    const auto present = numbers_.find(id);
    if (present == numbers_.end()) {
      const std::size_t number = found_.spars.size();
      numbers_[id] = number;
      const std::string field = fmt::format("spars[{}]", number + 1);
      for (const auto& [name, value] : spar.items()) found_.lines[field + "." + name] = line;
      for (const auto& [name, value] : state.items()) {
        const std::string where = field + ".states[1]." + name;
        found_.lines[value.is_array() ? where + "[1]" : where] = line;
      }
      found_.lines[field] = line;
      spar["states"] = Json::array({std::move(state)});
      found_.spars.push_back(std::move(spar));
      return;
    }
    Json& before = found_.spars[present->second];
    const std::string differs = difference(before, spar, state);
    if (!differs.empty()) {
      tell(line, differs, table_text(differs, spar, state), "the same as in the spar's first row",
           "give one of the two spars another id, or correct the size",
           "two rows of spar " + id + " differ; it is left out");
      doubtful_.insert(id);
      return;
    }
    add_repeats(before["states"][0], state, present->second, line);
  }

  static std::string table_text(const std::string& column, const Json& spar, const Json& state) {
    for (const CsvColumn& each : csv_columns) {
      if (column != each.name) continue;
      const Json& holder = column == "length_m" ? spar : state;
      return holder.contains(each.requested) ? holder[each.requested].get<std::string>() : "";
    }
    return spar.contains(column) ? spar[column].get<std::string>() : "";
  }

  /// The first column in which they differ, readings apart.
  static std::string difference(const Json& before, const Json& spar, const Json& state) {
    const auto differs = [](const Json& a, const Json& b, const char* name) {
      return a.contains(name) != b.contains(name) || (a.contains(name) && a[name] != b[name]);
    };
    if (differs(before, spar, "shape")) return "shape";
    for (const CsvColumn& column : csv_columns) {
      if (column.reading) continue;
      const bool of_spar = column.name == std::string_view("length_m");
      const Json& first = of_spar ? before : before["states"][0];
      if (differs(first, of_spar ? spar : state, column.requested)) return column.name;
    }
    return {};
  }

  void add_repeats(Json& before, const Json& state, std::size_t number, int line) {
    for (const CsvColumn& column : csv_columns) {
      if (!column.reading || !state.contains(column.requested)) continue;
      Json& list = before[column.requested];
      if (!list.is_array()) list = Json::array();
      found_.lines[fmt::format("spars[{}].states[1].{}[{}]", number + 1, column.requested,
                               list.size() + 1)] = line;
      list.push_back(state[column.requested][0]);
    }
  }

  /// A spar of which it is not known what is true: listed, not measured.
  void drop(const std::string& id) { found_.spars[numbers_[id]].erase("states"); }

  std::string file_;
  units::Profile profile_;
  std::vector<std::string> header_;
  int header_line_ = 0;
  std::optional<base::Table> table_;
  SparsOfCsv found_;
  std::map<std::string, std::size_t> numbers_;
  std::set<std::string> doubtful_;
};

/// As many digits as a length or mass can have.
std::string csv_cell(const std::optional<double>& value) {
  return value ? fmt::format("{:.12g}", *value) : std::string();
}

std::string csv_quoted(const std::string& text) {
  return text.find(',') == text.npos ? text : '"' + text + '"';
}

const SparPair* csv_pair_of(const SparsAnswer& answer, const std::string& id) {
  const auto found =
      std::find_if(answer.pairs.begin(), answer.pairs.end(),
                   [&](const SparPair& pair) { return pair.pair.a == id || pair.pair.b == id; });
  return found == answer.pairs.end() ? nullptr : &*found;
}

std::string found_cells(const SparAnswer& spar, const SparsAnswer& answer) {
  const spar::Measured* const m = spar.measured();
  if (m == nullptr) return ",,,,,,,,";
  const SparPair* const pair = csv_pair_of(answer, spar.id);
  std::string row = fmt::format(
      "{:.6g},{:.6g},{:.6g},{:.6g},{:.4g},{}", m->at_0.modulus_Pa.value, m->at_90.modulus_Pa.value,
      m->at_0.ei_Nm2, m->at_90.ei_Nm2,
      std::max(m->at_0.ei_sigma_relative, m->at_90.ei_sigma_relative),
      m->axes.has_direction ? fmt::format("{:.4g}", m->axes.soft_axis_deg) : std::string());
  if (pair == nullptr) return row + ",,,";
  const double turn_deg = spar.id == pair->pair.a ? pair->pair.turn_a_deg : pair->pair.turn_b_deg;
  return row + fmt::format(",{},{:.4g},{}", csv_quoted(spar.partner), turn_deg,
                           verdict_word(pair->pair.verdict));
}

std::string size_cells(const SparAnswer& spar, const SparState* state) {
  std::string row;
  const bool has_middle = state != nullptr && state->taper && state->taper->stations.size() > 2;
  for (const double share : {0.0, 0.5, 1.0}) {
    if (state == nullptr || !state->taper || (share == 0.5 && !has_middle)) {
      row += ",,";
      continue;
    }
    const auto section = spar::section_at(*state->taper, share * *spar.length_m);
    row += "," + csv_cell(section.width_m) + "," + csv_cell(section.depth_m);
  }
  const bool corners =
      state != nullptr && state->taper && spar.shape == spar::Shape::rounded_square;
  row += "," + (corners ? csv_cell(state->taper->stations.front().section.corner_radius_m) : "");
  row += "," + csv_cell(spar.length_m);
  return row + "," + (state == nullptr ? "" : csv_cell(state->mass_kg));
}

}  // namespace

SparsOfCsv spars_of_csv(std::string_view csv, const std::string& file, units::Profile profile) {
  return CsvReader(csv, file, profile).read();
}

base::Problem in_csv(base::Problem problem, const SparsOfCsv& csv, const std::string& file) {
  if (!problem.field.starts_with("spars[")) return problem;
  auto place = csv.lines.find(problem.field);
  if (place == csv.lines.end()) {
    place = csv.lines.find(problem.field.substr(0, problem.field.find(']') + 1));
  }
  problem.file = file;
  problem.line = place == csv.lines.end() ? 0 : place->second;
  std::string name = problem.field.substr(problem.field.rfind('.') + 1);
  name = name.substr(0, name.find('['));
  for (const CsvColumn& column : csv_columns) {
    if (name == column.requested) problem.field = column.name;
  }
  if (name == "id" || name == "shape") problem.field = name;
  return problem;
}

std::string spars_csv(const SparsAnswer& answer) {
  std::string text = "id,shape";
  for (const CsvColumn& column : csv_columns) text += std::string(",") + column.name;
  for (const char* const name : found_columns) text += std::string(",") + name;
  text += "\n";
  for (std::size_t i = 0; i < answer.spars.size(); ++i) {
    const SparAnswer& spar = answer.spars[i];
    const SparState* const state =
        spar.latest < 0 ? nullptr : &spar.history[static_cast<std::size_t>(spar.latest)];
    const SparInput& input = answer.batch.spars[i];
    static const spar::Readings none;
    const spar::Readings& readings =
        state == nullptr ? none : input.states[static_cast<std::size_t>(spar.latest)].readings;
    const std::size_t rows = std::max(
        {std::size_t{1}, readings.at_0_m.size(), readings.at_90_m.size(), readings.at_45_m.size()});
    for (std::size_t row = 0; row < rows; ++row) {
      text += csv_quoted(spar.id) + "," + shape_word(spar.shape) + size_cells(spar, state);
      for (const auto* list : {&readings.at_0_m, &readings.at_90_m, &readings.at_45_m}) {
        text += "," + (row < list->size() ? csv_cell((*list)[row]) : "");
      }
      text += "," + found_cells(spar, answer) + "\n";
    }
  }
  return text;
}

base::Expected<Json> rig_of_toml(std::string_view toml, const std::string& file) {
  auto json = job_json(toml, file);
  if (!json) return json;
  base::Problems problems;
  for (const auto& [name, value] : json->items()) {
    if (name == "rig" && value.is_object()) continue;
    problems.push_back({.file = file,
                        .field = name,
                        .allowed = "the table [rig]",
                        .remedy = "leave it out, or put it under [rig]",
                        .message = "this does not belong here"});
  }
  if (!json->contains("rig")) {
    problems.push_back({.file = file,
                        .field = "rig",
                        .allowed = "the table [rig]",
                        .remedy = "begin the file with [rig]",
                        .message = "the table is wanting"});
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  return (*json)["rig"];
}

}  // namespace propwright::answer
