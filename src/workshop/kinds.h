/// The tables of the records: which columns each has.
#pragma once

#include <string>
#include <vector>

#include "propwright/workshop/records.h"

namespace propwright::workshop {

struct Link {
  std::string column;  ///< "rubber_id"
  std::string table;   ///< "rubbers"
};

struct KindSpec {
  RecordKind kind;
  std::string table;
  std::string attached = {};  ///< the column of Content::attached; "" for none
  std::vector<Link> links = {};
};

const KindSpec& spec_of(RecordKind kind);

/// All tables of records as the export lists them: a record stands after those it links to.
const std::vector<std::string>& tables_in_order();

}  // namespace propwright::workshop
