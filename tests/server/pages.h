/// A real server on a free loopback port, asked as a browser would; every answer is checked against
/// docs/openapi.yaml.
#pragma once

#include <httplib.h>

#include <memory>
#include <nlohmann/json.hpp>
#include <string>
#include <thread>

#include "api_description.h"
#include "propwright/server/server.h"

namespace propwright::server::test {

using nlohmann::json;

struct Reply {
  int status = 0;
  std::string text;
  httplib::Headers headers;
  json body() const { return json::parse(text); }
  std::string header(const std::string& name) const {
    const auto found = headers.find(name);
    return found == headers.end() ? "" : found->second;
  }
  /// Dotted fields of the problems.
  std::vector<std::string> fields() const;
};

class Pages {
 public:
  /// With a workshop in memory unless one is handed in.
  explicit Pages(Options options = {});
  Pages(workshop::Workshop workshop, Options options);
  ~Pages();

  Reply ask(const std::string& method, const std::string& path, const json& body = nullptr,
            httplib::Headers headers = {}) const;
  /// The body as it is; the description is not asked whether it may be sent.
  Reply send(const std::string& method, const std::string& path, const std::string& body,
             httplib::Headers headers = {}, const std::string& type = "application/json") const;
  Reply get(const std::string& path, httplib::Headers headers = {}) const {
    return ask("GET", path, nullptr, std::move(headers));
  }
  /// Follows a piece of work to its end: name and data of each event.
  std::vector<std::pair<std::string, json>> events(const std::string& path) const;

  Server& server() { return *server_; }
  std::string host() const { return "127.0.0.1:" + std::to_string(server_->port()); }

 private:
  void start(workshop::Workshop workshop, Options options);
  std::unique_ptr<Server> server_;
  std::thread thread_;
};

const support::ApiDescription& description();
/// The document of an example, as /api/examples has it.
json document(const std::string& example = "lantern46");

}  // namespace propwright::server::test
