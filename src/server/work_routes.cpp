// What takes seconds: asked for, followed by events, fetched.
#include <chrono>
#include <nlohmann/json.hpp>

#include "app.h"
#include "http.h"
#include "work_order.h"

namespace propwright::server {
namespace {

using std::chrono::milliseconds;

constexpr int most_streams = 24;  // each holds one of the threads that answer

void start(App& app, const Request& request, Response& response) {
  const auto body = body_object(request, response,
                                {"kind", "job", "attachments", "paper", "bar_measured", "samples",
                                 "wishes", "file", "dxf_unit", "spars", "bench", "print"});
  if (!body) return;
  const auto shelf = answer::read_shelf(app.workshop);
  if (!shelf) return refuse(response, shelf.error());
  auto order = read_work_order(*body, *shelf);
  if (!order) return refuse(response, order.error());
  const std::string kind = order->kind;
  const auto id = app.work.add(
      kind, [order = std::move(*order)](const std::string& own_id, const Report& report) {
        return carry_out(own_id, order, report);
      });
  if (!id) {
    response.set_header("Retry-After", "5");
    return refuse(response, 429,
                  {.remedy = "wait until some of it is done, or stop it",
                   .message = "too much work is waiting"});
  }
  const std::string own = "/api/work/" + *id;
  response.set_header("Location", own);
  send_json(response, 202, {{"id", *id}, {"events", own + "/events"}});
}

Json seconds_or_null(const std::optional<double>& value) {
  return value ? Json(*value) : Json(nullptr);
}

void state(App& app, const Request& request, Response& response) {
  const auto news = app.work.news(request.matches[1]);
  if (!news) return not_found(response);
  send_json(response, 200,
            {{"id", news->id},
             {"kind", news->kind},
             {"state", to_text(news->status)},
             {"share", news->share},
             {"seconds_left", seconds_or_null(news->seconds_left)},
             {"result", news->result_json.empty() ? Json(nullptr) : Json::parse(news->result_json)},
             {"problems", answer::problem_list(news->problems)}});
}

std::string event(const std::string& name, const std::string& data) {
  return "event: " + name + "\ndata: " + data + "\n\n";
}

std::string event_of(const WorkNews& news) {
  switch (news.status) {
    case WorkStatus::waiting:
    case WorkStatus::running:
      return event("progress",
                   answer::compact({{"share", news.share},
                                    {"seconds_left", seconds_or_null(news.seconds_left)}}));
    case WorkStatus::done:
      return event("done", "{\"result\":" + news.result_json + "}");
    case WorkStatus::stopped:
      return event("stopped", "{}");
    case WorkStatus::failed:
      break;
  }
  return event("failed", answer::compact({{"problems", answer::problem_list(news.problems)}}));
}

/// Counts an open stream for as long as it lives.
class OpenStream {
 public:
  explicit OpenStream(App& app) : app_(app) { ++app_.streams; }
  ~OpenStream() { --app_.streams; }
  OpenStream(const OpenStream&) = delete;
  OpenStream& operator=(const OpenStream&) = delete;

  /// One event, or a sign of life; true to go on.
  bool next(const std::string& id, httplib::DataSink& sink) {
    const auto news = app_.work.wait(id, seen_, milliseconds(5000));
    if (!news) {
      sink.done();
      return true;
    }
    const bool fresh = news->change > seen_ || first_;
    const std::string text = fresh ? event_of(*news) : ": still here\n\n";
    first_ = false;
    seen_ = news->change;
    if (!sink.write(text.data(), text.size())) return false;
    if (news->ended()) sink.done();
    return true;
  }

 private:
  App& app_;
  std::uint64_t seen_ = 0;
  bool first_ = true;
};

void events(App& app, const Request& request, Response& response) {
  const std::string id = request.matches[1];
  if (!app.work.news(id)) return not_found(response);
  if (app.streams >= most_streams) {
    return refuse(response, 429,
                  {.remedy = "close some of the pages", .message = "too many streams are open"});
  }
  response.set_header("Cache-Control", "no-store");
  const auto stream = std::make_shared<OpenStream>(app);
  response.set_chunked_content_provider(
      "text/event-stream",
      [stream, id](std::size_t, httplib::DataSink& sink) { return stream->next(id, sink); });
}

/// What a file is to the browser, by its ending.
const char* media_type(const std::string& name) {
  static const std::pair<const char*, const char*> types[] = {
      {".pdf", "application/pdf"}, {".svg", "image/svg+xml"}, {".dxf", "image/vnd.dxf"},
      {".stl", "model/stl"},       {".3mf", "model/3mf"},     {".step", "model/step"}};
  for (const auto& [ending, type] : types) {
    if (name.ends_with(ending)) return type;
  }
  return "application/octet-stream";
}

void work_file(App& app, const Request& request, Response& response) {
  const auto file = app.work.file(request.matches[1]);
  if (!file) return not_found(response);
  response.set_header("Content-Disposition", "attachment; filename=\"" + file->name + "\"");
  send(response, 200, *file->bytes, media_type(file->name));
}

}  // namespace

void add_work_routes(httplib::Server& http, App& app) {
  const std::string one = "/api/work/([0-9a-z]+)";
  const auto route = [&app](void (*answer)(App&, const Request&, Response&)) {
    return [&app, answer](const Request& request, Response& response) {
      answer(app, request, response);
    };
  };
  http.Post("/api/work", route(start));
  http.Get(one, route(state));
  http.Delete(one, [&app](const Request& request, Response& response) {
    if (!app.work.stop(request.matches[1])) return not_found(response);
    response.status = 204;
  });
  http.Get(one + "/events", route(events));
  http.Get(one + "/packet.pdf", route(work_file));
  http.Get(one + "/file", route(work_file));
}

}  // namespace propwright::server
