// The weight ledger, with what each part costs in seconds of this job's flight.
#include "propwright/bench/ledger.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <nlohmann/json.hpp>

#include "bench_parts.h"

namespace propwright::answer {
namespace {

using bench::Figure;

std::string part_letters(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return text;
}

/// "Spar" and "spars" are one part.
bool same_part(const std::string& a, const std::string& b) {
  const auto plain = [](std::string text) {
    text = part_letters(std::move(text));
    if (text.size() > 1 && text.back() == 's') text.pop_back();
    return text;
  };
  return plain(a) == plain(b);
}

struct LedgerQuestion {
  std::vector<bench::LedgerPart> parts;
  std::vector<std::string> basis;   ///< of the plan, for each part
  std::vector<std::string> places;  ///< of the part in the question, "ledger.parts[2]"
  std::optional<double> model_kg;
};

const brief::PartMass* planned_part(const BenchContext& context, const std::string& name) {
  if (!context.job) return nullptr;
  for (const brief::PartMass& part : context.job->nominal.assembly.weights) {
    if (same_part(part.part, name)) return &part;
  }
  return nullptr;
}

/// A line that cannot be read is told and left out of the sums.
void read_part(const Json& row, const std::string& place, LedgerQuestion& q,
               BenchContext& context) {
  BenchReader cells(row, place, {"part", "planned", "weighed", "sigma", "propeller"});
  if (!cells.has("part") && !cells.has("weighed") && !cells.has("planned")) return;
  bench::LedgerPart part;
  part.name = cells.text("part");
  if (part.name.empty() && !cells.has("part")) {
    cells.wrong("part", "this is needed", "name the part, for example \"spars\"");
  }
  part.planned_kg = cells.mass("planned", {0, 1});
  part.propeller = cells.truth("propeller").value_or(true);
  const auto weighed_kg = cells.mass("weighed", {0, 1});
  const double sigma_kg =
      cells.mass("sigma", {0, 0.1}).value_or(bench::net_mass_sigma_kg(context.instruments));
  if (weighed_kg) part.weighed_kg = Figure{*weighed_kg, sigma_kg};
  if (const auto wrong = cells.problems(); !wrong.empty()) return context.add(wrong);
  std::string basis = part.planned_kg ? "as given" : "";
  const brief::PartMass* planned = part.propeller ? planned_part(context, part.name) : nullptr;
  if (!part.planned_kg && planned != nullptr) {
    part.planned_kg = planned->mass_kg;
    basis = planned->basis;
  }
  // A line that is only a name yet is being filled in.
  if (!part.planned_kg && !part.weighed_kg) return;
  q.parts.push_back(std::move(part));
  q.basis.push_back(std::move(basis));
  q.places.push_back(place);
}

/// Parts of the job's plan that were not named.
void add_planned(LedgerQuestion& q, const BenchContext& context) {
  if (!context.job) return;
  for (const brief::PartMass& planned : context.job->nominal.assembly.weights) {
    const bool named = std::any_of(q.parts.begin(), q.parts.end(), [&](const auto& part) {
      return part.propeller && same_part(part.name, planned.part);
    });
    if (named) continue;
    q.parts.push_back({planned.part, planned.mass_kg, {}, true});
    q.basis.push_back(planned.basis);
    q.places.emplace_back("ledger.parts");
  }
}

/// Lines that were skipped shift the rows: each problem is put where its part was sent.
base::Problems ledger_problems(const base::Problems& problems, const LedgerQuestion& q) {
  base::Problems all;
  for (base::Problem problem : problems) {
    std::string place = "ledger";
    const std::string row = "parts[";
    if (problem.field.starts_with(row)) {
      const std::size_t i = std::stoul(problem.field.substr(row.size()));
      place = i < q.places.size() ? q.places[i] : "ledger.parts";
      const std::size_t dot = problem.field.find('.');
      problem.field = dot == std::string::npos ? "" : problem.field.substr(dot + 1);
    }
    for (auto& named : bench_fields({problem}, place, {{"name", "part"}})) {
      all.push_back(std::move(named));
    }
  }
  return all;
}

std::optional<MassCost> cost_of_mass(BenchContext& context) {
  if (!context.job) return std::nullopt;
  const BenchJob& job = *context.job;
  const double relative = job.relative_sigma
                              ? *job.relative_sigma
                              : predict::sensitivities(job.loaded.job, job.nominal).sigma_s /
                                    job.nominal.flight.duration_s;
  auto cost = mass_cost(job.nominal, relative);
  if (cost) return *cost;
  context.add(in_file(cost.error(), "job"));
  return std::nullopt;
}

std::string row_verdict(const bench::LedgerRow& row) {
  if (!row.weighed_kg) return "not_weighed";
  if (!row.planned_kg) return "not_planned";
  // Twice the doubt of the weighing, 95 % sure.
  const double doubt_kg = 2 * row.over_kg->sigma;
  if (row.over_kg->value > doubt_kg) return "over";
  return row.over_kg->value < -doubt_kg ? "under" : "as_planned";
}

Json ledger_rows(const bench::LedgerFigures& figures, const std::vector<std::string>& basis) {
  Json list = Json::array();
  for (std::size_t i = 0; i < figures.rows.size(); ++i) {
    const bench::LedgerRow& row = figures.rows[i];
    list.push_back({{"part", row.name},
                    {"propeller", row.propeller},
                    {"planned_kg", number_or_null(row.planned_kg)},
                    {"weighed_kg", value_or_null(row.weighed_kg)},
                    {"sigma_kg", sigma_or_null(row.weighed_kg)},
                    {"over_kg", value_or_null(row.over_kg)},
                    {"over_sigma_kg", sigma_or_null(row.over_kg)},
                    {"over_relative", number_or_null(row.over_share)},
                    {"running_planned_kg", row.running_planned_kg},
                    {"running_kg", row.running_kg.value},
                    {"running_sigma_kg", row.running_kg.sigma},
                    {"cost_s", value_or_null(row.cost_s)},
                    {"cost_low_s", number_or_null(row.cost_low_s)},
                    {"cost_high_s", number_or_null(row.cost_high_s)},
                    {"verdict", row_verdict(row)},
                    {"basis", basis[i]}});
  }
  return list;
}

/// What the model weighs with the propeller as it is.
std::optional<double> model_mass_kg(const LedgerQuestion& q, const bench::LedgerFigures& figures,
                                    const BenchContext& context) {
  if (q.model_kg) return q.model_kg;
  const bool whole = std::any_of(figures.rows.begin(), figures.rows.end(),
                                 [](const auto& row) { return !row.propeller; });
  if (whole) return figures.total_kg.value;
  if (!context.job) return std::nullopt;
  return context.job->loaded.job.model.mass_kg + (figures.over_kg ? figures.over_kg->value : 0);
}

double planned_propeller_kg(const bench::LedgerFigures& figures) {
  double sum_kg = 0;
  for (const bench::LedgerRow& row : figures.rows) {
    if (row.propeller && row.planned_kg) sum_kg += *row.planned_kg;
  }
  return sum_kg;
}

struct LedgerWords {
  std::string headline, number, unit;
};

LedgerWords ledger_words(const bench::LedgerFigures& figures) {
  if (!figures.over_kg) return {"Nothing is both planned and weighed yet", "", ""};
  const double over_mg = 1e6 * figures.over_kg->value;
  const std::string size = fmt::format("{:.0f}", std::abs(over_mg));
  const std::string mass =
      size == "0" ? "As planned"
                  : fmt::format("{} mg {}", size, over_mg > 0 ? "over the plan" : "under the plan");
  if (!figures.cost_s) return {mass, size, "mg"};
  const double cost_s = figures.cost_s->value;
  if (std::abs(cost_s) < bench::least_told_s) {
    return {mass + ": no seconds that could be told", size, "mg"};
  }
  const std::string number = fmt::format("{:.1f}", std::abs(cost_s));
  return {fmt::format("{}: {} s {}", mass, number, cost_s > 0 ? "lost" : "gained"), number, "s"};
}

/// A milligram is told to a hundredth of a second.
std::string milligram_sentence(const MassCost& cost) {
  const double cost_s = -1e-6 * cost.slope_s_per_kg;
  const double sigma_s = 1e-6 * cost.slope_sigma_s_per_kg;
  if (std::abs(cost_s) < 0.005) {
    return "A milligram more or less on the model makes no seconds that could be told.";
  }
  return fmt::format("A milligram more on the model {} {:.2f} ± {:.2f} s.",
                     cost_s > 0 ? "costs" : "gains", std::abs(cost_s), sigma_s);
}

std::vector<std::string> ledger_sentences(const bench::LedgerFigures& figures,
                                          const std::optional<MassCost>& cost,
                                          const std::optional<double>& model_kg,
                                          const BenchContext& context) {
  std::vector<std::string> sentences;
  for (const std::string& sentence : figures.sentences) {
    // Of the propeller's own rows it is all; its share of the model is told below.
    if (!sentence.starts_with("The propeller is")) sentences.push_back(context.worded(sentence));
  }
  if (model_kg && *model_kg > 0) {
    sentences.push_back(fmt::format("The propeller, {}, is {:.1f} % of a model of {:.2f} g.",
                                    context.mass(figures.propeller_kg.value),
                                    100 * figures.propeller_kg.value / *model_kg, 1e3 * *model_kg));
  }
  if (cost) {
    sentences.push_back(milligram_sentence(*cost));
  }
  if (!context.job || !model_kg) return sentences;
  const auto& least_kg = context.job->loaded.job.rules.least_mass_kg;
  if (least_kg && *model_kg < *least_kg) {
    sentences.push_back(fmt::format(
        "The model would weigh {} and must weigh {}: {} of ballast are to come anyhow, so mass in "
        "the propeller up to that costs nothing.",
        context.mass(*model_kg), context.mass(*least_kg), context.mass(*least_kg - *model_kg)));
  }
  return sentences;
}

Json ledger_json(const LedgerQuestion& q, const bench::LedgerFigures& f,
                 const std::optional<MassCost>& cost, const BenchContext& context) {
  const auto model_kg = model_mass_kg(q, f, context);
  const LedgerWords words = ledger_words(f);
  const bool shared = model_kg && *model_kg > 0;
  const std::optional<double> least =
      context.job ? context.job->loaded.job.rules.least_mass_kg : std::nullopt;
  return {{"headline", words.headline},
          {"number", words.number},
          {"unit", words.unit},
          {"rows", ledger_rows(f, q.basis)},
          {"planned_kg", f.total_planned_kg},
          {"total_kg", f.total_kg.value},
          {"total_sigma_kg", f.total_kg.sigma},
          {"propeller_planned_kg", planned_propeller_kg(f)},
          {"propeller_kg", f.propeller_kg.value},
          {"propeller_sigma_kg", f.propeller_kg.sigma},
          {"over_kg", value_or_null(f.over_kg)},
          {"over_sigma_kg", sigma_or_null(f.over_kg)},
          {"unweighed", f.unweighed},
          {"unplanned", f.unplanned},
          {"model_kg", number_or_null(model_kg)},
          {"propeller_share", shared ? Json(f.propeller_kg.value / *model_kg) : Json()},
          {"least_mass_kg", number_or_null(least)},
          {"duration_s", cost ? Json(cost->duration_s) : Json()},
          {"seconds_per_mg", cost ? Json(1e-6 * cost->slope_s_per_kg) : Json()},
          {"seconds_per_mg_sigma", cost ? Json(1e-6 * cost->slope_sigma_s_per_kg) : Json()},
          {"cost_s", value_or_null(f.cost_s)},
          {"cost_low_s", number_or_null(f.cost_low_s)},
          {"cost_high_s", number_or_null(f.cost_high_s)},
          {"dearest", f.dearest ? Json(f.rows[*f.dearest].name) : Json()},
          {"sentences", ledger_sentences(f, cost, model_kg, context)}};
}

}  // namespace

Json bench_ledger(const Json& table, BenchContext& context) {
  BenchReader reader(table, "ledger", {"parts", "model_mass"});
  LedgerQuestion q;
  q.model_kg = reader.mass("model_mass", {1e-5, 1});
  for (const auto& [row, place] : reader.tables("parts")) {
    read_part(row, place, q, context);
  }
  if (const auto wrong = reader.problems(); !wrong.empty()) {
    context.add(wrong);
    return nullptr;
  }
  add_planned(q, context);
  const auto cost = cost_of_mass(context);
  bench::LedgerRates rates;
  if (cost) rates.propeller_s_kg = Figure{cost->slope_s_per_kg, cost->slope_sigma_s_per_kg};
  rates.model_s_kg = rates.propeller_s_kg;
  const auto figures = bench::ledger(q.parts, rates);
  if (!figures) {
    context.add(ledger_problems(figures.error(), q));
    return nullptr;
  }
  return ledger_json(q, *figures, cost, context);
}

}  // namespace propwright::answer
