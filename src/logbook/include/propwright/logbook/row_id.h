/// The id of a flight whose row in a file has none: a function of what stands in the row, the same
/// here and in the pages (web/src/floor/mapping.ts; both are held to tests/logbook/row_ids.json),
/// so that one log is the same flights whoever reads it, and however its columns are understood.
/// docs/flight-log-file.md tells it in words.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace propwright::logbook {

/// What the workshop takes for an id: 1 to 64 of a-z, 0-9, _ and -.
bool is_entry_id(std::string_view text);

/// Gives the rows of one file their ids, in the order of the file.
class RowIds {
 public:
  /// Canonical text of a row: its cells without white space at their ends, as a JSON array of
  /// strings without spaces, "#", and how many of the very same stand above it. The id is "log-"
  /// and two one-at-a-time hashes (Bob Jenkins, 1997) of its UTF-16 units, from the seeds 17 and
  /// 7919, as 8 hexadecimal digits each. What is not UTF-8 counts as U+FFFD.
  std::string next(const std::vector<std::string>& cells);

 private:
  std::map<std::u32string, int> seen_;
};

}  // namespace propwright::logbook
