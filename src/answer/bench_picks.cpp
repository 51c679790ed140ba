// Which sheet for which part.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "bench_stock.h"

namespace propwright::answer {
namespace {

using D = units::Dimension;

constexpr const char* want_words[] = {"stiff_and_light", "light", "bends_round", "stiff_across"};
constexpr bench::PartWish::Want want_values[] = {
    bench::PartWish::Want::stiff_and_light, bench::PartWish::Want::light,
    bench::PartWish::Want::bends_round, bench::PartWish::Want::stiff_across};

/// The usual wish for a part of this name, or a plain one.
bench::PartWish wish_named(const std::string& part) {
  for (const bench::PartWish& usual : bench::usual_wishes()) {
    if (usual.part == part) return usual;
  }
  bench::PartWish wish;
  wish.part = part;
  wish.source = "as asked";
  return wish;
}

std::optional<bench::PartWish> read_wish(const Json& entry, const std::string& place,
                                         BenchContext& context) {
  BenchReader reader(
      entry, place,
      {"part", "want", "density_low", "density_high", "grains", "thickness", "length"});
  const std::string part = reader.text("part");
  if (part.empty() && !reader.has("part")) {
    reader.wrong("part", "this is needed", "name the part, for example \"spar\"");
  }
  bench::PartWish wish = wish_named(part);
  const std::string want = reader.word("want", {std::begin(want_words), std::end(want_words)});
  if (!want.empty()) {
    wish.want = want_values[std::find(std::begin(want_words), std::end(want_words), want) -
                            std::begin(want_words)];
  }
  const auto take = [](std::optional<double> value, double& into) { into = value.value_or(into); };
  take(reader.quantity("density_low", D::density, bench_density_kg_m3), wish.least_density_kg_m3);
  take(reader.quantity("density_high", D::density, bench_density_kg_m3),
       wish.greatest_density_kg_m3);
  take(reader.length("thickness", bench_small_m), wish.thickness_m);
  take(reader.length("length"), wish.least_length_m);
  if (reader.has("grains")) {
    wish.grains.clear();
    for (const std::string& word : reader.words("grains", {"A", "B", "C"})) {
      wish.grains.push_back(stock_grain(word));
    }
  }
  if (const auto wrong = reader.problems(); !wrong.empty()) {
    context.add(wrong);
    return std::nullopt;
  }
  return wish;
}

std::string wish_words(const bench::PartWish& wish, const BenchContext& context) {
  static constexpr const char* wants[] = {"stiff and light", "light", "bends round",
                                          "stiff across"};
  std::string text = wants[static_cast<int>(wish.want)];
  const bool low = wish.least_density_kg_m3 > 0, high = wish.greatest_density_kg_m3 > 0;
  if (low && high) {
    text += fmt::format(", {} to {}", context.density(wish.least_density_kg_m3),
                        context.density(wish.greatest_density_kg_m3));
  } else if (low || high) {
    text += low ? ", at least " + context.density(wish.least_density_kg_m3)
                : ", at most " + context.density(wish.greatest_density_kg_m3);
  }
  std::string grains;
  for (const bench::Grain grain : wish.grains)
    grains += (grains.empty() ? "" : " or ") + stock_grain_word(grain);
  if (!grains.empty()) text += ", grain " + grains;
  if (wish.thickness_m > 0) text += ", " + context.fine(wish.thickness_m) + " thick";
  return text;
}

}  // namespace

Json stock_picks(const std::vector<std::optional<StockPiece>>& pieces, const Json& wishes_sent,
                 BenchContext& context) {
  std::vector<bench::PartWish> wishes;
  if (wishes_sent.is_array()) {
    for (std::size_t i = 0; i < wishes_sent.size(); ++i) {
      auto wish = read_wish(wishes_sent[i], fmt::format("pick[{}]", i + 1), context);
      if (wish) wishes.push_back(std::move(*wish));
    }
  } else {
    wishes = bench::usual_wishes();
  }
  std::vector<bench::Shelved> shelf;
  for (const auto& piece : pieces) {
    if (!piece || !is_wood_stock(piece->stock.kind) || !piece->figures.density_kg_m3) continue;
    shelf.push_back({piece->stock, *piece->figures.density_kg_m3,
                     piece->modulus ? std::optional(piece->modulus->E_Pa) : std::nullopt});
  }
  Json all = Json::array();
  if (shelf.empty() || wishes.empty()) return all;
  const auto lists = bench::pick_list(shelf, wishes);
  if (!lists) {
    context.add(bench_fields(lists.error(), ""));
    return all;
  }
  for (std::size_t i = 0; i < lists->size(); ++i) {
    const bench::PickList& list = (*lists)[i];
    Json sheets = Json::array(), passed = Json::array();
    for (const bench::Candidate& c : list.candidates) {
      sheets.push_back({{"id", shelf[c.index].stock.id},
                        {"suits", c.suits},
                        {"penalty", c.penalty},
                        {"merit", c.merit.value},
                        {"merit_sigma", c.merit.sigma},
                        {"merit_measured", c.merit_measured},
                        {"reason", context.worded(c.reason)}});
    }
    for (const bench::Candidate& c : list.passed_over) {
      passed.push_back({{"id", shelf[c.index].stock.id}, {"reason", context.worded(c.reason)}});
    }
    all.push_back({{"part", list.part},
                   {"wanted", wish_words(wishes[i], context)},
                   {"source", wishes[i].source},
                   {"sheets", sheets},
                   {"passed_over", passed}});
  }
  return all;
}

std::vector<std::string> stock_pick_sentences(const Json& picks) {
  std::vector<std::string> sentences;
  for (const Json& pick : picks) {
    const Json& sheets = pick["sheets"];
    const std::string part = pick["part"].get<std::string>();
    if (sheets.empty() || !sheets[0]["suits"].get<bool>()) {
      sentences.push_back(fmt::format("For the {}: nothing on the shelf suits.", part));
    } else {
      sentences.push_back(fmt::format("For the {}: {}. {}", part,
                                      sheets[0]["id"].get<std::string>(),
                                      sheets[0]["reason"].get<std::string>()));
    }
  }
  return sentences;
}

}  // namespace propwright::answer
