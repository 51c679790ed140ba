// Reading a job file: the TOML text against the table of fields, then the checks across fields.
// The only file that sees the TOML library, because that compiles slowly.
#include <fmt/format.h>
#include <toml++/toml.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <sstream>

#include "fields.h"
#include "propwright/brief/file.h"
#include "source.h"

namespace propwright::brief {

int Source::line(const std::string& name) const {
  for (std::string at = name; !at.empty(); at = section_of(at)) {
    const auto found = entries_.find(at);
    if (found != entries_.end() && found->second.line > 0) return found->second.line;
  }
  return 0;
}

std::string Source::text(const std::string& name) const {
  const auto found = entries_.find(name);
  return found == entries_.end() ? std::string() : found->second.text;
}

namespace {

constexpr const char* row_tables[] = {station_table, measured_angle_table, measured_chord_table,
                                      learned_direction_table};

std::string kind_of(const toml::node& node) {
  switch (node.type()) {
    case toml::node_type::table:
      return "a section";
    case toml::node_type::array:
      return "a list";
    case toml::node_type::string:
      return "text";
    case toml::node_type::integer:
    case toml::node_type::floating_point:
      return "a number";
    case toml::node_type::boolean:
      return "true or false";
    default:
      return "a date or time";
  }
}

int line_of(const toml::node& node) {
  return static_cast<int>(node.source().begin.line);
}

std::string written(const toml::node& node) {
  if (const auto* text = node.as_string()) return text->get();
  if (node.is_table() || node.is_array()) return {};
  std::ostringstream out;
  node.visit([&out](const auto& concrete) { out << concrete; });
  return out.str();
}

/// Safe to show on one line of a terminal: no control characters, not without end.
std::string one_line(std::string text) {
  constexpr std::size_t longest = 80;
  if (text.size() > longest) {
    text.resize(longest);
    while (!text.empty() && (static_cast<unsigned char>(text.back()) & 0xc0) == 0x80) {
      text.pop_back();  // not in the middle of a character
    }
    if (!text.empty() && static_cast<unsigned char>(text.back()) >= 0xc0) text.pop_back();
    text += "...";
  }
  for (char& c : text) {
    const auto code = static_cast<unsigned char>(c);
    if (code < 32 || code == 127) c = '?';
  }
  return text;
}

class Reader {
 public:
  Reader(const toml::table& root, const std::string& file) : root_(root), file_(file) {}

  base::Expected<Job> read() {
    learn_names();
    walk(root_, "");
    read_fields(job_fields(), job_, "", root_);
    read_rows(station_fields(), station_table, job_.propeller.stations);
    read_rows(measured_angle_fields(), measured_angle_table, job_.propeller.measured_angles);
    read_rows(measured_chord_fields(), measured_chord_table, job_.propeller.measured_chords);
    read_rows(learned_direction_fields(), learned_direction_table, job_.learned.directions);
    decide_blade_source();
    check_together(job_, source_, problems_);
    if (problems_.empty()) return job_;
    in_file_order();
    return base::fail(problems_);
  }

 private:
  void learn_names() {
    // The profile decides in which units ranges are shown, so it is read ahead of all others.
    if (root_.at_path("job.units").value<std::string>() == "inch") {
      profile_ = units::Profile::inch;
    }
    for (const auto& field : job_fields()) {
      keys_[section_of(field.name)].push_back(key_of(field.name));
      for (std::string at = section_of(field.name); !at.empty(); at = section_of(at)) {
        if (sections_.insert(at).second) keys_[section_of(at)].push_back(key_of(at));
      }
    }
    for (const std::string name : row_tables) keys_[section_of(name)].push_back(key_of(name));
  }

