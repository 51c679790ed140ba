/// What the files of the stock's answer share.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "bench_parts.h"
#include "propwright/bench/stock.h"

namespace propwright::answer {

/// One piece with what was found of it.
struct StockPiece {
  bench::Stock stock;
  std::string kind;
  bench::StockFigures figures;
  std::optional<bench::StripModulus> modulus;
  std::vector<std::string> questions;
};

/// "A", "B", "C", or nothing.
bench::Grain stock_grain(const std::string& word);
std::string stock_grain_word(bench::Grain grain);
bool is_wood_stock(bench::StockKind kind);

/// Which sheet for which part: for the parts asked for, else for the usual ones.
Json stock_picks(const std::vector<std::optional<StockPiece>>& pieces, const Json& wishes_sent,
                 BenchContext& context);
std::vector<std::string> stock_pick_sentences(const Json& picks);

}  // namespace propwright::answer
