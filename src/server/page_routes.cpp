// The pages as built, out of the program itself.
#include <algorithm>

#include "app.h"
#include "http.h"
#include "web_files.h"

namespace propwright::server {
namespace {

const web::File* find_file(const std::string& path) {
  const auto files = web::files();
  const auto found = std::find_if(files.begin(), files.end(),
                                  [&](const web::File& file) { return file.path == path; });
  return found == files.end() ? nullptr : &*found;
}

/// Every place of the pages is one document, whose script reads the address.
const web::File* file_for(const std::string& path) {
  if (const web::File* file = find_file(path)) return file;
  const std::string last = path.substr(path.rfind('/') + 1);
  return last.find('.') == std::string::npos ? find_file("/index.html") : nullptr;
}

void send_file(const web::File& file, const Request& request, Response& response) {
  const bool gzip = !file.gzip.empty() &&
                    request.get_header_value("Accept-Encoding").find("gzip") != std::string::npos;
  const std::string_view bytes = gzip ? file.gzip : file.bytes;
  response.status = 200;
  response.set_header("Cache-Control",
                      file.hashed ? "public, max-age=31536000, immutable" : "no-cache");
  if (!file.gzip.empty()) response.set_header("Vary", "Accept-Encoding");
  // The page to be kept on a phone holds its scripts in itself, which the policy of these pages
  // forbids: it is saved, and opened from there.
  if (file.path == "/floor.html") {
    response.set_header("Content-Disposition", "attachment; filename=\"propwright-floor.html\"");
  }
  if (gzip) response.set_header("Content-Encoding", "gzip");
  if (bytes.empty()) return;
  response.set_content_provider(
      bytes.size(), std::string(file.content_type),
      [bytes](std::size_t from, std::size_t length, httplib::DataSink& sink) {
        return sink.write(bytes.data() + from, length);
      });
}

/// A code in the address, as the QR code has it, is exchanged on the way in.
bool let_in(App& app, const Request& request, Response& response) {
  if (!app.options.lan || !request.has_param("code")) return false;
  const auto exchange = app.access.exchange(request.get_param_value("code"));
  if (exchange.answer == Access::Answer::granted) {
    response.set_header("Set-Cookie", std::string(Access::cookie_name) + "=" + exchange.cookie +
                                          "; HttpOnly; SameSite=Strict; Path=/");
  }
  response.set_redirect("/", 303);
  return true;
}

}  // namespace

void add_page_routes(httplib::Server& http, App& app) {
  http.Get("/api/.*", [](const Request&, Response& response) { not_found(response); });
  http.Get(".*", [&app](const Request& request, Response& response) {
    if (let_in(app, request, response)) return;
    const web::File* file = file_for(request.path);
    if (file == nullptr) return not_found(response);
    send_file(*file, request, response);
  });
}

}  // namespace propwright::server
