/// JSON of where the pages are.
#pragma once

#include <string>

#include "propwright/server/server.h"

namespace propwright::desk {

std::string open_json(const server::Server& server, const std::string& workshop);

}  // namespace propwright::desk
