#include "pages.h"

#include <gtest/gtest.h>

#include <set>

#include "jobs.h"
#include "propwright/answer/document.h"

namespace propwright::server::test {
namespace {

/// Any route may answer these, with problems.
const std::set<int> everywhere{401, 403, 404, 413, 415, 429, 500, 503};

void check_answer(const std::string& method, const std::string& path, const Reply& reply) {
  const auto& api = description();
  const std::string bare = path.substr(0, path.find('?'));
  json answer;
  try {
    const json& all = api.operation(method, bare).at("responses");
    const std::string status = std::to_string(reply.status);
    if (all.contains(status)) {
      answer = api.resolved(all.at(status));
    } else if (!everywhere.contains(reply.status)) {
      ADD_FAILURE() << method << " " << path << " answers " << status
                    << ", which is not described\n"
                    << reply.text.substr(0, 500);
      return;
    }
  } catch (const std::runtime_error&) {
    ASSERT_TRUE(everywhere.contains(reply.status)) << method << " " << path;
  }
  if (answer.is_null())
    answer = {{"content",
               {{"application/json", {{"schema", {{"$ref", "#/components/schemas/Problems"}}}}}}}};
  if (!answer.contains("content")) {
    EXPECT_EQ(reply.text, "") << method << " " << path;
    return;
  }
  const std::string type = reply.header("Content-Type");
  ASSERT_TRUE(answer.at("content").contains(type))
      << method << " " << path << " answers as " << type << ", which is not described";
  const json& content = answer.at("content").at(type);
  if (type != "application/json") return;
  for (const auto& complaint : api.complaints(reply.body(), content.at("schema"))) {
    ADD_FAILURE() << method << " " << path << " " << reply.status << ": " << complaint;
  }
}

/// What is accepted must be what the description allows, else the description is too narrow.
void check_request(const std::string& method, const std::string& path, const json& body,
                   int status) {
  if (status >= 300 || body.is_null()) return;
  const json& operation = description().operation(method, path);
  const json& schema =
      operation.at("requestBody").at("content").at("application/json").at("schema");
  for (const auto& complaint : description().complaints(body, schema)) {
    ADD_FAILURE() << "body of " << method << " " << path << ": " << complaint;
  }
}

}  // namespace

const support::ApiDescription& description() {
  static const support::ApiDescription api(PROPWRIGHT_SOURCE_DIR "/docs/openapi.yaml");
  return api;
}

json document(const std::string& example) {
  const auto job = answer::job_json(support::example_text(example + ".toml"), example);
  const auto attachments = support::attachments(support::example(example));
  return {{"job", json::parse(job->dump())},
          {"attachments", {{"rubber_test_csv", attachments.rubber_test_csv}}}};
}

std::vector<std::string> Reply::fields() const {
  std::vector<std::string> all;
  const json answer = body();
  for (const json& problem : answer.at("problems")) all.push_back(problem.at("field"));
  return all;
}

Pages::Pages(Options options) {
  start(workshop::Workshop::in_memory().value(), std::move(options));
}

Pages::Pages(workshop::Workshop workshop, Options options) {
  start(std::move(workshop), std::move(options));
}

void Pages::start(workshop::Workshop workshop, Options options) {
  options.port = 0;
  options.version = "0.0.0";
  auto made = Server::listen(std::move(workshop), options);
  if (!made) throw std::runtime_error(base::to_line(made.error().front()));
  server_ = std::move(*made);
  thread_ = std::thread([this] { server_->run(); });
}

Pages::~Pages() {
  server_->stop();
  thread_.join();
}

Reply Pages::send(const std::string& method, const std::string& path, const std::string& body,
                  httplib::Headers headers, const std::string& type) const {
  httplib::Client client("127.0.0.1", server_->port());
  client.set_read_timeout(60, 0);
  httplib::Request request;
  request.method = method;
  request.path = path;
  request.headers = std::move(headers);
  if (!body.empty()) {
    request.body = body;
    request.set_header("Content-Type", type);
  }
  const auto result = client.send(request);
  if (!result) throw std::runtime_error("no answer: " + httplib::to_string(result.error()));
  Reply reply{result->status, result->body, result->headers};
  if (path.starts_with("/api/")) check_answer(method, path, reply);
  return reply;
}

Reply Pages::ask(const std::string& method, const std::string& path, const json& body,
                 httplib::Headers headers) const {
  Reply reply = send(method, path, body.is_null() ? "" : body.dump(), std::move(headers));
  check_request(method, path.substr(0, path.find('?')), body, reply.status);
  return reply;
}

std::vector<std::pair<std::string, json>> Pages::events(const std::string& path) const {
  std::vector<std::pair<std::string, json>> all;
  const Reply reply = send("GET", path, "");
  std::istringstream lines(reply.text);
  std::string line, name;
  while (std::getline(lines, line)) {
    if (line.starts_with("event: ")) name = line.substr(7);
    if (line.starts_with("data: ")) all.emplace_back(name, json::parse(line.substr(6)));
  }
  return all;
}

}  // namespace propwright::server::test
