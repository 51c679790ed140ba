// nu   freedom given the exact readings          k    1/scale of the t given them
// T, t its cumulative and density                x    a in that scale
#include "lower_limit.h"

#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>

namespace propwright::learn {

LowerLimit lower_limit(double above, double freedom, double exact, double misfit) {
  const double nu = freedom + exact;
  const double precision = nu / (freedom + misfit), k = std::sqrt(precision);
  const double wider = std::sqrt((nu + 2) / (freedom + misfit));
  const double a = std::max(above, -100 / wider), x = k * a;
  const boost::math::students_t law(nu), next(nu + 2);
  const double p = boost::math::cdf(law, x);
  const double hazard = boost::math::pdf(law, x) / p;
  LowerLimit limit;
  limit.slope = k * hazard;
  limit.ln_p = std::log(p) + limit.slope * std::min(above - a, 0.0);
  limit.bend = std::max(precision * hazard * (hazard + x * (nu + 1) / (nu + x * x)), 0.0);
  limit.weight = precision * boost::math::cdf(next, wider * a) / p;
  return limit;
}

}  // namespace propwright::learn
