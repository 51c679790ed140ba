// v   variance of the difference now        w   after n further flights of each
// The difference as it will be believed then is normal about the present one with variance v - w
// (preposterior analysis; Raiffa & Schlaifer, Applied Statistical Decision Theory, 1961).
#include "plan.h"

#include <algorithm>
#include <boost/math/distributions/normal.hpp>
#include <cmath>

namespace propwright::verdict {

namespace {

double phi(double z) {
  return boost::math::pdf(boost::math::normal(), z);
}

double below(double z) {
  return 0.5 * std::erfc(-z / std::sqrt(2.0));
}

double deviate(double share) {
  return boost::math::quantile(boost::math::normal(), share);
}

double after(double sigma, double information) {
  return 1 / (1 / (sigma * sigma) + information);
}

/// The largest believed difference at which it surely lies within the margin; below 0 if none does.
double within_margin(double margin, double sigma, double sure) {
  const auto inside = [&](double centre) {
    return below((margin - centre) / sigma) - below((-margin - centre) / sigma);
  };
  if (inside(0) < sure) return -1;
  double low = 0, high = margin;
  for (int i = 0; i < 50; ++i) {
    const double middle = 0.5 * (low + high);
    (inside(middle) >= sure ? low : high) = middle;
  }
  return low;
}

}  // namespace

Outlook outlook(const Duel& duel, int each, double reference_s, const Thresholds& thresholds) {
  const double v = duel.leader_sigma * duel.leader_sigma + duel.runner_sigma * duel.runner_sigma;
  const double information = each * duel.flight_information;
  const double w = after(duel.leader_sigma, information) + after(duel.runner_sigma, information);
  const double spread = std::sqrt(std::max(v - w, 1e-300)), sigma = std::sqrt(w);
  const double m = duel.ahead;
  const double clear = deviate(thresholds.sure) * sigma;
  const double near = within_margin(std::log1p(thresholds.margin), sigma, thresholds.sure);
  Outlook result;
  result.each = each;
  result.settles = below((m - clear) / spread) + below((-m - clear) / spread);
  // The two ways to settle it never overlap: what is clear of nought and what is within the margin
  // meet at most where all is settled.
  if (near > 0) {
    const double reach = std::min(near, clear);
    result.settles += below((reach - m) / spread) - below((-reach - m) / spread);
  }
  result.settles = std::clamp(result.settles, 0.0, 1.0);
  const double z = m / spread;
  result.worth_s = reference_s * std::max(spread * (phi(z) + z * below(z)) - std::max(m, 0.0), 0.0);
  return result;
}

int flights_each(double scatter, double difference, double confidence, double power) {
  const double z = deviate(0.5 + confidence / 2) + deviate(power);
  const double ratio = scatter / difference;
  return static_cast<int>(std::ceil(2 * z * z * ratio * ratio));
}

std::vector<std::size_t> flying_order(const std::vector<std::size_t>& contenders, int each) {
  std::vector<std::size_t> order;
  order.reserve(contenders.size() * static_cast<std::size_t>(std::max(each, 0)));
  for (int round = 0; round < each; ++round) {
    if (round % 2 == 0) {
      order.insert(order.end(), contenders.begin(), contenders.end());
    } else {
      order.insert(order.end(), contenders.rbegin(), contenders.rend());
    }
  }
  return order;
}

}  // namespace propwright::verdict
