/// The pages and their answers over HTTP, on this machine only unless told otherwise
/// (docs/openapi.yaml).
///
/// Threads: one accepts, some answer, one does long work. Every answer is made from values; what is
/// shared is the workshop, the line of work and the access codes, each with its own lock.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "propwright/base/problem.h"
#include "propwright/server/certificate.h"
#include "propwright/workshop/workshop.h"

namespace propwright::server {

inline constexpr int default_port = 8737;

struct Options {
  int port = default_port;  ///< 0: any that is free
  bool lan = false;         ///< answer other devices too, for an access code
  /// HTTPS with this certificate; left out: plain HTTP.
  std::optional<CertificateFiles> tls = {};
  std::string version;  ///< of the program
};

class Server {
 public:
  /// Takes the port; nobody is answered before `run`. Problem: resource_failed, field "--port",
  /// when the port is taken or not allowed.
  static base::Expected<std::unique_ptr<Server>> listen(workshop::Workshop workshop,
                                                        const Options& options);
  ~Server();
  Server(const Server&) = delete;
  Server& operator=(const Server&) = delete;

  int port() const;
  /// "http://127.0.0.1:8737/", https with a certificate.
  std::string address() const;
  /// Addresses at which other devices find it; empty without `lan`.
  std::vector<std::string> lan_addresses() const;
  /// The code that the next device has to give, "KQ7M-2XPD"; empty without `lan`.
  std::string access_code() const;
  /// Called with the next code whenever one has been used or withdrawn; set before `run`.
  void on_new_code(std::function<void(const std::string&)> told);

  /// Adds the examples as designs where the workshop has no design at all; how many were added.
  base::Expected<int> add_examples();

  /// Answers until `stop`. Then the requests under way are finished, streams closed, work stopped.
  void run();
  /// From any thread, any number of times.
  void stop();

 private:
  struct Impl;
  explicit Server(std::unique_ptr<Impl> impl);
  std::unique_ptr<Impl> impl_;
};

/// A QR code as lines of text for a terminal, dark on light; empty when the text is too long for
/// one.
std::string qr_text(const std::string& text);

}  // namespace propwright::server
