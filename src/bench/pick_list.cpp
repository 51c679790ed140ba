#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "check.h"
#include "propwright/bench/stock.h"
#include "wood.h"

namespace propwright::bench {
namespace {

// What is counted for and against a sheet: ours, in shares of one, so that 0.1 more weight than
// wished counts as much as the second-best grain.
constexpr double next_grain = 0.1, unknown_grain = 0.25, wrong_grain = 0.5;
constexpr double off_density = 2.0;     // per share outside the wished band
constexpr double passed_density = 0.3;  // farther outside the band: passed over
constexpr double thin_share = 0.05;     // thinner than wished by more: passed over
constexpr double thick_share = 1.0;     // thicker by more: too much to sand away
constexpr double line_doubt = 0.3;      // single sheets about the line (data/balsa.csv)

std::string in_lb_ft3(double density_kg_m3) {
  return fmt::format("{:.1f} lb/ft3", density_kg_m3 / lb_ft3_kg_m3);
}

char grain_letter(Grain grain) {
  return grain == Grain::a ? 'A' : grain == Grain::b ? 'B' : 'C';
}

struct Weighing {
  Candidate candidate;
  std::vector<std::string> words;
  bool passed_over = false;

  void count(double penalty, std::string word) {
    candidate.penalty += penalty;
    words.push_back(std::move(word));
  }
  void pass_over(std::string word) {
    passed_over = true;
    candidate.suits = false;
    words.push_back(std::move(word));
  }
};

void weigh_density(const PartWish& wish, double density, Weighing& w) {
  const double below = wish.least_density_kg_m3 - density;
  const double above = density - wish.greatest_density_kg_m3;
  const double outside =
      std::max({0.0, below / wish.least_density_kg_m3, above / wish.greatest_density_kg_m3});
  if (outside > passed_density) {
    w.pass_over(
        fmt::format("far {} at {}", below > 0 ? "too light" : "too heavy", in_lb_ft3(density)));
  } else if (outside > 0) {
    w.candidate.suits = false;
    w.count(
        off_density * outside,
        fmt::format("{} than wished at {}", below > 0 ? "lighter" : "heavier", in_lb_ft3(density)));
  } else {
    w.words.push_back(fmt::format("density as wished, {}", in_lb_ft3(density)));
  }
}

void weigh_grain(const PartWish& wish, Grain grain, Weighing& w) {
  if (wish.grains.empty()) return;
  if (grain == Grain::unknown) {
    w.candidate.suits = false;
    w.count(unknown_grain, "cut not noted");
    return;
  }
  const auto at = std::find(wish.grains.begin(), wish.grains.end(), grain);
  if (at == wish.grains.end()) {
    w.candidate.suits = false;
    w.count(wrong_grain, fmt::format("{} grain, wished {}", grain_letter(grain),
                                     grain_letter(wish.grains.front())));
  } else {
    w.count(next_grain * static_cast<double>(at - wish.grains.begin()),
            fmt::format("{} grain", grain_letter(grain)));
  }
}

void weigh_size(const PartWish& wish, const Stock& stock, Weighing& w) {
  if (wish.least_length_m > 0 && stock.length_m < wish.least_length_m) {
    w.pass_over(fmt::format("too short at {}", in_mm(stock.length_m)));
  }
  if (wish.thickness_m <= 0) return;
  const double over = stock.thickness_m / wish.thickness_m - 1;
  if (over < -thin_share) {
    w.pass_over(fmt::format("too thin at {}", in_mm(stock.thickness_m)));
  } else if (over > thick_share) {
    w.pass_over(fmt::format("too thick at {}", in_mm(stock.thickness_m)));
  } else if (over > thin_share) {
    w.count(over, fmt::format("to be sanded from {} to {}", in_mm(stock.thickness_m),
                              in_mm(wish.thickness_m)));
  }
}

/// (E/rho^2) over that of the line's wood in the middle of the band; E of the line when unmeasured.
Figure merit_of(const PartWish& wish, const Shelved& sheet, double modulus_per_density_J_kg) {
  const double rho = sheet.density_kg_m3.value;
  const double middle = (wish.least_density_kg_m3 + wish.greatest_density_kg_m3) / 2;
  const Figure E = sheet.E_Pa.value_or(
      Figure{modulus_per_density_J_kg * rho, line_doubt * modulus_per_density_J_kg * rho});
  const double merit = E.value / (rho * rho) * middle / modulus_per_density_J_kg;
  return {merit, merit * std::hypot(E.sigma / E.value, 2 * sheet.density_kg_m3.sigma / rho)};
}

void weigh_want(const PartWish& wish, const Shelved& sheet, Weighing& w) {
  const double light = std::max(0.0, sheet.density_kg_m3.value / wish.least_density_kg_m3 - 1);
  switch (wish.want) {
    case PartWish::Want::stiff_and_light:
      w.count(
          -std::log(w.candidate.merit.value) / 2,
          fmt::format("stiffness for its weight {:.2f} of usual wood{}", w.candidate.merit.value,
                      w.candidate.merit_measured ? "" : " by its density alone, not tested"));
      break;
    case PartWish::Want::light:
      w.candidate.penalty += light / 2;
      break;
    case PartWish::Want::bends_round:
      w.candidate.penalty += light / 4;
      break;
    case PartWish::Want::stiff_across:
      break;
  }
}

Weighing weigh_sheet(const PartWish& wish, const Shelved& sheet, std::size_t index,
                     double modulus_per_density_J_kg) {
  Weighing w;
  w.candidate.index = index;
  w.candidate.suits = true;
  w.candidate.merit = merit_of(wish, sheet, modulus_per_density_J_kg);
  w.candidate.merit_measured = sheet.E_Pa.has_value();
  weigh_density(wish, sheet.density_kg_m3.value, w);
  weigh_grain(wish, sheet.stock.grain, w);
  weigh_size(wish, sheet.stock, w);
  weigh_want(wish, sheet, w);
  w.candidate.reason = fmt::format("{}", fmt::join(w.words, "; "));
  return w;
}

base::Problems pick_problems(const std::vector<Shelved>& shelf,
                             const std::vector<PartWish>& wishes) {
  Checks checks;
  for (std::size_t i = 0; i < shelf.size(); ++i) {
    const auto field = [&](const char* name) { return fmt::format("shelf[{}].{}", i, name); };
    checks.within(shelf[i].density_kg_m3.value, 1, 20000, field("density_kg_m3"),
                  fmt::format("{:g} kg/m3", shelf[i].density_kg_m3.value), "1 to 20000 kg/m3",
                  "work out the density of the sheet first");
    if (shelf[i].E_Pa) {
      checks.within(shelf[i].E_Pa->value, 1e6, 1e12, field("E_Pa"),
                    fmt::format("{:g} GPa", shelf[i].E_Pa->value / 1e9), "0.001 to 1000 GPa",
                    "test the strip again or leave the modulus out");
    }
  }
  for (std::size_t i = 0; i < wishes.size(); ++i) {
    const PartWish& wish = wishes[i];
    if (wish.least_density_kg_m3 > 0 && wish.greatest_density_kg_m3 >= wish.least_density_kg_m3) {
      continue;
    }
    checks.add(
        fmt::format("wishes[{}].least_density_kg_m3", i),
        fmt::format("{:g} to {:g} kg/m3", wish.least_density_kg_m3, wish.greatest_density_kg_m3),
        "above 0, the least first", "give the band of density from light to heavy",
        "no band of density");
  }
  return checks.take();
}

PartWish archive_wish(const char* part, PartWish::Want want, Grain grain, double thickness_m) {
  return {.part = part,
          .want = want,
          .least_density_kg_m3 = 72,
          .greatest_density_kg_m3 = 88,
          .grains = {grain, Grain::b},
          .thickness_m = thickness_m,
          .source =
              "builders' archive 2005-2019, F1D: cut, thickness, about 80 kg/m3; the 10 % "
              "either side are ours"};
}

}  // namespace

std::vector<PartWish> usual_wishes() {
  using Want = PartWish::Want;
  std::vector<PartWish> wishes{
      {.part = "propeller spar",
       .want = Want::stiff_and_light,
       .least_density_kg_m3 = 64,
       .greatest_density_kg_m3 = 88,
       .grains = {Grain::a, Grain::b, Grain::c},
       .thickness_m = 2.03e-3,
       .least_length_m = 0.2,
       .source =
           "builders' archive 2005-2019: 0.080 in square at the root, 4 to 5.5 lb/ft3; A said "
           "to be more even, no agreed rule"},
      archive_wish("propeller outline", Want::bends_round, Grain::a, 0.61e-3),
      archive_wish("ribs", Want::stiff_across, Grain::c, 0.69e-3),
      {.part = "sheet blade, light",
       .want = Want::light,
       .least_density_kg_m3 = 64,
       .greatest_density_kg_m3 = 80,
       .grains = {Grain::c, Grain::b},
       .thickness_m = 0.24e-3,
       .source =
           "builders' archive 2005-2019, F1L blades of 0.23 to 0.25 mm; cut: common practice"},
      archive_wish("motor stick wall", Want::stiff_across, Grain::c, 0.33e-3),
      archive_wish("boom wall", Want::stiff_across, Grain::c, 0.23e-3),
      archive_wish("wing spar", Want::stiff_and_light, Grain::a, 0.81e-3),
      archive_wish("stabiliser outline", Want::bends_round, Grain::a, 0.74e-3)};
  return wishes;
}

base::Expected<std::vector<PickList>> pick_list(const std::vector<Shelved>& shelf,
                                                const std::vector<PartWish>& wishes,
                                                double modulus_per_density_J_kg) {
  if (auto problems = pick_problems(shelf, wishes); !problems.empty()) {
    return base::fail(std::move(problems));
  }
  std::vector<PickList> lists;
  for (const PartWish& wish : wishes) {
    PickList list{.part = wish.part, .candidates = {}, .passed_over = {}};
    for (std::size_t i = 0; i < shelf.size(); ++i) {
      const StockKind kind = shelf[i].stock.kind;
      if (kind != StockKind::sheet && kind != StockKind::strip) continue;
      Weighing w = weigh_sheet(wish, shelf[i], i, modulus_per_density_J_kg);
      (w.passed_over ? list.passed_over : list.candidates).push_back(std::move(w.candidate));
    }
    std::stable_sort(list.candidates.begin(), list.candidates.end(),
                     [](const Candidate& a, const Candidate& b) { return a.penalty < b.penalty; });
    lists.push_back(std::move(list));
  }
  return lists;
}

}  // namespace propwright::bench
