// Who may ask. A page of another site may make the browser send requests here, and a name of
// another site may be made to lead here; neither carries our own host, origin and content type.
#include <algorithm>

#include "app.h"
#include "http.h"

namespace propwright::server {
namespace {

bool is_our_host(const std::string& host, const App& app) {
  const std::string port = ":" + std::to_string(app.port);
  std::vector<std::string> names{"127.0.0.1", "localhost", "[::1]"};
  names.insert(names.end(), app.lan_hosts.begin(), app.lan_hosts.end());
  return std::any_of(names.begin(), names.end(), [&](const std::string& name) {
    return host == name + port || (app.port == (app.options.tls ? 443 : 80) && host == name);
  });
}

bool is_loopback(const std::string& address) {
  return address.starts_with("127.") || address == "::1" || address.starts_with("::ffff:127.");
}

bool only_reads(const Request& request) {
  return request.method == "GET" || request.method == "HEAD";
}

bool is_json(const Request& request) {
  std::string type = request.get_header_value("Content-Type");
  type = type.substr(0, type.find(';'));
  type.erase(type.find_last_not_of(' ') + 1);
  std::transform(type.begin(), type.end(), type.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return type == "application/json";
}

bool has_body(const Request& request) {
  return request.has_header("Transfer-Encoding") ||
         (request.has_header("Content-Length") &&
          request.get_header_value("Content-Length") != "0");
}

bool from_another_site(const Request& request, const App& app) {
  const std::string origin = request.get_header_value("Origin");
  const std::string scheme = app.scheme();
  const bool ours = origin.starts_with(scheme) && is_our_host(origin.substr(scheme.size()), app);
  if (request.has_header("Origin") && !ours) return true;
  return request.path.starts_with("/api/") &&
         request.get_header_value("Sec-Fetch-Site") == "cross-site";
}

/// What needs no access code: the pages themselves, which hold nothing of the user's.
bool open_to_all(const Request& request) {
  return !request.path.starts_with("/api/") || request.path == "/api/health" ||
         request.path == "/api/access";
}

}  // namespace

bool turned_away(const Request& request, Response& response, const App& app) {
  if (!is_our_host(request.get_header_value("Host"), app)) {
    refuse(response, 403,
           {.field = "Host",
            .value = request.get_header_value("Host").substr(0, 80),
            .remedy = "open the address that the program has printed",
            .message = "this server does not answer to that name"});
    return true;
  }
  if (from_another_site(request, app)) {
    refuse(response, 403,
           {.field = "Origin",
            .value = request.get_header_value("Origin").substr(0, 80),
            .remedy = "use the program's own pages",
            .message = "the request comes from another site"});
    return true;
  }
  if (!only_reads(request) && has_body(request) && !is_json(request)) {
    refuse(response, 415,
           {.field = "Content-Type",
            .value = request.get_header_value("Content-Type").substr(0, 80),
            .allowed = "application/json",
            .remedy = "send JSON",
            .message = "the body must be JSON"});
    return true;
  }
  if (!app.options.lan || is_loopback(request.remote_addr) || open_to_all(request)) return false;
  if (app.access.knows(request.get_header_value("Cookie"))) return false;
  refuse(response, 401,
         {.field = "code",
          .remedy = "give the code that the program shows in its window",
          .message = "this device has no access yet"});
  return true;
}

httplib::Headers standing_headers() {
  return {{"Content-Security-Policy",
           "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; "
           "font-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'; "
           "frame-ancestors 'none'"},
          {"X-Content-Type-Options", "nosniff"},
          {"Referrer-Policy", "no-referrer"},
          {"Cross-Origin-Opener-Policy", "same-origin"},
          {"Cross-Origin-Resource-Policy", "same-origin"}};
}

}  // namespace propwright::server
