/// The options of whatever is printed: paper, the measured bar, the date.
#pragma once

#include <vector>

#include "command.h"
#include "propwright/sheet/packet.h"

namespace propwright::desk {

/// "2026-11-25"
std::string today();

std::vector<Option> paper_options();

/// The profile is the caller's to set. Problems go to the reader.
sheet::PacketOptions read_paper(const Arguments& arguments, OptionReader& reader);

/// The drawing names its settings as members; here they are options.
base::Problems as_paper_options(base::Problems problems);

}  // namespace propwright::desk
