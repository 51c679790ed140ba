#include "text_table.h"

#include <algorithm>
#include <sstream>

namespace propwright::desk {

std::size_t width_of(const std::string& utf8) {
  return static_cast<std::size_t>(std::count_if(utf8.begin(), utf8.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
  }));
}

std::string TextTable::text(bool first_column_right) const {
  std::vector<std::size_t> widths;
  for (const auto& row : rows_) {
    widths.resize(std::max(widths.size(), row.size()));
    for (std::size_t i = 0; i < row.size(); ++i) widths[i] = std::max(widths[i], width_of(row[i]));
  }
  std::string out;
  for (const auto& row : rows_) {
    std::string line;
    for (std::size_t i = 0; i < row.size(); ++i) {
      const std::string pad(widths[i] - width_of(row[i]), ' ');
      const bool right = i > 0 || first_column_right;
      line += "  " + (right ? pad + row[i] : row[i] + pad);
    }
    line.erase(line.find_last_not_of(' ') + 1);
    out += line + "\n";
  }
  return out;
}

namespace {

/// Words of a sentence in lines of at most 96 characters, the later ones indented.
std::string wrapped(const std::string& sentence) {
  std::istringstream words(sentence);
  std::string word, line = "  -", out;
  while (words >> word) {
    if (width_of(line) + 1 + width_of(word) > 96) {
      out += line + "\n";
      line = "   ";
    }
    line += " " + word;
  }
  return out + line + "\n";
}

}  // namespace

std::string bullet_list(const std::string& heading, const std::vector<std::string>& sentences) {
  if (sentences.empty()) return {};
  std::string out = "\n" + heading + "\n";
  for (const std::string& sentence : sentences) out += wrapped(sentence);
  return out;
}

}  // namespace propwright::desk
