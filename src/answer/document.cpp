// JSON to TOML and back. A JSON string is written as a TOML basic string and a JSON number as a
// TOML number: the escapes and spellings of the first are among those of the second, except for
// what `scalar` takes care of.
#include "propwright/answer/document.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "propwright/brief/file.h"

namespace propwright::answer {
namespace {

struct TooDeep {};

constexpr const char* attachment_names[] = {"rubber_test_csv", "polar_csv"};

std::string quoted(const std::string& text) {
  std::string out = Json(text).dump();
  for (std::size_t at = out.find('\x7f'); at != std::string::npos; at = out.find('\x7f', at)) {
    out.replace(at, 1, "\\u007F");  // allowed bare in JSON, not in TOML
  }
  return out;
}

std::string scalar(const Json& value) {
  if (value.is_string()) return quoted(value.get_ref<const std::string&>());
  // Whole numbers beyond 63 bits are floating point in TOML.
  if (value.is_number_unsigned() && value.get<std::uint64_t>() > std::uint64_t{INT64_MAX}) {
    return Json(value.get<double>()).dump();
  }
  return value.dump();
}

/// A value that is no table of its own. What cannot be read as a field keeps its kind, so that the
/// reader can say what stands there.
std::string inline_value(const Json& value) {
  if (value.is_object()) return "{}";
  if (!value.is_array()) return scalar(value);
  std::string out = "[";
  for (const Json& element : value) {
    if (element.is_null()) continue;
    out += (out.size() > 1 ? ", " : "") + (element.is_array() ? "[]" : inline_value(element));
  }
  return out + "]";
}

bool is_rows(const Json& value) {
  return value.is_array() && !value.empty() &&
         std::all_of(value.begin(), value.end(), [](const Json& row) { return row.is_object(); });
}

void add_pairs(const Json& table, bool in_row, std::string& out) {
  for (const auto& [key, value] : table.items()) {
    const bool apart = !in_row && (value.is_object() || is_rows(value));
    if (value.is_null() || apart) continue;
    out += quoted(key) + " = " + inline_value(value) + "\n";
  }
}

void add_table(const Json& table, const std::string& name, std::string& out) {
  if (!name.empty()) out += "[" + name + "]\n";
  add_pairs(table, false, out);
  for (const auto& [key, value] : table.items()) {
    const std::string inner = name.empty() ? quoted(key) : name + "." + quoted(key);
    if (value.is_object()) add_table(value, inner, out);
    if (!is_rows(value)) continue;
    for (const Json& row : value) {
      out += "[[" + inner + "]]\n";
      add_pairs(row, true, out);
    }
  }
}

base::Problem not_json(const std::string& where) {
  return {.remedy = "send JSON", .message = "the body is no JSON: " + where};
}

/// "[json.exception.parse_error.101] parse error at ..." without the library's own label.
std::string plain_reason(const std::string& what) {
  const auto end = what.find("] ");
  return end == std::string::npos ? what : what.substr(end + 2);
}

void check_attachments(const Json& attachments, const std::string& prefix,
                       base::Problems& problems) {
  if (!attachments.is_object()) {
    problems.push_back({.field = prefix + "attachments",
                        .remedy = "send an object with the texts of the tables",
                        .message = "the attachments are no object"});
    return;
  }
  for (const auto& [name, text] : attachments.items()) {
    const bool known = std::find(std::begin(attachment_names), std::end(attachment_names), name) !=
                       std::end(attachment_names);
    if (known && text.is_string()) continue;
    problems.push_back({.field = prefix + "attachments." + name,
                        .allowed = "rubber_test_csv and polar_csv, each a text",
                        .remedy = known ? "send the text of the table" : "leave it out",
                        .message = known ? "this is no text" : "no attachment has this name"});
  }
}

std::string text_of(const Json& attachments, const char* name) {
  const auto found = attachments.find(name);
  return found == attachments.end() ? std::string() : found->get<std::string>();
}

/// A table that is there but that the job does not name would be left unused without a word.
void name_table(Json& job, const char* section, const char* key, const std::string& text) {
  if (text.find_first_not_of(" \t\r\n") == std::string::npos) return;
  Json& table = job[section];
  if (table.is_null()) table = Json::object();
  if (!table.is_object()) return;
  const auto named = table.find(key);
  if (named == table.end() || named->is_null() ||
      (named->is_string() && named->get_ref<const std::string&>().empty())) {
    table[key] = std::string(section) + ".csv";
  }
}

}  // namespace

base::Expected<Json> read_json(std::string_view text, int deepest) {
  const auto guard = [deepest](int depth, Json::parse_event_t event, Json&) {
    using Event = Json::parse_event_t;
    const bool opens = event == Event::object_start || event == Event::array_start;
    if (opens && depth >= deepest) throw TooDeep();
    return true;
  };
  try {
    return Json::parse(text, guard);
  } catch (const TooDeep&) {
    return base::fail({.allowed = fmt::format("{} levels", deepest),
                       .remedy = "send the document as docs/openapi.yaml has it",
                       .message = "the body is nested too deep"});
  } catch (const Json::exception& error) {
    return base::fail(not_json(plain_reason(error.what())));
  }
}

base::Problems check_document(const Json& document, const std::string& prefix) {
  base::Problems problems;
  if (!document.is_object()) {
    return {{.field = prefix.empty() ? "" : prefix.substr(0, prefix.size() - 1),
             .remedy = "send an object with job and attachments",
             .message = "this is no object"}};
  }
  const auto job = document.find("job");
  if (job == document.end() || !job->is_object()) {
    problems.push_back({.field = prefix + "job",
                        .remedy = "send the job as an object",
                        .message = "the job is wanting or no object"});
  }
  const auto attachments = document.find("attachments");
  if (attachments != document.end()) check_attachments(*attachments, prefix, problems);
  return problems;
}

std::string job_toml(const Json& job) {
  std::string out;
  add_table(job, "", out);
  return out;
}

base::Expected<LoadedJob> load_document(const Json& job, const Json& attachments) {
  LoadedJob loaded{"job", {}, {}};
  loaded.attachments = {text_of(attachments, "rubber_test_csv"), text_of(attachments, "polar_csv")};
  Json named = job;
  name_table(named, "rubber", "test_file", loaded.attachments.rubber_test_csv);
  name_table(named, "propeller", "polar_file", loaded.attachments.polar_csv);
  auto read = brief::read_job(job_toml(named), loaded.path);
  if (!read) {
    // Lines of the text made here say nothing to anybody.
    for (base::Problem& problem : read.error()) problem.line = 0;
    return base::fail(std::move(read.error()));
  }
  loaded.job = std::move(*read);
  return loaded;
}

}  // namespace propwright::answer
