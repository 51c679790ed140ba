#include "content.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "json_text.h"
#include "text.h"

namespace propwright::workshop {
namespace {

constexpr std::size_t longest_name = 200, longest_note = 4000, largest_attached = 1024 * 1024;

base::Problem bad(const std::string& field, const std::string& value, const std::string& allowed,
                  const std::string& remedy, const std::string& message) {
  return {.field = field, .value = value, .allowed = allowed, .remedy = remedy, .message = message};
}

void check_text(const std::string& text, const std::string& field, std::size_t longest, bool lines,
                base::Problems& problems) {
  if (text.size() > longest) {
    problems.push_back(bad(field, fmt::format("{} bytes", text.size()),
                           fmt::format("up to {} bytes", longest), "shorten it",
                           "this text is too long"));
  } else if (!is_clean_text(text, lines)) {
    problems.push_back(bad(field, "", "UTF-8 text without control characters", "write it anew",
                           "this text holds bytes that are no letters"));
  }
}

}  // namespace

void check_name(const std::string& name, const std::string& field, base::Problems& problems) {
  if (name.find_first_not_of(' ') == name.npos) {
    problems.push_back(bad(field, name, fmt::format("1 to {} bytes", longest_name), "give a name",
                           "the name is empty"));
    return;
  }
  check_text(name, field, longest_name, false, problems);
}

void check_note(const std::string& note, const std::string& field, base::Problems& problems) {
  check_text(note, field, longest_note, true, problems);
}

void check_id(const std::string& id, const std::string& field, base::Problems& problems) {
  if (is_id(id)) return;
  problems.push_back(bad(field, id.substr(0, 80), "1 to 64 of a-z, 0-9, \"-\" and \"_\"",
                         "use the id of the record", "this is no id"));
}

void check_links(const KindSpec& spec, const std::map<std::string, std::string>& links,
                 base::Problems& problems) {
  std::vector<std::string> columns;
  for (const Link& link : spec.links) columns.push_back(link.column);
  for (const auto& [column, id] : links) {
    if (std::find(columns.begin(), columns.end(), column) == columns.end()) {
      problems.push_back(bad(
          column, id, columns.empty() ? "no links" : fmt::format("{}", fmt::join(columns, ", ")),
          "leave it out", fmt::format("a record of {} has no such link", spec.table)));
    } else {
      check_id(id, column, problems);
    }
  }
}

void check_attached(const KindSpec& spec, const std::string& text, const std::string& field,
                    base::Problems& problems) {
  if (spec.attached.empty() && !text.empty()) {
    problems.push_back(bad(field, "", "only in rubbers and photos", "leave it out",
                           fmt::format("a record of {} has nothing attached", spec.table)));
    return;
  }
  check_text(text, field, largest_attached, true, problems);
}

void check_summary(const Summary& summary, const std::string& prefix, base::Problems& problems) {
  const auto figure = [&](const std::optional<double>& value, const char* name) {
    if (!value || (std::isfinite(*value) && *value >= 0.0)) return;
    problems.push_back(bad(prefix + name, fmt::format("{}", *value),
                           "0 or more, finite, or nothing", "leave it out where it is not known",
                           "this figure cannot be"));
  };
  figure(summary.duration_s, "duration_s");
  figure(summary.sigma_s, "sigma_s");
  figure(summary.diameter_m, "diameter_m");
  check_text(summary.hall_name, prefix + "hall_name", longest_name, false, problems);
  check_text(summary.model_name, prefix + "model_name", longest_name, false, problems);
}

base::Expected<Content> checked(const KindSpec& spec, Content content) {
  base::Problems problems;
  check_name(content.name, "name", problems);
  if (auto compact = compact_object(content.section_json, "section", problems)) {
    content.section_json = std::move(*compact);
  }
  check_attached(spec, content.attached, spec.attached.empty() ? "curve_csv" : spec.attached,
                 problems);
  std::erase_if(content.links, [](const auto& link) { return link.second.empty(); });
  check_links(spec, content.links, problems);
  if (!problems.empty()) return base::fail(std::move(problems));
  return content;
}

base::Expected<DesignContent> checked(DesignContent content) {
  base::Problems problems;
  check_name(content.name, "name", problems);
  check_note(content.note, "note", problems);
  if (auto compact = compact_document(content.document_json, "document", problems)) {
    content.document_json = std::move(*compact);
  }
  check_summary(content.summary, "summary.", problems);
  if (!problems.empty()) return base::fail(std::move(problems));
  return content;
}

}  // namespace propwright::workshop
