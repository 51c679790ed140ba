// The program itself: whether it is up, its fields, its examples, its description, who may come in.
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "app.h"
#include "http.h"
#include "propwright/answer/live.h"

namespace propwright::server {
namespace {

/// On this machine only the file's name is told as well: the path is nobody's business elsewhere.
std::string workshop_name(const App& app) {
  const auto& path = app.workshop.path();
  return path.empty() ? "in memory" : path.filename().string();
}

void health(const App& app, Response& response) {
  send_json(response, 200,
            {{"status", app.stopping ? "stopping" : "ready"},
             {"version", app.options.version},
             {"workshop", workshop_name(app)},
             {"workshop_id", app.workshop.id().value_or("")},
             {"schema_version", app.workshop.schema_version()}});
}

void grant(const App& app, const std::string& cookie, Response& response) {
  response.set_header("Set-Cookie", std::string(Access::cookie_name) + "=" + cookie +
                                        "; HttpOnly; SameSite=Strict; Path=/" +
                                        (app.options.tls ? "; Secure" : ""));
}

base::Problem wrong_code() {
  return {.field = "code",
          .remedy = "look at the program's window again",
          .message = "the access code is wrong"};
}

base::Problem too_many_codes() {
  return {.field = "code", .remedy = "wait a minute", .message = "too many wrong access codes"};
}

void access(App& app, const Request& request, Response& response) {
  if (!app.options.lan) return not_found(response);
  const auto body = body_object(request, response, {"code"});
  if (!body) return;
  const auto code = body->find("code");
  if (code == body->end() || !code->is_string()) {
    return refuse(response, 422,
                  {.field = "code", .remedy = "send it as text", .message = "the code is wanting"});
  }
  const auto exchange = app.access.exchange(code->get<std::string>());
  switch (exchange.answer) {
    case Access::Answer::granted:
      grant(app, exchange.cookie, response);
      response.status = 204;
      return;
    case Access::Answer::wrong:
      return refuse(response, 401, wrong_code());
    case Access::Answer::wait:
      response.set_header("Retry-After", "60");
      return refuse(response, 429, too_many_codes());
  }
}

Json example_list() {
  Json list = Json::array();
  for (const Example& example : examples()) {
    list.push_back({{"id", example.id}, {"title", example.title}, {"document", example.document}});
  }
  return list;
}

}  // namespace

void add_program_routes(httplib::Server& http, App& app) {
  http.Get("/api/health", [&](const Request&, Response& response) { health(app, response); });
  http.Get("/api/openapi.yaml", [](const Request&, Response& response) {
    send(response, 200, openapi_text(), "application/yaml");
  });
  http.Get("/api/fields", [](const Request&, Response& response) {
    static const Json fields = answer::fields_json();
    send_json(response, 200, fields);
  });
  http.Get("/api/examples", [](const Request&, Response& response) {
    static const Json list = example_list();
    send_json(response, 200, list);
  });
  http.Get("/api/examples/flights", [](const Request&, Response& response) {
    static const Json log = example_flights();
    send_json(response, 200, log);
  });
  http.Get("/api/examples/rubber", [](const Request&, Response& response) {
    static const Json rubber = example_rubber();
    send_json(response, 200, rubber);
  });
  if (app.options.tls) {
    // For a phone that is to trust it: what it shows is public, the key stays here.
    http.Get("/propwright-certificate.crt", [&](const Request&, Response& response) {
      std::ifstream file(app.options.tls->certificate, std::ios::binary);
      std::ostringstream text;
      text << file.rdbuf();
      if (!file) return not_found(response);
      send(response, 200, text.str(), "application/x-x509-ca-cert");
    });
  }
  http.Post("/api/access",
            [&](const Request& request, Response& response) { access(app, request, response); });
}

}  // namespace propwright::server