  /// Reports unknown names and sections that are no sections, and notes where everything stands.
  void walk(const toml::table& table, const std::string& prefix) {
    for (auto&& [key, node] : table) {
      const std::string name = prefix + std::string(key.str());
      const auto& known = keys_[prefix.empty() ? "" : prefix.substr(0, prefix.size() - 1)];
      const int line = static_cast<int>(key.source().begin.line);
      if (std::find(known.begin(), known.end(), key.str()) == known.end()) {
        unknown(name, std::string(key.str()), line, prefix);
        continue;
      }
      source_.add(name, {line, written(node), true});
      if (!sections_.contains(name)) continue;
      if (const auto* section = node.as_table()) {
        walk(*section, name + ".");
      } else {
        report(name, line, written(node), {},
               fmt::format("this is a section, but {} stands here", kind_of(node)),
               fmt::format("write [{}] on a line of its own and its fields below it", name));
      }
    }
  }

  void unknown(const std::string& name, const std::string& key, int line,
               const std::string& prefix) {
    const std::string section = prefix.empty() ? "" : prefix.substr(0, prefix.size() - 1);
    std::string near = base::nearest_name(key, keys_[section]);
    std::string where = prefix + near;
    if (near.empty()) {
      // A field known by this name in another section is the next best guess.
      for (const auto& field : job_fields()) {
        if (key_of(field.name) == key) near = where = field.name;
      }
    }
    report(name, line, {}, {}, "no field or section has this name",
           near.empty() ? "remove it or see the list of fields"
                        : fmt::format("did you mean \"{}\"?", where));
  }

  template <class Owner>
  void read_fields(const std::vector<Field<Owner>>& fields, Owner& owner, const std::string& prefix,
                   const toml::table& table) {
    for (const Field<Owner>& field : fields) {
      const std::string name = prefix + field.name;
      const toml::node* node = table.at_path(field.name).node();
      if (node == nullptr) {
        if (field.required && !inside_broken_section(name)) missing(field, name);
        continue;
      }
      if (const std::optional<Value> value = read_value(*node, field, name)) {
        field.set(owner, *value);
      }
    }
  }

  bool inside_broken_section(const std::string& name) const {
    return !source_.sound(section_of(name));
  }

  void missing(const FieldFacts& field, const std::string& name) {
    report(name, source_.line(section_of(name)), {}, allowed_range(field, profile_),
           "this field is needed and is not given", "add it");
  }

  template <class Row>
  void read_rows(const std::vector<Field<Row>>& fields, const std::string& name,
                 std::vector<Row>& rows) {
    const toml::node* node = root_.at_path(name).node();
    if (node == nullptr || inside_broken_section(name)) return;
    const toml::array* list = node->as_array();
    if (list == nullptr || list->empty() || !list->is_array_of_tables()) {
      report(name, line_of(*node), written(*node), {}, "this is a table of rows",
             fmt::format("write [[{}]] on a line of its own above each row", name));
      return;
    }
    for (const toml::node& entry : *list) {
      const std::string row_name = fmt::format("{}[{}]", name, rows.size() + 1);
      const toml::table& table = *entry.as_table();
      source_.add(row_name, {line_of(table), {}, true});
      for (auto&& [key, value] : table) {
        const std::string field_name = row_name + "." + std::string(key.str());
        const int line = static_cast<int>(key.source().begin.line);
        source_.add(field_name, {line, written(value), true});
        check_row_key(fields, std::string(key.str()), field_name, line);
      }
      rows.emplace_back();
      read_fields(fields, rows.back(), row_name + ".", table);
    }
  }

  template <class Row>
  void check_row_key(const std::vector<Field<Row>>& fields, const std::string& key,
                     const std::string& name, int line) {
    std::vector<std::string> known;
    known.reserve(fields.size());
    for (const auto& field : fields) known.push_back(field.name);
    if (std::find(known.begin(), known.end(), key) != known.end()) return;
    const std::string near = base::nearest_name(key, known);
    report(name, line, {}, fmt::format("{}", fmt::join(known, ", ")),
           "a row has no field of this name",
           near.empty() ? "remove it" : fmt::format("did you mean \"{}\"?", near));
  }

