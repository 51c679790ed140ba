// The spread of the duration from its change with each doubt alone. What bends the duration is
// chiefly the roof: more energy touches it and gains little, less energy misses it and loses much.
// With f the duration over the standard normal variable z of one doubt, such a bend at the plan is
// f = f0 + a z + b |z| through z = -1, 0, 1, of variance a^2 + (1 - 2/pi) b^2. The variances add,
// because the doubts are independent; what two of them do together is left to sampling.
#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>

#include "draws.h"
#include "fly_draw.h"
#include "propwright/base/constants.h"
#include "propwright/predict/predict.h"
#include "propwright/predict/variation.h"

namespace propwright::predict {

namespace {

/// Without a flight on one side the other stands for both.
Sensitivity of_doubt(const Doubt& doubt, double nominal_s, std::optional<double> low,
                     std::optional<double> high) {
  const double low_s = low ? *low : 2 * nominal_s - high.value_or(nominal_s);
  const double high_s = high ? *high : 2 * nominal_s - low.value_or(nominal_s);
  const double a = (high_s - low_s) / 2, b = (high_s + low_s) / 2 - nominal_s;
  return {doubt.key, doubt.label, low_s, high_s, std::sqrt(a * a + (1 - 2 / base::pi) * b * b)};
}

}  // namespace

Sensitivities sensitivities(const brief::Job& job, const Nominal& nominal) {
  const std::vector<Doubt> doubts = doubts_of(job, nominal);
  std::vector<std::optional<double>> flown(2 * doubts.size());
  tbb::parallel_for(std::size_t{0}, flown.size(), [&](std::size_t i) {
    if (doubts[i / 2].sigma == 0) {
      flown[i] = nominal.flight.duration_s;
      return;
    }
    // The nominal flight plans its turns from the margin; the moved ones keep them. A draw that
    // moves nothing is therefore the nominal flight.
    Draw draw;
    doubts[i / 2].set(draw, i % 2 == 0 ? -1 : 1);
    if (const auto flight = fly_draw(nominal, draw)) flown[i] = flight->duration_s;
  });
  Sensitivities result;
  double variance = 0;
  for (std::size_t i = 0; i < doubts.size(); ++i) {
    result.doubts.push_back(
        of_doubt(doubts[i], nominal.flight.duration_s, flown[2 * i], flown[2 * i + 1]));
    variance += result.doubts.back().sigma_s * result.doubts.back().sigma_s;
  }
  result.sigma_s = std::sqrt(variance);
  std::stable_sort(result.doubts.begin(), result.doubts.end(),
                   [](const auto& x, const auto& y) { return x.sigma_s > y.sigma_s; });
  return result;
}

}  // namespace propwright::predict
