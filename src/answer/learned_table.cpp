#include "learned_table.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>

#include "propwright/answer/document.h"
#include "propwright/base/constants.h"
#include "propwright/brief/file.h"

namespace propwright::answer {
namespace {

/// To a step of 1/per, as the nearest number there is, so that it is written with few digits.
double to_step(double value, double per) {
  return std::round(value * per) / per;
}

using FactorOf = brief::LearnedFactor brief::Learned::*;
using AngleOf = brief::LearnedAngle brief::Learned::*;

const std::map<std::string, FactorOf>& factors() {
  using L = brief::Learned;
  static const std::map<std::string, FactorOf> all{
      {"airframe_drag", &L::airframe_drag},     {"trim_lift", &L::trim_lift},
      {"circle_radius", &L::circle_radius},     {"rubber_energy", &L::rubber_energy},
      {"rubber_turns", &L::rubber_turns},       {"polar_lift_slope", &L::polar_lift_slope},
      {"polar_drag", &L::polar_drag},           {"polar_cl_max", &L::polar_cl_max},
      {"blade_stiffness", &L::blade_stiffness}, {"blade_moment", &L::blade_moment}};
  return all;
}

const std::map<std::string, AngleOf>& angles() {
  using L = brief::Learned;
  static const std::map<std::string, AngleOf> all{{"polar_zero_lift", &L::polar_zero_lift},
                                                  {"blade_angle", &L::blade_angle}};
  return all;
}

void take(const learn::Finding& finding, brief::Learned& learned) {
  if (const auto factor = factors().find(finding.key); factor != factors().end()) {
    learned.*(factor->second) = {to_step(finding.posterior, 1e4), to_step(finding.sigma, 1e4)};
  } else if (const auto angle = angles().find(finding.key); angle != angles().end()) {
    learned.*(angle->second) = {to_step(finding.posterior, 100) * base::degree_rad,
                                to_step(finding.sigma, 100) * base::degree_rad};
  }
}

}  // namespace

brief::Learned learned_of(const brief::Job& job, const std::vector<learn::Finding>& findings,
                          std::string from) {
  const std::string own[] = {job.propeller.polar_file, job.propeller.name, job.model.name,
                             job.rubber.name};
  brief::Learned learned;
  for (const learn::Finding& finding : findings) {
    if (std::find(std::begin(own), std::end(own), finding.owner) == std::end(own)) continue;
    take(finding, learned);
  }
  if (learned.any()) learned.from = std::move(from);
  return learned;
}

Json learned_table(const brief::Job& job, const brief::Learned& learned) {
  brief::Job with = job;
  with.learned = learned;
  const auto written = job_json(brief::write_job(with), "job");
  return written ? written->value("learned", Json::object()) : Json::object();
}

std::string flights_told(const std::vector<const logbook::Flight*>& flights) {
  std::string first, last;
  for (const logbook::Flight* flight : flights) {
    const std::string day = flight->time.substr(0, 10);
    if (day.empty()) continue;
    if (first.empty() || day < first) first = day;
    if (day > last) last = day;
  }
  std::string told =
      fmt::format("{} {}", flights.size(), flights.size() == 1 ? "flight" : "flights");
  if (!first.empty()) told += first == last ? ", " + first : fmt::format(", {} to {}", first, last);
  return told;
}

}  // namespace propwright::answer
