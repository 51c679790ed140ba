// Writing a job file from the table of fields.
#include <fmt/format.h>

#include "fields.h"
#include "propwright/brief/file.h"

namespace propwright::brief {
namespace {

/// A TOML basic string with everything escaped that needs it.
std::string quoted(const std::string& text) {
  std::string out = "\"";
  for (const char c : text) {
    switch (c) {
      case '"':
        out += "\\\"";
        break;
      case '\\':
        out += "\\\\";
        break;
      case '\n':
        out += "\\n";
        break;
      case '\t':
        out += "\\t";
        break;
      default:
        out += c;
    }
  }
  return out + "\"";
}

std::string toml_value(const FieldFacts& field, const Value& value, units::Profile profile) {
  switch (field.kind) {
    case Kind::quantity: {
      const double si = std::get<double>(value);
      // The shortest digits that read back to the same number.
      if (field.dimension == units::Dimension::ratio) return fmt::format("{}", si);
      return quoted(units::to_exact_text(si, field.dimension, profile));
    }
    case Kind::difference:
      return quoted(fmt::format("{} K", std::get<double>(value)));
    case Kind::whole:
    case Kind::flag:
      return shown_value(field, value, profile);
    case Kind::words:
      return quoted(shown_value(field, value, profile));
    case Kind::text:
    case Kind::file:
      break;
  }
  return quoted(std::get<std::string>(value));
}

template <class Owner>
std::string lines_of(const Field<Owner>& field, const Owner& owner, units::Profile profile) {
  static const Owner untouched{};
  const std::optional<Value> value = field.get(owner);
  if (!value || (!field.required && value == field.get(untouched))) return {};
  return fmt::format("{} = {}\n", key_of(field.name), toml_value(field, *value, profile));
}

template <class Row>
std::string rows_of(const char* table, const std::vector<Field<Row>>& fields,
                    const std::vector<Row>& rows, units::Profile profile) {
  std::string out;
  for (const Row& row : rows) {
    out += fmt::format("\n[[{}]]\n", table);
    for (const auto& field : fields) out += lines_of(field, row, profile);
  }
  return out;
}

}  // namespace

std::string write_job(const Job& job) {
  const units::Profile profile = profile_of(job);
  std::string out;
  std::string section;
  for (const auto& field : job_fields()) {
    const std::string line = lines_of(field, job, profile);
    if (line.empty()) continue;
    if (section_of(field.name) != section) {
      section = section_of(field.name);
      out += fmt::format("{}[{}]\n", out.empty() ? "" : "\n", section);
    }
    out += line;
  }
  const Propeller& propeller = job.propeller;
  out += rows_of(station_table, station_fields(), propeller.stations, profile);
  out += rows_of(measured_angle_table, measured_angle_fields(), propeller.measured_angles, profile);
  out += rows_of(measured_chord_table, measured_chord_fields(), propeller.measured_chords, profile);
  out +=
      rows_of(learned_direction_table, learned_direction_fields(), job.learned.directions, profile);
  return out;
}

}  // namespace propwright::brief
