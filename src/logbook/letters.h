/// The letters of UTF-8 text.
#pragma once

#include <string>
#include <string_view>

namespace propwright::logbook {

/// The code points; bytes that belong to none are U+FFFD, as the Encoding Standard has it.
std::u32string letters_of(std::string_view text);

/// The 1-based line of the first byte that belongs to no letter; 0 where the text is UTF-8.
int line_of_no_letter(std::string_view text);

}  // namespace propwright::logbook
