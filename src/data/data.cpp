#include "propwright/data/data.h"

#include <stdexcept>
#include <string>

#include "embedded_table.h"

namespace propwright::data {

std::string_view file(std::string_view name) {
  for (unsigned i = 0; i < embedded_file_count; ++i) {
    const EmbeddedFile& entry = embedded_files[i];
    if (name == entry.name) {
      return {entry.begin, static_cast<std::size_t>(entry.end - entry.begin)};
    }
  }
  throw std::out_of_range("no embedded file named " + std::string(name));
}

std::vector<std::string_view> names() {
  std::vector<std::string_view> result;
  for (unsigned i = 0; i < embedded_file_count; ++i) result.emplace_back(embedded_files[i].name);
  return result;
}

}  // namespace propwright::data
