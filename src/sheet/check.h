/// Whether packet data can be printed at all.
#pragma once

#include "propwright/sheet/packet.h"

namespace propwright::sheet {

/// Empty when all is well.
base::Problems check(const PacketOptions& options);
base::Problems check(const form::Template& drawing);
base::Problems check(const PacketData& data);

}  // namespace propwright::sheet
