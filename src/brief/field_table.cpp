// The table of fields as the rest of the program may see it.
#include "propwright/brief/fields.h"

#include <fmt/format.h>

#include "fields.h"

namespace propwright::brief {
namespace {

FieldKind kind_of(Kind kind) {
  switch (kind) {
    case Kind::quantity:
      return FieldKind::quantity;
    case Kind::difference:
      return FieldKind::difference;
    case Kind::whole:
      return FieldKind::whole;
    case Kind::words:
      return FieldKind::choice;
    case Kind::flag:
      return FieldKind::yes_no;
    case Kind::text:
      return FieldKind::text;
    case Kind::file:
      break;
  }
  return FieldKind::file;
}

/// The reference sets some words in italics; here they are plain.
std::string plain_words(std::string text) {
  std::erase(text, '*');
  std::erase(text, '`');
  return text;
}

template <class Owner>
FieldInfo info_of(const Field<Owner>& field, const std::string& prefix) {
  static const Owner untouched{};
  FieldInfo info{.name = prefix + field.name,
                 .kind = kind_of(field.kind),
                 .dimension = field.dimension,
                 .low = field.low,
                 .high = field.high,
                 .required = field.required,
                 .choices = field.words,
                 .default_value = {},
                 .default_text = plain_words(field.when_absent),
                 .meaning = plain_words(field.meaning)};
  if (field.required || !field.when_absent.empty()) return info;
  const std::optional<Value> value = field.get(untouched);
  if (!value) return info;
  if (field.kind == Kind::words) {
    info.default_value = shown_value(field, *value, units::Profile::metric);
  } else {
    info.default_value = *value;
  }
  return info;
}

template <class Owner>
void add(const std::vector<Field<Owner>>& fields, const std::string& prefix,
         std::vector<FieldInfo>& all) {
  for (const Field<Owner>& field : fields) all.push_back(info_of(field, prefix));
}

template <class Owner>
void add_numbers(const std::vector<Field<Owner>>& fields, const Owner& owner,
                 const std::string& prefix, std::vector<std::pair<std::string, double>>& all) {
  for (const Field<Owner>& field : fields) {
    if (field.kind != Kind::quantity && field.kind != Kind::difference &&
        field.kind != Kind::whole) {
      continue;
    }
    const std::optional<Value> value = field.get(owner);
    if (!value) continue;
    const double number =
        field.kind == Kind::whole ? std::get<int>(*value) : std::get<double>(*value);
    if (number < field.low || number > field.high) continue;
    all.emplace_back(prefix + field.name, number);
  }
}

template <class Row>
void add_rows(const std::vector<Field<Row>>& fields, const std::vector<Row>& rows,
              const char* table, std::vector<std::pair<std::string, double>>& all) {
  for (std::size_t i = 0; i < rows.size(); ++i) {
    add_numbers(fields, rows[i], fmt::format("{}[{}].", table, i + 1), all);
  }
}

}  // namespace

const std::vector<FieldInfo>& field_table() {
  static const std::vector<FieldInfo> table = [] {
    std::vector<FieldInfo> all;
    add(job_fields(), "", all);
    add(station_fields(), std::string(station_table) + ".", all);
    add(measured_angle_fields(), std::string(measured_angle_table) + ".", all);
    add(measured_chord_fields(), std::string(measured_chord_table) + ".", all);
    add(learned_direction_fields(), std::string(learned_direction_table) + ".", all);
    return all;
  }();
  return table;
}

std::string range_text(const FieldInfo& field, double value, units::Profile profile) {
  FieldFacts facts;
  facts.kind = field.kind == FieldKind::whole        ? Kind::whole
               : field.kind == FieldKind::difference ? Kind::difference
                                                     : Kind::quantity;
  facts.dimension = field.dimension;
  const bool whole = field.kind == FieldKind::whole;
  return shown_value(facts, whole ? Value(static_cast<int>(value)) : Value(value), profile);
}

std::vector<std::pair<std::string, double>> numbers_of(const Job& job) {
  std::vector<std::pair<std::string, double>> all;
  add_numbers(job_fields(), job, "", all);
  const Propeller& propeller = job.propeller;
  add_rows(station_fields(), propeller.stations, station_table, all);
  add_rows(measured_angle_fields(), propeller.measured_angles, measured_angle_table, all);
  add_rows(measured_chord_fields(), propeller.measured_chords, measured_chord_table, all);
  add_rows(learned_direction_fields(), job.learned.directions, learned_direction_table, all);
  return all;
}

}  // namespace propwright::brief
