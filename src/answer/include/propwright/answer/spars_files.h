/// Spars and rigs as files: CSV in and out, the rig's TOML.
#pragma once

#include <map>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "propwright/answer/spars.h"

namespace propwright::answer {

/// The spars of a CSV (docs/commands.md has its columns) as the `spars` of a request.
struct SparsOfCsv {
  Json spars = {};  ///< SparText objects, one state each
  /// Where the cells of a spar's state stand: line by "spars[3].states[0].reading_0[1]".
  std::map<std::string, int> lines;
  base::Problems problems;  ///< rows that were left out
};
SparsOfCsv spars_of_csv(std::string_view csv, const std::string& file, units::Profile profile);

/// A problem of the batch that was read from a CSV: under its file, line and column.
base::Problem in_csv(base::Problem problem, const SparsOfCsv& csv, const std::string& file);

/// The batch as CSV: the columns that spars_of_csv reads, a row for each repeat, then what was
/// found. Reading it again gives the same latest states.
std::string spars_csv(const SparsAnswer& answer);

/// The table `rig` of a TOML file, as the `rig` of a request.
base::Expected<Json> rig_of_toml(std::string_view toml, const std::string& file);

}  // namespace propwright::answer
