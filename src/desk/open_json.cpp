#include "open_json.h"

#include <nlohmann/json.hpp>

#include "propwright/answer/json_text.h"

namespace propwright::desk {

std::string open_json(const server::Server& server, const std::string& workshop) {
  const std::string code = server.access_code();
  return answer::document(
      {{"address", server.address()},
       {"port", server.port()},
       {"workshop", workshop},
       {"lan_addresses", server.lan_addresses()},
       {"access_code", code.empty() ? answer::Json(nullptr) : answer::Json(code)}});
}

}  // namespace propwright::desk
