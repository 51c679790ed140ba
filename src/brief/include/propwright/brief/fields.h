/// The table of the job's fields for readers outside: what there is, in which range, and what a job
/// holds of it.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "propwright/brief/job.h"
#include "propwright/units/units.h"

namespace propwright::brief {

enum class FieldKind {
  quantity,    ///< text with a unit; a bare number too where the dimension is a ratio
  difference,  ///< temperature difference, K
  whole,       ///< whole number
  choice,      ///< one of a few words
  yes_no,      ///< true or false
  text,        ///< one line, or several for a note
  file,        ///< path of another file, relative to the job file
};

struct FieldInfo {
  std::string name;  ///< dotted; of a table's rows without an index, "propeller.station.radius"
  FieldKind kind = FieldKind::quantity;
  units::Dimension dimension = units::Dimension::ratio;
  double low = 0, high = 0;  ///< SI, both included; characters for a text
  bool required = false;
  std::vector<std::string> choices;
  /// SI number, whole number, word or yes/no; empty where leaving the field out means no one value.
  std::optional<std::variant<double, int, bool, std::string>> default_value;
  std::string default_text;  ///< what leaving it out means, in words; empty where the value says so
  std::string meaning;       ///< a sentence
};

/// Every field, in the order of docs/job-file.md; those of the tables of rows at the end.
const std::vector<FieldInfo>& field_table();

/// A number within a field's range as a person reads it: "60 mm", "0.06", "2".
std::string range_text(const FieldInfo& field, double value, units::Profile profile);

/// The SI value of every number the job holds, defaults included, by dotted name; those of rows are
/// "propeller.station[1].radius", counted from 1 as in problems. A member outside its field's range
/// stands for "not given" and is left out.
std::vector<std::pair<std::string, double>> numbers_of(const Job& job);

}  // namespace propwright::brief
