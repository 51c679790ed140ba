/// The targets of a replacement blade on paper: a card to build by, with room for what came out.
#pragma once

#include <string>

#include "propwright/answer/json_text.h"
#include "propwright/base/problem.h"
#include "propwright/sheet/bench_sheets.h"

namespace propwright::answer {

/// Of an answer of bench_document; `propeller` stands in the title block. Problems: those of the
/// answer where it has no replacement blade, or that none was asked for.
base::Expected<sheet::BenchSheets> target_sheets(const Json& answer, const std::string& propeller);

}  // namespace propwright::answer
