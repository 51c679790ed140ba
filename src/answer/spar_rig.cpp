#include "spar_rig.h"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "propwright/units/units.h"
#include "wish_reader.h"

namespace propwright::answer {
namespace {

using D = units::Dimension;
using RigRange = std::pair<double, double>;

constexpr std::size_t most_rig_readings = 50;
constexpr RigRange rig_load_range{1e-6, 0.1}, rig_place_range{0.005, 1}, rig_reading_range{-0.5, 1};
constexpr double usual_repeatability_m = 0.002 * 0.0254;  // a card read by eye (judgement)

/// The scatter of its readings; where it was told outright, that counts.
void calibrate(const Json& json, const std::string& field, const std::optional<double>& told,
               RigRead& read, base::Problems& problems) {
  read.rig.repeatability_m = told.value_or(usual_repeatability_m);
  if (!json.is_object() || !json.contains("calibration") || json["calibration"].is_null()) return;
  const auto readings = read_lengths(json["calibration"], field + ".calibration", problems);
  read.calibration_readings = static_cast<int>(readings.size());
  if (readings.size() < 2) return;
  const auto found = spar::calibrate({readings}, read.rig.resolution_m);
  if (!found) {
    for (base::Problem problem : found.error()) {
      problem.field = field + ".calibration";
      problems.push_back(std::move(problem));
    }
    return;
  }
  read.calibration = *found;
  if (told) return;
  read.rig.repeatability_m = found->repeatability_m;
  read.rig.repeatability_freedom = found->freedom;
}

}  // namespace

RigRead read_rig(const Json& json, const std::string& field, base::Problems& problems) {
  QuantityReader reader(
      json, field + ".",
      {"name", "load", "load_at", "read_at", "follows", "zero", "zero_reading", "resolution",
       "repeatability", "load_sigma", "calibration", "clamp", "notes"});
  RigRead read;
  spar::Rig& rig = read.rig;
  rig.name = reader.text("name");
  rig.clamp = reader.text("clamp");
  reader.text("notes");
  const auto needed = [&](const char* name, D dimension, RigRange range, const char* remedy) {
    if (json.is_object() && !reader.has(name)) {
      reader.problems.push_back({.field = field + "." + name,
                                 .allowed = units::accepted_units(dimension),
                                 .remedy = remedy,
                                 .message = "this is needed and not given"});
    }
    return reader.quantity(name, dimension, range).value_or(0);
  };
  rig.load_kg = needed("load", D::mass, rig_load_range, "weigh what is hung on the spar");
  rig.load_at_m = needed("load_at", D::length, rig_place_range, "measure from the clamp");
  rig.read_at_m = needed("read_at", D::length, rig_place_range, "measure from the clamp");
  if (reader.word("follows", {"spar", "fixed"}) == "fixed") {
    rig.follows = spar::Follows::fixed_distance;
  }
  if (reader.word("zero", {"straight", "unloaded"}) == "unloaded") {
    rig.zero = spar::Zero::unloaded_spar;
  }
  rig.zero_reading_m = reader.quantity("zero_reading", D::length, rig_reading_range).value_or(0);
  rig.resolution_m = reader.quantity("resolution", D::length, {0, 0.01}).value_or(0);
  rig.load_sigma_kg = reader.quantity("load_sigma", D::mass, {0, 0.05}).value_or(0);
  const auto told = reader.quantity("repeatability", D::length, {0, 0.05});
  calibrate(json, field, told, read, reader.problems);
  read.sound = reader.problems.empty();
  problems.insert(problems.end(), reader.problems.begin(), reader.problems.end());
  return read;
}

std::vector<double> read_lengths(const Json& list, const std::string& field,
                                 base::Problems& problems) {
  std::vector<double> all;
  if (!list.is_array() || list.size() > most_rig_readings) {
    problems.push_back({.field = field,
                        .allowed = fmt::format("a list of up to {} readings", most_rig_readings),
                        .remedy = "send a list of texts",
                        .message = "this is no list of readings"});
    return all;
  }
  all.reserve(list.size());
  for (std::size_t i = 0; i < list.size(); ++i) {
    if (list[i].is_string() && list[i].get_ref<const std::string&>().empty()) continue;
    const Json one{{"value", list[i]}};
    QuantityReader reader(one, "", {"value"});
    const auto value = reader.quantity("value", D::length, rig_reading_range);
    for (base::Problem& problem : reader.problems) {
      problem.field = fmt::format("{}[{}]", field, i + 1);
      problems.push_back(std::move(problem));
    }
    if (value) all.push_back(*value);
  }
  return all;
}

}  // namespace propwright::answer
