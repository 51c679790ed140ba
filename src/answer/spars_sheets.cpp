// The batch of spars as page data.
#include "propwright/answer/spars_sheets.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "propwright/base/constants.h"
#include "propwright/spar/deflection.h"
#include "spars_parts.h"
#include "wish_reader.h"

namespace propwright::answer {
namespace {

sheet::EndShape end_shape(spar::Shape shape) {
  switch (shape) {
    case spar::Shape::square:
      break;
    case spar::Shape::rectangular:
      return sheet::EndShape::rectangular;
    case spar::Shape::round:
      return sheet::EndShape::round;
    case spar::Shape::rounded_square:
      return sheet::EndShape::rounded_square;
  }
  return sheet::EndShape::square;
}

/// The last state that tells sizes: the latest read, else the latest of all.
const SparState* state_of(const SparAnswer& spar) {
  if (spar.latest >= 0) return &spar.history[static_cast<std::size_t>(spar.latest)];
  const SparState* last = nullptr;
  for (const SparState& state : spar.history) {
    if (!state.to_come) last = &state;
  }
  return last;
}

void add_sizes(const spar::Taper& taper, sheet::BenchSpar& row) {
  if (taper.stations.empty()) return;
  const spar::Section &root = taper.stations.front().section, &tip = taper.stations.back().section;
  row.root_width_m = root.width_m;
  row.root_depth_m = root.depth_m;
  row.tip_width_m = tip.width_m;
  row.tip_depth_m = tip.depth_m;
  // Sanded on two faces a square is square no longer: both sizes are then told.
  const bool oblong =
      std::abs(root.width_m - root.depth_m) > 1e-6 || std::abs(tip.width_m - tip.depth_m) > 1e-6;
  if (oblong && row.shape == sheet::EndShape::square) row.shape = sheet::EndShape::rectangular;
}

void add_mounting(const SparsAnswer& answer, const SparAnswer& spar, sheet::BenchSpar& row) {
  for (const SparPair& each : answer.pairs) {
    const spar::Pair& pair = each.pair;
    if (spar.id != pair.a && spar.id != pair.b) continue;
    const double turn = spar.id == pair.a ? pair.turn_a_deg : pair.turn_b_deg;
    row.with = spar.id == pair.a ? pair.b : pair.a;
    row.verdict = each.verdict_word;
    row.turned = std::abs(std::remainder(turn, 180)) > 1;
    if (const spar::Measured* measured = spar.measured(); measured && row.turned) {
      row.mounted_0_Nm2 = spar::turned(*measured, turn).ei_Nm2;
      row.mounted_90_Nm2 = spar::turned(*measured, turn + 90).ei_Nm2;
    }
    return;
  }
  row.verdict = spar.set_aside ? "set aside" : spar.measured() ? "no partner" : "";
}

sheet::BenchSpar bench_spar(const SparsAnswer& answer, const SparAnswer& spar) {
  sheet::BenchSpar row;
  row.id = spar.id;
  row.shape = end_shape(spar.shape);
  if (const SparState* state = state_of(spar)) {
    if (state->taper) add_sizes(*state->taper, row);
    row.mass_kg = state->mass_kg;
    row.reading_0_m = state->reading_0_m;
    row.reading_90_m = state->reading_90_m;
    row.reading_45_m = state->reading_45_m;
  }
  if (const spar::Measured* measured = spar.measured()) {
    const spar::Direction &up = measured->at_0, &side = measured->at_90;
    row.modulus_0_Pa = up.modulus_Pa.value;
    row.modulus_90_Pa = side.modulus_Pa.value;
    row.ei_0_Nm2 = up.ei_Nm2;
    row.ei_90_Nm2 = side.ei_Nm2;
    row.ei_0_sigma_Nm2 = up.ei_Nm2 * up.ei_sigma_relative;
    row.ei_90_sigma_Nm2 = side.ei_Nm2 * side.ei_sigma_relative;
  }
  add_mounting(answer, spar, row);
  return row;
}

std::string counted(std::size_t count, const char* one, const char* many) {
  return fmt::format("{} {}", count, count == 1 ? one : many);
}

/// "12 spars, 11 read: 2 pairs matched, 1 to sand, 1 that the readings cannot tell."
std::string batch_sentence(const SparsAnswer& answer) {
  const auto read = static_cast<std::size_t>(
      std::count_if(answer.spars.begin(), answer.spars.end(),
                    [](const SparAnswer& spar) { return spar.measured(); }));
  std::string words = counted(answer.spars.size(), "spar", "spars");
  if (read < answer.spars.size()) words += fmt::format(", {} read both ways", read);
  std::vector<std::string> parts;
  for (const auto& [verdict, text] :
       {std::pair(spar::Verdict::matched, "matched"), std::pair(spar::Verdict::sand, "to sand"),
        std::pair(spar::Verdict::cannot_tell, "that the readings cannot tell"),
        std::pair(spar::Verdict::make_new, "with one to make anew")}) {
    const auto count = std::count_if(
        answer.pairs.begin(), answer.pairs.end(),
        [wanted = verdict](const SparPair& pair) { return pair.pair.verdict == wanted; });
    if (count == 0) continue;
    parts.push_back(parts.empty()
                        ? counted(static_cast<std::size_t>(count), "pair ", "pairs ") + text
                        : fmt::format("{} {}", count, text));
  }
  if (!answer.unpaired.empty()) {
    parts.push_back(counted(answer.unpaired.size(), "spar", "spars") + " without a partner");
  }
  for (std::size_t i = 0; i < parts.size(); ++i) words += (i == 0 ? ": " : ", ") + parts[i];
  return words + ".";
}

sheet::SandingAdvice advice(const SparsAnswer& answer, const SparSanding& sanding) {
  const SparWords words(answer.batch.profile);
  sheet::SandingAdvice row{.id = sanding.id, .partner = sanding.partner, .step = sanding.step};
  const SparAnswer* spar = answer.find(sanding.id);
  row.all_round = spar && spar->shape == spar::Shape::round;
  row.off_each_0_m = sanding.cut.remove_0_per_face_m;
  row.off_each_90_m = sanding.cut.remove_90_per_face_m;
  row.where = sanding.cut.from_m > 0 ? "From " + words.place(sanding.cut.from_m) + " to the tip"
                                     : "Over the whole length";
  row.target_0_m = sanding.cut.target_reading_0_m;
  row.target_0_least_m = sanding.band_0.low_m;
  row.target_0_most_m = sanding.band_0.high_m;
  row.target_90_m = sanding.cut.target_reading_90_m;
  row.target_90_least_m = sanding.band_90.low_m;
  row.target_90_most_m = sanding.band_90.high_m;
  return row;
}

sheet::BenchBatch bench_batch(const SparsAnswer& answer) {
  sheet::BenchBatch batch;
  batch.sentence = batch_sentence(answer);
  if (answer.batch.rig) batch.rig_words = rig_sentence(*answer.batch.rig, answer.batch.profile);
  batch.tolerance = answer.batch.limits.tolerance;
  for (const SparAnswer& spar : answer.spars) batch.spars.push_back(bench_spar(answer, spar));
  for (const SparPair& each : answer.pairs) {
    batch.pairs.push_back({.a = each.pair.a,
                           .b = each.pair.b,
                           .matched = each.pair.verdict == spar::Verdict::matched,
                           .verdict = each.verdict_word,
                           .words = each.sentence + " " + each.mount_sentence,
                           .turn_a_rad = each.pair.turn_a_deg * base::degree_rad,
                           .turn_b_rad = each.pair.turn_b_deg * base::degree_rad});
  }
  for (const SparSanding& each : answer.sanding) batch.sanding.push_back(advice(answer, each));
  return batch;
}

/// The measured spar that reads most with the mark up.
const SparAnswer* softest(const SparsAnswer& answer) {
  const SparAnswer* found = nullptr;
  for (const SparAnswer& spar : answer.spars) {
    const spar::Measured* measured = spar.measured();
    if (!measured) continue;
    const bool more = !found || measured->at_0.deflection_m > found->measured()->at_0.deflection_m;
    if (more) found = &spar;
  }
  return found;
}

double height_at(const std::vector<spar::BentPoint>& points, double s_m) {
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    const spar::BentPoint &a = points[i], &b = points[i + 1];
    if (s_m > b.s_m) continue;
    return a.y_m + (s_m - a.s_m) / (b.s_m - a.s_m) * (b.y_m - a.y_m);
  }
  return points.empty() ? 0 : points.back().y_m;
}

/// The spar's shape as the scale shows it: from the rig's own zero.
void add_curve(const SparAnswer& spar, const spar::Rig& rig, const SparWords& words,
               sheet::DeflectionCard& card) {
  const spar::Measured& measured = *spar.measured();
  const spar::Beam beam{measured.spar.taper, measured.spar.mass_kg, spar::Bending::depth};
  const auto loaded = spar::bent_spar(beam, rig, measured.at_0.ei_root_Nm2, true);
  const auto free = spar::bent_spar(beam, rig, measured.at_0.ei_root_Nm2, false);
  if (!loaded || !free) return;
  const bool droops = rig.zero == spar::Zero::unloaded_spar;
  for (const spar::BentPoint& point : *loaded) {
    if (point.s_m > rig.read_at_m + 1e-9) break;
    const double zero = droops ? height_at(*free, point.s_m) : 0;
    card.curve_m.emplace_back(point.x_m, point.y_m - zero + rig.zero_reading_m);
  }
  const double reads = measured.at_0.deflection_m + rig.zero_reading_m;
  card.curve_words =
      fmt::format("spar {}, {} {}", spar.id, words.reading(reads), words.reading_unit());
}

sheet::DeflectionCard deflection_card(const SparsAnswer& answer, const spar::Rig& rig) {
  // Room below the deepest reading, and a card of some use for a batch not yet read.
  constexpr double room = 1.1, usual_m = 0.012, most_m = 0.06;
  sheet::DeflectionCard card{.rig = rig.name.empty() ? "Rig" : rig.name,
                             .load_kg = rig.load_kg,
                             .load_at_m = rig.load_at_m,
                             .read_at_m = rig.read_at_m,
                             .follows_spar = rig.follows == spar::Follows::point_of_the_spar,
                             .zero_is_straight = rig.zero == spar::Zero::straight_line,
                             .zero_reading_m = rig.zero_reading_m,
                             .resolution_m = rig.resolution_m,
                             .repeatability_m = rig.repeatability_m,
                             .deepest_m = usual_m,
                             .notes = rig.clamp.empty() ? std::string() : "Clamp: " + rig.clamp};
  for (const SparAnswer& spar : answer.spars) {
    if (const spar::Measured* measured = spar.measured()) {
      const double most = std::max(measured->at_0.deflection_m, measured->at_90.deflection_m);
      card.deepest_m = std::max(card.deepest_m, room * (most + rig.zero_reading_m));
    }
  }
  card.deepest_m = std::min(card.deepest_m, most_m);
  if (const SparAnswer* spar = softest(answer)) {
    add_curve(*spar, rig, SparWords(answer.batch.profile), card);
  }
  return card;
}

/// Smallest sizes of those spars at eleven places over the shortest of them; empty for none.
std::vector<sheet::SizeStation> smallest_sizes(const SparsAnswer& answer, bool round_only) {
  constexpr int places = 10;
  std::vector<const spar::Taper*> tapers;
  double length = 0;
  for (const SparAnswer& spar : answer.spars) {
    const bool right =
        spar.shape == spar::Shape::round || (!round_only && spar.shape != spar::Shape::rectangular);
    const SparState* state = state_of(spar);
    if (!right || !state || !state->taper) continue;
    const double own = spar::length_m(*state->taper);
    length = tapers.empty() ? own : std::min(length, own);
    tapers.push_back(&*state->taper);
  }
  std::vector<sheet::SizeStation> stations;
  for (int i = 0; !tapers.empty() && i <= places; ++i) {
    const double along = length * i / places;
    double least = 1;
    for (const spar::Taper* taper : tapers) {
      const spar::Section section = spar::section_at(*taper, along);
      least = std::min({least, section.width_m, section.depth_m});
    }
    stations.push_back({along, least});
  }
  return stations;
}

std::string taper_words(const std::vector<sheet::SizeStation>& stations, const SparWords& words) {
  return fmt::format("{} to {} over {}", words.size(stations.front().size_m),
                     words.size(stations.back().size_m), words.place(stations.back().along_m));
}

double size_at(const std::vector<sheet::SizeStation>& stations, double along_m) {
  for (std::size_t i = 0; i + 1 < stations.size(); ++i) {
    const sheet::SizeStation &a = stations[i], &b = stations[i + 1];
    if (along_m > b.along_m && i + 2 < stations.size()) continue;
    return a.size_m + (along_m - a.along_m) / (b.along_m - a.along_m) * (b.size_m - a.size_m);
  }
  return stations.front().size_m;
}

/// Six places. EI goes with the fourth power of the size, so a quarter of the tolerance on EI is
/// what the size may be off; never less than a hundredth of a millimetre, which nobody can cut.
sheet::TaperGauge taper_gauge(const std::vector<sheet::SizeStation>& stations, double tolerance,
                              const std::string& words) {
  constexpr double least_m = 0.01e-3;
  constexpr int last = 5;
  sheet::TaperGauge gauge{.title = words, .stations = {}};
  for (int i = 0; i <= last; ++i) {
    const double along = stations.back().along_m * i / last, size = size_at(stations, along);
    const double off = std::max(least_m, tolerance / 4 * size);
    gauge.stations.push_back({along, size - off, size + off});
  }
  return gauge;
}

/// Sizes a block and a gauge of paper can be drawn for.
bool drawable(const std::vector<sheet::SizeStation>& stations) {
  return stations.size() >= 2 &&
         std::all_of(stations.begin(), stations.end(), [](const sheet::SizeStation& station) {
           return station.size_m > 0.2e-3 && station.size_m < 4.5e-3 && station.along_m <= 1;
         });
}

void add_block_and_gauge(const SparsAnswer& answer, const SparPrintWishes& wishes,
                         sheet::BenchSheets& sheets) {
  const SparWords words(answer.batch.profile);
  const bool wished = !wishes.wanted.empty();
  const std::string whose = wished ? "" : ", the smallest of the batch";
  const auto round = wished ? wishes.wanted : smallest_sizes(answer, true);
  if (drawable(round)) {
    sheets.blocks.push_back({.title = taper_words(round, words) + whose, .stations = round});
  }
  const auto all = wished ? wishes.wanted : smallest_sizes(answer, false);
  if (drawable(all)) {
    sheets.gauges.push_back(
        taper_gauge(all, answer.batch.limits.tolerance, taper_words(all, words) + whose));
  }
}

constexpr std::pair<double, double> groove_size_range{0.3e-3, 4.4e-3},
    groove_length_range{0.02, 1.0};

/// Sizes to be made, out of {"root", "middle", "tip", "length"}.
std::vector<sheet::SizeStation> read_wanted(const Json& json, const std::string& prefix,
                                            base::Problems& problems) {
  using D = units::Dimension;
  QuantityReader reader(json, prefix, {"root", "middle", "tip", "length"});
  const auto root = reader.quantity("root", D::length, groove_size_range);
  const auto middle = reader.quantity("middle", D::length, groove_size_range);
  const auto tip = reader.quantity("tip", D::length, groove_size_range);
  const auto length = reader.quantity("length", D::length, groove_length_range);
  for (const auto& [name, given] :
       {std::pair("root", reader.has("root")), std::pair("tip", reader.has("tip")),
        std::pair("length", reader.has("length"))}) {
    if (given) continue;
    reader.problems.push_back({.field = prefix + name,
                               .allowed = "a length with its unit",
                               .remedy = "tell root, tip and length of the spar to be made",
                               .message = "a size is missing"});
  }
  problems.insert(problems.end(), reader.problems.begin(), reader.problems.end());
  if (!reader.problems.empty()) return {};
  std::vector<sheet::SizeStation> stations{{0, *root}};
  if (middle) stations.push_back({*length / 2, *middle});
  stations.push_back({*length, *tip});
  return stations;
}

}  // namespace

base::Expected<SparPrintWishes> read_spar_print_wishes(const Json& wishes) {
  constexpr std::size_t longest_name = 80;
  SparPrintWishes read;
  QuantityReader reader(wishes, "print.", {"batch", "tags", "wanted"});
  read.batch = reader.text("batch").substr(0, longest_name);
  if (reader.has("tags")) read.tags = reader.truth("tags");
  base::Problems problems = std::move(reader.problems);
  if (const auto wanted = wishes.find("wanted"); wanted != wishes.end() && !wanted->is_null()) {
    read.wanted = read_wanted(*wanted, "print.wanted.", problems);
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  return read;
}

sheet::BenchSheets spars_sheets(const SparsAnswer& answer, const SparPrintWishes& wishes) {
  sheet::BenchSheets sheets;
  sheets.batch = wishes.batch;
  sheets.tags = wishes.tags;
  sheets.spars = bench_batch(answer);
  if (answer.batch.rig) sheets.cards.push_back(deflection_card(answer, *answer.batch.rig));
  add_block_and_gauge(answer, wishes, sheets);
  return sheets;
}

}  // namespace propwright::answer
