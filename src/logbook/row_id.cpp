#include "propwright/logbook/row_id.h"

#include <fmt/format.h>

#include <array>
#include <cstdint>

#include "letters.h"

namespace propwright::logbook {

namespace {

/// What is white space to Unicode, and the byte order mark.
bool is_space(char32_t letter) {
  constexpr std::array<char32_t, 9> spaces{0x20,   0xA0,   0x1680, 0x2028, 0x2029,
                                           0x202F, 0x205F, 0x3000, 0xFEFF};
  if ((letter >= 0x09 && letter <= 0x0D) || (letter >= 0x2000 && letter <= 0x200A)) return true;
  for (const char32_t space : spaces) {
    if (letter == space) return true;
  }
  return false;
}

std::u32string trimmed(std::u32string text) {
  while (!text.empty() && is_space(text.back())) text.pop_back();
  std::size_t first = 0;
  while (first < text.size() && is_space(text[first])) ++first;
  return text.substr(first);
}

void add(std::u32string& to, std::string_view ascii) {
  for (const char c : ascii) to += static_cast<char32_t>(c);
}

/// A JSON string: only what must be escaped is.
void add_quoted(std::u32string& to, const std::u32string& text) {
  constexpr std::string_view short_ones = "\b\f\n\r\t\"\\", names = "bfnrt\"\\";
  to += U'"';
  for (const char32_t letter : text) {
    const auto place = letter < 0x80 ? short_ones.find(static_cast<char>(letter)) : short_ones.npos;
    if (place != short_ones.npos) {
      add(to, std::string{'\\', names[place]});
    } else if (letter < 0x20) {
      add(to, fmt::format("\\u{:04x}", static_cast<unsigned>(letter)));
    } else {
      to += letter;
    }
  }
  to += U'"';
}

/// Bob Jenkins's one-at-a-time hash over the UTF-16 units of a text, from a seed.
class Mixer {
 public:
  explicit Mixer(std::uint32_t seed) : hash_(seed) {}
  void add(std::uint32_t unit) {
    hash_ = (hash_ + unit) * 1025U;
    hash_ ^= hash_ >> 6U;
  }
  std::uint32_t end() const {
    std::uint32_t hash = hash_ * 9U;
    hash ^= hash >> 11U;
    return hash * 32769U;
  }

 private:
  std::uint32_t hash_;
};

std::string digest(const std::u32string& words) {
  Mixer first(17), second(7919);
  const auto add_unit = [&](std::uint32_t unit) {
    first.add(unit);
    second.add(unit);
  };
  for (const char32_t letter : words) {
    const auto code = static_cast<std::uint32_t>(letter);
    if (code < 0x10000) {
      add_unit(code);
    } else {
      add_unit(0xD800U + ((code - 0x10000U) >> 10U));
      add_unit(0xDC00U + ((code - 0x10000U) & 0x3FFU));
    }
  }
  return fmt::format("{:08x}{:08x}", first.end(), second.end());
}

}  // namespace

bool is_entry_id(std::string_view text) {
  constexpr std::string_view letters = "abcdefghijklmnopqrstuvwxyz0123456789_-";
  return !text.empty() && text.size() <= 64 &&
         text.find_first_not_of(letters) == std::string_view::npos;
}

std::string RowIds::next(const std::vector<std::string>& cells) {
  std::u32string words = U"[";
  for (const std::string& cell : cells) {
    if (words.size() > 1) words += U',';
    add_quoted(words, trimmed(letters_of(cell)));
  }
  words += U']';
  const int before = seen_[words]++;
  add(words, fmt::format("#{}", before));
  return "log-" + digest(words);
}

}  // namespace propwright::logbook
