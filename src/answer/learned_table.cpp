#include "learned_table.h"

#include <fmt/format.h>

#include <Eigen/Dense>
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

/// The doubt left is told of the value learned, so that it is that of its logarithm.
void take(const learn::Finding& finding, brief::Learned& learned) {
  if (const auto factor = factors().find(finding.key); factor != factors().end()) {
    learned.*(factor->second) = {to_step(finding.posterior, 1e4),
                                 to_step(finding.sigma / finding.posterior, 1e5)};
  } else if (const auto angle = angles().find(finding.key); angle != angles().end()) {
    learned.*(angle->second) = {to_step(finding.posterior, 100) * base::degree_rad,
                                to_step(finding.sigma, 1e3) * base::degree_rad};
  }
}

// Along a direction with more than this share of its doubt left flights told nothing.
constexpr double untold = 0.98;

/// The directions in which flights left less doubt about some parameters of the log: the axes of
/// their posterior in units of the priors, in which the prior is a sphere of radius 1.
std::vector<brief::LearnedDirection> directions_of(const learn::FlownLog& log,
                                                   const learn::Posterior& posterior,
                                                   const std::vector<std::size_t>& own) {
  const auto n = static_cast<Eigen::Index>(own.size());
  Eigen::MatrixXd covariance(n, n);
  for (Eigen::Index i = 0; i < n; ++i) {
    for (Eigen::Index j = 0; j < n; ++j) {
      covariance(i, j) =
          posterior.covariance(static_cast<Eigen::Index>(own[static_cast<std::size_t>(i)]),
                               static_cast<Eigen::Index>(own[static_cast<std::size_t>(j)]));
    }
  }
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> solver(covariance);
  std::vector<brief::LearnedDirection> directions;
  for (Eigen::Index k = 0; k < n; ++k) {  // the best told first
    const double left = std::sqrt(std::max(solver.eigenvalues()[k], 0.0));
    if (left > untold) continue;
    Eigen::VectorXd v = solver.eigenvectors().col(k);
    Eigen::Index largest = 0;
    v.cwiseAbs().maxCoeff(&largest);
    if (v[largest] < 0) v = -v;
    brief::LearnedDirection direction;
    direction.left = std::max(to_step(left, 1e4), 1e-4);
    for (const brief::LearnedKey& key : brief::learned_keys()) {
      for (Eigen::Index i = 0; i < n; ++i) {
        const auto p = own[static_cast<std::size_t>(i)];
        if (std::string_view(log.parameters()[p].doubt.key) != key.key) continue;
        direction.*(key.component) = to_step(v[i], 1e4);
      }
    }
    directions.push_back(direction);
  }
  return directions;
}

}  // namespace

brief::Learned learned_of(const learn::FlownLog& log, const brief::Job& job, std::size_t subject,
                          const learn::Posterior& posterior,
                          const std::vector<learn::Finding>& findings, std::string from) {
  const std::vector<std::size_t> own = log.parameters_of(subject);
  brief::Learned learned;
  for (const std::size_t p : own) take(findings[p], learned);
  if (!learned.any()) return learned;
  learned.directions = directions_of(log, posterior, own);
  learned.from = std::move(from);
  learned.model = job.model.name;
  learned.rubber = job.rubber.name;
  learned.propeller = job.propeller.name;
  learned.sections = job.propeller.polar_file;
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
