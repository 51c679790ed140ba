#include "propwright/spar/rig.h"

#include <fmt/format.h>

#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>

namespace propwright::spar {
namespace {

struct Scatter {
  double squares_m2 = 0;  ///< about the mean of each list
  int freedom = 0;
};

base::Expected<Scatter> pooled_scatter(const std::vector<std::vector<double>>& readings_m) {
  Scatter scatter;
  base::Problems found;
  for (std::size_t i = 0; i < readings_m.size(); ++i) {
    if (readings_m[i].empty()) continue;
    double mean = 0;
    for (const double reading : readings_m[i]) mean += reading;
    mean /= static_cast<double>(readings_m[i].size());
    if (!std::isfinite(mean)) {
      found.push_back({.field = fmt::format("readings_m[{}]", i),
                       .value = fmt::format("{:g} m", mean),
                       .allowed = "numbers",
                       .remedy = "read again",
                       .message = "a reading is no number"});
      continue;
    }
    for (const double reading : readings_m[i]) scatter.squares_m2 += std::pow(reading - mean, 2);
    scatter.freedom += static_cast<int>(readings_m[i].size()) - 1;
  }
  if (found.empty() && scatter.freedom < 1) {
    found.push_back({.field = "readings_m",
                     .value = "no repeats",
                     .allowed = "two readings or more of one spar",
                     .remedy = "take the spar out, clamp it again, read again: three times or more",
                     .message = "the rig's scatter cannot be seen in single readings"});
  }
  if (!found.empty()) return base::fail(std::move(found));
  return scatter;
}

}  // namespace

base::Expected<Calibration> calibrate(const std::vector<std::vector<double>>& readings_m,
                                      double resolution_m) {
  if (!(resolution_m >= 0 && std::isfinite(resolution_m))) {
    return base::fail({.field = "resolution_m",
                       .value = fmt::format("{:g} m", resolution_m),
                       .allowed = "0 or more",
                       .remedy = "give the smallest step that is read",
                       .message = "a step of the scale cannot be negative"});
  }
  const auto scatter = pooled_scatter(readings_m);
  if (!scatter) return base::fail(scatter.error());
  const double freedom = scatter->freedom, rounding = resolution_m * resolution_m / 12;
  const double seen = scatter->squares_m2 / freedom;
  const double total = std::max(seen, rounding);
  const boost::math::chi_squared chi(freedom);
  Calibration result;
  result.freedom = scatter->freedom;
  result.repeatability_m = std::sqrt(total - rounding);
  result.reading_sigma_m = std::sqrt(total);
  result.low_m = std::sqrt(total * freedom / boost::math::quantile(chi, 0.95));
  result.high_m = std::sqrt(total * freedom / boost::math::quantile(chi, 0.05));
  result.relative_sigma = 1 / std::sqrt(2 * freedom);
  result.resolution_governs = seen <= 2 * rounding;
  return result;
}

double mean_sigma_m(const Rig& rig, int readings) {
  const double rounding = rig.resolution_m * rig.resolution_m / 12;
  const bool averages = rig.repeatability_m >= rig.resolution_m / 2;
  return std::sqrt(rig.repeatability_m * rig.repeatability_m / readings +
                   (averages ? rounding / readings : rounding));
}

double coverage_90(const Rig& rig) {
  if (rig.repeatability_freedom <= 0) return 1.6448536269514722;  // the normal distribution's
  return boost::math::quantile(boost::math::students_t(rig.repeatability_freedom), 0.95);
}

}  // namespace propwright::spar
