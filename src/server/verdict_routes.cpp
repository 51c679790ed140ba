// What flights taught, which propeller is the better, and the sheet of a fair test.
#include <nlohmann/json.hpp>

#include "app.h"
#include "connection.h"
#include "http.h"
#include "propwright/answer/flights_answer.h"

namespace propwright::server {
namespace {

/// Learning goes on while somebody waits for it: until the page is left, or Stop is pressed.
answer::StillWanted while_waited_for(const App& app, const Request& request) {
  return [&app, connection = Connection(request, app.port)](double /*share*/) {
    return !app.stopping && !connection.closed();
  };
}

void learn_from_flights(App& app, const Request& request, Response& response) {
  const auto body = body_object(request, response, answer::learn_members(), largest_import);
  if (!body) return;
  const auto found =
      answer::learn_document(*body, &app.known_learning, while_waited_for(app, request));
  if (!found) return refuse(response, found.error());
  send_json(response, 200, *found);
}

void verdict_of_flights(App& app, const Request& request, Response& response) {
  const auto body = body_object(request, response, answer::verdict_members(), largest_import);
  if (!body) return;
  const auto found =
      answer::verdict_document(*body, &app.known_learning, while_waited_for(app, request));
  if (!found) return refuse(response, found.error());
  send_json(response, 200, *found);
}

/// Paper, date and number of flights of a sheet; every wrong one is told.
struct FairSheetWishes {
  sheet::PacketOptions options;
  int each = 0;
  base::Problems problems;
};

FairSheetWishes fair_sheet_wishes(const Json& body) {
  FairSheetWishes wishes;
  const Json paper = body.value("paper", Json("a4")), date = body.value("date", Json("")),
             each = body.value("each", Json(0));
  if (paper != "a4" && paper != "letter") {
    wishes.problems.push_back({.field = "paper",
                               .allowed = "a4, letter",
                               .remedy = "use one of these words",
                               .message = "this word is not known here"});
  }
  if (!date.is_string() || date.get_ref<const std::string&>().empty()) {
    wishes.problems.push_back({.field = "date",
                               .allowed = "2026-11-25",
                               .remedy = "send the day of the sheet",
                               .message = "the date is wanting"});
  } else {
    wishes.options.date = date.get<std::string>();
  }
  const bool whole =
      each.is_number_integer() && each.get<std::int64_t>() >= 0 && each.get<std::int64_t>() <= 100;
  if (whole) {
    wishes.each = each.get<int>();
  } else if (!each.is_null()) {
    wishes.problems.push_back({.field = "each",
                               .allowed = "1 to 100; 0 or left out: as the verdict has it",
                               .remedy = "give a whole number",
                               .message = "this is no such number of flights"});
  }
  wishes.options.paper = paper == "letter" ? sheet::Paper::letter : sheet::Paper::a4;
  return wishes;
}

void fair_test(App& app, const Request& request, Response& response) {
  std::vector<std::string> members = answer::verdict_members();
  members.insert(members.end(), {"paper", "date", "each"});
  const auto body = body_object(request, response, members, largest_import);
  if (!body) return;
  FairSheetWishes wishes = fair_sheet_wishes(*body);
  if (!wishes.problems.empty()) return refuse_all(response, 422, wishes.problems);
  Json question = *body;
  for (const char* own : {"paper", "date", "each"}) question.erase(own);
  const auto found =
      answer::verdict_document(question, &app.known_learning, while_waited_for(app, request));
  if (!found) return refuse(response, found.error());
  wishes.options.profile =
      (*found)["units"] == "inch" ? units::Profile::inch : units::Profile::metric;
  auto pdf = sheet::fair_test_pdf(answer::fair_test_sheet(*found, wishes.each), wishes.options);
  if (!pdf) return refuse(response, pdf.error());
  response.set_header("Content-Disposition", "attachment; filename=\"fair-test.pdf\"");
  send(response, 200, std::move(pdf->bytes), "application/pdf");
}

}  // namespace

void add_verdict_routes(httplib::Server& http, App& app) {
  const auto route = [&app](void (*answer)(App&, const Request&, Response&)) {
    return [&app, answer](const Request& request, Response& response) {
      answer(app, request, response);
    };
  };
  http.Post("/api/learn", route(learn_from_flights));
  http.Post("/api/verdict", route(verdict_of_flights));
  http.Post("/api/verdict/sheet", route(fair_test));
}

}  // namespace propwright::server
