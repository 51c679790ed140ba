/// One record as the export writes it; import compares by the same.
#pragma once

#include "json.h"
#include "tables.h"

namespace propwright::workshop {

inline constexpr const char* export_format = "propwright workshop";
inline constexpr int export_version = 1;

Json to_json(const KindSpec& spec, const Record& record);
Json to_json(const designs::Whole& design);

}  // namespace propwright::workshop
