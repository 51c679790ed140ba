/// Who may come in from other devices: a code that works once, exchanged for a cookie.
#pragma once

#include <chrono>
#include <deque>
#include <functional>
#include <mutex>
#include <string>

namespace propwright::server {

class Access {
 public:
  using Clock = std::function<std::chrono::steady_clock::time_point()>;
  explicit Access(Clock now = std::chrono::steady_clock::now);

  enum class Answer { granted, wrong, wait };
  struct Exchange {
    Answer answer = Answer::wrong;
    std::string cookie;  ///< when granted
  };
  /// Spaces, hyphens and case do not matter. After `guesses_a_minute` wrong ones within a minute
  /// nothing is looked at until the minute is over; after twenty in all the code is withdrawn.
  Exchange exchange(const std::string& code);

  /// Whether the value of a Cookie header holds a cookie given out here.
  bool knows(const std::string& cookie_header) const;

  /// "KQ7M-2XPD"
  std::string code() const;
  void on_new_code(std::function<void(const std::string&)> told);

  static constexpr int guesses_a_minute = 5;
  static constexpr const char* cookie_name = "propwright_access";

 private:
  void renew();

  mutable std::mutex mutex_;
  Clock now_;
  std::string code_;
  std::deque<std::string> cookies_;
  std::deque<std::chrono::steady_clock::time_point> wrong_;
  int wrong_for_this_code_ = 0;
  std::function<void(const std::string&)> told_;
};

}  // namespace propwright::server
