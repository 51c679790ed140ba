/// What a user hands in, checked and brought to the form it is kept in.
#pragma once

#include <map>
#include <string>

#include "kinds.h"
#include "propwright/base/problem.h"
#include "propwright/workshop/records.h"

namespace propwright::workshop {

/// Each adds what is wrong to `problems`, under the path `field`.
void check_name(const std::string& name, const std::string& field, base::Problems& problems);
void check_note(const std::string& note, const std::string& field, base::Problems& problems);
void check_id(const std::string& id, const std::string& field, base::Problems& problems);
/// Ids by column; a column that the kind lacks is a problem of its own name.
void check_links(const KindSpec& spec, const std::map<std::string, std::string>& links,
                 base::Problems& problems);
void check_attached(const KindSpec& spec, const std::string& text, const std::string& field,
                    base::Problems& problems);
/// `prefix` stands before the members' names: "summary."
void check_summary(const Summary& summary, const std::string& prefix, base::Problems& problems);

/// The content with its JSON in compact form. Whether links lead somewhere is not looked at here.
base::Expected<Content> checked(const KindSpec& spec, Content content);
base::Expected<DesignContent> checked(DesignContent content);

}  // namespace propwright::workshop
