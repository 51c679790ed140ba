// What takes seconds: sampling, sensitivities, the packet.
#include <fmt/format.h>

#include <algorithm>
#include <ctime>
#include <nlohmann/json.hpp>

#include "app.h"
#include "http.h"
#include "propwright/answer/bench.h"
#include "propwright/answer/document.h"
#include "propwright/answer/form_document.h"
#include "propwright/answer/packet.h"
#include "propwright/answer/spars_sheets.h"
#include "propwright/answer/target_sheets.h"
#include "propwright/sheet/bench_sheets.h"
#include "propwright/sheet/dxf.h"
#include "propwright/sheet/form_sheets.h"
#include "propwright/sheet/packet.h"

namespace propwright::server {
namespace {

using std::chrono::milliseconds;

constexpr int most_streams = 24;  // each holds one of the threads that answer
constexpr int usual_samples = 1000, least_samples = 50, most_samples = 100000;

struct Order {
  std::string kind;
  answer::LoadedJob loaded;
  sheet::Paper paper = sheet::Paper::a4;
  std::optional<double> bar_measured_m;
  int samples = usual_samples;
  answer::FormWishes form = {};  ///< of the kind "form"
  std::string file = {};         ///< which of its files
  sheet::DxfUnit dxf_unit = sheet::DxfUnit::millimetre;
  answer::SparBatch spars = {};  ///< of the kind "bench"
  answer::SparPrintWishes print = {};
  answer::Json bench = {};  ///< question of the kind "targets"
};

std::string today() {
  const std::time_t now = std::time(nullptr);
  std::tm local{};
  localtime_r(&now, &local);
  return fmt::format("{:04}-{:02}-{:02}", local.tm_year + 1900, local.tm_mon + 1, local.tm_mday);
}

/// "Lantern 46" to "lantern-46-packet".
std::string file_name(const std::string& job, const std::string& what) {
  std::string name;
  for (const char c : job) {
    const auto code = static_cast<unsigned char>(c);
    if (std::isalnum(code) != 0) {
      name += static_cast<char>(std::tolower(code));
    } else if (!name.empty() && name.back() != '-') {
      name += '-';
    }
  }
  while (!name.empty() && name.back() == '-') name.pop_back();
  return name.empty() ? what : name.substr(0, 60) + "-" + what;
}

Json spread_json(const predict::Spread& spread, double duration_s) {
  return {{"sigma_s", spread.sigma_s},
          {"relative_sigma", spread.sigma_s / duration_s},
          {"duration_interval_s", spread.duration_s},
          {"top_height_interval_m", spread.top_height_m},
          {"touch_probability", spread.touch_probability},
          {"samples", spread.samples},
          {"failed", spread.failed},
          {"band",
           {{"time_s", spread.band_time_s},
            {"low_m", spread.band_low_m},
            {"high_m", spread.band_high_m}}}};
}

Json sensitivities_json(const predict::Sensitivities& all, double duration_s) {
  Json list = Json::array();
  for (const predict::Sensitivity& doubt : all.doubts) {
    list.push_back({{"key", doubt.key},
                    {"label", doubt.label},
                    {"low_s", doubt.low_s},
                    {"high_s", doubt.high_s},
                    {"sigma_s", doubt.sigma_s}});
  }
  return {{"sigma_s", all.sigma_s}, {"relative_sigma", all.sigma_s / duration_s}, {"doubts", list}};
}

base::Expected<WorkProduct> packet(const std::string& id, const Order& order,
                                   answer::Prediction prediction, const Report& report) {
  // The flights of the spread take most of the time; drawing the pages is the rest.
  const auto sampled = [&](double share) { return report(0.8 * share); };
  const predict::SpreadOptions how{.samples = order.samples, .seed = 1, .progress = sampled};
  if (auto added = answer::add_spread(prediction, how); !added) return base::fail(added.error());
  answer::add_match(prediction);
  if (!report(0.9)) return base::fail(base::Problem{.message = "stopped"});
  const sheet::PacketOptions options{.paper = order.paper,
                                     .profile = prediction.loaded.profile(),
                                     .bar_measured_m = order.bar_measured_m,
                                     .date = today()};
  auto pdf = sheet::packet_pdf(answer::packet_data(prediction), options);
  if (!pdf) return base::fail(std::move(pdf.error()));
  const std::string name = file_name(prediction.loaded.job.info.name, "packet") + ".pdf";
  const Json result{{"pdf", "/api/work/" + id + "/packet.pdf"},
                    {"file_name", name},
                    {"pages", pdf->pages.size()},
                    {"size_bytes", pdf->bytes.size()},
                    {"headline", answer::headline(prediction)}};
  return WorkProduct{result.dump(), name, std::move(pdf->bytes)};
}

/// One file of the form and, of a PDF, its pages.
struct FormFile {
  std::string bytes;
  int pages = 1;
};

base::Expected<FormFile> draw_form(const Order& order, const answer::FormAnswer& answer,
                                   const Report& report) {
  const sheet::PacketOptions options{.paper = order.paper,
                                     .profile = order.loaded.profile(),
                                     .bar_measured_m = order.bar_measured_m,
                                     .date = today()};
  const sheet::FormSheets sheets = answer::form_sheets(answer);
  if (order.file == "pdf") {
    auto pdf = sheet::form_pdf(sheets, options);
    if (!pdf) return base::fail(std::move(pdf.error()));
    return FormFile{std::move(pdf->bytes), static_cast<int>(pdf->pages.size())};
  }
  if (order.file == "svg" || order.file == "dxf") {
    std::vector<form::Template> drawings{answer.outline};
    for (const sheet::FormGroup& group : sheets.groups) {
      drawings.insert(drawings.end(), group.drawings.begin(), group.drawings.end());
    }
    const form::Template all = sheet::gathered(drawings, "form");
    if (order.file == "dxf") return FormFile{sheet::dxf(all, order.dxf_unit)};
    auto svg = sheet::template_svg(all, options);
    if (!svg) return base::fail(std::move(svg.error()));
    return FormFile{std::move(*svg)};
  }
  const answer::SolidFormats wanted{.stl = order.file == "stl",
                                    .three_mf = order.file == "3mf",
                                    .step = order.file == "step",
                                    .one_stl = true};
  auto files = answer::solid_files(answer, wanted, report);
  if (!files) return base::fail(std::move(files.error()));
  return FormFile{std::move(files->front().bytes)};
}

base::Expected<WorkProduct> form(const std::string& id, const Order& order, const Report& report) {
  answer::FormOptions options = order.form.options;
  const bool solid = order.file == "stl" || order.file == "3mf" || order.file == "step";
  if (solid) options.kinds = {answer::FormKind::solid};
  const auto answer = answer::form_answer(order.loaded, options);
  if (!answer) return base::fail(answer.error());
  auto file = draw_form(order, *answer, report);
  if (!file) return base::fail(std::move(file.error()));
  const std::string name =
      file_name(order.loaded.job.info.name, "form-" + answer::to_text(options.kinds.front())) +
      "." + order.file;
  const Json result{{"file", "/api/work/" + id + "/file"},
                    {"file_name", name},
                    {"size_bytes", file->bytes.size()},
                    {"pages", order.file == "pdf" ? Json(file->pages) : Json(nullptr)}};
  return WorkProduct{result.dump(), name, std::move(file->bytes)};
}

base::Expected<WorkProduct> bench_product(const std::string& id, const Order& order,
                                          const sheet::BenchSheets& sheets, units::Profile profile,
                                          const std::string& name) {
  const sheet::PacketOptions options{.paper = order.paper,
                                     .profile = profile,
                                     .bar_measured_m = order.bar_measured_m,
                                     .date = today()};
  auto pdf = sheet::bench_pdf(sheets, options);
  if (!pdf) return base::fail(std::move(pdf.error()));
  const Json result{{"file", "/api/work/" + id + "/file"},
                    {"file_name", name},
                    {"size_bytes", pdf->bytes.size()},
                    {"pages", pdf->pages.size()}};
  return WorkProduct{result.dump(), name, std::move(pdf->bytes)};
}

base::Expected<WorkProduct> bench(const std::string& id, const Order& order) {
  return bench_product(
      id, order, answer::spars_sheets(answer::spars_answer(order.spars), order.print),
      order.spars.profile, file_name("batch " + order.print.batch, "bench") + ".pdf");
}

base::Expected<WorkProduct> targets(const std::string& id, const Order& order) {
  const Json answer = answer::bench_document(order.bench);
  const auto sheets = answer::target_sheets(answer, order.print.batch);
  if (!sheets) return base::fail(sheets.error());
  const bool inch = answer["units"] == "inch";
  return bench_product(id, order, *sheets, inch ? units::Profile::inch : units::Profile::metric,
                       file_name(order.print.batch, "targets") + ".pdf");
}

base::Expected<WorkProduct> carry_out(const std::string& id, const Order& order,
                                      const Report& report) {
  if (!report(0)) return base::fail(base::Problem{.message = "stopped"});
  if (order.kind == "form") return form(id, order, report);
  if (order.kind == "bench") return bench(id, order);
  if (order.kind == "targets") return targets(id, order);
  auto prediction = answer::nominal_prediction(order.loaded);
  if (!prediction) return base::fail(std::move(prediction.error()));
  const double duration_s = prediction->nominal.flight.duration_s;
  if (order.kind == "packet") return packet(id, order, std::move(*prediction), report);
  if (order.kind == "sensitivities") {
    const auto all = predict::sensitivities(order.loaded.job, prediction->nominal);
    return WorkProduct{answer::compact(sensitivities_json(all, duration_s)), {}, {}};
  }
  const predict::SpreadOptions how{.samples = order.samples, .seed = 1, .progress = report};
  const auto spread =
      predict::spread(order.loaded.job, order.loaded.attachments, prediction->nominal, how);
  if (!spread) return base::fail(answer::in_file(spread.error(), "job"));
  return WorkProduct{answer::compact(spread_json(*spread, duration_s)), {}, {}};
}

/// Reads what is asked for; all that is wrong is told.
class OrderReader {
 public:
  OrderReader(const Json& body, const answer::Shelf& shelf) : body_(body), shelf_(shelf) {}

