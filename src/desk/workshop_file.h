/// Where the workshop of this user is.
#pragma once

#include <filesystem>

#include "arguments.h"
#include "command.h"
#include "propwright/answer/shelf.h"

namespace propwright::desk {

/// What --workshop names, or workshop.sqlite in the user's data folder: $XDG_DATA_HOME/propwright,
/// or ~/.local/share/propwright. Problem: neither is known.
base::Expected<std::filesystem::path> workshop_file(const Arguments& arguments);

/// The option --workshop, under a heading of the help.
Option workshop_option(const std::string& group);

/// The form shelf of the workshop. Problem: there is no such file, or it cannot be opened.
base::Expected<answer::Shelf> shelf_of(const Arguments& arguments);

/// A cylinder by diameter or name, as --cylinder takes it; only a name that the program's own list
/// does not have is looked up in the workshop. Problem: as answer::cylinder_of and shelf_of.
base::Expected<form::Cylinder> cylinder_of_option(const Arguments& arguments,
                                                  const std::string& text);

}  // namespace propwright::desk
