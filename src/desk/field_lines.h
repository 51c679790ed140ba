/// Problems of a file of tables with the lines they are in.
#pragma once

#include <string>

#include "propwright/answer/document.h"
#include "propwright/base/problem.h"

namespace propwright::desk {

/// Names `file` where a problem names none, and the line of the field in it.
base::Problems with_lines(base::Problems problems, const std::string& file,
                          const answer::FieldLines& lines);

}  // namespace propwright::desk
