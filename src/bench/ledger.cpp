#include "propwright/bench/ledger.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "check.h"

namespace propwright::bench {
namespace {

constexpr double two_sided_90 = 1.645;  // half-width of a normal 90 % interval, in sigmas

base::Problems ledger_problems(const std::vector<LedgerPart>& parts, const LedgerRates& rates) {
  Checks checks;
  if (parts.empty()) {
    checks.add("parts", "none", "at least one", "name a part with its planned or weighed mass",
               "the ledger is empty");
  }
  std::set<std::string> names;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const LedgerPart& part = parts[i];
    const std::string at = fmt::format("parts[{}]", i);
    if (part.name.empty() || !names.insert(part.name).second) {
      checks.add(at + ".name", part.name.empty() ? "empty" : part.name, "a name of its own",
                 "give each part its own name", "the part cannot be told from the others");
    }
    if (!part.planned_kg && !part.weighed_kg) {
      checks.add(at, part.name, "a planned or a weighed mass", "weigh it or plan it",
                 "the part has no mass");
    }
    const auto mass = [&](double mass_kg, const char* member) {
      checks.within(mass_kg, 0, greatest_mass_kg, at + member, in_mg(mass_kg), "0 to 1 kg",
                    "give the mass with its unit");
    };
    if (part.planned_kg) mass(*part.planned_kg, ".planned_kg");
    if (part.weighed_kg) mass(part.weighed_kg->value, ".weighed_kg");
  }
  const auto rate = [&](const std::optional<Figure>& s_kg, const char* field) {
    if (!s_kg) return;
    checks.within(s_kg->value, -1e9, 1e9, field, fmt::format("{:g} s/kg", s_kg->value),
                  "a finite number", "fly the job again");
  };
  rate(rates.propeller_s_kg, "rates.propeller_s_kg");
  rate(rates.model_s_kg, "rates.model_s_kg");
  return checks.take();
}

const std::optional<Figure>& rate_of(const LedgerRates& rates, bool propeller) {
  return propeller ? rates.propeller_s_kg : rates.model_s_kg;
}

void cost_row(LedgerRow& row, const LedgerRates& rates) {
  const std::optional<Figure>& rate = rate_of(rates, row.propeller);
  if (!row.over_kg || !rate) return;
  row.cost_s =
      Figure{-row.over_kg->value * rate->value,
             std::hypot(row.over_kg->value * rate->sigma, rate->value * row.over_kg->sigma)};
  row.cost_low_s = row.cost_s->value - two_sided_90 * row.cost_s->sigma;
  row.cost_high_s = row.cost_s->value + two_sided_90 * row.cost_s->sigma;
}

LedgerRow ledger_row(const LedgerPart& part, const LedgerRates& rates) {
  LedgerRow row{.name = part.name, .propeller = part.propeller};
  row.planned_kg = part.planned_kg;
  row.weighed_kg = part.weighed_kg;
  if (part.planned_kg && part.weighed_kg) {
    row.over_kg = Figure{part.weighed_kg->value - *part.planned_kg, part.weighed_kg->sigma};
    if (*part.planned_kg > 0) row.over_share = row.over_kg->value / *part.planned_kg;
  }
  cost_row(row, rates);
  return row;
}

void add_to(Figure& sum, const LedgerPart& part) {
  sum.value += part.weighed_kg ? part.weighed_kg->value : *part.planned_kg;
  if (part.weighed_kg) sum.sigma = std::hypot(sum.sigma, part.weighed_kg->sigma);
}

/// Weights differ each by itself; a rate that is off is off for all rows it serves.
void sum_costs(LedgerFigures& f, const LedgerRates& rates) {
  double cost = 0, square_sum = 0;
  bool any = false;
  for (const bool propeller : {true, false}) {
    const std::optional<Figure>& rate = rate_of(rates, propeller);
    if (!rate) continue;
    double over = 0, weights_square = 0;
    for (const LedgerRow& row : f.rows) {
      if (row.propeller != propeller || !row.over_kg) continue;
      any = true;
      over += row.over_kg->value;
      weights_square += squared(row.over_kg->sigma);
    }
    cost -= over * rate->value;
    square_sum += squared(over * rate->sigma) + squared(rate->value) * weights_square;
  }
  if (!any) return;
  f.cost_s = Figure{cost, std::sqrt(square_sum)};
  f.cost_low_s = cost - two_sided_90 * f.cost_s->sigma;
  f.cost_high_s = cost + two_sided_90 * f.cost_s->sigma;
}

void find_dearest(LedgerFigures& f) {
  for (std::size_t i = 0; i < f.rows.size(); ++i) {
    if (!f.rows[i].cost_s || f.rows[i].cost_s->value < least_told_s) continue;
    if (!f.dearest || f.rows[i].cost_s->value > f.rows[*f.dearest].cost_s->value) f.dearest = i;
  }
}

std::string seconds_of(const Figure& cost_s) {
  const double size = std::abs(cost_s.value), half = two_sided_90 * cost_s.sigma;
  if (size < least_told_s) return "costs no seconds that could be told";
  return fmt::format("{} {:.1f} s (90 %: {:.1f} to {:.1f})", cost_s.value >= 0 ? "costs" : "gains",
                     size, size - half, size + half);
}

std::string against_plan(double over_kg) {
  if (std::abs(over_kg) < 0.05e-6) return "as planned";
  return fmt::format("{} {} their plan", in_mg(std::abs(over_kg)), over_kg > 0 ? "over" : "under");
}

std::vector<std::string> ledger_sentences(const LedgerFigures& f) {
  std::vector<std::string> out;
  out.push_back(fmt::format(
      "{} in all against {} planned{}.", in_mg(f.total_kg.value), in_mg(f.total_planned_kg),
      f.unweighed > 0 ? fmt::format("; {} still to be weighed", f.unweighed) : std::string()));
  if (f.propeller_share) {
    out.push_back(fmt::format("The propeller is {:.0f} % of it, {}.", 100 * *f.propeller_share,
                              in_mg(f.propeller_kg.value)));
  }
  if (f.over_kg && f.cost_s) {
    out.push_back(fmt::format("The parts weighed are {}, which {}.", against_plan(f.over_kg->value),
                              seconds_of(*f.cost_s)));
  }
  if (f.dearest) {
    const LedgerRow& row = f.rows[*f.dearest];
    out.push_back(fmt::format("Dearest: {}, {} over, {}.", row.name, in_mg(row.over_kg->value),
                              seconds_of(*row.cost_s)));
  }
  return out;
}

}  // namespace

