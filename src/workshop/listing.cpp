#include "listing.h"

#include <fmt/format.h>

#include <algorithm>

#include "text.h"

namespace propwright::workshop {
namespace {

base::Problem bad(const std::string& field, const std::string& value, const std::string& allowed) {
  return {.field = field,
          .value = value,
          .allowed = allowed,
          .remedy = "ask for one of these",
          .message = "the list cannot be made like this"};
}

void check_range(const char* field, std::int64_t value, std::int64_t high,
                 base::Problems& problems) {
  if (value >= 0 && value <= high) return;
  problems.push_back(bad(field, std::to_string(value), fmt::format("0 to {}", high)));
}

std::string where(const Query& query, std::size_t words) {
  std::string condition = query.shown == Shown::present    ? "archived_at IS NULL"
                          : query.shown == Shown::archived ? "archived_at IS NOT NULL"
                                                           : "1";
  for (std::size_t i = 0; i < words; ++i) condition += " AND instr(search_text, ?)";
  for (const auto& [column, id] : query.links) condition += " AND " + column + " = ?";
  if (query.flown_with) {
    condition += std::string(" AND rowid IN (") + rows_of_propeller + ")";
  }
  return condition;
}

}  // namespace

bool name_matches(const std::string& text, const std::string& name) {
  const std::string searched = folded(name);
  const std::vector<std::string> wanted = words(text);
  return std::all_of(wanted.begin(), wanted.end(), [&](const std::string& word) {
    return searched.find(word) != std::string::npos;
  });
}

base::Expected<Listing> Listing::of(const std::string& table, const Query& query,
                                    const std::map<std::string, std::string>& orders) {
  base::Problems problems;
  const bool down = query.sort.starts_with('-');
  const auto order = orders.find(query.sort.substr(down ? 1 : 0));
  if (order == orders.end()) {
    std::vector<std::string> known;
    known.reserve(orders.size());
    for (const auto& [name, unused] : orders) known.push_back(name);
    problems.push_back(
        bad("sort", query.sort,
            fmt::format("{}, each also with a leading \"-\"", fmt::join(known, ", "))));
  }
  check_range("limit", query.limit, 1000, problems);
  check_range("offset", query.offset, std::int64_t{1} << 40, problems);
  if (!is_clean_text(query.text, true) || query.text.size() > 500) {
    problems.push_back(bad("q", "", "up to 500 bytes of UTF-8"));
  }
  if (!problems.empty()) return base::fail(std::move(problems));

  Listing listing;
  listing.table_ = table;
  listing.words_ = words(query.text);
  for (const auto& [column, id] : query.links) listing.links_.push_back(id);
  if (query.flown_with) {
    listing.links_.push_back(query.flown_with->propeller_id);
    listing.links_.push_back(query.flown_with->propeller);
  }
  listing.where_ = where(query, listing.words_.size());
  const std::string direction = down ? "DESC" : "ASC";
  listing.order_ = order->second + " " + direction + " NULLS LAST, id " + direction;
  listing.limit_ = query.limit;
  listing.offset_ = query.offset;
  return listing;
}

int Listing::bind_where(SQLite::Statement& statement) const {
  int at = 0;
  for (const std::string& word : words_) statement.bind(++at, word);
  for (const std::string& id : links_) statement.bind(++at, id);
  return at;
}

std::int64_t Listing::total(SQLite::Database& db) const {
  SQLite::Statement count(db, fmt::format("SELECT count(*) FROM {} WHERE {}", table_, where_));
  bind_where(count);
  count.executeStep();
  return count.getColumn(0).getInt64();
}

SQLite::Statement Listing::rows(SQLite::Database& db, const std::string& columns) const {
  // Chosen by their keys alone: sorting ten thousand whole rows takes nearly twice as long.
  SQLite::Statement select(
      db, fmt::format("SELECT {} FROM {} WHERE rowid IN (SELECT rowid FROM {} WHERE {} ORDER BY {} "
                      "LIMIT ? OFFSET ?) ORDER BY {}",
                      columns, table_, table_, where_, order_, order_));
  int at = bind_where(select);
  select.bind(++at, limit_);
  select.bind(++at, offset_);
  return select;
}

}  // namespace propwright::workshop
