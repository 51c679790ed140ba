/// Takes wishes out of their JSON; all that is wrong is told.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "propwright/answer/json_text.h"
#include "propwright/base/problem.h"
#include "propwright/units/units.h"

namespace propwright::answer {

/// A text that can be read as such a quantity, in quotes, for remedies.
const char* example_quantity(units::Dimension dimension);

class QuantityReader {
 public:
  /// `prefix` stands before the names in problems: "wishes.". Names that are not known are told.
  QuantityReader(const Json& json, std::string prefix, std::vector<std::string> known);

  /// Nothing where it is absent or null.
  std::optional<double> quantity(const char* name, units::Dimension dimension,
                                 std::pair<double, double> range);
  std::vector<double> quantities(const char* name, units::Dimension dimension,
                                 std::pair<double, double> range);
  /// The word, or empty where it is absent; a problem where `words` does not hold it.
  std::string word(const char* name, const std::vector<std::string>& words);
  /// As written; empty where it is absent.
  std::string text(const char* name);
  /// The texts of a list, each with its field.
  std::vector<std::pair<std::string, std::string>> texts(const char* name);
  bool truth(const char* name);  ///< false where it is absent
  bool has(const char* name) const;

  base::Problems problems;

 private:
  std::optional<double> one(const std::string& field, const std::string& text,
                            units::Dimension dimension, std::pair<double, double> range);
  void no_text(const std::string& field, const Json& value, units::Dimension dimension);

  const Json& json_;
  std::string prefix_;
};

}  // namespace propwright::answer
