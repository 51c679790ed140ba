/// JSON of where the pages are.
#pragma once

#include <optional>
#include <string>

#include "propwright/server/server.h"

namespace propwright::desk {

std::string open_json(const server::Server& server, const std::string& workshop,
                      const std::optional<server::CertificateFiles>& tls);

}  // namespace propwright::desk
