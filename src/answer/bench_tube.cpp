// The rolled-tube calculator, both ways.
#include "propwright/bench/tube.h"

#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "bench_cautions.h"
#include "bench_parts.h"
#include "propwright/base/table.h"
#include "propwright/data/data.h"

namespace propwright::answer {
namespace {

using D = units::Dimension;

/// The wires, rods and shanks of the program's list.
struct WireTable {
  std::vector<std::string> sizes;
  std::vector<double> diameters_m;
};

const WireTable& wires() {
  static const WireTable table = [] {
    const auto read = base::Table::read(data::file("mandrels.csv"),
                                        {{"diameter_m", true, 1e-5, 0.02}}, "mandrels.csv", true);
    WireTable all;
    for (std::size_t i = 0; i < read->rows(); ++i) {
      all.sizes.push_back(read->text(i, "size"));
      all.diameters_m.push_back(read->column("diameter_m")[i]);
    }
    return all;
  }();
  return table;
}

/// What is known of the tube before mandrel and wraps are chosen.
struct TubeQuestion {
  bench::RolledTube tube;
  std::optional<bench::SparRoot> root;
  std::optional<double> wanted_mass_kg;
  std::string size;  ///< of the wire chosen
  std::optional<bench::MandrelChoice> choice;
  std::optional<bench::WrapsChoice> wraps;
};

std::optional<bench::SparRoot> read_root(BenchReader& reader) {
  const auto side_m = reader.length("spar_root", {1e-4, 0.02});
  const bool round = reader.word("spar_shape", {"round", "square"}) != "square";
  const auto fit_m = reader.length("fit", {0, 1e-3});
  if (!side_m) return std::nullopt;
  bench::SparRoot root;
  root.width_m = root.depth_m = *side_m;
  root.corner_radius_m = round ? *side_m / 2 : 0;
  root.fit_allowance_m = fit_m.value_or(root.fit_allowance_m);
  return root;
}

std::optional<TubeQuestion> read_tube(BenchReader& reader) {
  TubeQuestion q;
  q.root = read_root(reader);
  const auto mandrel_m = reader.length("mandrel", {1e-4, 0.02});
  q.tube.mandrel_diameter_m = mandrel_m.value_or(0);
  if (!reader.has("mandrel") && !reader.has("spar_root")) {
    reader.wrong("mandrel", "there is neither a mandrel nor a spar's root",
                 "give the wire's diameter, or the root for which to choose one");
  }
  q.tube.bore_gain_m = reader.length("bore_gain", {0, 5e-4}).value_or(0);
  q.tube.paper_thickness_m = reader.needed("paper", D::length, {1e-6, 1e-3});
  q.tube.paper_areal_mass_kg_m2 = reader.needed("paper_areal", D::areal_density, {1e-4, 0.5});
  // Judgement: a brush coat of thinned cement of about 20 % solids.
  q.tube.glue_areal_mass_kg_m2 =
      reader.quantity("glue_areal", D::areal_density, {0, 0.5}).value_or(0.005);
  const auto wraps = reader.quantity("wraps", D::ratio, {1, 60});
  q.wanted_mass_kg = reader.mass("wanted_mass", {1e-8, 0.01});
  q.tube.wraps = wraps.value_or(q.tube.wraps);
  q.tube.length_m = reader.length("length", {5e-4, 0.5}).value_or(0.012);
  if (wraps && q.wanted_mass_kg) {
    reader.wrong("wanted_mass", "wraps and mass are both given", "leave one of the two out");
  }
  if (!reader.problems().empty()) return std::nullopt;
  return q;
}

const BenchNames& tube_names() {
  static const BenchNames names{{"mandrel_diameter_m", "mandrel"},
                                {"paper_thickness_m", "paper"},
                                {"paper_areal_mass_kg_m2", "paper_areal"},
                                {"glue_areal_mass_kg_m2", "glue_areal"},
                                {"wanted_mass_kg", "wanted_mass"},
                                {"width_m", "spar_root"},
                                {"depth_m", "spar_root"},
                                {"fit_allowance_m", "fit"}};
  return names;
}

/// Chooses mandrel and wraps where they are wanting. Problem: those of the bench's choices.
base::Expected<void> choose(TubeQuestion& q) {
  if (q.root) {
    const auto choice = bench::choose_mandrel(*q.root, wires().diameters_m, q.tube.bore_gain_m);
    if (!choice) return tl::unexpected(choice.error());
    q.choice = *choice;
  }
  if (q.tube.mandrel_diameter_m <= 0) {
    if (!q.choice->fits) {
      return base::fail({.field = "spar_root",
                         .allowed = "a root that a wire of the list can make a tube for",
                         .remedy = "give the mandrel's diameter",
                         .message = "no wire of the list is thick enough"});
    }
    q.tube.mandrel_diameter_m = q.choice->fits->diameter_m;
    q.size = wires().sizes[q.choice->fits->index];
  }
  if (!q.wanted_mass_kg) return {};
  const auto wraps = bench::wraps_for_mass(q.tube, *q.wanted_mass_kg);
  if (!wraps) return tl::unexpected(wraps.error());
  q.wraps = *wraps;
  // Whole wraps not above the mass, so that a tube of the wanted mass comes out light.
  q.tube.wraps = std::max(1, q.wraps->below);
  return {};
}

Json wire_list(const TubeQuestion& q) {
  Json list = Json::array();
  if (!q.choice) return list;
  const auto add = [&](const std::optional<bench::Mandrel>& mandrel, bool fits) {
    if (!mandrel) return;
    list.push_back({{"size", wires().sizes[mandrel->index]},
                    {"diameter_m", mandrel->diameter_m},
                    {"clearance_m", mandrel->clearance_m},
                    {"fits", fits}});
  };
  add(q.choice->fits, true);
  add(q.choice->next_below, false);
  return list;
}

Json wraps_json(const std::optional<bench::WrapsChoice>& wraps) {
  if (!wraps) return nullptr;
  return {{"exact", wraps->exact},
          {"below", wraps->below},
          {"above", wraps->above},
          {"mass_below_kg", wraps->mass_below_kg.value},
          {"mass_above_kg", wraps->mass_above_kg.value}};
}

std::string wraps_words(double wraps) {
  return fmt::format("{:g} wrap{}", wraps, wraps == 1 ? "" : "s");
}

std::vector<std::string> tube_sentences(const TubeQuestion& q, const bench::TubeFigures& f,
                                        const BenchContext& context) {
  std::vector<std::string> sentences{
      fmt::format("{} on {}: bore {}, wall {}, {} outside, {}.", wraps_words(q.tube.wraps),
                  q.size.empty() ? context.fine(q.tube.mandrel_diameter_m) : q.size,
                  context.fine(f.bore_m), context.doubtful_size(f.wall_m),
                  context.fine(f.outside_diameter_m.value), context.doubtful_mass(f.mass_kg)),
      fmt::format("Cut the paper {} wide and {} along the wraps.", context.length(q.tube.length_m),
                  context.length(f.paper_length_m.value))};
  if (!q.root) return sentences;
  const double circle_m = bench::root_circle_m(*q.root), gap_m = f.bore_m - circle_m;
  sentences.push_back(gap_m >= 0 ? fmt::format("The root needs {}; {} to spare.",
                                               context.fine(circle_m), context.fine(gap_m))
                                 : fmt::format("The root needs {}: thin it by {}.",
                                               context.fine(circle_m), context.fine(-gap_m)));
  return sentences;
}

}  // namespace

Json bench_tube(const Json& table, BenchContext& context) {
  BenchReader reader(table, "tube",
                     {"mandrel", "spar_root", "spar_shape", "fit", "bore_gain", "paper",
                      "paper_areal", "glue_areal", "wraps", "wanted_mass", "length"});
  auto q = read_tube(reader);
  if (!q) {
    context.add(reader.problems());
    return nullptr;
  }
  const auto chosen = choose(*q);
  const auto figures = chosen ? bench::tube_figures(q->tube) : tl::unexpected(chosen.error());
  if (!figures) {
    context.add(bench_fields(figures.error(), "tube", tube_names()));
    return nullptr;
  }
  const bench::TubeFigures& f = *figures;
  return {{"mandrel_m", q->tube.mandrel_diameter_m},
          {"mandrel_size", q->size},
          {"bore_m", f.bore_m},
          {"wall_m", f.wall_m.value},
          {"wall_sigma_m", f.wall_m.sigma},
          {"outside_diameter_m", f.outside_diameter_m.value},
          {"outside_diameter_sigma_m", f.outside_diameter_m.sigma},
          {"wraps", q->tube.wraps},
          {"lap_m", f.wall_m.value / q->tube.wraps},
          {"paper_length_m", f.paper_length_m.value},
          {"paper_length_sigma_m", f.paper_length_m.sigma},
          {"paper_width_m", q->tube.length_m},
          {"mass_kg", f.mass_kg.value},
          {"mass_sigma_kg", f.mass_kg.sigma},
          {"paper_mass_kg", f.paper_mass_kg.value},
          {"glue_mass_kg", f.glue_mass_kg.value},
          {"spar_circle_m", q->root ? Json(bench::root_circle_m(*q->root)) : Json(nullptr)},
          {"wires", wire_list(*q)},
          {"wraps_for_mass", wraps_json(q->wraps)},
          {"caution", cautions::roll},
          {"sentences", tube_sentences(*q, f, context)}};
}

}  // namespace propwright::answer
