/// stderr for people: one line of progress, and the wish to stop.
#pragma once

#include <chrono>
#include <mutex>
#include <string>

namespace propwright::desk {

/// While it lives, the first Ctrl-C only asks to stop; a second one ends the program as usual.
class StopOnInterrupt {
 public:
  StopOnInterrupt();
  ~StopOnInterrupt();
  StopOnInterrupt(const StopOnInterrupt&) = delete;
  StopOnInterrupt& operator=(const StopOnInterrupt&) = delete;
  static bool asked();
};

/// Progress of a longer piece of work. On a terminal one line, rewritten, gone at the end;
/// elsewhere one line, and only once the work has taken half a second.
class Progress {
 public:
  explicit Progress(std::string what);
  ~Progress();
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;
  void update(double share);  ///< 0..1; from any thread

 private:
  std::mutex mutex_;
  std::string what_;
  std::chrono::steady_clock::time_point began_, shown_;
  bool terminal_ = false, said_ = false;
};

}  // namespace propwright::desk
