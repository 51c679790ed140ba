// The floor: rubber, the winding card on the screen and on paper.
#include <nlohmann/json.hpp>

#include "app.h"
#include "http.h"
#include "propwright/answer/batch_log.h"
#include "propwright/answer/floor.h"
#include "propwright/sheet/winding_card.h"

namespace propwright::server {
namespace {

/// Problems of the tables stand in the answer, so that one does not keep back the others.
void rubber(const Request& request, Response& response) {
  const auto body = body_object(request, response, answer::rubber_members());
  if (!body) return;
  send_json(response, 200, answer::rubber_document(*body));
}

void wind(const Request& request, Response& response) {
  const auto body = body_object(request, response, answer::wind_members());
  if (!body) return;
  const auto found = answer::wind_document(*body);
  if (!found) return refuse(response, found.error());
  send_json(response, 200, *found);
}

void wind_card(const Request& request, Response& response) {
  std::vector<std::string> members = answer::wind_members();
  members.insert(members.end(), {"paper", "date"});
  const auto body = body_object(request, response, members);
  if (!body) return;
  sheet::PacketOptions options;
  const Json paper = body->value("paper", Json("a4")), date = body->value("date", Json(""));
  if (paper != "a4" && paper != "letter") {
    return refuse(response, 422,
                  {.field = "paper",
                   .allowed = "a4, letter",
                   .remedy = "use one of these words",
                   .message = "this word is not known here"});
  }
  if (!date.is_string() || date.get_ref<const std::string&>().empty()) {
    return refuse(response, 422,
                  {.field = "date",
                   .allowed = "2026-11-25",
                   .remedy = "send the day of the card",
                   .message = "the date is wanting"});
  }
  Json question = *body;
  question.erase("paper");
  question.erase("date");
  const auto found = answer::wind_document(question);
  if (!found) return refuse(response, found.error());
  options.paper = paper == "letter" ? sheet::Paper::letter : sheet::Paper::a4;
  options.profile = (*found)["units"] == "inch" ? units::Profile::inch : units::Profile::metric;
  options.date = date.get<std::string>();
  auto pdf = sheet::winding_card_pdf(answer::winding_card(*found), options);
  if (!pdf) return refuse(response, pdf.error());
  response.set_header("Content-Disposition", "attachment; filename=\"winding-card.pdf\"");
  send(response, 200, std::move(pdf->bytes), "application/pdf");
}

void batch_log(App& app, const Request& request, Response& response) {
  const auto motors = answer::read_batch_log(app.workshop, request.matches[1]);
  if (!motors) return refuse(response, motors.error());
  if (!*motors) return not_found(response);
  send_json(response, 200, answer::batch_log_document(**motors));
}

}  // namespace

void add_floor_routes(httplib::Server& http, App& app) {
  http.Get("/api/rubbers/([A-Za-z0-9_-]+)/log", [&app](const Request& request, Response& response) {
    batch_log(app, request, response);
  });
  http.Post("/api/rubber", rubber);
  http.Post("/api/wind", wind);
  http.Post("/api/wind/card", wind_card);
}

}  // namespace propwright::server