  std::optional<Value> read_value(const toml::node& node, const FieldFacts& field,
                                  const std::string& name) {
    switch (field.kind) {
      case Kind::quantity:
      case Kind::difference:
        return read_quantity(node, field, name);
      case Kind::whole:
        return read_whole(node, field, name);
      case Kind::words:
        return read_word(node, field, name);
      case Kind::flag:
        if (const auto* value = node.as_boolean()) return Value(value->get());
        wrong_kind(node, field, name, "true or false, without quotes, is wanted");
        return std::nullopt;
      case Kind::text:
      case Kind::file:
        return read_text(node, field, name);
    }
    return std::nullopt;
  }

  std::optional<Value> read_quantity(const toml::node& node, const FieldFacts& field,
                                     const std::string& name) {
    const bool number = node.is_integer() || node.is_floating_point();
    if (number && field.dimension == units::Dimension::ratio) {
      return in_range(*node.value<double>(), written(node), field, name);
    }
    if (number) {
      const std::string unit = units::print(field.high, field.dimension, profile_).unit;
      report(name, line_of(node), written(node), units::accepted_units(field.dimension),
             "the unit is missing",
             fmt::format("write the unit with it, in quotes: {} = \"{} {}\"", key_of(field.name),
                         written(node), unit));
      return std::nullopt;
    }
    const auto* text = node.as_string();
    if (text == nullptr) {
      wrong_kind(node, field, name, "a quantity is wanted");
      return std::nullopt;
    }
    auto value = units::parse(text->get(), field.dimension, name);
    if (value && field.kind == Kind::difference) {
      // 2 degF is a difference here: the zero of the scale is taken off again.
      const auto zero = units::parse("0 " + split_quantity(text->get()).second, field.dimension);
      if (zero) *value -= *zero;
    }
    if (value) return in_range(*value, text->get(), field, name);
    for (const base::Problem& problem : value.error()) {
      report(name, line_of(node), problem.value, problem.allowed, problem.message, problem.remedy);
    }
    return std::nullopt;
  }

  std::optional<Value> in_range(double value, const std::string& text, const FieldFacts& field,
                                const std::string& name) {
    // The last digits of a unit's conversion must not push a value at the very limit over it.
    const double slack = 1e-12 * std::max(std::abs(field.low), std::abs(field.high));
    if (value >= field.low - slack && value <= field.high + slack) return Value(value);
    const std::string near = did_you_mean(text, field);
    report(name, source_.line(name), text, allowed_range(field, profile_),
           !std::isfinite(value) ? "this is not a finite number"
           : value < field.low   ? "the value is too small"
                                 : "the value is too large",
           near.empty() ? "give a value in this range" : near);
    return std::nullopt;
  }

  std::optional<Value> read_whole(const toml::node& node, const FieldFacts& field,
                                  const std::string& name) {
    const auto* value = node.as_integer();
    if (value == nullptr) {
      wrong_kind(node, field, name, "a whole number, without quotes, is wanted");
      return std::nullopt;
    }
    const auto number = static_cast<double>(value->get());
    if (number >= field.low && number <= field.high) return Value(static_cast<int>(value->get()));
    report(name, line_of(node), written(node), allowed_range(field, profile_),
           number < field.low ? "the number is too small" : "the number is too large",
           "give a whole number in this range");
    return std::nullopt;
  }

  std::optional<Value> read_word(const toml::node& node, const FieldFacts& field,
                                 const std::string& name) {
    const auto* text = node.as_string();
    if (text == nullptr) {
      wrong_kind(node, field, name, "one of a few words, in quotes, is wanted");
      return std::nullopt;
    }
    const auto found = std::find(field.words.begin(), field.words.end(), text->get());
    if (found != field.words.end()) return Value(static_cast<int>(found - field.words.begin()));
    const std::string near = base::nearest_name(text->get(), field.words);
    report(name, line_of(node), text->get(), allowed_range(field, profile_),
           "this word is not known here",
           near.empty() ? "use one of these words" : fmt::format("did you mean \"{}\"?", near));
    return std::nullopt;
  }

