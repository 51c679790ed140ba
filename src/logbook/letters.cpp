#include "letters.h"

#include <algorithm>
#include <cstdint>

namespace propwright::logbook {

namespace {

struct Letter {
  std::uint32_t code = 0xFFFD;
  std::size_t size = 1;  ///< bytes it takes; of what is none, those to pass over
  bool sound = false;
};

/// Well-formed bytes: table 3-7 of the Unicode Standard.
Letter letter_from(std::string_view text) {
  const auto lead = static_cast<unsigned char>(text.front());
  if (lead < 0x80) return {lead, 1, true};
  if (lead < 0xC2 || lead > 0xF4) return {};
  const std::size_t size = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
  std::uint32_t code = lead & (0xFFU >> (size + 1));
  for (std::size_t used = 1; used < size; ++used) {
    const unsigned next = used < text.size() ? static_cast<unsigned char>(text[used]) : 0;
    const bool second = used == 1;
    const unsigned low = second && lead == 0xE0 ? 0xA0 : second && lead == 0xF0 ? 0x90 : 0x80;
    const unsigned high = second && lead == 0xED ? 0x9F : second && lead == 0xF4 ? 0x8F : 0xBF;
    if (next < low || next > high) return {.size = used};
    code = (code << 6U) | (next & 0x3FU);
  }
  return {code, size, true};
}

}  // namespace

std::u32string letters_of(std::string_view text) {
  std::u32string letters;
  while (!text.empty()) {
    const Letter letter = letter_from(text);
    letters += static_cast<char32_t>(letter.code);
    text.remove_prefix(letter.size);
  }
  return letters;
}

int line_of_no_letter(std::string_view text) {
  for (std::size_t at = 0; at < text.size();) {
    const Letter letter = letter_from(text.substr(at));
    if (!letter.sound) {
      return 1 + static_cast<int>(std::count(text.begin(),
                                             text.begin() + static_cast<std::ptrdiff_t>(at), '\n'));
    }
    at += letter.size;
  }
  return 0;
}

}  // namespace propwright::logbook
