#include "propwright/answer/shelf.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <nlohmann/json.hpp>

#include "propwright/answer/document.h"
#include "propwright/data/data.h"
#include "propwright/units/units.h"

namespace propwright::answer {
namespace {

using workshop::RecordKind;

constexpr std::int64_t most_of_a_kind = 50;  // each is designed and flown, some ten milliseconds
constexpr double least_diameter_m = 0.005, most_diameter_m = 1;

std::string small_letters(std::string text) {
  for (char& c : text) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return text;
}

/// "tube 3 in" to "built-in-tube-3-in".
std::string built_in_id(const std::string& name) {
  std::string id = "built-in-" + small_letters(name);
  for (char& c : id) {
    if (std::isalnum(static_cast<unsigned char>(c)) == 0) c = '-';
  }
  return id;
}

/// The list that comes with the program; its soundness is a test's business.
std::vector<form::Cylinder> common_cylinders() {
  return form::read_cylinders(data::file("cylinders.csv"), "cylinders.csv").value();
}

std::optional<double> optional_figure(const Json& figures, const char* key) {
  const auto found = figures.find(key);
  return found == figures.end() ? std::nullopt : std::optional(found->get<double>());
}

shape::OwnedForm owned_form(const std::string& name, const Json& table, const Json& figures) {
  shape::OwnedForm form{.name = name, .pitch_m = figures.at("pitch_m").get<double>()};
  if (table.contains("hand")) {
    form.hand = table["hand"] == "clockwise" ? form::Hand::clockwise : form::Hand::anticlockwise;
  }
  form.angle_overbend = figures.value("angle_overbend", 1.0);
  if (const auto camber = optional_figure(figures, "camber")) {
    form.camber = *camber / figures.value("camber_overbend", 1.0);
  }
  form.from_radius_m = optional_figure(figures, "from_radius_m");
  form.to_radius_m = optional_figure(figures, "to_radius_m");
  form.width_m = optional_figure(figures, "width_m");
  return form;
}

void add_record(Shelf& shelf, const workshop::Record& record) {
  const std::string& name = record.content.name;
  const auto section = read_json(record.content.section_json);
  const base::Problems problems =
      section ? check_shelf_section(record.kind, *section) : section.error();
  if (!problems.empty()) {
    shelf.notes.push_back(fmt::format("{} is left out: {}", name, problems.front().message));
    return;
  }
  const Json figures = shelf_figures(record.kind, *section);
  if (figures.contains("diameter_m")) {
    shelf.cylinders.push_back({name, figures["diameter_m"].get<double>()});
  } else if (figures.contains("pitch_m")) {
    shelf.forms.push_back(owned_form(name, section->at("form"), figures));
  } else {
    shelf.notes.push_back(name + " is left out: it has no pitch");
  }
}

base::Problem unknown_cylinder(const std::string& text, const std::vector<form::Cylinder>& known,
                               const std::string& field) {
  std::vector<std::string> names;
  names.reserve(known.size());
  for (const form::Cylinder& each : known) names.push_back(each.name);
  const std::string near = base::nearest_name(text, names);
  return {.field = field,
          .value = text.substr(0, 80),
          .allowed = "a length with its unit, or a name of the list of cylinders",
          .remedy = near.empty() ? "write a diameter, for example \"4 in\""
                                 : "did you mean " + near + "?",
          .message = "there is no such cylinder"};
}

}  // namespace

const std::vector<workshop::Record>& built_in_cylinders() {
  static const std::vector<workshop::Record> all = [] {
    std::vector<workshop::Record> list;
    for (const form::Cylinder& each : common_cylinders()) {
      const std::string diameter =
          units::to_exact_text(each.diameter_m, units::Dimension::length, units::Profile::metric);
      const Json section{{"cylinder", {{"diameter", diameter}}}};
      workshop::Record record;
      record.kind = RecordKind::cylinder;
      record.id = built_in_id(each.name);
      record.content = {.name = each.name, .section_json = section.dump()};
      list.push_back(std::move(record));
    }
    return list;
  }();
  return all;
}

base::Expected<Shelf> read_shelf(const workshop::Workshop& workshop) {
  Shelf shelf;
  for (const RecordKind kind : {RecordKind::form, RecordKind::cylinder}) {
    const auto page = workshop.list(kind, {.sort = "name", .limit = most_of_a_kind});
    if (!page) return tl::unexpected(page.error());
    for (const workshop::Record& record : page->items) add_record(shelf, record);
    if (page->total > most_of_a_kind) {
      shelf.notes.push_back(fmt::format("Only the first {} of {} {} of the shelf are here.",
                                        most_of_a_kind, page->total, workshop::table_of(kind)));
    }
  }
  return shelf;
}

void add_shelf(shape::Request& request, const Shelf& shelf) {
  request.forms.insert(request.forms.end(), shelf.forms.begin(), shelf.forms.end());
  request.cylinders.insert(request.cylinders.end(), shelf.cylinders.begin(), shelf.cylinders.end());
}

base::Expected<form::Cylinder> cylinder_of(const std::string& text, const Shelf& shelf,
                                           const std::string& field) {
  std::vector<form::Cylinder> known = shelf.cylinders;
  const auto common = common_cylinders();
  known.insert(known.end(), common.begin(), common.end());
  for (const form::Cylinder& each : known) {
    if (small_letters(each.name) == small_letters(text)) return each;
  }
  const bool begins_as_number =
      !text.empty() && (std::isdigit(static_cast<unsigned char>(text[0])) != 0 || text[0] == '.');
  if (!begins_as_number) return base::fail(unknown_cylinder(text, known, field));
  const auto diameter_m = units::parse(text, units::Dimension::length, field);
  if (!diameter_m) return tl::unexpected(diameter_m.error());
  if (*diameter_m < least_diameter_m || *diameter_m > most_diameter_m) {
    return base::fail({.field = field,
                       .value = text,
                       .allowed = "5 mm to 1 m",
                       .remedy = "check the number and its unit",
                       .message = "the diameter is out of range"});
  }
  return form::Cylinder{"cylinder", *diameter_m};
}

}  // namespace propwright::answer
