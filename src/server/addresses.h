#pragma once

#include <string>
#include <vector>

namespace propwright::server {

/// IPv4 addresses of this machine in its own networks, loopback left out.
std::vector<std::string> own_addresses();

}  // namespace propwright::server