  base::Expected<Order> read() {
    order_.kind =
        word("kind", {"spread", "packet", "sensitivities", "form", "bench", "targets"}, true);
    order_.paper = word("paper", {"a4", "letter"}, false) == "letter" ? sheet::Paper::letter
                                                                      : sheet::Paper::a4;
    samples();
    bar();
    form_wishes();
    if (order_.kind == "bench" || order_.kind == "targets") {
      order_.kind == "bench" ? spars() : question();
      print_wishes();
      if (!problems_.empty()) return base::fail(std::move(problems_));
      return std::move(order_);
    }
    Json document = Json::object();
    for (const char* name : {"job", "attachments"}) {
      if (body_.contains(name)) document[name] = body_[name];
    }
    const auto wrong = answer::check_document(document);
    problems_.insert(problems_.end(), wrong.begin(), wrong.end());
    if (!problems_.empty()) return base::fail(std::move(problems_));
    auto loaded = answer::load_document(document["job"], document.contains("attachments")
                                                             ? document["attachments"]
                                                             : Json::object());
    if (!loaded) return base::fail(std::move(loaded.error()));
    order_.loaded = std::move(*loaded);
    return std::move(order_);
  }

 private:
  std::string word(const char* name, const std::vector<std::string>& words, bool needed) {
    const auto found = body_.find(name);
    if (found == body_.end() && !needed) return words.front();
    const std::string text =
        found != body_.end() && found->is_string() ? found->get<std::string>() : "";
    if (std::find(words.begin(), words.end(), text) != words.end()) return text;
    std::string allowed;
    for (const std::string& each : words) allowed += (allowed.empty() ? "" : ", ") + each;
    problems_.push_back({.field = name,
                         .value = found == body_.end() ? "" : found->dump().substr(0, 80),
                         .allowed = allowed,
                         .remedy = "use one of these words",
                         .message = "this word is not known here"});
    return words.front();
  }

