/// Small texts: times, ids, words to search by.
#pragma once

#include <chrono>
#include <string>
#include <string_view>
#include <vector>

namespace propwright::workshop {

using Time = std::chrono::system_clock::time_point;

/// "2026-11-25T15:04:20.123Z", cut to the millisecond; sorts as it reads, years 0 to 9999.
std::string utc_text(Time time);
/// "20261125T150420Z", for file names.
std::string file_time_text(Time time);
/// Whether a text is as utc_text writes it, and names a day that exists.
bool is_utc_text(std::string_view text);

/// 16 random digits and letters, without those that look alike: 80 bits.
std::string random_id();
bool is_id(std::string_view text);  ///< 1 to 64 of a-z, 0-9, "-" and "_"

/// Valid UTF-8 without control characters; `lines` allows tab and line breaks.
bool is_clean_text(std::string_view text, bool lines);

/// In small letters: Latin with its accents, Greek, Cyrillic. Other bytes stay. UTF-8 in and out.
std::string folded(std::string_view text);
/// The words of a search, folded.
std::vector<std::string> words(std::string_view text);

}  // namespace propwright::workshop
