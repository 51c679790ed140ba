#include "console.h"

#include <fmt/format.h>
#include <unistd.h>

#include <atomic>
#include <cmath>
#include <csignal>
#include <cstdio>

namespace propwright::desk {
namespace {

std::atomic<bool> stop_asked = false;
static_assert(std::atomic<bool>::is_always_lock_free, "a signal handler may only touch such");

struct sigaction before;

}  // namespace

extern "C" {
static void ask_to_stop(int /*signal*/) {
  stop_asked = true;
}
}

StopOnInterrupt::StopOnInterrupt() {
  struct sigaction action = {};
  action.sa_handler = ask_to_stop;
  action.sa_flags = static_cast<int>(SA_RESETHAND | SA_RESTART);
  sigemptyset(&action.sa_mask);
  sigaction(SIGINT, &action, &before);
}

StopOnInterrupt::~StopOnInterrupt() {
  sigaction(SIGINT, &before, nullptr);
}

bool StopOnInterrupt::asked() {
  return stop_asked;
}

Progress::Progress(std::string what)
    : what_(std::move(what)),
      began_(std::chrono::steady_clock::now()),
      shown_(began_),
      terminal_(isatty(STDERR_FILENO) == 1) {}

Progress::~Progress() {
  if (terminal_ && said_) fmt::print(stderr, "\r\033[K");
}

void Progress::update(double share) {
  using namespace std::chrono_literals;
  const std::lock_guard lock(mutex_);
  const auto now = std::chrono::steady_clock::now();
  if (now - shown_ < (terminal_ ? 100ms : 500ms)) return;
  if (!terminal_ && said_) return;
  shown_ = now;
  said_ = true;
  const double spent_s = std::chrono::duration<double>(now - began_).count();
  const double left_s = share > 0 ? spent_s * (1 - share) / share : 0;
  const std::string left = share > 0 ? fmt::format(", about {:.0f} s left", std::ceil(left_s)) : "";
  if (terminal_) {
    fmt::print(stderr, "\r\033[K{}: {:.0f} %{}", what_, 100 * share, left);
  } else {
    fmt::print(stderr, "{}{}\n", what_, left);
  }
  std::fflush(stderr);
}

}  // namespace propwright::desk
