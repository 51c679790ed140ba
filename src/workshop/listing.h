/// The SQL of a list: which rows, in which order.
#pragma once

#include <SQLiteCpp/SQLiteCpp.h>

#include <map>
#include <string>
#include <vector>

#include "propwright/base/problem.h"
#include "propwright/workshop/records.h"

namespace propwright::workshop {

/// Rows of flights of a propeller, by the indexes of its id and of its name; takes both, in this
/// order. The plus keeps the planner from reading all flights that are linked to none.
inline constexpr const char* rows_of_propeller =
    "SELECT rowid FROM flights WHERE propeller_id = ? UNION ALL SELECT rowid FROM flights "
    "WHERE section ->> '$.flight.propeller' = ? AND +propeller_id IS NULL";

class Listing {
 public:
  /// `orders` has the expression behind each word of Query::sort. Problem: a sort that is not
  /// known, limit or offset out of range. Query::links must be columns of the table.
  static base::Expected<Listing> of(const std::string& table, const Query& query,
                                    const std::map<std::string, std::string>& orders);

  std::int64_t total(SQLite::Database& db) const;
  /// Whether rows() would give any of so many; looking for none once more costs as much as
  /// counting.
  bool shows_any(std::int64_t total) const { return limit_ > 0 && offset_ < total; }
  SQLite::Statement rows(SQLite::Database& db, const std::string& columns) const;

 private:
  /// The values of `where_`, in their order; the place of the last.
  int bind_where(SQLite::Statement& statement) const;

  std::string table_, where_, order_;
  std::vector<std::string> words_, links_;
  std::int64_t limit_ = 0, offset_ = 0;
};

}  // namespace propwright::workshop
