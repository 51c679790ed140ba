// Answers that follow the hand.
#include "propwright/answer/live.h"

#include <nlohmann/json.hpp>

#include "app.h"
#include "http.h"
#include "propwright/answer/bench.h"
#include "propwright/answer/document.h"
#include "propwright/answer/flex_answer.h"
#include "propwright/answer/form_document.h"
#include "propwright/answer/pair_answer.h"
#include "propwright/answer/shape_answer.h"

namespace propwright::server {
namespace {

constexpr double largest_relative_sigma = 10;

Json member(const Json& body, const char* name) {
  const auto found = body.find(name);
  return found == body.end() ? Json::object() : *found;
}

/// The doubt an earlier answer has given; false, with the response made, for what is none.
bool read_sigma(const Json& body, std::optional<double>& sigma, Response& response) {
  const auto found = body.find("relative_sigma");
  if (found == body.end() || found->is_null()) return true;
  if (found->is_number()) {
    const double value = found->get<double>();
    if (value >= 0 && value <= largest_relative_sigma) {
      sigma = value;
      return true;
    }
  }
  refuse(response, 422,
         {.field = "relative_sigma",
          .value = found->dump(),
          .allowed = "0 to 10",
          .remedy = "send the number that the sensitivities gave",
          .message = "this is no such number"});
  return false;
}

Json document_part(const Json& body) {
  Json document = Json::object();
  for (const char* name : {"job", "attachments"}) {
    if (body.contains(name)) document[name] = body[name];
  }
  return document;
}

bool sound_document(const Json& body, Response& response) {
  const auto problems = answer::check_document(document_part(body));
  if (problems.empty()) return true;
  refuse_all(response, 422, problems);
  return false;
}

void flight(const Request& request, Response& response) {
  const auto body = body_object(request, response, {"job", "attachments", "relative_sigma"});
  if (!body || !sound_document(*body, response)) return;
  std::optional<double> sigma;
  if (!read_sigma(*body, sigma, response)) return;
  const auto loaded = answer::load_document(body->at("job"), member(*body, "attachments"));
  if (!loaded) return refuse(response, loaded.error());
  const auto nominal = predict::predict(loaded->job, loaded->attachments);
  if (!nominal) return refuse(response, answer::in_file(nominal.error(), "job"));
  send_json(response, 200, answer::live_flight(*loaded, *nominal, sigma));
}

void in_hand(const Request& request, Response& response) {
  const auto body =
      body_object(request, response, {"job", "attachments", "readings", "relative_sigma"});
  if (!body || !sound_document(*body, response)) return;
  std::optional<double> sigma;
  if (!read_sigma(*body, sigma, response)) return;
  const Json readings = body->contains("readings") ? body->at("readings") : Json();
  const auto found =
      answer::in_hand(body->at("job"), member(*body, "attachments"), readings, sigma);
  if (!found) return refuse(response, found.error());
  send_json(response, 200, *found);
}

void shape(App& app, const Request& request, Response& response) {
  const auto body = body_object(request, response, {"job", "attachments", "wishes"});
  if (!body || !sound_document(*body, response)) return;
  // Names of cylinders are looked up on the shelf also where it is not asked for.
  const auto shelf = answer::read_shelf(app.workshop);
  if (!shelf) return refuse(response, shelf.error());
  const auto found = answer::shape_answer(body->at("job"), member(*body, "attachments"),
                                          member(*body, "wishes"), *shelf);
  if (!found) return refuse(response, found.error());
  send_json(response, 200, *found);
}

void form(App& app, const Request& request, Response& response) {
  const auto body = body_object(request, response, {"job", "attachments", "wishes"});
  if (!body || !sound_document(*body, response)) return;
  const auto shelf = answer::read_shelf(app.workshop);
  if (!shelf) return refuse(response, shelf.error());
  const auto found = answer::form_document(body->at("job"), member(*body, "attachments"),
                                           member(*body, "wishes"), *shelf);
  if (!found) return refuse(response, found.error());
  send_json(response, 200, *found);
}

void pair(App& app, const Request& request, Response& response) {
  const auto body = body_object(request, response, {"job", "attachments", "as_built"});
  if (!body || !sound_document(*body, response)) return;
  const auto loaded = answer::load_document(body->at("job"), member(*body, "attachments"));
  if (!loaded) return refuse(response, loaded.error());
  const auto known = app.known_designs.of(*loaded);
  if (!known) return refuse(response, known.error());
  const Json as_built = member(*body, "as_built");
  const auto found = answer::pair_answer(*loaded, **known, as_built, "as_built");
  if (!found) return refuse(response, found.error());
  send_json(response, 200, answer::pair_document(*found));
}

void tolerances(App& app, const Request& request, Response& response) {
  const auto body = body_object(request, response, {"job", "attachments"});
  if (!body || !sound_document(*body, response)) return;
  const auto loaded = answer::load_document(body->at("job"), member(*body, "attachments"));
  if (!loaded) return refuse(response, loaded.error());
  const auto known = app.known_designs.of(*loaded);
  if (!known) return refuse(response, known.error());
  send_json(response, 200, answer::tolerance_document(answer::tolerance_card(**known)));
}

void flex(const Request& request, Response& response) {
  const auto body = body_object(request, response, {"job", "attachments"});
  if (!body || !sound_document(*body, response)) return;
  const auto loaded = answer::load_document(body->at("job"), member(*body, "attachments"));
  if (!loaded) return refuse(response, loaded.error());
  const auto found = answer::flex_answer(*loaded);
  if (!found) return refuse(response, found.error());
  send_json(response, 200, answer::flex_document(*found));
}

void reset(const Request& request, Response& response) {
  const auto body = body_object(request, response, {"made_on", "at", "pitch", "angle", "radii"});
  if (!body) return;
  const auto found = answer::reset_document(*body);
  if (!found) return refuse(response, found.error());
  send_json(response, 200, *found);
}

/// Problems of the tables stand in the answer, so that one does not keep back the others.
void bench(const Request& request, Response& response) {
  const auto body = body_object(request, response, answer::bench_members());
  if (!body) return;
  send_json(response, 200, answer::bench_document(*body));
}

}  // namespace

void add_live_routes(httplib::Server& http, App& app) {
  http.Post("/api/form",
            [&app](const Request& request, Response& response) { form(app, request, response); });
  http.Post("/api/form/reset", reset);
  http.Post("/api/bench", bench);
  http.Post("/api/flight", flight);
  http.Post("/api/in-hand", in_hand);
  http.Post("/api/pair",
            [&app](const Request& request, Response& response) { pair(app, request, response); });
  http.Post("/api/pair/tolerances", [&app](const Request& request, Response& response) {
    tolerances(app, request, response);
  });
  http.Post("/api/flex", flex);
  http.Post("/api/shape",
            [&app](const Request& request, Response& response) { shape(app, request, response); });
}

}  // namespace propwright::server
