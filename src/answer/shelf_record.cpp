// What a record of the shelf may hold.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "propwright/answer/shelf.h"
#include "propwright/base/constants.h"
#include "propwright/units/units.h"

namespace propwright::answer {
namespace {

using workshop::RecordKind;
using D = units::Dimension;

constexpr std::size_t longest_notes = 4000;
constexpr double right_half_rad = 45 * base::degree_rad;

/// A quantity of a record: as written, its key among the figures, its range in SI.
struct ShelfField {
  std::string name, figure;
  D dimension;
  double low, high;
};

const std::vector<ShelfField>& form_fields() {
  static const std::vector<ShelfField> fields{
      {"pitch", "pitch_m", D::length, 0.05, 2.5},
      {"pitch_radius", "pitch_radius_m", D::length, 0.005, 0.5},
      {"from_radius", "from_radius_m", D::length, 0, 0.5},
      {"to_radius", "to_radius_m", D::length, 0.005, 0.5},
      {"width", "width_m", D::length, 0.003, 0.3},
      {"camber", "camber", D::ratio, 0, 0.2},
      {"angle_overbend", "angle_overbend", D::ratio, 0.8, 1.3},
      {"camber_overbend", "camber_overbend", D::ratio, 0.8, 2},
      {"diameter", "diameter_m", D::length, 0.005, 1},
      {"skew", "skew_deg", D::angle, 0, right_half_rad}};
  return fields;
}

const std::vector<ShelfField>& cylinder_fields() {
  static const std::vector<ShelfField> fields{{"diameter", "diameter_m", D::length, 0.005, 1},
                                              {"wall", "wall_m", D::length, 0, 0.05}};
  return fields;
}

/// Reads the one table of a record; what is wrong is told by field.
class ShelfReader {
 public:
  ShelfReader(RecordKind kind, const Json& section)
      : table_name_(kind == RecordKind::form ? "form" : "cylinder"),
        fields_(kind == RecordKind::form ? form_fields() : cylinder_fields()) {
    const auto found = section.find(table_name_);
    if (found == section.end() || !found->is_object()) {
      wrong("", "", "", "send an object with what the record holds", "the table is wanting");
      return;
    }
    table_ = *found;
    for (const auto& [name, value] : table_.items()) read(name, value);
    if (kind == RecordKind::form) {
      check_form();
    } else {
      needs("diameter", "a cylinder");
    }
  }

  base::Problems problems;
  Json figures = Json::object();

 private:
  void wrong(const std::string& name, const std::string& value, const std::string& allowed,
             const std::string& remedy, const std::string& message) {
    problems.push_back({.field = "section." + table_name_ + (name.empty() ? "" : "." + name),
                        .value = value.substr(0, 80),
                        .allowed = allowed,
                        .remedy = remedy,
                        .message = message});
  }

  void read(const std::string& name, const Json& value) {
    const auto field = std::find_if(fields_.begin(), fields_.end(),
                                    [&](const ShelfField& each) { return each.name == name; });
    if (field != fields_.end()) return quantity(*field, value);
    if (name == "notes") return notes(value);
    if (table_name_ == "form" && name == "kind") {
      return word(name, value, {"block", "ribbed", "solid", "cylinder", "other"});
    }
    if (table_name_ == "form" && name == "hand") {
      return word(name, value, {"clockwise", "anticlockwise"});
    }
    std::vector<std::string> known{"notes"};
    if (table_name_ == "form") known = {"kind", "hand", "notes"};
    for (const ShelfField& each : fields_) known.push_back(each.name);
    const std::string near = base::nearest_name(name, known);
    wrong(name, "", "", near.empty() ? "leave it out" : "did you mean " + near + "?",
          "there is no such field");
  }

  void quantity(const ShelfField& field, const Json& value) {
    const bool number = field.dimension == D::ratio && value.is_number();
    if (!number && !value.is_string()) {
      return wrong(field.name, value.dump(), units::accepted_units(field.dimension),
                   "write a number with its unit", "this is no text");
    }
    const std::string text = number ? value.dump() : value.get<std::string>();
    const auto read =
        units::parse(text, field.dimension, "section." + table_name_ + "." + field.name);
    if (!read) {
      problems.insert(problems.end(), read.error().begin(), read.error().end());
      return;
    }
    if (*read < field.low || *read > field.high) {
      const auto shown = [&](double si) {
        return units::to_text(si, field.dimension, units::Profile::metric);
      };
      return wrong(field.name, text, shown(field.low) + " to " + shown(field.high),
                   "check the number and its unit", "the value is out of range");
    }
    const bool degrees = field.dimension == D::angle;
    figures[field.figure] = degrees ? *read / base::degree_rad : *read;
  }

  void notes(const Json& value) {
    if (!value.is_string()) {
      wrong("notes", value.dump(), "text", "write it in quotes", "this is no text");
    } else if (value.get_ref<const std::string&>().size() > longest_notes) {
      wrong("notes", "", fmt::format("up to {} bytes", longest_notes), "shorten it",
            "this text is too long");
    }
  }

  void word(const std::string& name, const Json& value, const std::vector<std::string>& words) {
    const std::string text = value.is_string() ? value.get<std::string>() : value.dump();
    if (std::find(words.begin(), words.end(), text) != words.end()) return;
    wrong(name, text, fmt::format("{}", fmt::join(words, ", ")), "use one of these words",
          "this word is not known here");
  }

  bool given(const std::string& name) const { return table_.contains(name); }

  void needs(const std::string& name, const std::string& what) {
    if (given(name)) return;
    wrong(name, "", "", "give it", what + " needs it");
  }

  void refuses(const std::string& name, const std::string& what) {
    if (!given(name)) return;
    wrong(name, table_[name].dump(), "", "leave it out", what + " has none");
  }

  void check_form() {
    needs("kind", "a form");
    const std::string kind = table_.value("kind", Json()).is_string() ? table_["kind"] : Json("");
    if (kind == "cylinder") {
      needs("diameter", "a cylinder");
      for (const char* const name : {"pitch", "pitch_radius"}) refuses(name, "a cylinder");
    } else if (kind == "block" || kind == "ribbed" || kind == "solid") {
      needs("pitch", "a form of this kind");
      for (const char* const name : {"diameter", "skew"}) refuses(name, "a form of this kind");
    }
    const bool both = figures.contains("from_radius_m") && figures.contains("to_radius_m");
    if (both && figures["from_radius_m"] >= figures["to_radius_m"]) {
      wrong("to_radius", table_["to_radius"].dump(), "more than from_radius",
            "give the inner radius first", "the form would cover nothing");
    }
  }

  std::string table_name_;
  const std::vector<ShelfField>& fields_;
  Json table_ = Json::object();
};

}  // namespace

bool on_shelf(RecordKind kind) {
  return kind == RecordKind::form || kind == RecordKind::cylinder;
}

base::Problems check_shelf_section(RecordKind kind, const Json& section) {
  return ShelfReader(kind, section).problems;
}

Json shelf_figures(RecordKind kind, const Json& section) {
  return ShelfReader(kind, section).figures;
}

}  // namespace propwright::answer
