#include <cctype>

#include "propwright/logbook/flight_log.h"

namespace propwright::logbook {

namespace {

constexpr std::string_view hard_space = "\u00a0", thin_space = "\u202f", degree = "°";

/// Without spaces, in small letters, "deg" as its sign, a decimal comma as a point.
std::string plain(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size();) {
    const std::string_view rest = text.substr(i);
    if (rest.starts_with(hard_space) || rest.starts_with(thin_space)) {
      i += rest.starts_with(hard_space) ? hard_space.size() : thin_space.size();
      continue;
    }
    const auto c = static_cast<unsigned char>(text[i++]);
    if (std::isspace(c) != 0) continue;
    const bool comma = c == ',' && !out.empty() && i < text.size() &&
                       std::isdigit(static_cast<unsigned char>(out.back())) != 0 &&
                       std::isdigit(static_cast<unsigned char>(text[i])) != 0;
    out += comma ? '.' : static_cast<char>(std::tolower(c));
  }
  for (const std::string_view word : {"degrees", "degree", "deg"}) {
    if (const auto at = out.find(word);
        at != std::string::npos && at > 0 &&
        std::isdigit(static_cast<unsigned char>(out[at - 1])) != 0) {
      out.replace(at, word.size(), degree);
    }
  }
  return out;
}

}  // namespace

std::string setting_key(std::string_view setting) {
  const std::string text = plain(setting);
  std::string key;
  for (std::size_t i = 0; i < text.size();) {
    // Noughts at the end of decimals, and a point they leave behind, say nothing.
    std::size_t end = i;
    bool point = false;
    while (end < text.size() && (std::isdigit(static_cast<unsigned char>(text[end])) != 0 ||
                                 (text[end] == '.' && !point && end > i))) {
      point = point || text[end] == '.';
      ++end;
    }
    if (end == i) {
      key += text[i++];
      continue;
    }
    std::string number = text.substr(i, end - i);
    if (point) {
      while (number.ends_with('0')) number.pop_back();
      if (number.ends_with('.')) number.pop_back();
    }
    key += number;
    i = end;
  }
  return key;
}

}  // namespace propwright::logbook
