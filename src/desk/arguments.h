/// The options of one call as text, and the reading of them: every wrong one is reported.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "propwright/base/problem.h"
#include "propwright/units/units.h"

namespace propwright::desk {

class Arguments {
 public:
  std::string input;                                       ///< the positional argument, or ""
  std::string file;                                        ///< the second one, or ""
  std::map<std::string, std::vector<std::string>> values;  ///< by option name; flags hold ""

  bool has(const std::string& option) const { return values.contains(option); }
  bool json() const { return has("--json"); }
  const std::vector<std::string>& all(const std::string& option) const;
  /// The text of an option, or `otherwise` where it is not given.
  std::string text(const std::string& option, const std::string& otherwise = {}) const;
};

/// Allowed range of a quantity in SI, both ends included.
struct Limits {
  double low = -1e300, high = 1e300;
};

/// Reads options; what cannot be read is added to `problems`, with the option as the field.
class OptionReader {
 public:
  explicit OptionReader(const Arguments& arguments) : arguments_(arguments) {}

  std::optional<double> quantity(const std::string& option, units::Dimension dimension,
                                 Limits limits = {});
  std::vector<double> quantities(const std::string& option, units::Dimension dimension,
                                 Limits limits = {});
  /// A whole number.
  std::optional<long long> count(const std::string& option, long long low, long long high);
  /// One of the words; `words.front()` where the option is not given.
  std::string word(const std::string& option, const std::vector<std::string>& words);

  base::Problems problems;

 private:
  std::optional<double> read(const std::string& option, const std::string& text,
                             units::Dimension dimension, Limits limits);
  const Arguments& arguments_;
};

}  // namespace propwright::desk
