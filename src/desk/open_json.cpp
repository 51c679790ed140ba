#include "open_json.h"

#include <nlohmann/json.hpp>

#include "propwright/answer/json_text.h"

namespace propwright::desk {

std::string open_json(const server::Server& server, const std::string& workshop,
                      const std::optional<server::CertificateFiles>& tls) {
  const std::string code = server.access_code();
  return answer::document(
      {{"address", server.address()},
       {"port", server.port()},
       {"workshop", workshop},
       {"lan_addresses", server.lan_addresses()},
       {"access_code", code.empty() ? answer::Json(nullptr) : answer::Json(code)},
       {"certificate", tls ? answer::Json(tls->certificate.string()) : answer::Json(nullptr)},
       {"certificate_sha256",
        tls ? answer::Json(server::fingerprint(tls->certificate)) : answer::Json(nullptr)}});
}

}  // namespace propwright::desk
