// Stock: what each piece is, and which sheet for which part.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "bench_stock.h"

namespace propwright::answer {
namespace {

using bench::Figure;
using bench::Grain;
using bench::StockKind;
using D = units::Dimension;

constexpr const char* stock_kinds[] = {"sheet", "strip", "film", "tissue", "wire", "glue"};
constexpr StockKind stock_kind_values[] = {StockKind::sheet,  StockKind::strip, StockKind::film,
                                           StockKind::tissue, StockKind::wire,  StockKind::glue};
void read_sizes(BenchReader& reader, bench::Stock& stock) {
  const bool wire = stock.kind == StockKind::wire, glue = stock.kind == StockKind::glue;
  // Glue is a drop that dries: it has a mass before and after, and a size only where it was spread.
  stock.length_m = glue ? reader.length("length", {0, 3}).value_or(0)
                        : reader.needed("length", D::length, bench_length_m);
  if (wire) {
    stock.thickness_m = reader.needed("diameter", D::length, bench_small_m);
  } else if (glue) {
    stock.width_m = reader.length("width", {0, 3}).value_or(0);
    stock.wet_mass_kg = reader.mass("wet_mass").value_or(0);
  } else {
    stock.width_m = reader.needed("width", D::length, bench_length_m);
    stock.thickness_m = is_wood_stock(stock.kind)
                            ? reader.needed("thickness", D::length, bench_small_m)
                            : reader.length("thickness", {1e-8, 0.001}).value_or(0);
  }
}

std::optional<bench::Stock> read_stock(BenchReader& reader, std::string& kind) {
  bench::Stock stock;
  stock.id = reader.text("id");
  if (stock.id.empty() && !reader.has("id")) {
    reader.wrong("id", "this is needed", "give the piece a name, for example \"sheet 4\"");
  }
  kind = reader.word("kind", {std::begin(stock_kinds), std::end(stock_kinds)});
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
  stock.grain = stock_grain(reader.word("grain", {"A", "B", "C"}));
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
  if (!is_wood_stock(piece.stock.kind)) {
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
  const Figure* const over = m && m->over_line ? &*m->over_line : nullptr;
  const std::string grain = stock_grain_word(piece.stock.grain);
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
          {"modulus_ratio", over ? Json(over->value) : Json(nullptr)},
          {"modulus_ratio_sigma", over ? Json(over->sigma) : Json(nullptr)},
          {"questions", context.worded(piece.questions)},
          {"sentences", stock_sentences(piece, context)}};
}

}  // namespace

Grain stock_grain(const std::string& word) {
  return word == "A" ? Grain::a : word == "B" ? Grain::b : word == "C" ? Grain::c : Grain::unknown;
}

std::string stock_grain_word(Grain grain) {
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

bool is_wood_stock(StockKind kind) {
  return kind == StockKind::sheet || kind == StockKind::strip;
}

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
  Json picked = stock_picks(pieces, pick, context);
  auto sentences = stock_pick_sentences(picked);
  return {{"items", items}, {"pick", std::move(picked)}, {"sentences", std::move(sentences)}};
}

}  // namespace propwright::answer
