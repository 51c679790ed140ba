// The library gives a handler no way to the connection, but the request names both of its ends, and
// no two connections have the same. Its socket stays open while the handler runs.
#include "connection.h"

#include <arpa/inet.h>
#include <netinet/in.h>
#include <poll.h>
#include <sys/resource.h>
#include <sys/socket.h>

#include <algorithm>
#include <string>

namespace propwright::server {
namespace {

using EndOf = int (*)(int, sockaddr*, socklen_t*);

/// One end of a socket as "127.0.0.1:8093"; "" for what is no connection over the net.
std::string end_of(int socket, EndOf which) {
  sockaddr_storage address{};
  socklen_t size = sizeof address;
  if (which(socket, reinterpret_cast<sockaddr*>(&address), &size) != 0) return {};
  if (address.ss_family != AF_INET) return {};
  const auto& end = reinterpret_cast<const sockaddr_in&>(address);
  char text[INET_ADDRSTRLEN] = {};
  if (inet_ntop(AF_INET, &end.sin_addr, text, sizeof text) == nullptr) return {};
  return std::string(text) + ":" + std::to_string(ntohs(end.sin_port));
}

int most_sockets() {
  constexpr rlim_t enough = 4096;
  rlimit limit{};
  if (getrlimit(RLIMIT_NOFILE, &limit) != 0) return static_cast<int>(enough);
  return static_cast<int>(std::min(limit.rlim_cur, enough));
}

}  // namespace

Connection::Connection(const httplib::Request& request, int port) {
  const std::string other = request.remote_addr + ":" + std::to_string(request.remote_port);
  const std::string own = ":" + std::to_string(port);
  for (int socket = 0; socket < most_sockets(); ++socket) {
    if (end_of(socket, getpeername) != other) continue;
    if (!end_of(socket, getsockname).ends_with(own)) continue;
    socket_ = socket;
    return;
  }
}

bool Connection::closed() const {
  if (socket_ < 0) return false;
  pollfd asked{socket_, POLLRDHUP, 0};
  if (poll(&asked, 1, 0) <= 0) return false;
  return (asked.revents & (POLLRDHUP | POLLHUP | POLLERR | POLLNVAL)) != 0;
}

}  // namespace propwright::server
