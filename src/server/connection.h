/// Whether whoever sent a request still waits for its answer.
#pragma once

#include <httplib.h>

namespace propwright::server {

/// The connection that a request came by; for as long as it is being answered.
class Connection {
 public:
  /// `port`: the server's own.
  Connection(const httplib::Request& request, int port);
  /// The other side has hung up: the page was left, or its builder pressed Stop. False where that
  /// cannot be told.
  bool closed() const;

 private:
  int socket_ = -1;
};

}  // namespace propwright::server
