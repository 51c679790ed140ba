#include "addresses.h"

#include <arpa/inet.h>
#include <ifaddrs.h>
#include <net/if.h>
#include <netinet/in.h>

namespace propwright::server {

std::vector<std::string> own_addresses() {
  std::vector<std::string> found;
  ifaddrs* list = nullptr;
  if (getifaddrs(&list) != 0) return found;
  for (const ifaddrs* at = list; at != nullptr; at = at->ifa_next) {
    const bool up = (at->ifa_flags & IFF_UP) != 0 && (at->ifa_flags & IFF_LOOPBACK) == 0;
    if (!up || at->ifa_addr == nullptr || at->ifa_addr->sa_family != AF_INET) continue;
    char text[INET_ADDRSTRLEN] = {};
    const void* address = &reinterpret_cast<const sockaddr_in*>(at->ifa_addr)->sin_addr;
    if (inet_ntop(AF_INET, address, text, sizeof text) != nullptr) found.emplace_back(text);
  }
  freeifaddrs(list);
  return found;
}

}  // namespace propwright::server
