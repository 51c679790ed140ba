/// Whether bench data can be printed at all.
#include <fmt/format.h>

#include <cmath>

#include "bench_pages.h"
#include "propwright/base/constants.h"

namespace propwright::sheet {
namespace {

class BenchChecker {
 public:
  void within(const std::string& field, double value, double least, double most,
              const std::string& allowed) {
    if (value >= least && value <= most) return;
    add(field, fmt::format("{:g}", value), allowed);
  }
  void finite(const std::string& field, std::initializer_list<double> values) {
    for (const double value : values) {
      if (std::isfinite(value)) continue;
      add(field, fmt::format("{}", value), "a finite number");
      return;
    }
  }
  void add(const std::string& field, const std::string& value, const std::string& allowed) {
    problems_.push_back({.field = field,
                         .value = value,
                         .allowed = allowed,
                         .remedy = "correct the input it comes from",
                         .message = "this cannot be drawn"});
  }
  base::Problems take() { return std::move(problems_); }

 private:
  base::Problems problems_;
};

void check_cards(BenchChecker& checker, const BenchSheets& sheets) {
  for (std::size_t i = 0; i < sheets.cards.size(); ++i) {
    const DeflectionCard& card = sheets.cards[i];
    const std::string at = fmt::format("cards[{}].", i);
    checker.within(at + "load_at_m", card.load_at_m, 0.01, 0.6, "0.01 to 0.6 m");
    checker.within(at + "read_at_m", card.read_at_m, 0.01, 0.6, "0.01 to 0.6 m");
    checker.within(at + "deepest_m", card.deepest_m, 0.0, 0.06, "0 to 0.06 m");
    checker.finite(at + "load_kg",
                   {card.load_kg, card.zero_reading_m, card.resolution_m, card.repeatability_m});
    for (const auto& [x, y] : card.curve_m) checker.finite(at + "curve_m", {x, y});
  }
}

void check_blocks(BenchChecker& checker, const BenchSheets& sheets) {
  for (std::size_t i = 0; i < sheets.blocks.size(); ++i) {
    const SandingBlock& block = sheets.blocks[i];
    const std::string at = fmt::format("blocks[{}].", i);
    if (block.stations.size() < 2) checker.add(at + "stations", "one or none", "two or more");
    checker.within(at + "angle_rad", block.angle_rad, 60 * base::degree_rad - 1e-9,
                   120 * base::degree_rad + 1e-9, "60 to 120 degrees");
    checker.within(at + "block_width_m", block.block_width_m, 0.005, 0.05, "0.005 to 0.05 m");
    checker.within(at + "block_height_m", block.block_height_m, 0.005, 0.03, "0.005 to 0.03 m");
    double before = -1;
    for (const SizeStation& station : block.stations) {
      checker.within(at + "along_m", station.along_m, std::max(0.0, before + 1e-4), 1.0,
                     "rising, by 0.1 mm or more, up to 1 m");
      before = station.along_m;
      const Groove v = groove(station.size_m, block.angle_rad);
      const bool fits = station.size_m > 0 && v.depth_m < 0.8 * block.block_height_m &&
                        v.width_m < 0.8 * block.block_width_m;
      if (!fits) {
        checker.add(at + "size_m", fmt::format("{:g} m", station.size_m),
                    "a spar whose V takes at most 80 % of the block");
      }
    }
  }
}

void check_gauges(BenchChecker& checker, const BenchSheets& sheets) {
  for (std::size_t i = 0; i < sheets.gauges.size(); ++i) {
    const std::string at = fmt::format("gauges[{}].", i);
    const TaperGauge& gauge = sheets.gauges[i];
    if (gauge.stations.empty() || gauge.stations.size() > 12) {
      checker.add(at + "stations", fmt::format("{}", gauge.stations.size()), "1 to 12");
    }
    for (const TaperGauge::Station& station : gauge.stations) {
      checker.finite(at + "along_m", {station.along_m});
      checker.within(at + "least_m", station.least_m, 1e-4, 0.01, "0.0001 to 0.01 m");
      checker.within(at + "most_m", station.most_m, station.least_m + 1e-6, 0.01,
                     "more than least_m, up to 0.01 m");
    }
  }
}

void check_spars(BenchChecker& checker, const BenchBatch& batch) {
  checker.within("spars.tolerance", batch.tolerance, 0, 0.5, "0 to 0.5");
  checker.within("spars.blank_rows", batch.blank_rows, 0, 40, "0 to 40");
  for (const BenchSpar& spar : batch.spars) {
    const auto of = [](const std::optional<double>& value) { return value.value_or(0); };
    checker.finite(
        "spars." + spar.id,
        {of(spar.root_width_m), of(spar.root_depth_m), of(spar.tip_width_m), of(spar.tip_depth_m),
         of(spar.mass_kg), of(spar.reading_0_m), of(spar.reading_90_m), of(spar.modulus_0_Pa),
         of(spar.modulus_90_Pa), of(spar.ei_0_Nm2), of(spar.ei_90_Nm2), spar.ei_0_sigma_Nm2,
         spar.ei_90_sigma_Nm2});
  }
  for (const SandingAdvice& advice : batch.sanding) {
    checker.finite("sanding." + advice.id,
                   {advice.off_each_0_m, advice.off_each_90_m, advice.target_0_m.value_or(0),
                    advice.target_0_least_m.value_or(0), advice.target_0_most_m.value_or(0),
                    advice.target_90_m.value_or(0), advice.target_90_least_m.value_or(0),
                    advice.target_90_most_m.value_or(0)});
  }
}

}  // namespace

base::Problems check(const BenchSheets& sheets) {
  BenchChecker checker;
  check_cards(checker, sheets);
  check_blocks(checker, sheets);
  check_gauges(checker, sheets);
  if (sheets.spars) check_spars(checker, *sheets.spars);
  for (const TargetCard& card : sheets.targets) {
    for (const TargetRow& row : card.rows) checker.finite(card.title, {row.target, row.tolerance});
    // A card is one piece of paper; eighteen rows fill a page.
    if (card.rows.size() > 18) {
      checker.add(card.title, fmt::format("{} rows", card.rows.size()), "at most 18 rows");
    }
  }
  return checker.take();
}

}  // namespace propwright::sheet
