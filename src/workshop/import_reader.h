/// From the text of an export to records. Everything that is wrong is reported with its JSON path.
#pragma once

#include <string>
#include <vector>

#include "tables.h"

namespace propwright::workshop {

/// A record with its place in the file, "motors[2]".
template <class T>
struct Placed {
  std::string path;
  T item;
};

struct Import {
  std::vector<Placed<Record>> records;
  std::vector<Placed<designs::Whole>> designs;
};

base::Expected<Import> read_import(const std::string& text);

}  // namespace propwright::workshop