  void samples() {
    const auto found = body_.find("samples");
    if (found == body_.end()) return;
    if (found->is_number_integer()) {
      const auto count = found->get<std::int64_t>();
      if (count >= least_samples && count <= most_samples) {
        order_.samples = static_cast<int>(count);
        return;
      }
    }
    problems_.push_back({.field = "samples",
                         .value = found->dump().substr(0, 80),
                         .allowed = fmt::format("{} to {}", least_samples, most_samples),
                         .remedy = "use 1000",
                         .message = "the number of samples is out of range"});
  }

  void form_wishes() {
    if (order_.kind != "form") return;
    order_.file = word("file", {"pdf", "svg", "dxf", "stl", "3mf", "step"}, true);
    order_.dxf_unit = word("dxf_unit", {"mm", "in"}, false) == "in" ? sheet::DxfUnit::inch
                                                                    : sheet::DxfUnit::millimetre;
    const auto wishes = answer::read_form_wishes(
        body_.contains("wishes") ? answer::Json(body_["wishes"]) : answer::Json::object(), shelf_);
    if (wishes) {
      order_.form = *wishes;
    } else {
      problems_.insert(problems_.end(), wishes.error().begin(), wishes.error().end());
    }
  }

  /// What is wrong with one spar leaves the others to be printed, as in /api/bench/spars.
  void spars() {
    const auto found = body_.find("spars");
    if (found == body_.end() || !found->is_object()) {
      problems_.push_back({.field = "spars",
                           .allowed = "the request of /api/bench/spars",
                           .remedy = "send the rig and the spars",
                           .message = "there is no batch to print"});
      return;
    }
    order_.spars = answer::read_spars(answer::Json(*found));
  }

