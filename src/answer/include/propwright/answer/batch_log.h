/// What the log of flights tells of a rubber batch: the motors of it that broke while they were
/// wound, and how far its others were wound and held (docs/openapi.yaml, BatchLog).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/answer/json_text.h"
#include "propwright/base/problem.h"
#include "propwright/workshop/workshop.h"

namespace propwright::answer {

/// How a logged motor ended.
enum class LoggedEnd {
  broke,
  broke_unknown,  ///< at turns that nobody noted: `turns` is what it held before
  held
};

/// One motor of the batch, by its flights. A name that is used again after its motor broke is
/// another motor.
struct LoggedMotor {
  /// Stays the same while winds are added: the id of its record, else its name, else the id of the
  /// flight; a motor after one of that name broke has the id of that break behind it.
  std::string key;
  std::string motor;     ///< as logged, or as its record has it; "" for one without a name
  std::string motor_id;  ///< of its record; "" for none
  LoggedEnd end = LoggedEnd::held;
  std::optional<double> turns = {};       ///< where it broke, else the greatest that it held
  std::optional<double> section_m2 = {};  ///< of all strands
  std::optional<double> length_m = {};    ///< of the loop
  bool size_of_flight = false;            ///< as noted in the flight; else that of its record
  std::string flight, time;               ///< of the wind told here: id, and local time or ""
  int winds = 0;                          ///< logged of this motor
};

/// Nothing when there is no such batch. Of the batch are the flights linked to one of its motors,
/// those that are linked to none and name one of its motors, and those of other motors without a
/// batch of their own that name the batch, where no other batch has its name. Flights left out by
/// the builder, and winds of motors without a name that held, tell nothing. Breaks first, each
/// part by time. Problem: the workshop's own.
base::Expected<std::optional<std::vector<LoggedMotor>>> read_batch_log(
    const workshop::Workshop& workshop, const std::string& rubber_id);

/// {"motors": [...]}.
Json batch_log_document(const std::vector<LoggedMotor>& motors);

}  // namespace propwright::answer
