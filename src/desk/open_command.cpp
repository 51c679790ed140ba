// The pages: says where they are, answers until told to stop.
#include <fmt/format.h>
#include <pthread.h>

#include <chrono>
#include <csignal>
#include <cstdio>
#include <optional>
#include <thread>

#include "command.h"
#include "open_json.h"
#include "propwright/server/server.h"
#include "workshop_file.h"

namespace propwright::desk {
namespace {

/// Keeps the signals that end the program away from all threads, so that one can wait for them.
class HeldSignals {
 public:
  HeldSignals() {
    sigemptyset(&set_);
    for (const int number : {SIGINT, SIGTERM, SIGHUP}) sigaddset(&set_, number);
    pthread_sigmask(SIG_BLOCK, &set_, nullptr);
  }
  ~HeldSignals() { pthread_sigmask(SIG_UNBLOCK, &set_, nullptr); }
  HeldSignals(const HeldSignals&) = delete;
  HeldSignals& operator=(const HeldSignals&) = delete;

  void wait() const {
    int number = 0;
    sigwait(&set_, &number);
  }

 private:
  sigset_t set_{};
};

void say(const std::string& text) {
  std::fwrite(text.data(), 1, text.size(), stdout);
  std::fflush(stdout);
}

/// The first line is the address alone, for scripts.
std::string welcome(const server::Server& server, const std::filesystem::path& workshop,
                    const std::string& trust) {
  std::string text = server.address() + "\n";
  text += fmt::format("Workshop: {}\n", workshop.string());
  const auto others = server.lan_addresses();
  if (!server.access_code().empty()) {
    text += "\nOther devices in this network, anybody in it included, reach the pages at\n";
    for (const std::string& address : others) text += "  " + address + "\n";
    if (others.empty()) text += "  (this machine is in no network)\n";
    text += fmt::format("with the access code  {}\n", server.access_code());
    if (!others.empty()) {
      std::string code = server.access_code();
      std::erase(code, '-');
      text += "\n" + server::qr_text(others.front() + "?code=" + code);
    }
  }
  return text + trust + "\nCtrl-C stops it.\n";
}

/// Our own beside the workshop, or the one given; none without --tls.
base::Expected<std::optional<server::CertificateFiles>> certificate_for(
    const Arguments& arguments, const std::filesystem::path& workshop) {
  const bool given = arguments.has("--certificate"), key = arguments.has("--key");
  const auto now = std::chrono::system_clock::now();
  if (given != key) {
    return base::fail({.field = given ? "--key" : "--certificate",
                       .remedy = "give both, or neither for a certificate of our own",
                       .message = "a certificate goes with its key"});
  }
  const auto some = [](base::Expected<server::CertificateFiles> files)
      -> base::Expected<std::optional<server::CertificateFiles>> {
    if (!files) return base::fail(std::move(files.error()));
    return std::optional(*std::move(files));
  };
  if (given) {
    return some(
        server::given_certificate(arguments.text("--certificate"), arguments.text("--key"), now));
  }
  if (!arguments.has("--tls")) return std::optional<server::CertificateFiles>();
  const std::filesystem::path folder = std::filesystem::absolute(workshop).parent_path();
  const bool lan = arguments.has("--lan");
  return some(server::own_certificate(
      folder, lan ? server::network_addresses() : std::vector<std::string>(), now));
}

/// How a phone comes to trust it.
std::string certificate_words(const server::Server& server, const server::CertificateFiles& files) {
  const auto others = server.lan_addresses();
  return fmt::format(
      "\nHTTPS with the certificate {}{}.\nTo trust it on a device, open "
      "{}propwright-certificate.crt "
      "there, install it, and compare its SHA-256:\n  {}\n",
      files.certificate.string(), files.made ? ", made anew" : "",
      others.empty() ? server.address() : others.front(), server::fingerprint(files.certificate));
}

Answer answer_open(const Arguments& arguments) {
  OptionReader reader(arguments);
  const auto port = reader.count("--port", 0, 65535);
  if (!reader.problems.empty()) return no_answer(std::move(reader.problems));
  const auto path = workshop_file(arguments);
  if (!path) return no_answer(path.error());
  auto workshop = workshop::Workshop::open(*path);
  if (!workshop) return no_answer(std::move(workshop.error()));

  auto tls = certificate_for(arguments, *path);
  if (!tls) return no_answer(std::move(tls.error()));

  const HeldSignals signals;  // before the first thread is made
  const server::Options options{.port = static_cast<int>(port.value_or(server::default_port)),
                                .lan = arguments.has("--lan"),
                                .tls = *tls,
                                .version = PROPWRIGHT_VERSION};
  auto server = server::Server::listen(std::move(*workshop), options);
  if (!server) return no_answer(std::move(server.error()));
  if (arguments.has("--examples")) {
    if (auto added = (*server)->add_examples(); !added) return no_answer(added.error());
  }
  (*server)->on_new_code(
      [](const std::string& code) { fmt::print(stderr, "The next access code is  {}\n", code); });
  std::thread answering([&] { (*server)->run(); });
  const std::string trust = *tls ? certificate_words(**server, **tls) : "";
  say(arguments.json() ? open_json(**server, path->string(), *tls)
                       : welcome(**server, *path, trust));
  signals.wait();
  (*server)->stop();
  answering.join();
  return std::string();
}

}  // namespace

Command open_command() {
  return {
      .name = "open",
      .purpose = "The pages: brief, blade and designs in the browser",
      .input = "",
      .input_help = "",
      .input_required = false,
      .options =
          {{"--port", "N", "Where",
            fmt::format("Port on this machine; 0 takes any that is free; left out: {}",
                        server::default_port)},
           {"--lan", "", "Where", "Answer other devices in this network too, for an access code"},
           {"--tls", "", "Where", "HTTPS with a certificate of our own, kept beside the workshop"},
           {"--certificate", "FILE", "Where", "HTTPS with this certificate, in PEM"},
           {"--key", "FILE", "Where", "The key of --certificate, in PEM"},
           {"--workshop", "FILE", "What", "The workshop; left out: the one in your data folder"},
           {"--examples", "", "What",
            "Put the example jobs into a workshop that has no design yet"}},
      .example = "  propwright open\n  propwright open --port 0 --workshop club.sqlite --lan",
      .answer = answer_open};
}

}  // namespace propwright::desk
