#include "record_json.h"

#include <charconv>
#include <nlohmann/json.hpp>

#include "propwright/answer/shelf.h"

namespace propwright::server {
namespace {

Json or_null(const std::optional<double>& value) {
  return value ? Json(*value) : Json(nullptr);
}
Json or_null(const std::string& text) {
  return text.empty() ? Json(nullptr) : Json(text);
}

std::optional<std::int64_t> whole(const std::string& text) {
  std::int64_t number = 0;
  const char* end = text.data() + text.size();
  const auto read = std::from_chars(text.data(), end, number);
  if (read.ec != std::errc() || read.ptr != end) return std::nullopt;
  return number;
}

/// The word of a column in an answer, in the workshop's words.
std::string sort_word(std::string word) {
  const std::string minus = word.starts_with('-') ? "-" : "";
  word.erase(0, minus.size());
  for (const char* ending : {"_at", "_s", "_m"}) {
    if (word.ends_with(ending)) word.erase(word.size() - std::string_view(ending).size());
  }
  return minus + word;
}

}  // namespace

std::string etag(std::int64_t revision) {
  return "\"" + std::to_string(revision) + "\"";
}

Json record_json(const workshop::Record& record) {
  Json links = Json::object();
  for (const auto& [name, id] : record.content.links) links[name] = id;
  Json json{{"id", record.id},
            {"name", record.content.name},
            {"created_at", record.created_at},
            {"updated_at", record.updated_at},
            {"archived", !record.archived_at.empty()},
            {"etag", etag(record.revision)},
            {"section", Json::parse(record.content.section_json)},
            {"curve_csv", record.content.attached},
            {"links", links}};
  if (!answer::on_shelf(record.kind)) return json;
  json["figures"] = answer::shelf_figures(record.kind, json["section"]);
  json["built_in"] = record.revision == 0;
  return json;
}

Json design_row_json(const workshop::DesignRow& row) {
  return {{"id", row.id},
          {"name", row.name},
          {"created_at", row.created_at},
          {"updated_at", row.updated_at},
          {"archived", !row.archived_at.empty()},
          {"etag", etag(row.revision)},
          {"version", row.version},
          {"built", row.built_version == row.version},
          {"built_version", row.built_version ? Json(*row.built_version) : Json(nullptr)},
          {"copied_from", or_null(row.copied_from)},
          {"duration_s", or_null(row.summary.duration_s)},
          {"sigma_s", or_null(row.summary.sigma_s)},
          {"diameter_m", or_null(row.summary.diameter_m)},
          {"hall", row.summary.hall_name},
          {"model", row.summary.model_name}};
}

Json version_json(const workshop::DesignVersion& version) {
  return {{"version", version.version},
          {"saved_at", version.saved_at},
          {"built_at", or_null(version.built_at)},
          {"note", version.note},
          {"duration_s", or_null(version.summary.duration_s)},
          {"sigma_s", or_null(version.summary.sigma_s)},
          {"diameter_m", or_null(version.summary.diameter_m)}};
}

Json design_json(const workshop::Design& design) {
  Json json = design_row_json(design.row);
  json["note"] = design.note;
  json["document"] = Json::parse(design.document_json);
  Json versions = Json::array();
  for (const auto& version : design.versions) versions.push_back(version_json(version));
  json["versions"] = std::move(versions);
  return json;
}

std::optional<std::int64_t> seen_revision(const Request& request, Response& response) {
  std::string tag = request.get_header_value("If-Match");
  if (tag.empty() || tag == "*") {
    refuse(response, 428,
           {.field = "If-Match",
            .remedy = "send the ETag of the record you have read",
            .message = "a write must say which state it changes"});
    return std::nullopt;
  }
  if (tag.starts_with("W/")) tag.erase(0, 2);
  const bool quoted = tag.size() > 2 && tag.front() == '"' && tag.back() == '"';
  return quoted ? whole(tag.substr(1, tag.size() - 2)).value_or(0) : 0;
}

std::optional<workshop::Query> list_query(const Request& request, Response& response) {
  workshop::Query query;
  base::Problems problems;
  const auto number = [&](const char* name, std::int64_t low, std::int64_t high,
                          std::int64_t& into) {
    if (!request.has_param(name)) return;
    const std::string text = request.get_param_value(name);
    const auto value = whole(text);
    if (value && *value >= low && *value <= high) {
      into = *value;
      return;
    }
    problems.push_back({.field = name,
                        .value = text.substr(0, 80),
                        .allowed = std::to_string(low) + " to " + std::to_string(high),
                        .remedy = "give a whole number in this range",
                        .message = "this is no such number"});
  };
  query.text = request.get_param_value("q");
  number("limit", 0, 1000, query.limit);
  number("offset", 0, 1'000'000'000, query.offset);
  const std::string archived =
      request.has_param("archived") ? request.get_param_value("archived") : "false";
  if (archived == "true") {
    query.shown = workshop::Shown::archived;
  } else if (archived == "all") {
    query.shown = workshop::Shown::all;
  } else if (archived != "false") {
    problems.push_back({.field = "archived",
                        .value = archived.substr(0, 80),
                        .allowed = "false, true, all",
                        .remedy = "use one of these words",
                        .message = "this word is not known here"});
  }
  for (const auto& [name, value] : request.params) {
    if (name.ends_with("_id")) query.links[name] = value;
  }
  if (request.has_param("sort")) query.sort = sort_word(request.get_param_value("sort"));
  if (problems.empty()) return query;
  refuse_all(response, 422, problems);
  return std::nullopt;
}

base::Problem stale() {
  return {.field = "If-Match",
          .remedy = "look at what is there now, then save again",
          .message = "somebody has written this record since; nothing was changed"};
}

std::string text_member(const Json& body, const char* name, bool needed, base::Problems& problems) {
  const auto found = body.find(name);
  if (found == body.end() && !needed) return {};
  if (found != body.end() && found->is_string()) return found->get<std::string>();
  problems.push_back(
      {.field = name,
       .remedy = "send it as text",
       .message = found == body.end() ? "this is needed and not given" : "this is no text"});
  return {};
}

}  // namespace propwright::server
