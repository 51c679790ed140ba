/// Text that nobody can guess.
#pragma once

#include <string>

namespace propwright::server {

/// `length` characters of 0-9 and a-z without the look-alikes i, l, o, u: 5 bits each, from the
/// system's own source of chance. std::runtime_error when that gives none.
std::string random_text(std::size_t length);

/// Compares in a time that does not tell where the texts differ.
bool same_secret(const std::string& a, const std::string& b);

}  // namespace propwright::server
