/// Records of the workshop as the answers carry them, and what all their routes do alike.
#pragma once

#include <optional>

#include "app.h"
#include "http.h"
#include "propwright/workshop/records.h"

namespace propwright::server {

Json record_json(const workshop::Record& record);
Json design_row_json(const workshop::DesignRow& row);
Json design_json(const workshop::Design& design);
Json version_json(const workshop::DesignVersion& version);

/// "\"7\"" from revision 7.
std::string etag(std::int64_t revision);
/// The revision that If-Match names, 0 for one that is none of ours. Nothing, with the response
/// made (428), when the header is wanting or leaves the choice open.
std::optional<std::int64_t> seen_revision(const Request& request, Response& response);
/// The query of a list; nothing, with the response made, when it cannot be read.
std::optional<workshop::Query> list_query(const Request& request, Response& response);

base::Problem stale();

/// Text members of a body; what is no text is a problem. A member that is not there gives "".
std::string text_member(const Json& body, const char* name, bool needed, base::Problems& problems);

}  // namespace propwright::server
