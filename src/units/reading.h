/// The small pieces of reading a quantity: characters, numbers, spellings. Private to the module.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace propwright::units {

/// 0 to 9, whatever the locale.
constexpr bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

/// The text in plain ASCII where it can be: minus, middle dot, micro, degree, squared, cubed,
/// vulgar fractions and the spaces of typography replaced, blanks at the ends removed.
std::string plain(std::string_view text);

/// True when the text holds a quote mark, straight or curly, or a prime.
bool has_quote_mark(std::string_view text);

/// The text made fit for a message: at most 60 characters, control characters and broken UTF-8
/// shown as '?'.
std::string shown(std::string_view text);

/// A number at the start of a text and what follows it, blanks skipped.
struct Number {
  double value = 0;          ///< not finite when the digits are beyond the range of a double
  bool plain_whole = false;  ///< only digits, no sign
  std::string_view rest;
};

/// Reads "12", "-3.5", ".5", "1e-5", "1/32", "1 1/2", "1-1/2". Nothing when the text starts
/// otherwise, a denominator is 0, or the fraction of a mixed number is 1 or more.
std::optional<Number> read_number(std::string_view text);

/// A unit spelling in the form by which it is looked up: "oz-in", "oz in", "oz*in" and "oz.in" are
/// one; "kg / m^3" is "kg/m3".
std::string unit_key(std::string_view spelling);

}  // namespace propwright::units
