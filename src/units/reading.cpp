#include "reading.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <limits>
#include <utility>

namespace propwright::units {
namespace {

using Replacement = std::pair<std::string_view, std::string_view>;

constexpr std::array replacements = {
    Replacement{"\u2212", "-"},    Replacement{"\u00b0", "deg"},  Replacement{"\u00b5", "u"},
    Replacement{"\u03bc", "u"},    Replacement{"\u00b7", "."},    Replacement{"\u22c5", "."},
    Replacement{"\u00b2", "2"},    Replacement{"\u00b3", "3"},    Replacement{"\u2044", "/"},
    Replacement{"\u00bd", " 1/2"}, Replacement{"\u00bc", " 1/4"}, Replacement{"\u00be", " 3/4"},
    Replacement{"\u2103", "degC"}, Replacement{"\u2109", "degF"}, Replacement{"\u00a0", " "},
    Replacement{"\u2009", " "},    Replacement{"\u202f", " "},    Replacement{"\u2007", " "},
    Replacement{"\t", " "},        Replacement{"\r", " "},        Replacement{"\n", " "},
};

constexpr std::array<std::string_view, 10> quote_marks = {
    "\"", "'", "\u2018", "\u2019", "\u201c", "\u201d", "\u2032", "\u2033", "\u00b4", "`"};

std::string_view trim(std::string_view text) {
  const auto first = text.find_first_not_of(' ');
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(' ') - first + 1);
}

std::size_t digits_at(std::string_view text, std::size_t at) {
  std::size_t count = 0;
  while (at + count < text.size() && is_digit(text[at + count])) ++count;
  return count;
}

double to_double(std::string_view digits) {
  double number = 0;
  const auto [stop, error] = std::from_chars(digits.data(), digits.data() + digits.size(), number);
  const bool whole_text = stop == digits.data() + digits.size();
  return error == std::errc() && whole_text ? number : std::numeric_limits<double>::infinity();
}

/// Bytes of the well-formed UTF-8 character that starts the text; 0 when there is none.
std::size_t utf8_length(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char lead = byte(0);
  if (lead < 0x80) return 1;
  const std::size_t length = lead >= 0xf0 ? 4 : lead >= 0xe0 ? 3 : 2;
  if (lead < 0xc2 || lead > 0xf4 || text.size() < length) return 0;
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(i) & 0xc0) != 0x80) return 0;
  }
  const bool overlong = (lead == 0xe0 && byte(1) < 0xa0) || (lead == 0xf0 && byte(1) < 0x90);
  const bool surrogate = lead == 0xed && byte(1) > 0x9f;
  const bool too_high = lead == 0xf4 && byte(1) > 0x8f;
  return overlong || surrogate || too_high ? 0 : length;
}

/// "3/4" at a place: its value and length; nothing when there is no fraction or it divides by 0.
struct Fraction {
  double value;
  std::size_t length;
};

std::optional<Fraction> fraction_at(std::string_view text, std::size_t at) {
  const std::size_t above = digits_at(text, at);
  const std::size_t slash = at + above;
  if (above == 0 || slash >= text.size() || text[slash] != '/') return std::nullopt;
  const std::size_t below = digits_at(text, slash + 1);
  if (below == 0) return std::nullopt;
  const double divisor = to_double(text.substr(slash + 1, below));
  return Fraction{divisor == 0 ? std::numeric_limits<double>::quiet_NaN()
                               : to_double(text.substr(at, above)) / divisor,
                  above + 1 + below};
}

/// Where the digits of a decimal number with optional point and exponent end; `at` when none.
std::size_t decimal_end(std::string_view text, std::size_t at) {
  const std::size_t whole = digits_at(text, at);
  std::size_t end = at + whole;
  std::size_t decimals = 0;
  if (end < text.size() && text[end] == '.') {
    decimals = digits_at(text, end + 1);
    if (whole + decimals > 0) end += 1 + decimals;
  }
  if (whole + decimals == 0) return at;
  if (end < text.size() && (text[end] == 'e' || text[end] == 'E')) {
    std::size_t power = end + 1;
    if (power < text.size() && (text[power] == '+' || text[power] == '-')) ++power;
    if (const std::size_t count = digits_at(text, power); count > 0) end = power + count;
  }
  return end;
}

}  // namespace

std::string plain(std::string_view text) {
  std::string result;
  result.reserve(text.size());
  while (!text.empty()) {
    const auto found =
        std::find_if(replacements.begin(), replacements.end(),
                     [&](const Replacement& known) { return text.starts_with(known.first); });
    if (found == replacements.end()) {
      result += text.front();
      text.remove_prefix(1);
    } else {
      result += found->second;
      text.remove_prefix(found->first.size());
    }
  }
  return std::string(trim(result));
}

bool has_quote_mark(std::string_view text) {
  return std::any_of(quote_marks.begin(), quote_marks.end(), [&](std::string_view mark) {
    return text.find(mark) != std::string_view::npos;
  });
}

std::string shown(std::string_view text) {
  std::string result;
  for (int characters = 0; !text.empty(); ++characters) {
    if (characters == 60) return result + "...";
    const std::size_t length = utf8_length(text);
    const auto lead = static_cast<unsigned char>(text.front());
    if (length == 0 || lead < 0x20 || lead == 0x7f) {
      result += '?';
      text.remove_prefix(1);
    } else {
      result += text.substr(0, length);
      text.remove_prefix(length);
    }
  }
  return result;
}

std::optional<Number> read_number(std::string_view text) {
  const bool has_sign = !text.empty() && (text[0] == '+' || text[0] == '-');
  const double sign = has_sign && text[0] == '-' ? -1.0 : 1.0;
  const std::size_t begin = has_sign ? 1 : 0;
  const std::size_t whole = digits_at(text, begin);
  Number number;
  std::size_t end = begin;
  if (const auto fraction = fraction_at(text, begin)) {
    number.value = sign * fraction->value;
    end += fraction->length;
  } else {
    end = decimal_end(text, begin);
    if (end == begin) return std::nullopt;
    number.value = sign * to_double(text.substr(begin, end - begin));
    number.plain_whole = !has_sign && end == whole;
    std::size_t next = text.find_first_not_of(' ', end);
    if (next == end && next < text.size() && text[next] == '-') ++next;
    const bool may_be_mixed = end == begin + whole && next != end && next < text.size();
    const auto part = may_be_mixed ? fraction_at(text, next) : std::nullopt;
    if (part) {
      if (part->value >= 1) return std::nullopt;
      number.value += sign * part->value;
      number.plain_whole = false;
      end = next + part->length;
    }
  }
  if (number.value != number.value) return std::nullopt;
  number.rest = trim(text.substr(end));
  return number;
}

std::string unit_key(std::string_view spelling) {
  std::string key;
  char separator = 0;  // the most telling one since the last symbol: a space yields to others
  for (std::size_t i = 0; i < spelling.size(); ++i) {
    const char c = spelling[i];
    if (c == ' ' || c == '.' || c == '*' || c == '-') {
      if (separator == 0 || separator == ' ') separator = c;
      continue;
    }
    if (c == '^' && !key.empty() && digits_at(spelling, i + 1) > 0) continue;
    const bool between_symbols = !key.empty() && key.back() != '/' && c != '/';
    if (separator != 0 && between_symbols) key += '.';
    // A hyphen or star that joins nothing is no part of a unit: kept, so that it is not found.
    if ((separator == '-' || separator == '*') && !between_symbols) key += separator;
    separator = 0;
    key += c;
  }
  if (separator == '-' || separator == '*') key += separator;
  return key;
}

}  // namespace propwright::units
