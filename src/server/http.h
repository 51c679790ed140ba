/// Requests and answers as this server uses them.
#pragma once

#include <httplib.h>

#include <optional>
#include <string>

#include "propwright/answer/json_text.h"
#include "propwright/base/problem.h"

namespace propwright::server {

using answer::Json;
using httplib::Request;
using httplib::Response;

inline constexpr std::size_t largest_body = std::size_t{1} << 20;
/// Of an import, and of a question about a log of thousands of flights.
inline constexpr std::size_t largest_import = std::size_t{8} << 20;

/// An answer of any type that the library neither compresses nor copies again.
void send(Response& response, int status, std::string text, const std::string& type);
void send_json(Response& response, int status, const Json& json);
/// {"problems": [...]}
void refuse_all(Response& response, int status, const base::Problems& problems);
void refuse(Response& response, int status, base::Problem problem);
/// 503 where a resource failed, else 422.
void refuse(Response& response, const base::Problems& problems);
void not_found(Response& response);

/// The body as JSON; refuses what is too large (413) or no JSON (400) and gives nothing.
std::optional<Json> body_json(const Request& request, Response& response,
                              std::size_t largest = largest_body);
/// As body_json, but an object with members out of `known` only (422).
std::optional<Json> body_object(const Request& request, Response& response,
                                const std::vector<std::string>& known,
                                std::size_t largest = largest_body);

}  // namespace propwright::server
