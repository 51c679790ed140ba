#include "random_text.h"

#include <sys/random.h>

#include <stdexcept>

namespace propwright::server {

std::string random_text(std::size_t length) {
  constexpr char letters[] = "0123456789abcdefghjkmnpqrstvwxyz";
  std::string text(length, '\0');
  // Up to 256 bytes come whole or not at all.
  if (length > 256 || getrandom(text.data(), length, 0) != static_cast<ssize_t>(length)) {
    throw std::runtime_error("the system gives no random numbers");
  }
  for (char& c : text) c = letters[static_cast<unsigned char>(c) & 31U];
  return text;
}

bool same_secret(const std::string& a, const std::string& b) {
  if (a.size() != b.size()) return false;
  unsigned difference = 0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    difference |= static_cast<unsigned char>(a[i]) ^ static_cast<unsigned char>(b[i]);
  }
  return difference == 0;
}

}  // namespace propwright::server
