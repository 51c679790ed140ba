#include "propwright/bench/stock.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "check.h"
#include "wood.h"

namespace propwright::bench {
namespace {

constexpr double polyester_kg_m3 = 1390;  // film; from memory, read range 1370 to 1390
constexpr double steel_low_kg_m3 = 7000, steel_high_kg_m3 = 8500;   // wire beyond is asked about
constexpr double film_low_kg_m2 = 0.2e-3, film_high_kg_m2 = 40e-3;  // microfilm to heavy tissue
constexpr double coarse_share = 0.05;  // a mass known worse than this is asked about (ours)

struct StockDoubts {
  double mass = 0, length = 0, width = 0, thickness = 0;  // relative sigmas
};

StockDoubts stock_doubts(const Stock& s, const Instruments& i) {
  const double rule = reading_sigma(i.rule_resolution_m, 0);
  const double micrometer = reading_sigma(i.micrometer_resolution_m, 0);
  StockDoubts d;
  d.mass = net_mass_sigma_kg(i) / s.mass_kg;
  if (s.length_m > 0) d.length = rule / s.length_m;
  if (s.width_m > 0) d.width = (s.kind == StockKind::strip ? micrometer : rule) / s.width_m;
  if (s.thickness_m > 0) d.thickness = micrometer / s.thickness_m;
  return d;
}

bool needs_width(StockKind kind) {
  return kind != StockKind::wire && kind != StockKind::glue;
}

bool needs_thickness(StockKind kind) {
  return kind == StockKind::sheet || kind == StockKind::strip || kind == StockKind::wire;
}

base::Problems stock_problems(const Stock& s, const Instruments& instruments) {
  Checks checks;
  checks.add(problems_of(instruments));
  check_mass(checks, s.mass_kg, "mass_kg");
  if (s.kind != StockKind::glue || s.length_m != 0) check_length(checks, s.length_m, "length_m");
  checks.within(s.pieces, 1, 1000, "pieces", fmt::format("{}", s.pieces), "1 to 1000",
                "say how many lay on the scale together");
  if (needs_width(s.kind) || s.width_m != 0) check_length(checks, s.width_m, "width_m");
  if (needs_thickness(s.kind) || s.thickness_m != 0) {
    check_thickness(checks, s.thickness_m, "thickness_m");
  }
  if (s.kind == StockKind::glue && s.wet_mass_kg != 0) {
    checks.within(s.wet_mass_kg, s.mass_kg, greatest_mass_kg, "wet_mass_kg", in_mg(s.wet_mass_kg),
                  "at least the dried mass", "weigh the glue wet at once, and again when dry");
  }
  return checks.take();
}

void ask_about_wood(const Stock& s, const StockFigures& f, std::vector<Question>& questions) {
  if (s.kind != StockKind::sheet && s.kind != StockKind::strip) return;
  const double density = f.density_kg_m3->value;
  if (density >= balsa_least_kg_m3 && density <= balsa_greatest_kg_m3) return;
  questions.push_back(
      {"mass_kg", fmt::format("these sizes and {} mean {:.0f} kg/m3 ({:.1f} lb/ft3); balsa grows "
                              "from {:.0f} to {:.0f}: check mass, thickness and units",
                              in_mg(s.mass_kg), density, density / lb_ft3_kg_m3, balsa_least_kg_m3,
                              balsa_greatest_kg_m3)});
}

std::vector<Question> stock_questions(const Stock& s, const StockFigures& f, double mass_doubt) {
  std::vector<Question> questions;
  ask_about_wood(s, f, questions);
  if (s.kind == StockKind::wire) {
    const double density = f.density_kg_m3->value;
    if (density < steel_low_kg_m3 || density > steel_high_kg_m3) {
      questions.push_back({"mass_kg", fmt::format("the wire comes out at {:.0f} kg/m3; steel has "
                                                  "7850: check diameter, length and mass",
                                                  density)});
    }
  }
  if (s.kind == StockKind::film || s.kind == StockKind::tissue) {
    const double areal = f.areal_mass_kg_m2->value;
    if (areal < film_low_kg_m2 || areal > film_high_kg_m2) {
      questions.push_back(
          {"mass_kg", fmt::format("{:.3g} g/m2 is no covering: films for indoor models have 0.45 "
                                  "to 2.2, tissues 3 to 14; check area and mass",
                                  1e3 * areal)});
    }
  }
  if (mass_doubt > coarse_share) {
    questions.push_back({"mass_kg", fmt::format("the scale's steps leave {} in doubt by {:.0f} %: "
                                                "weigh several pieces together",
                                                in_mg(s.mass_kg), 100 * mass_doubt)});
  }
  return questions;
}

StockFigures wood_or_film(const Stock& s, const StockDoubts& d) {
  StockFigures f;
  const double area = s.pieces * s.length_m * s.width_m;
  const double areal = s.mass_kg / area,
               flat = squared(d.mass) + squared(d.length) + squared(d.width);
  if (s.kind == StockKind::strip) {
    const double linear = s.mass_kg / (s.pieces * s.length_m);
    f.linear_mass_kg_m = Figure{linear, linear * std::sqrt(squared(d.mass) + squared(d.length))};
  } else {
    f.areal_mass_kg_m2 = Figure{areal, areal * std::sqrt(flat)};
  }
  if (s.thickness_m > 0) {
    const double density = areal / s.thickness_m;
    f.density_kg_m3 = Figure{density, density * std::sqrt(flat + squared(d.thickness))};
  }
  if (needs_thickness(s.kind)) f.density_class = density_class(*f.density_kg_m3);
  if (s.kind == StockKind::film) {
    f.film_thickness_m = Figure{areal / polyester_kg_m3, areal / polyester_kg_m3 * std::sqrt(flat)};
  }
  return f;
}

StockFigures wire_or_glue(const Stock& s, const StockDoubts& d) {
  StockFigures f;
  // Of a drop of glue only the masses are known.
  const bool drop = s.kind == StockKind::glue && !(s.length_m > 0);
  const double linear = drop ? 0 : s.mass_kg / (s.pieces * s.length_m);
  const double along = squared(d.mass) + squared(d.length);
  if (s.kind == StockKind::wire) {
    const double density = linear / (base::pi / 4 * squared(s.thickness_m));
    f.density_kg_m3 = Figure{density, density * std::sqrt(along + squared(2 * d.thickness))};
  }
  if (!drop && s.kind == StockKind::glue && s.width_m > 0) {
    const double areal = linear / s.width_m;
    f.areal_mass_kg_m2 = Figure{areal, areal * std::sqrt(along + squared(d.width))};
  } else if (!drop) {
    f.linear_mass_kg_m = Figure{linear, linear * std::sqrt(along)};
  }
  if (s.kind == StockKind::glue && s.wet_mass_kg > 0) {
    const double share = s.mass_kg / s.wet_mass_kg, sigma_kg = d.mass * s.mass_kg;
    f.solids_share = Figure{share, share * std::hypot(d.mass, sigma_kg / s.wet_mass_kg)};
  }
  return f;
}

}  // namespace

std::string grain_use(Grain grain) {
  switch (grain) {
    case Grain::a:
      return "A: bends easily across, follows a curve: outlines, tubes, spars";
    case Grain::b:
      return "B: between A and C, for general use";
    case Grain::c:
      return "C: stiff across, splits easily: ribs and flat parts";
    case Grain::unknown:
      break;
  }
  return "cut not noted: look for the mottled flecks of C, the long lines of A";
}

DensityClass density_class(Figure density_kg_m3) {
  static constexpr std::array edges{4.0, 4.3, 4.5,  5.0,  5.5,  6.0,  7.0,
                                    8.0, 9.0, 10.0, 12.0, 14.0, 16.0, 18.0};
  const double density = density_kg_m3.value / lb_ft3_kg_m3;
  const double sigma = density_kg_m3.sigma / lb_ft3_kg_m3;
  const auto above = std::upper_bound(edges.begin(), edges.end(), density);
  DensityClass result;
  if (above != edges.begin()) result.low_lb_ft3 = *(above - 1);
  if (above != edges.end()) result.high_lb_ft3 = *above;
  if (result.low_lb_ft3 == 0) {
    result.words = fmt::format("below {:g} lb/ft3", edges.front());
  } else if (result.high_lb_ft3 == 0) {
    result.words = fmt::format("above {:g} lb/ft3", edges.back());
  } else {
    result.words = fmt::format("{:g} to {:g} lb/ft3", result.low_lb_ft3, result.high_lb_ft3);
  }
  result.doubtful = (result.low_lb_ft3 > 0 && density - sigma < result.low_lb_ft3) ||
                    (result.high_lb_ft3 > 0 && density + sigma >= result.high_lb_ft3);
  return result;
}

base::Expected<StockFigures> stock_figures(const Stock& stock, const Instruments& instruments) {
  if (auto problems = stock_problems(stock, instruments); !problems.empty()) {
    return base::fail(std::move(problems));
  }
  const StockDoubts doubts = stock_doubts(stock, instruments);
  StockFigures figures =
      needs_width(stock.kind) ? wood_or_film(stock, doubts) : wire_or_glue(stock, doubts);
  figures.questions = stock_questions(stock, figures, doubts.mass);
  return figures;
}

}  // namespace propwright::bench
