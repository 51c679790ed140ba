// Stock: what each piece is, and which sheet for which part.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "bench_parts.h"
#include "propwright/bench/stock.h"

namespace propwright::answer {
namespace {

using bench::Figure;
using bench::Grain;
using bench::StockKind;
using D = units::Dimension;

constexpr const char* stock_kinds[] = {"sheet", "strip", "film", "tissue", "wire", "glue"};
constexpr StockKind stock_kind_values[] = {StockKind::sheet,  StockKind::strip, StockKind::film,
                                           StockKind::tissue, StockKind::wire,  StockKind::glue};
constexpr const char* want_words[] = {"stiff_and_light", "light", "bends_round", "stiff_across"};
constexpr bench::PartWish::Want want_values[] = {
    bench::PartWish::Want::stiff_and_light, bench::PartWish::Want::light,
    bench::PartWish::Want::bends_round, bench::PartWish::Want::stiff_across};

std::vector<std::string> stock_words(const char* const* begin, const char* const* end) {
  return {begin, end};
}

Grain grain_of(const std::string& word) {
  return word == "A" ? Grain::a : word == "B" ? Grain::b : word == "C" ? Grain::c : Grain::unknown;
}

std::string grain_word(Grain grain) {
  switch (grain) {
    case Grain::a:
      return "A";
    case Grain::b:
      return "B";
    case Grain::c:
      return "C";
    case Grain::unknown:
      break;
  }
  return {};
}

bool is_wood(StockKind kind) {
  return kind == StockKind::sheet || kind == StockKind::strip;
}

/// One piece with what was found of it.
struct StockPiece {
  bench::Stock stock;
  std::string kind;
  bench::StockFigures figures;
  std::optional<bench::StripModulus> modulus;
  std::vector<std::string> questions;
};

void read_sizes(BenchReader& reader, bench::Stock& stock) {
  const bool wire = stock.kind == StockKind::wire, glue = stock.kind == StockKind::glue;
  stock.length_m = reader.needed("length", D::length, bench_length_m);
  if (wire) {
    stock.thickness_m = reader.needed("diameter", D::length, bench_small_m);
  } else if (glue) {
    stock.width_m = reader.length("width", {0, 3}).value_or(0);
    stock.wet_mass_kg = reader.mass("wet_mass").value_or(0);
  } else {
    stock.width_m = reader.needed("width", D::length, bench_length_m);
    stock.thickness_m = is_wood(stock.kind) ? reader.needed("thickness", D::length, bench_small_m)
                                            : reader.length("thickness", {1e-8, 0.001}).value_or(0);
  }
}

std::optional<bench::Stock> read_stock(BenchReader& reader, std::string& kind) {
  bench::Stock stock;
  stock.id = reader.text("id");
  if (stock.id.empty() && !reader.has("id")) {
    reader.wrong("id", "this is needed", "give the piece a name, for example \"sheet 4\"");
  }
  kind = reader.word("kind", stock_words(std::begin(stock_kinds), std::end(stock_kinds)));
  if (kind.empty()) {
    if (!reader.has("kind")) {
      reader.wrong("kind", "this is needed", "say sheet, strip, film, tissue, wire or glue");
    }
    return std::nullopt;
  }
  stock.kind = stock_kind_values[std::find(std::begin(stock_kinds), std::end(stock_kinds), kind) -
                                 std::begin(stock_kinds)];
  stock.mass_kg = reader.needed("mass", D::mass, bench_mass_kg);
  stock.pieces = reader.count("count", 1, 1000).value_or(1);
  stock.grain = grain_of(reader.word("grain", {"A", "B", "C"}));
  read_sizes(reader, stock);
  return stock;
}

/// The strip that was bent or pressed.
base::Expected<bench::StripModulus> strip_modulus(BenchReader& reader, const bench::Stock& stock,
                                                  const std::optional<Figure>& density,
                                                  const bench::Instruments& instruments) {
  const std::string method = reader.word("method", {"cantilever", "buckling"});
  const double load_kg = reader.needed("load", D::mass, bench_mass_kg);
  const double length_m = reader.needed("length", D::length, bench_length_m);
  const double width_m = reader.length("width", bench_small_m).value_or(stock.width_m);
  const double thickness_m = reader.length("thickness", bench_small_m).value_or(stock.thickness_m);
  const bool buckling = method == "buckling";
  const double deflection_m = buckling ? 0 : reader.needed("deflection", D::length, {1e-5, 1.0});
  if (method.empty() && !reader.has("method")) {
    reader.wrong("method", "this is needed", "say cantilever or buckling");
  }
  base::Problems wrong = reader.problems();
  if (!wrong.empty()) return base::fail(std::move(wrong));
  if (buckling) {
    return bench::buckling_modulus({load_kg, length_m, width_m, thickness_m}, instruments, density);
  }
  return bench::cantilever_modulus({load_kg, length_m, deflection_m, width_m, thickness_m},
                                   instruments, density);
}

void add_test(const Json& table, const std::string& place, StockPiece& piece,
              BenchContext& context) {
  if (!is_wood(piece.stock.kind)) {
    context.problems.push_back({.field = place,
                                .remedy = "leave it out, or call the piece a strip",
                                .message = "only a sheet or strip of wood is tested so"});
    return;
  }
  BenchReader reader(table, place,
                     {"method", "load", "length", "deflection", "width", "thickness"});
  const auto found =
      strip_modulus(reader, piece.stock, piece.figures.density_kg_m3, context.instruments);
  if (!found) {
    const bool read = reader.problems().empty();
    return context.add(read ? bench_fields(found.error(), place) : found.error());
  }
  piece.modulus = *found;
  for (const auto& text : messages_of(found->questions)) piece.questions.push_back(text);
}

std::optional<StockPiece> stock_piece(const Json& entry, const std::string& place,
                                      BenchContext& context) {
  BenchReader reader(entry, place,
                     {"id", "kind", "material", "length", "width", "thickness", "diameter", "mass",
                      "wet_mass", "count", "grain", "test"});
  std::string kind;
  const auto stock = read_stock(reader, kind);
  if (const auto wrong = reader.problems(); !wrong.empty() || !stock) {
    context.add(wrong);
    return std::nullopt;
  }
  auto figures = bench::stock_figures(*stock, context.instruments);
  if (!figures) {
    const bool wire = stock->kind == StockKind::wire;
    context.add(
        bench_fields(figures.error(), place,
                     {{"pieces", "count"}, {"thickness_m", wire ? "diameter" : "thickness"}}));
    return std::nullopt;
  }
  StockPiece piece{*stock, kind, std::move(*figures), {}, {}};
  piece.questions = messages_of(piece.figures.questions);
  if (reader.has("test")) add_test(reader.table("test"), place + ".test", piece, context);
  return piece;
}

std::vector<std::string> stock_sentences(const StockPiece& piece, const BenchContext& context) {
  std::vector<std::string> sentences;
  const bench::StockFigures& f = piece.figures;
  if (f.density_kg_m3) {
    std::string text =
        fmt::format("{}: {}", piece.stock.id, context.doubtful_density(*f.density_kg_m3));
    if (f.density_class) {
      text += fmt::format(", class {}{}", f.density_class->words,
                          f.density_class->doubtful ? ", and near its edge" : "");
    }
    sentences.push_back(text + ".");
  } else if (f.areal_mass_kg_m2) {
    sentences.push_back(fmt::format("{}: {:.2f} ± {:.2f} g/m².", piece.stock.id,
                                    1e3 * f.areal_mass_kg_m2->value,
                                    1e3 * f.areal_mass_kg_m2->sigma));
  } else if (f.linear_mass_kg_m) {
    sentences.push_back(fmt::format("{}: {:.1f} ± {:.1f} mg for a metre.", piece.stock.id,
                                    1e6 * f.linear_mass_kg_m->value,
                                    1e6 * f.linear_mass_kg_m->sigma));
  }
  if (!piece.modulus) return sentences;
  std::string text =
      fmt::format("E = {:.2f} ± {:.2f} GPa along the grain", 1e-9 * piece.modulus->E_Pa.value,
                  1e-9 * piece.modulus->E_Pa.sigma);
  if (piece.modulus->over_line) {
    text += fmt::format(", {:.0f} % of what is usual at this density",
                        100 * piece.modulus->over_line->value);
  }
  sentences.push_back(text + ".");
  return sentences;
}

Json stock_item(const StockPiece& piece, const BenchContext& context) {
  const bench::StockFigures& f = piece.figures;
  const auto& m = piece.modulus;
  const std::optional<Figure> none;
  const std::optional<Figure>& over = m ? m->over_line : none;
  const std::string grain = grain_word(piece.stock.grain);
  return {{"id", piece.stock.id},
          {"kind", piece.kind},
          {"count", piece.stock.pieces},
          {"mass_kg", piece.stock.mass_kg / piece.stock.pieces},
          {"density_kg_m3", value_or_null(f.density_kg_m3)},
          {"density_sigma_kg_m3", sigma_or_null(f.density_kg_m3)},
          {"areal_mass_kg_m2", value_or_null(f.areal_mass_kg_m2)},
          {"areal_mass_sigma_kg_m2", sigma_or_null(f.areal_mass_kg_m2)},
          {"linear_mass_kg_m", value_or_null(f.linear_mass_kg_m)},
          {"linear_mass_sigma_kg_m", sigma_or_null(f.linear_mass_kg_m)},
          {"solids_share", value_or_null(f.solids_share)},
          {"film_thickness_m", value_or_null(f.film_thickness_m)},
          {"density_class", f.density_class ? f.density_class->words : ""},
          {"density_class_doubtful", f.density_class && f.density_class->doubtful},
          {"grain", grain.empty() ? Json(nullptr) : Json(grain)},
          {"grain_use", grain.empty() ? "" : bench::grain_use(piece.stock.grain)},
          {"modulus_Pa", m ? Json(m->E_Pa.value) : Json(nullptr)},
          {"modulus_sigma_Pa", m ? Json(m->E_Pa.sigma) : Json(nullptr)},
          {"modulus_usual_Pa", number_or_null(m ? m->line_E_Pa : std::nullopt)},
          {"modulus_ratio", value_or_null(over)},
          {"modulus_ratio_sigma", sigma_or_null(over)},
          {"questions", context.worded(piece.questions)},
          {"sentences", stock_sentences(piece, context)}};
}

// ---------------------------------------------------------------- which sheet for which part

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
  const std::string want =
      reader.word("want", stock_words(std::begin(want_words), std::end(want_words)));
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
      wish.grains.push_back(grain_of(word));
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
  for (const Grain grain : wish.grains)
    grains += (grains.empty() ? "" : " or ") + grain_word(grain);
  if (!grains.empty()) text += ", grain " + grains;
  if (wish.thickness_m > 0) text += ", " + context.fine(wish.thickness_m) + " thick";
  return text;
}

Json picks(const std::vector<std::optional<StockPiece>>& pieces, const Json& wishes_sent,
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
    if (!piece || !is_wood(piece->stock.kind) || !piece->figures.density_kg_m3) continue;
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

std::vector<std::string> pick_sentences(const Json& picks) {
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

}  // namespace

Json bench_stock(const Json& stock, const Json& pick, BenchContext& context) {
  if (!stock.is_array() || stock.size() > 400) {
    context.problems.push_back({.field = "stock",
                                .remedy = "send a list of up to 400 pieces",
                                .message = "this is no list of pieces"});
    return nullptr;
  }
  if (!pick.is_null() && !pick.is_array()) {
    context.problems.push_back(
        {.field = "pick", .remedy = "send a list of parts", .message = "this is no list of parts"});
  }
  std::vector<std::optional<StockPiece>> pieces;
  Json items = Json::array();
  for (std::size_t i = 0; i < stock.size(); ++i) {
    pieces.push_back(stock_piece(stock[i], fmt::format("stock[{}]", i + 1), context));
    items.push_back(pieces.back() ? stock_item(*pieces.back(), context) : Json(nullptr));
  }
  Json picked = picks(pieces, pick, context);
  auto sentences = pick_sentences(picked);
  return {{"items", items}, {"pick", std::move(picked)}, {"sentences", std::move(sentences)}};
}

}  // namespace propwright::answer
