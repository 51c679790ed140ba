#include "access.h"

#include <algorithm>
#include <cctype>

#include "random_text.h"

namespace propwright::server {
namespace {

constexpr std::size_t most_devices = 32;  // the first in is the first out
constexpr int guesses_for_one_code = 20;

std::string plain(const std::string& code) {
  std::string text;
  for (const char c : code) {
    if (c == ' ' || c == '-') continue;
    text += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  }
  return text;
}

}  // namespace

Access::Access(Clock now) : now_(std::move(now)), code_(random_text(8)) {}

std::string Access::code() const {
  const std::lock_guard lock(mutex_);
  std::string shown;
  for (const char c : code_)
    shown += static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
  return shown.insert(4, "-");
}

void Access::on_new_code(std::function<void(const std::string&)> told) {
  const std::lock_guard lock(mutex_);
  told_ = std::move(told);
}

/// With the lock held.
void Access::renew() {
  code_ = random_text(8);
  wrong_for_this_code_ = 0;
}

Access::Exchange Access::exchange(const std::string& code) {
  std::unique_lock lock(mutex_);
  const auto now = now_();
  while (!wrong_.empty() && now - wrong_.front() >= std::chrono::minutes(1)) wrong_.pop_front();
  if (wrong_.size() >= guesses_a_minute) return {Answer::wait, {}};
  Exchange result;
  const bool right = same_secret(plain(code), code_);
  if (right) {
    result = {Answer::granted, random_text(32)};
    cookies_.push_back(result.cookie);
    if (cookies_.size() > most_devices) cookies_.pop_front();
  } else {
    wrong_.push_back(now);
  }
  if (!right && ++wrong_for_this_code_ < guesses_for_one_code) return result;
  renew();
  const auto told = told_;
  lock.unlock();
  if (told) told(this->code());
  return result;
}

bool Access::knows(const std::string& cookie_header) const {
  const std::string name = std::string(cookie_name) + "=";
  const std::lock_guard lock(mutex_);
  for (std::size_t at = 0; at < cookie_header.size();) {
    const std::size_t end = std::min(cookie_header.find(';', at), cookie_header.size());
    const std::size_t from = cookie_header.find_first_not_of(' ', at);
    if (from < end && cookie_header.compare(from, name.size(), name) == 0) {
      const std::string value = cookie_header.substr(from + name.size(), end - from - name.size());
      if (std::any_of(cookies_.begin(), cookies_.end(),
                      [&](const std::string& known) { return same_secret(known, value); })) {
        return true;
      }
    }
    at = end + 1;
  }
  return false;
}

}  // namespace propwright::server
