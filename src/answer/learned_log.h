/// A log of flights with what it taught. Private.
#pragma once

#include <mutex>
#include <optional>
#include <vector>

#include "flights_question.h"
#include "propwright/answer/known_learning.h"

namespace propwright::answer {

/// What the first subject's propeller should make of the flights' conditions, as learned.
struct ReferenceFlights {
  std::vector<std::optional<double>> seconds;  ///< one for each flight of the log that has a time
  std::vector<std::string> left_out;           ///< why a flight says nothing; "" where it does
  std::optional<flight::Flight> own;           ///< of its own job, as its plan launches it
};
ReferenceFlights reference_flights(const FlightsQuestion& asked, const learn::FlownLog& log,
                                   const Eigen::VectorXd& z);

/// Stays where it is made: the log refers to the question's subjects and flights.
struct LearnedLog {
  explicit LearnedLog(const FlightsQuestion& question) : asked(question), log(flown_log(asked)) {}
  LearnedLog(const LearnedLog&) = delete;
  LearnedLog& operator=(const LearnedLog&) = delete;

  /// Flown once, at the posterior's mode. Only where there is one.
  const ReferenceFlights& reference() const;

  const FlightsQuestion asked;
  const learn::FlownLog log;
  /// Problem: no flight of the log can be learned from, or the model flies none.
  base::Expected<learn::Posterior> posterior = base::fail(base::Problems());

 private:
  mutable std::once_flag flown_;
  mutable ReferenceFlights reference_;
};

/// Learned anew, or, where there is something that keeps it, looked up.
base::Expected<std::shared_ptr<const LearnedLog>> learned_log(const FlightsQuestion& asked,
                                                              KnownLearning* known,
                                                              const StillWanted& wanted);

}  // namespace propwright::answer
