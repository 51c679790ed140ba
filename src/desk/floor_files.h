/// Files of tables about rubber and the winding card, and their answers for people.
#pragma once

#include <map>
#include <nlohmann/json.hpp>
#include <string>

#include "command.h"
#include "propwright/answer/document.h"
#include "propwright/answer/json_text.h"

namespace propwright::desk {

/// A file of tables as read, and where in it everything stands.
struct FloorTables {
  answer::Json tables;
  std::string file;
  answer::FieldLines lines;
  std::map<std::string, std::string> tests;  ///< path of a test by its place, "batch.tests[1].csv"

  /// Problems of the tables with file and line: those in a test's rows are in the file of the test.
  base::Problems placed(base::Problems problems) const;
};

/// The tables of a file; a test's `file` becomes its `csv`, looked for beside the file.
base::Expected<FloorTables> floor_tables(const std::string& file);

/// propwright rubber RUBBER.toml
Answer answer_rubber_file(const Arguments& arguments);

/// The answers for people.
std::string rubber_tables_text(const answer::Json& answer);
std::string wind_text(const answer::Json& answer);

}  // namespace propwright::desk
