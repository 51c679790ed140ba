/// The program `propwright`: reads the command line, calls, prints (docs/commands.md).
#pragma once

namespace propwright::desk {

/// Runs one command. Returns the exit status: 0 done, 1 a fault of the program, 2 wrong usage, 3
/// bad input, 4 no solution, 5 a resource failed, 130 stopped by Ctrl-C.
int run(int argc, char** argv);

}  // namespace propwright::desk
