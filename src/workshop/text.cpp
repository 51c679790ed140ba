#include "text.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdint>
#include <optional>
#include <random>
#include <sstream>

namespace propwright::workshop {
namespace {

struct Moment {
  std::chrono::year_month_day day;
  std::chrono::hh_mm_ss<std::chrono::milliseconds> time;
};

Moment moment_of(Time time) {
  using namespace std::chrono;
  const auto whole = floor<milliseconds>(time);
  const auto day = floor<days>(whole);
  return {year_month_day(day), hh_mm_ss<milliseconds>(whole - day)};
}

std::string date_time(const Moment& moment, const char* form) {
  return fmt::format(fmt::runtime(form), int(moment.day.year()), unsigned(moment.day.month()),
                     unsigned(moment.day.day()), moment.time.hours().count(),
                     moment.time.minutes().count(), moment.time.seconds().count());
}

/// One code point and the bytes it takes.
struct Letter {
  std::uint32_t code = 0;
  std::size_t bytes = 0;
};

/// Nothing when the bytes at `at` are not UTF-8 (RFC 3629: no overlong forms, no surrogates).
std::optional<Letter> letter_at(std::string_view text, std::size_t at) {
  const auto byte = [&](std::size_t i) -> std::uint32_t {
    return at + i < text.size() ? static_cast<unsigned char>(text[at + i]) : 0;
  };
  const std::uint32_t first = byte(0);
  if (first < 0x80) return Letter{first, 1};
  const std::size_t bytes = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : 2;
  if (first < 0xC2 || first > 0xF4) return std::nullopt;
  std::uint32_t code = first & (0xFFu >> (bytes + 1));
  for (std::size_t i = 1; i < bytes; ++i) {
    if ((byte(i) & 0xC0) != 0x80) return std::nullopt;
    code = code << 6 | (byte(i) & 0x3F);
  }
  const bool overlong = code < (bytes == 2 ? 0x80u : bytes == 3 ? 0x800u : 0x10000u);
  if (overlong || (code >= 0xD800 && code < 0xE000) || code > 0x10FFFF) return std::nullopt;
  return Letter{code, bytes};
}

/// Simple case pairs of the Unicode blocks Latin-1 Supplement, Latin Extended-A, Greek, Cyrillic.
std::uint32_t small(std::uint32_t code) {
  const auto in = [&](std::uint32_t low, std::uint32_t high) {
    return code >= low && code <= high;
  };
  if (in('A', 'Z') || (in(0xC0, 0xDE) && code != 0xD7)) return code + 0x20;
  if (code == 0x178) return 0xFF;
  if (code == 0x130) return 'i';
  if (in(0x139, 0x148) || in(0x179, 0x17E)) return code % 2 == 1 ? code + 1 : code;
  if (in(0x100, 0x137) || in(0x14A, 0x177)) return code | 1;
  if (in(0x391, 0x3A9) && code != 0x3A2) return code + 0x20;
  if (in(0x410, 0x42F)) return code + 0x20;
  if (in(0x400, 0x40F)) return code + 0x50;
  return code;
}

void append(std::string& text, std::uint32_t code) {
  if (code < 0x80) {
    text += static_cast<char>(code);
  } else {  // all that small() changes lies below 0x800
    text += static_cast<char>(0xC0 | code >> 6);
    text += static_cast<char>(0x80 | (code & 0x3F));
  }
}

}  // namespace

std::string utc_text(Time time) {
  const Moment moment = moment_of(time);
  return date_time(moment, "{:04}-{:02}-{:02}T{:02}:{:02}:{:02}") +
         fmt::format(".{:03}Z", moment.time.subseconds().count());
}

std::string file_time_text(Time time) {
  return date_time(moment_of(time), "{:04}{:02}{:02}T{:02}{:02}{:02}Z");
}

bool is_utc_text(std::string_view text) {
  constexpr std::string_view form = "0000-00-00T00:00:00.000Z";
  if (text.size() != form.size()) return false;
  const auto digit = [](char c) { return c >= '0' && c <= '9'; };
  for (std::size_t i = 0; i < form.size(); ++i) {
    if (form[i] == '0' ? !digit(text[i]) : text[i] != form[i]) return false;
  }
  const auto number = [&](std::size_t at, std::size_t count) {
    int value = 0;
    for (const char c : text.substr(at, count)) value = value * 10 + (c - '0');
    return value;
  };
  const std::chrono::year_month_day day{std::chrono::year(number(0, 4)),
                                        std::chrono::month(static_cast<unsigned>(number(5, 2))),
                                        std::chrono::day(static_cast<unsigned>(number(8, 2)))};
  return day.ok() && number(11, 2) < 24 && number(14, 2) < 60 && number(17, 2) < 60;
}

std::string random_id() {
  constexpr std::string_view letters = "0123456789abcdefghjkmnpqrstvwxyz";
  std::random_device source;
  std::uniform_int_distribution<std::size_t> any(0, letters.size() - 1);
  std::string id(16, ' ');
  std::generate(id.begin(), id.end(), [&] { return letters[any(source)]; });
  return id;
}

bool is_id(std::string_view text) {
  return !text.empty() && text.size() <= 64 &&
         text.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789-_") == text.npos;
}

bool is_clean_text(std::string_view text, bool lines) {
  for (std::size_t at = 0; at < text.size();) {
    const auto letter = letter_at(text, at);
    if (!letter) return false;
    const bool line = letter->code == '\n' || letter->code == '\r' || letter->code == '\t';
    if ((letter->code < 0x20 || letter->code == 0x7F) && !(lines && line)) return false;
    at += letter->bytes;
  }
  return true;
}

std::string folded(std::string_view text) {
  std::string result;
  result.reserve(text.size());
  for (std::size_t at = 0; at < text.size();) {
    const auto letter = letter_at(text, at);
    const std::size_t bytes = letter ? letter->bytes : 1;
    const std::uint32_t code = letter ? small(letter->code) : 0;
    if (letter && code != letter->code) {
      append(result, code);
    } else {
      result.append(text.substr(at, bytes));
    }
    at += bytes;
  }
  return result;
}

std::vector<std::string> words(std::string_view text) {
  std::istringstream stream(folded(text));
  std::vector<std::string> result;
  for (std::string word; stream >> word;) result.push_back(word);
  return result;
}

}  // namespace propwright::workshop
