/// What logged flights taught, kept for the next question of the same flights.
#pragma once

#include <functional>
#include <memory>

#include "propwright/base/problem.h"

namespace propwright::answer {

/// Told the share done, 0..1, now and then; false means that nobody waits for the answer any more.
/// May be empty.
using StillWanted = std::function<bool(double share)>;

/// Private: learned_log.h.
struct FlightsQuestion;
struct LearnedLog;

/// Keeps the last few logs learned from, so that verdicts under other beliefs, and what the flights
/// taught, are learned once. Any number of threads may ask: of those that ask the same at the same
/// time one learns and the others wait for it, and it is given up only when all have gone.
class KnownLearning {
 public:
  KnownLearning();
  ~KnownLearning();
  KnownLearning(const KnownLearning&) = delete;
  KnownLearning& operator=(const KnownLearning&) = delete;

  /// The log of a question with its posterior, which may be a problem. Problem: learning_stopped().
  base::Expected<std::shared_ptr<const LearnedLog>> of(const FlightsQuestion& asked,
                                                       const StillWanted& wanted);
  /// How often it was learned, instead of answered from what is kept.
  int times_learned() const;

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace propwright::answer
