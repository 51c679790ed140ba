/// Two blades against each other.
#pragma once

#include "bench_parts.h"

namespace propwright::answer {

/// Both blades must be read and worked out. `pair` may be null.
Json bench_pair(const Json& pair, BenchContext& context);

/// "matched", "re_set" ...
std::string blade_verdict_word(bench::Verdict verdict);

}  // namespace propwright::answer
