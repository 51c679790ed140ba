// nu   freedom given the exact readings          k    1/scale of the t given them
// T, t its cumulative and density                x    a in that scale
#include "lower_limit.h"

#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>

namespace propwright::learn {

namespace {

// The answer is wanted to a few digits: the library need not work in long doubles, ten times
// slower.
using Law = boost::math::students_t_distribution<
    double, boost::math::policies::policy<boost::math::policies::promote_double<false>>>;

}  // namespace

LowerLimit lower_limit(double above, double freedom, double exact, double misfit) {
  const double nu = freedom + exact;
  const double precision = nu / (freedom + misfit), k = std::sqrt(precision);
  const double wider = std::sqrt((nu + 2) / (freedom + misfit));
  const double a = std::max(above, -100 / wider), x = k * a;
  const Law law(nu);
  const double p = boost::math::cdf(law, x);
  const double hazard = boost::math::pdf(law, x) / p;
  LowerLimit limit;
  limit.slope = k * hazard;
  limit.ln_p = std::log(p) + limit.slope * std::min(above - a, 0.0);
  limit.bend = std::max(precision * hazard * (hazard + x * (nu + 1) / (nu + x * x)), 0.0);
  // T of nu + 2 at wider a is T of nu at x + x t/nu (recurrence of the incomplete beta function).
  limit.weight = precision * (1 + x * hazard / nu);
  return limit;
}

}  // namespace propwright::learn