  void question() {
    const auto found = body_.find("bench");
    if (found != body_.end() && found->is_object()) {
      order_.bench = answer::Json(*found);
      return;
    }
    problems_.push_back({.field = "bench",
                         .allowed = "the request of /api/bench",
                         .remedy = "send the blade that survived as `replacement`",
                         .message = "there is no replacement blade to print"});
  }

  void print_wishes() {
    const auto print = answer::read_spar_print_wishes(
        body_.contains("print") ? answer::Json(body_["print"]) : answer::Json::object());
    if (print) {
      order_.print = *print;
    } else {
      problems_.insert(problems_.end(), print.error().begin(), print.error().end());
    }
  }

  void bar() {
    const auto found = body_.find("bar_measured");
    if (found == body_.end()) return;
    const auto read = units::parse(found->is_string() ? found->get<std::string>() : found->dump(),
                                   units::Dimension::length, "bar_measured");
    if (!read) {
      problems_.insert(problems_.end(), read.error().begin(), read.error().end());
    } else if (*read < 0.095 || *read > 0.105) {
      problems_.push_back({.field = "bar_measured",
                           .value = found->dump(),
                           .allowed = "95 mm to 105 mm",
                           .remedy = "measure the bar of 100 mm again",
                           .message = "the value is out of range"});
    } else {
      order_.bar_measured_m = *read;
    }
  }

  const Json& body_;
  const answer::Shelf& shelf_;
  Order order_;
  base::Problems problems_;
};

void start(App& app, const Request& request, Response& response) {
  const auto body = body_object(request, response,
                                {"kind", "job", "attachments", "paper", "bar_measured", "samples",
                                 "wishes", "file", "dxf_unit", "spars", "bench", "print"});
  if (!body) return;
  const auto shelf = answer::read_shelf(app.workshop);
  if (!shelf) return refuse(response, shelf.error());
  auto order = OrderReader(*body, *shelf).read();
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
