// The only file of the module that sees the TOML library, because that compiles slowly.
#include <toml++/toml.h>

#include <nlohmann/json.hpp>
#include <sstream>

#include "propwright/answer/document.h"

namespace propwright::answer {
namespace {

Json value_of(const toml::node& node);

Json table_of(const toml::table& table) {
  // The order of the file, which the library does not keep, is that of the places in it.
  std::vector<std::pair<toml::source_position, std::string>> order;
  for (auto&& [key, node] : table) order.emplace_back(node.source().begin, std::string(key.str()));
  std::sort(order.begin(), order.end(),
            [](const auto& a, const auto& b) { return a.first < b.first; });
  Json json = Json::object();
  for (const auto& [place, key] : order) json[key] = value_of(*table.get(key));
  return json;
}

Json value_of(const toml::node& node) {
  if (const auto* table = node.as_table()) return table_of(*table);
  if (const auto* list = node.as_array()) {
    Json json = Json::array();
    for (const toml::node& element : *list) json.push_back(value_of(element));
    return json;
  }
  if (const auto* text = node.as_string()) return text->get();
  if (const auto* whole = node.as_integer()) return whole->get();
  if (const auto* number = node.as_floating_point()) return number->get();
  if (const auto* flag = node.as_boolean()) return flag->get();
  std::ostringstream date;
  node.visit([&date](const auto& concrete) { date << concrete; });
  return date.str();
}

int first_line(const toml::source_region& source) {
  return static_cast<int>(source.begin.line);
}

void note_lines(const toml::node& node, const std::string& name, FieldLines& lines) {
  if (const auto* table = node.as_table()) {
    for (auto&& [key, member] : *table) {
      const std::string word(key.str());
      const std::string path = name.empty() ? word : name + "." + word;
      lines[path] = first_line(key.source());
      note_lines(member, path, lines);
    }
  }
  if (const auto* list = node.as_array()) {
    int place = 0;
    for (const toml::node& element : *list) {
      const std::string path = name + "[" + std::to_string(++place) + "]";
      lines[path] = first_line(element.source());
      note_lines(element, path, lines);
    }
  }
}

}  // namespace

FieldLines toml_lines(std::string_view toml) {
  FieldLines lines;
  try {
    note_lines(toml::parse(toml), "", lines);
  } catch (const toml::parse_error&) {
    lines.clear();
  }
  return lines;
}

int line_of(const FieldLines& lines, std::string field) {
  for (;;) {
    if (const auto found = lines.find(field); found != lines.end()) return found->second;
    const auto end = field.find_last_of(".[");
    if (end == std::string::npos || end == 0) return 0;
    field.resize(end);
  }
}

base::Expected<Json> job_json(std::string_view toml, const std::string& file) {
  try {
    return table_of(toml::parse(toml, file));
  } catch (const toml::parse_error& error) {
    return base::fail(
        {.file = file,
         .line = static_cast<int>(error.source().begin.line),
         .remedy = "mend this line",
         .message = "the file cannot be read as TOML: " + std::string(error.description())});
  }
}

}  // namespace propwright::answer
