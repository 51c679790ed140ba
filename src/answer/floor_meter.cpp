// Torque meters and winders.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "bench_cautions.h"
#include "bench_parts.h"
#include "floor_parts.h"
#include "propwright/base/constants.h"

namespace propwright::answer {
namespace {

using D = units::Dimension;

constexpr double turn_rad = 2 * base::pi;

std::vector<std::string> wire_words() {
  std::vector<std::string> words;
  for (const rubber::WireMaterial& material : rubber::wire_materials()) {
    words.emplace_back(material.word);
  }
  return words;
}

std::optional<rubber::WireRate> read_wire(const Json& table, const std::string& place,
                                          base::Problems& problems) {
  BenchReader reader(table, place,
                     {"diameter", "diameter_sigma", "length", "material", "shear_modulus"});
  rubber::TorsionWire wire;
  const std::string word = reader.word("material", wire_words());
  for (const rubber::WireMaterial& material : rubber::wire_materials()) {
    if (material.word != (word.empty() ? "music wire" : word)) continue;
    wire.shear_modulus_Pa = material.shear_modulus_Pa;
    wire.modulus_sigma_relative = material.sigma_relative;
    wire.working_stress_Pa = material.yield_shear_Pa;
  }
  wire.diameter_m = reader.needed("diameter", D::length, {1e-4, 3e-3});
  wire.length_m = reader.needed("length", D::length, {0.005, 1});
  wire.diameter_sigma_m = reader.length("diameter_sigma", {0, 1e-4}).value_or(5e-6);
  if (const auto given = reader.quantity("shear_modulus", D::modulus, {10e9, 120e9})) {
    wire.shear_modulus_Pa = *given;
  }
  problems = reader.problems();
  if (!problems.empty()) return std::nullopt;
  const auto rate = rubber::wire_rate(wire);
  if (rate) return *rate;
  problems = bench_fields(rate.error(), place);
  return std::nullopt;
}

/// A wire as a scale that reads degrees.
rubber::ScaleFit wire_scale(const rubber::WireRate& rate) {
  rubber::ScaleFit fit;
  fit.torque_per_division_Nm = rate.rate_Nm_rad * base::degree_rad;
  fit.sigma_Nm = rate.sigma_Nm_rad * base::degree_rad;
  return fit;
}

std::vector<rubber::HungWeight> read_hung(BenchReader& reader) {
  std::vector<rubber::HungWeight> weights;
  const auto arm = reader.length("arm", {1e-3, 1});
  for (const auto& [row, place] : reader.tables("weights")) {
    BenchReader cells(row, place, {"mass", "arm", "reading"});
    rubber::HungWeight weight;
    weight.mass_kg = cells.needed("mass", D::mass, {0, 1});
    weight.reading = cells.needed("reading", D::ratio, {-1e6, 1e6});
    const auto own = cells.length("arm", {1e-3, 1});
    if (!own && !arm) cells.wrong("arm", "this is needed", "give the arm here or for all weights");
    weight.arm_m = own.value_or(arm.value_or(0));
    reader.add(cells.problems());
    weights.push_back(weight);
  }
  return weights;
}

const std::vector<std::string> meter_members{"name", "wire",     "weights", "arm",       "zero",
                                             "unit", "readings", "step",    "arm_sigma", "torques"};

Json reading_row(const FloorMeter& meter, double reading, double sigma) {
  const rubber::ScaleTorque torque = rubber::scale_torque(meter.fit, reading, sigma);
  Json row{{"reading", reading}, {"beyond", beyond_calibration(meter, reading)}};
  row.update(floor_torque(torque.torque_Nm));
  row["torque_sigma_Nm"] = torque.sigma_Nm;
  return row;
}

/// What was asked to be converted, both ways.
Json conversions(const Json& table, const FloorMeter& meter, double step,
                 base::Problems& problems) {
  BenchReader reader(table, "meter", meter_members);
  Json rows = Json::array();
  const Json readings = reader.table("readings");
  for (const Json& reading : readings.is_array() ? readings : Json::array()) {
    if (reading.is_number()) {
      rows.push_back(reading_row(meter, reading.get<double>(), step));
    } else {
      reader.wrong("readings", "this is no reading", "give the numbers that the scale showed");
    }
  }
  for (const auto& [field, text] : reader.texts("torques")) {
    const auto torque = units::parse(text, D::torque, field);
    if (torque) {
      rows.push_back(reading_row(meter, rubber::scale_reading(meter.fit, *torque), step));
    } else {
      problems.insert(problems.end(), torque.error().begin(), torque.error().end());
    }
  }
  for (const base::Problem& problem : reader.problems()) problems.push_back(problem);
  return rows;
}

Json weights_json(const FloorMeter& meter) {
  Json list = Json::array();
  for (std::size_t i = 0; i < meter.weights.size(); ++i) {
    const rubber::HungWeight& w = meter.weights[i];
    const double torque_Nm = w.mass_kg * base::gravity_m_s2 * w.arm_m;
    list.push_back({{"torque_Nm", torque_Nm},
                    {"reading", w.reading},
                    {"line_reading", rubber::scale_reading(meter.fit, torque_Nm)},
                    {"residual", meter.fit.residual[i]}});
  }
  return list;
}

// Beyond this the readings are no scale: one of them is misread, or the wire slips.
constexpr double worst_scale_doubt = 0.25;

/// Names the weight that lies farthest from the line.
base::Problem no_scale(const FloorMeter& meter, const std::string& place, double doubt) {
  const std::vector<double>& residual = meter.fit.residual;
  const auto worst = std::max_element(residual.begin(), residual.end(),
                                      [](double a, double b) { return std::abs(a) < std::abs(b); });
  const auto at = static_cast<std::size_t>(worst - residual.begin());
  return {.field = fmt::format("{}.weights[{}].reading", place, at + 1),
          .value = fmt::format("{:g}", meter.weights[at].reading),
          .allowed = "readings near a line through the weights",
          .remedy = "look at this reading first: it lies farthest off; or hang the weights anew",
          .message = fmt::format("the readings do not rise with the weights: a division would be "
                                 "known to ± {:.0f}\u00a0% only",
                                 100 * doubt)};
}

std::string meter_sentence(const FloorMeter& meter) {
  const rubber::ScaleFit& fit = meter.fit;
  const std::string rate =
      fmt::format("One {} is {} ± {:.1f} %.", meter.unit == "deg" ? "degree" : meter.unit,
                  torque_words(fit.torque_per_division_Nm),
                  100 * fit.sigma_Nm / std::abs(fit.torque_per_division_Nm));
  if (!meter.wire) return rate + fmt::format(" With no torque it reads {:.2f}.", fit.zero);
  return rate + fmt::format(" Beyond {}, at {:.0f}°, it may stay bent.",
                            torque_words(meter.wire->greatest_torque_Nm),
                            meter.wire->greatest_angle_rad / base::degree_rad);
}

/// The reading farthest from the zero among the weights hung; of a wire, what it bears.
std::optional<double> greatest_known_reading(const FloorMeter& meter) {
  if (meter.wire) {
    return meter.fit.zero + meter.wire->greatest_angle_rad / base::degree_rad;
  }
  std::optional<double> greatest;
  for (const rubber::HungWeight& weight : meter.weights) {
    const bool first = !greatest;
    if (first || std::abs(weight.reading - meter.fit.zero) > std::abs(*greatest - meter.fit.zero)) {
      greatest = weight.reading;
    }
  }
  return greatest;
}

}  // namespace

bool beyond_calibration(const FloorMeter& meter, double reading) {
  constexpr double half_step = 0.5;
  if (!meter.greatest_reading) return false;
  const double known = *meter.greatest_reading - meter.fit.zero, off = reading - meter.fit.zero;
  return (known < 0 ? -off : off) > std::abs(known) + half_step;
}

std::string beyond_words(const FloorMeter& meter) {
  const double greatest = meter.greatest_reading.value_or(0);
  if (meter.wire) {
    return fmt::format("Readings beyond {:.0f}° are past what the wire bears without staying bent.",
                       greatest);
  }
  return fmt::format(
      "Readings beyond the heaviest weight hung, {:g}\u00a0{}, are the meter's line drawn on: hang "
      "a heavier weight to know them.",
      greatest, meter.unit);
}

std::optional<FloorMeter> read_floor_meter(const Json& table, const std::string& place,
                                           base::Problems& problems) {
  BenchReader reader(table, place, meter_members);
  FloorMeter meter;
  meter.unit = reader.text("unit", reader.has("wire") ? "deg" : "division");
  const bool wire = reader.has("wire");
  if (wire == reader.has("weights")) {
    reader.wrong("wire", "a scale is known by its wire or by hung weights",
                 "give one of wire and weights");
  }
  const auto zero = reader.quantity("zero", D::ratio, {-1e6, 1e6});
  meter.step = reader.quantity("step", D::ratio, {0, 1e6}).value_or(1);
  const double arm_sigma = reader.length("arm_sigma", {0, 0.1}).value_or(0.3e-3);
  if (!wire) meter.weights = read_hung(reader);
  problems = reader.problems();
  if (!problems.empty()) return std::nullopt;
  if (wire) {
    meter.wire = read_wire(reader.table("wire"), place + ".wire", problems);
    if (!meter.wire) return std::nullopt;
    meter.fit = wire_scale(*meter.wire);
    meter.fit.zero = zero.value_or(0);
    meter.greatest_reading = greatest_known_reading(meter);
    return meter;
  }
  // A reading that is rounded to steps of q has the doubt q/sqrt(12).
  const auto fit = rubber::fit_scale(meter.weights, zero, meter.step / std::sqrt(12.0), arm_sigma);
  if (!fit) {
    problems = bench_fields(fit.error(), place);
    return std::nullopt;
  }
  meter.fit = *fit;
  meter.greatest_reading = greatest_known_reading(meter);
  const double doubt = fit->sigma_Nm / std::abs(fit->torque_per_division_Nm);
  if (doubt > worst_scale_doubt) {
    problems.push_back(no_scale(meter, place, doubt));
    return std::nullopt;
  }
  return meter;
}

Json floor_meter(const Json& table, FloorContext& context) {
  base::Problems problems;
  const auto meter = read_floor_meter(table, "meter", problems);
  if (!meter) {
    context.add(problems);
    return nullptr;
  }
  const double step = meter->step / std::sqrt(12.0);
  Json answer{{"unit", meter->unit}, {"zero", meter->fit.zero}};
  answer["per_division"] = floor_torque(meter->fit.torque_per_division_Nm);
  answer["per_division_sigma_Nm"] = meter->fit.sigma_Nm;
  answer["per_turn"] = meter->wire ? floor_torque(meter->wire->rate_Nm_rad * turn_rad) : Json();
  answer["greatest_torque_Nm"] = meter->wire ? Json(meter->wire->greatest_torque_Nm) : Json();
  answer["greatest_deg"] =
      meter->wire ? Json(meter->wire->greatest_angle_rad / base::degree_rad) : Json();
  answer["greatest_reading"] = number_or_null(meter->greatest_reading);
  answer["weights"] = weights_json(*meter);
  answer["residual_rms"] = meter->fit.residual_rms;
  answer["bend"] = meter->fit.bend;
  answer["readings"] = conversions(table, *meter, step, problems);
  answer["notes"] = meter->fit.notes;
  for (const Json& row : answer["readings"]) {
    if (!row["beyond"].get<bool>()) continue;
    answer["notes"].push_back(beyond_words(*meter));
    break;
  }
  answer["sentences"] = {meter_sentence(*meter)};
  answer["caution"] = cautions::wire;
  context.add(problems);
  return answer;
}

Json floor_winder(const Json& table, FloorContext& context) {
  BenchReader reader(table, "winder", {"ratio", "winder_turns", "motor_turns"});
  const double ratio = reader.needed("ratio", D::ratio, {0.1, 100});
  const auto crank = reader.quantity("winder_turns", D::ratio, {0, 1e6});
  const auto motor = reader.quantity("motor_turns", D::ratio, {0, 1e6});
  if (crank.has_value() == motor.has_value()) {
    reader.wrong("motor_turns", "one of the two is turned into the other",
                 "give winder_turns or motor_turns");
  }
  if (const auto wrong = reader.problems(); !wrong.empty()) {
    context.add(wrong);
    return nullptr;
  }
  return {{"ratio", ratio},
          {"winder_turns", crank ? *crank : *motor / ratio},
          {"motor_turns", motor ? *motor : *crank * ratio}};
}

}  // namespace propwright::answer