base::Expected<LedgerFigures> ledger(const std::vector<LedgerPart>& parts,
                                     const LedgerRates& rates) {
  if (auto problems = ledger_problems(parts, rates); !problems.empty()) {
    return base::fail(std::move(problems));
  }
  LedgerFigures f;
  for (const LedgerPart& part : parts) {
    LedgerRow row = ledger_row(part, rates);
    add_to(f.total_kg, part);
    if (part.propeller) add_to(f.propeller_kg, part);
    f.total_planned_kg += part.planned_kg.value_or(0);
    f.unweighed += part.weighed_kg ? 0 : 1;
    f.unplanned += part.planned_kg ? 0 : 1;
    if (row.over_kg) {
      const Figure so_far = f.over_kg.value_or(Figure{});
      f.over_kg =
          Figure{so_far.value + row.over_kg->value, std::hypot(so_far.sigma, row.over_kg->sigma)};
    }
    row.running_kg = f.total_kg;
    row.running_planned_kg = f.total_planned_kg;
    f.rows.push_back(std::move(row));
  }
  const bool any =
      std::any_of(parts.begin(), parts.end(), [](const auto& p) { return p.propeller; });
  if (any && f.total_kg.value > 0) f.propeller_share = f.propeller_kg.value / f.total_kg.value;
  sum_costs(f, rates);
  find_dearest(f);
  f.sentences = ledger_sentences(f);
  return f;
}

}  // namespace propwright::bench