  std::optional<Value> read_text(const toml::node& node, const FieldFacts& field,
                                 const std::string& name) {
    const auto* text = node.as_string();
    if (text == nullptr) {
      wrong_kind(node, field, name, "text in quotes is wanted");
      return std::nullopt;
    }
    const std::string& value = text->get();
    if (value.empty() && field.required) {
      report(name, line_of(node), {}, {}, "the text is empty", "write something here");
      return std::nullopt;
    }
    if (static_cast<double>(value.size()) > field.high) {
      report(name, line_of(node), value, fmt::format("up to {:.0f} bytes", field.high),
             "the text is too long", "shorten it");
      return std::nullopt;
    }
    const bool lines = field.name == "job.note";
    const bool clean = std::none_of(value.begin(), value.end(), [lines](char c) {
      const auto code = static_cast<unsigned char>(c);
      return (code < 32 && !(lines && (c == '\n' || c == '\t'))) || code == 127;
    });
    if (clean) return Value(value);
    report(name, line_of(node), {}, "printable characters", "the text holds a control character",
           "remove it; only a note may run over lines");
    return std::nullopt;
  }

  void wrong_kind(const toml::node& node, const FieldFacts& field, const std::string& name,
                  const std::string& wanted) {
    const bool units_wanted = field.kind == Kind::quantity || field.kind == Kind::difference;
    report(name, line_of(node), written(node),
           units_wanted ? units::accepted_units(field.dimension) : allowed_range(field, profile_),
           fmt::format("{}, but {} stands here", wanted, kind_of(node)),
           units_wanted ? "write a number and a unit in quotes" : "write it so");
  }

  void decide_blade_source() {
    if (source_.given(station_table)) {
      job_.propeller.source = BladeSource::stations;
    } else if (source_.given(measured_angle_table)) {
      job_.propeller.source = BladeSource::measured;
    }
  }

  void report(const std::string& name, int line, std::string value, std::string allowed,
              std::string message, std::string remedy) {
    if (!source_.given(name)) source_.add(name, {line, value, false});
    source_.spoil(name);
    problems_.push_back({.line = line,
                         .field = one_line(name),
                         .value = one_line(std::move(value)),
                         .allowed = std::move(allowed),
                         .remedy = std::move(remedy),
                         .message = std::move(message)});
  }

  /// By line; problems without one (a whole section is missing) at the end.
  void in_file_order() {
    for (base::Problem& problem : problems_) problem.file = file_;
    const auto place = [](const base::Problem& p) { return p.line > 0 ? p.line : 1 << 30; };
    std::stable_sort(problems_.begin(), problems_.end(),
                     [&](const auto& a, const auto& b) { return place(a) < place(b); });
  }

  const toml::table& root_;
  const std::string& file_;
  Job job_;
  Source source_;
  base::Problems problems_;
  units::Profile profile_ = units::Profile::metric;
  std::map<std::string, std::vector<std::string>> keys_;  // by section, "" for the top
  std::set<std::string> sections_;
};

}  // namespace

base::Expected<Job> read_job(std::string_view toml, const std::string& file) {
  try {
    const toml::table root = toml::parse(toml, file);
    return Reader(root, file).read();
  } catch (const toml::parse_error& error) {
    return base::fail({.file = file,
                       .line = static_cast<int>(error.source().begin.line),
                       .remedy = "mend this line; every line is a [section] or name = value, and "
                                 "text stands in quotes",
                       .message = fmt::format("the file cannot be read as TOML: {}",
                                              std::string(error.description()))});
  }
}

}  // namespace propwright::brief
