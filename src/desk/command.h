/// What a command is: its options, as a table, and the function that answers.
#pragma once

#include <string>
#include <vector>

#include "arguments.h"
#include "propwright/base/problem.h"

namespace propwright::desk {

namespace status {
inline constexpr int done = 0, fault = 1, wrong_usage = 2, bad_input = 3, no_solution = 4,
                     resource_failed = 5, stopped = 130;
}

/// Why a command has no answer, and the exit status that goes with it.
struct Failure {
  base::Problems problems;
  int status = status::bad_input;
  /// What could be answered all the same, for stdout. With --json it tells the problems too.
  std::string rest = {};

  /// Status from the kinds: bad input before a failed resource before no solution.
  explicit Failure(base::Problems list);
  Failure(base::Problems list, int exit_status) : problems(std::move(list)), status(exit_status) {}
};

/// What goes to stdout, in full, or why there is nothing.
using Answer = tl::expected<std::string, Failure>;

/// The failing side of an Answer.
inline tl::unexpected<Failure> no_answer(base::Problems problems) {
  return tl::unexpected<Failure>(Failure(std::move(problems)));
}
inline tl::unexpected<Failure> wrong_usage(base::Problems problems) {
  return tl::unexpected<Failure>(Failure(std::move(problems), status::wrong_usage));
}

/// An answer to a part of what was asked: `rest` goes to stdout, the problems to stderr unless they
/// stand in the JSON already. Status as the problems say.
inline tl::unexpected<Failure> partly(std::string rest, base::Problems problems) {
  Failure failure(std::move(problems));
  failure.rest = std::move(rest);
  return tl::unexpected<Failure>(std::move(failure));
}

struct Option {
  std::string name;   ///< "--speed"
  std::string value;  ///< what it takes, for the help: "V"; empty for a flag
  std::string group;  ///< heading in the help
  std::string help;
  bool required = false;
  bool repeatable = false;
  std::string short_name = {};  ///< "-o"
};

struct Command {
  std::string name;
  std::string purpose;     ///< one line
  std::string input;       ///< name of the one positional argument, "JOB.toml"; empty for none
  std::string input_help;  ///< what it is
  bool input_required = true;
  std::vector<Option> options;
  std::string example;  ///< lines that run as they are
  Answer (*answer)(const Arguments&);
  std::string second_input = {};  ///< name of a second positional argument, never required
  std::string second_input_help = {};
};

Command air_command();
Command rotor_command();
Command rubber_command();
Command wind_command();
Command learn_command();
Command verdict_command();
Command bench_command();
Command predict_command();
Command packet_command();
Command shape_command();
Command form_command();
Command spars_command();
Command pair_command();
Command flex_command();
Command open_command();
Command workshop_command();

/// All of them, in the order of the help.
std::vector<Command> commands();

}  // namespace propwright::desk
