#include "propwright/server/server.h"

#include <httplib.h>
#include <sys/socket.h>

#include <atomic>
#include <cerrno>
#include <chrono>
#include <cstring>
#include <mutex>
#include <nlohmann/json.hpp>
#include <thread>

#include "addresses.h"
#include "app.h"
#include "http.h"

namespace propwright::server {
namespace {

constexpr std::size_t answering_threads = 40;
constexpr int kept_alive_s = 2;

base::Problem port_problem(int port, int error) {
  return {.kind = base::Kind::resource_failed,
          .field = "--port",
          .value = std::to_string(port),
          .remedy = "choose another with --port, or --port 0 for any that is free",
          .message = std::string("the port cannot be used: ") + std::strerror(error)};
}

base::Problem certificate_problem(const CertificateFiles& files) {
  return {.kind = base::Kind::resource_failed,
          .file = files.certificate.string(),
          .field = "--tls",
          .remedy = "give another with --certificate and --key",
          .message = "the certificate cannot be used"};
}

void answer_fault(Response& response, const std::exception_ptr& fault) {
  std::string what = "unknown";
  try {
    std::rethrow_exception(fault);
  } catch (const std::exception& error) {
    what = error.what();
  } catch (...) {
  }
  refuse(response, 500,
         {.value = what,
          .remedy = "please report it with the job",
          .message = "a fault of the program"});
}

/// What the library refuses by itself comes without a body.
void answer_bare(Response& response) {
  if (!response.body.empty() || response.content_length_ > 0) return;
  if (response.status == 413) {
    return refuse(response, 413,
                  {.allowed = "1 MiB, 8 MiB for an import",
                   .remedy = "send less",
                   .message = "the body is too large"});
  }
  if (response.status == 404) return not_found(response);
  if (response.status >= 400) {
    refuse(
        response, response.status,
        {.remedy = "send it as docs/openapi.yaml has it", .message = "the request cannot be read"});
  }
}

}  // namespace

struct Server::Impl {
  explicit Impl(workshop::Workshop workshop, const Options& options)
      : app{.workshop = std::move(workshop), .options = options}, held(made_for(options)) {}

  /// Over HTTPS where there is a certificate.
  static std::unique_ptr<httplib::Server> made_for(const Options& options) {
    if (!options.tls) return std::make_unique<httplib::Server>();
    return std::make_unique<httplib::SSLServer>(options.tls->certificate.c_str(),
                                                options.tls->key.c_str());
  }

  App app;
  std::unique_ptr<httplib::Server> held;
  httplib::Server& http = *held;
  std::atomic<bool> begun = false, ended = false;  ///< of run()
  std::once_flag closed;

  void prepare() {
    http.new_task_queue = [] { return new httplib::ThreadPool(answering_threads); };
    http.set_tcp_nodelay(true);
    // The library's own choice lets two programs share a port; here the second is to be told.
    http.set_socket_options([](socket_t socket) {
      const int yes = 1;
      setsockopt(socket, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
    });
    http.set_keep_alive_timeout(kept_alive_s);
    http.set_keep_alive_max_count(1'000'000);
    http.set_read_timeout(5, 0);
    http.set_write_timeout(10, 0);
    http.set_payload_max_length(largest_import);
    http.set_default_headers(standing_headers());
    http.set_pre_routing_handler([this](const Request& request, Response& response) {
      using Handled = httplib::Server::HandlerResponse;
      if (request.path.starts_with("/api/")) response.set_header("Cache-Control", "no-store");
      if (app.stopping) response.set_header("Connection", "close");
      return turned_away(request, response, app) ? Handled::Handled : Handled::Unhandled;
    });
    http.set_exception_handler([](const Request&, Response& response, std::exception_ptr fault) {
      answer_fault(response, fault);
    });
    http.set_error_handler([](const Request&, Response& response) { answer_bare(response); });
    add_program_routes(http, app);
    add_live_routes(http, app);
    add_spar_routes(http);
    add_flight_routes(http, app);
    add_floor_routes(http, app);
    add_verdict_routes(http, app);
    add_life_routes(http, app);
    add_work_routes(http, app);
    add_design_routes(http, app);
    add_record_routes(http, app);
    add_workshop_routes(http, app);
    add_page_routes(http, app);
  }

  base::Expected<void> bind() {
    const std::string host = app.options.lan ? "0.0.0.0" : "127.0.0.1";
    errno = 0;
    if (app.options.port == 0) {
      app.port = http.bind_to_any_port(host);
      if (app.port > 0) return {};
    } else if (http.bind_to_port(host, app.options.port)) {
      app.port = app.options.port;
      return {};
    }
    return base::fail(port_problem(app.options.port, errno != 0 ? errno : EADDRINUSE));
  }
};

Server::Server(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
Server::~Server() = default;

base::Expected<std::unique_ptr<Server>> Server::listen(workshop::Workshop workshop,
                                                       const Options& options) {
  auto impl = std::make_unique<Impl>(std::move(workshop), options);
  if (!impl->http.is_valid()) return base::fail(certificate_problem(*options.tls));
  impl->prepare();
  if (auto bound = impl->bind(); !bound) return base::fail(std::move(bound.error()));
  if (options.lan) impl->app.lan_hosts = own_addresses();
  return std::unique_ptr<Server>(new Server(std::move(impl)));
}

int Server::port() const {
  return impl_->app.port;
}

std::string Server::address() const {
  return impl_->app.scheme() + "127.0.0.1:" + std::to_string(port()) + "/";
}

std::vector<std::string> Server::lan_addresses() const {
  std::vector<std::string> all;
  for (const std::string& host : impl_->app.lan_hosts) {
    all.push_back(impl_->app.scheme() + host + ":" + std::to_string(port()) + "/");
  }
  return all;
}

std::string Server::access_code() const {
  return impl_->app.options.lan ? impl_->app.access.code() : "";
}

void Server::on_new_code(std::function<void(const std::string&)> told) {
  impl_->app.access.on_new_code(std::move(told));
}

base::Expected<int> Server::add_examples() {
  workshop::Query any;
  any.shown = workshop::Shown::all;
  any.limit = 0;
  const auto present = impl_->app.workshop.list_designs(any);
  if (!present) return base::fail(present.error());
  if (present->total > 0) return 0;
  int added = 0;
  for (const Example& example : examples()) {
    const auto made =
        impl_->app.workshop.create_design(design_content(example.title, example.document, ""));
    if (!made) return base::fail(made.error());
    ++added;
  }
  return added;
}

void Server::run() {
  impl_->begun = true;
  if (!impl_->app.stopping) impl_->http.listen_after_bind();
  impl_->app.stopping = true;
  impl_->app.work.close();
  impl_->ended = true;
}

void Server::stop() {
  impl_->app.stopping = true;
  impl_->app.work.close();
  if (!impl_->begun) return;  // run() will see that it is to stop
  // The library forgets a stop that comes before it has begun to listen.
  while (!impl_->http.is_running() && !impl_->ended) {
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
  }
  std::call_once(impl_->closed, [this] { impl_->http.stop(); });
}

}  // namespace propwright::server
