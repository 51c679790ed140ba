/// From argv to a command with its arguments.
#pragma once

#include <string>
#include <vector>

#include "command.h"

namespace propwright::desk {

struct Call {
  const Command* command = nullptr;
  Arguments arguments;
  std::string print;  ///< help or version asked for: print this instead of running
};

/// Reads a command line without the program's name. Failure: wrong usage, everything wrong at once,
/// each with the nearest name that is known.
tl::expected<Call, Failure> read_command_line(const std::vector<std::string>& words,
                                              const std::vector<Command>& commands);

}  // namespace propwright::desk
