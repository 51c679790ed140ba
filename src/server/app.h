/// What all routes share, and the routes by subject.
#pragma once

#include <httplib.h>

#include <atomic>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "access.h"
#include "propwright/answer/known_learning.h"
#include "propwright/answer/pair_answer.h"
#include "propwright/server/server.h"
#include "propwright/workshop/workshop.h"
#include "work.h"

namespace propwright::server {

struct App {
  workshop::Workshop workshop;
  Options options;
  int port = 0;
  std::vector<std::string> lan_hosts = {};  ///< "192.168.1.20"
  /// "http://" or "https://"
  std::string scheme() const { return options.tls ? "https://" : "http://"; }
  Access access = Access();
  answer::KnownDesigns known_designs = {};
  answer::KnownLearning known_learning = {};
  WorkLine work = {};
  std::atomic<bool> stopping = false;
  std::atomic<int> streams = 0;  ///< event streams that are open
};

/// A job that comes with the program.
struct Example {
  std::string id, title;
  answer::Json document;
};
const std::vector<Example>& examples();
/// The invented flights that come with the program and the jobs they were flown with; the answer to
/// GET /api/examples/flights.
answer::Json example_flights();
/// Invented records of rubber, motors and a meter; the answer to GET /api/examples/rubber.
answer::Json example_rubber();
/// docs/openapi.yaml
std::string openapi_text();

/// Puts a document with its figures into the form the workshop keeps. The figures are left open for
/// a job that does not fly yet.
workshop::DesignContent design_content(const std::string& name, const answer::Json& document,
                                       const std::string& note);

void add_program_routes(httplib::Server& http, App& app);
void add_live_routes(httplib::Server& http, App& app);
void add_spar_routes(httplib::Server& http);
void add_flight_routes(httplib::Server& http, App& app);
void add_floor_routes(httplib::Server& http, App& app);
void add_verdict_routes(httplib::Server& http, App& app);
void add_life_routes(httplib::Server& http, App& app);
void add_work_routes(httplib::Server& http, App& app);
void add_record_routes(httplib::Server& http, App& app);
void add_design_routes(httplib::Server& http, App& app);
void add_workshop_routes(httplib::Server& http, App& app);
/// Last: every other address.
void add_page_routes(httplib::Server& http, App& app);

/// Turns away what does not come from our own pages; true when the response is made.
bool turned_away(const httplib::Request& request, httplib::Response& response, const App& app);
/// Headers of every answer.
httplib::Headers standing_headers();

}  // namespace propwright::server
