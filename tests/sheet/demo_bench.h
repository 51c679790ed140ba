/// A batch of twelve invented spars with its rig; plausible, measured by nobody.
#pragma once

#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/sheet/bench_sheets.h"

namespace propwright::sheet::demo {

inline constexpr double thou_m = 25.4e-6, inch_m = 0.0254;

inline DeflectionCard deflection_card() {
  DeflectionCard card{.rig = "Rig 2",
                      .load_kg = 0.270e-3,
                      .load_at_m = 6 * inch_m,
                      .read_at_m = 6 * inch_m,
                      .follows_spar = true,
                      .zero_is_straight = false,
                      .zero_reading_m = 0,
                      .resolution_m = 5 * thou_m,
                      .repeatability_m = 2 * thou_m,
                      .deepest_m = 0.5 * inch_m,
                      .curve_m = {},
                      .curve_words = "spar 11, 414 thou",
                      .notes = "Clamp: two hardwood jaws, the spar\u2019s root 12 mm in."};
  for (int i = 0; i <= 60; ++i) {
    const double x = i / 60.0;
    card.curve_m.emplace_back(x * 5.97 * inch_m, 414 * thou_m * x * x * (3 - x) / 2);
  }
  return card;
}

inline BenchSpar bench_spar(const std::string& id, double up_thou, double side_thou,
                            double ei_0_Nmm2, double ei_90_Nmm2) {
  BenchSpar spar;
  spar.id = id;
  spar.root_width_m = 59.5 * thou_m;
  spar.root_depth_m = 60.0 * thou_m;
  spar.tip_width_m = 31 * thou_m;
  spar.tip_depth_m = 31 * thou_m;
  spar.mass_kg = 27.1e-6;
  spar.reading_0_m = up_thou * thou_m;
  spar.reading_90_m = side_thou * thou_m;
  spar.modulus_0_Pa = 2.9e9;
  spar.modulus_90_Pa = 2.7e9;
  spar.ei_0_Nm2 = ei_0_Nmm2 * 1e-6;
  spar.ei_90_Nm2 = ei_90_Nmm2 * 1e-6;
  spar.ei_0_sigma_Nm2 = spar.ei_90_sigma_Nm2 = 3e-6;
  return spar;
}

inline BenchBatch bench_batch() {
  BenchBatch batch;
  batch.sentence = "12 spars: 2 pairs matched, 2 to sand, 1 the reading cannot tell, 1 to replace.";
  batch.rig_words =
      "Rig 2: 0.270 g at 6.00 in, read at a mark 6.00 in along the spar, zero on the "
      "spar without its weight, repeats within 2 thou.";
  const double rows[12][4] = {{393, 417, 263, 279}, {361, 380, 311, 296}, {415, 432, 284, 272},
                              {455, 468, 241, 262}, {398, 409, 296, 288}, {347, 371, 333, 318},
                              {441, 430, 272, 251}, {410, 415, 286, 274}, {452, 462, 247, 266},
                              {322, 340, 318, 350}, {380, 424, 325, 291}, {489, 501, 229, 236}};
  for (int i = 0; i < 12; ++i) {
    batch.spars.push_back(
        bench_spar(std::to_string(i + 1), rows[i][0], rows[i][1], rows[i][2], rows[i][3]));
  }
  const auto pair = [&](int a, int b, bool matched, const char* verdict, const char* words,
                        bool turned) {
    BenchPair made{.a = std::to_string(a),
                   .b = std::to_string(b),
                   .matched = matched,
                   .verdict = verdict,
                   .words = words};
    made.turn_b_rad = turned ? base::pi / 2 : 0;
    batch.pairs.push_back(made);
    for (const auto& [id, other] : {std::pair(a, b), std::pair(b, a)}) {
      BenchSpar& spar = batch.spars[static_cast<std::size_t>(id - 1)];
      spar.with = std::to_string(other);
      spar.verdict = verdict;
    }
    if (!turned) return;
    BenchSpar& spar = batch.spars[static_cast<std::size_t>(b - 1)];
    spar.turned = true;
    spar.mounted_0_Nm2 = spar.ei_90_Nm2;
    spar.mounted_90_Nm2 = spar.ei_0_Nm2;
  };
  pair(3, 8, true, "matched", "Alike to 1 ± 2 % both ways. Marks to the front in both blades.",
       false);
  pair(5, 11, false, "sand 11", "11 is 10 ± 1 % stiffer with the mark up.", false);
  pair(6, 10, false, "sand 10",
       "10 is 6 ± 2 % stiffer once turned. Its mark to the trailing edge, then sand.", true);
  pair(4, 9, true, "matched", "2 ± 2 %. Marks to the front.", false);
  pair(1, 7, false, "cannot tell", "5 ± 4 %. Read each twice more; 7 sits turned.", true);
  batch.sanding.push_back({.id = "11",
                           .partner = "5",
                           .step = "round 3",
                           .off_each_0_m = 0.6 * thou_m,
                           .where = "From 1.5 in to the tip",
                           .target_0_m = 414 * thou_m,
                           .target_0_least_m = 410 * thou_m,
                           .target_0_most_m = 418 * thou_m});
  batch.sanding.push_back({.id = "10",
                           .partner = "6",
                           .step = "round 1",
                           .off_each_90_m = 0.4 * thou_m,
                           .where = "From 1.5 in to the tip",
                           .target_90_m = 352 * thou_m,
                           .target_90_least_m = 347 * thou_m,
                           .target_90_most_m = 357 * thou_m});
  return batch;
}

inline SandingBlock sanding_block() {
  return {.title = "1.60 mm to 0.70 mm over 190 mm", .stations = {{0, 0.0016}, {0.190, 0.0007}}};
}

inline TaperGauge taper_gauge() {
  TaperGauge gauge{.title = "Spar across, both ways", .stations = {}};
  for (int i = 0; i <= 5; ++i) {
    const double size_m = 0.0016 - 0.00018 * i;
    gauge.stations.push_back({0.038 * i, size_m - 0.02e-3, size_m + 0.02e-3});
  }
  return gauge;
}

inline TargetCard target_card() {
  return {
      .title = "Replacement for blade A of P14",
      .words = "To fly with blade B, 214 mg. Cut, taper and weigh in this order.",
      .rows = {{"mass", Measure::part_mass, 214e-6, 4e-6},
               {"shaft centre to tip", Measure::length, 0.195, 0.0005},
               {"spar reads, mark up", Measure::stock, 414 * thou_m, 8 * thou_m},
               {"spar reads, mark at side", Measure::stock, 436 * thou_m, 8 * thou_m},
               {"angle at 120 mm", Measure::angle, 45 * base::degree_rad, 0.5 * base::degree_rad},
               {"wood", Measure::word, 0, 0, "C grain, 64 to 72 kg/m³"}},
      .hazards = {Hazard::knife, Hazard::dust}};
}

inline TargetCard pair_card() {
  return {
      .title = "Blades of P14 as a pair",
      .words = "",
      .blanks = {"blade A", "blade B", "differ"},
      .rows = {{"mass", Measure::part_mass, 214e-6, 4e-6},
               {"shaft centre to tip", Measure::length, 0.195, 0.0005},
               {"angle at 120 mm", Measure::angle, 45 * base::degree_rad, 0.5 * base::degree_rad}}};
}

inline BenchSheets bench_sheets() {
  BenchSheets sheets;
  sheets.batch = "7";
  sheets.cards = {deflection_card()};
  sheets.blocks = {sanding_block()};
  sheets.gauges = {taper_gauge()};
  sheets.spars = bench_batch();
  sheets.targets = {target_card(), pair_card()};
  return sheets;
}

}  // namespace propwright::sheet::demo
