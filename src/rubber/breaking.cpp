#include "propwright/rubber/breaking.h"

#include <algorithm>
#include <boost/math/special_functions/erf.hpp>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>

#include "breaking_range.h"
#include "range_check.h"

namespace propwright::rubber {
namespace {

constexpr double root_2 = 1.4142135623730951;
constexpr int breaks_for_statistics = 3;  // below it the rule of 0.9 stands (docs/method.md)
constexpr double rule_of_thumb = 0.9;

double normal_cdf(double z) {
  return 0.5 * boost::math::erfc(-z / root_2);
}

/// ln of the upper tail, good far out: by the continued Mills ratio where erfc would vanish.
double log_upper_tail(double z) {
  if (z < 20) return std::log(0.5 * boost::math::erfc(z / root_2));
  return -z * z / 2 - std::log(z * 2.5066282746310002) + std::log1p(-1 / (z * z));
}

/// One place of the grid over median and spread, with its posterior weight.
struct Place {
  double mu = 0, s = 0, weight = 0;
};

using Counts = std::vector<Counted>;

base::Problems breaking_problems(const std::vector<Wind>& winds, const Counts& counted, double risk,
                                 const BreakingPrior& prior) {
  RangeChecks checks("out of range for breaking turns");
  checks.within("risk", risk, 0.001, 0.5, "give the share of motors that may break, such as 5 %");
  checks.within("prior.median", prior.median, 3, 30, "about 10.6 for modern strip");
  checks.within("prior.median_sigma", prior.median_sigma, 0.005, 1, "about 0.12");
  checks.within("prior.spread", prior.spread, 0.005, 0.5, "about 0.06");
  checks.within("prior.spread_log_sigma", prior.spread_log_sigma, 0.01, 2, "about 0.5");
  for (std::size_t i = 0; i < winds.size(); ++i) {
    const auto at = [&](const char* name) { return fmt::format("winds[{}].{}", i, name); };
    checks.within(at("section_m2"), winds[i].section_m2, 1e-8, 1e-4, "give all strands together");
    checks.within(at("length_m"), winds[i].length_m, 0.01, 5, "give the loop's length");
    checks.within(at("turns"), winds[i].turns, 1, 1e6, "give motor turns, not winder turns");
  }
  if (winds.size() > 500) {
    checks.add({.field = "winds",
                .allowed = "up to 500",
                .remedy = "leave out the oldest",
                .message = "there are too many winds"});
  }
  auto problems = checks.take();
  if (!problems.empty()) return problems;
  for (std::size_t i = 0; i < winds.size(); ++i) {
    const double kappa = kappa_of(winds[i]);
    const auto [low, high] = believed_kappa(winds[i], prior);
    if (counted[i] != Counted::yes || (kappa >= low && kappa <= high)) continue;
    checks.add({.field = fmt::format("winds[{}].turns", i),
                .value = fmt::format("{:.0f} turns, turns constant {:.3g}", winds[i].turns, kappa),
                .allowed = fmt::format("a constant of {:.3g} to {:.3g}", low, high),
                .remedy = "check that these are turns of the motor and not of the winder's crank, "
                          "the section of all strands and the loop length",
                .message = "no motor of this size breaks there"});
  }
  return checks.take();
}

/// The winds as ln kappa.
struct Evidence {
  int broke = 0;
  double mean = 0, square = 0;  ///< of those that broke: mean, and sum of squares about it
  std::vector<double> held;
};

Evidence evidence_of(const std::vector<Wind>& winds, const Counts& counted) {
  Evidence e;
  for (std::size_t i = 0; i < winds.size(); ++i) {
    if (counted[i] != Counted::yes) continue;
    const Wind& wind = winds[i];
    const double value = std::log(kappa_of(wind));
    if (!wind.broke) {
      e.held.push_back(value);
      continue;
    }
    const double before = value - e.mean;
    e.mean += before / ++e.broke;
    e.square += before * (value - e.mean);
  }
  return e;
}

double log_likelihood(const Evidence& e, double mu, double s) {
  const double off = e.mean - mu;
  double sum = -(e.square + e.broke * off * off) / (2 * s * s) - e.broke * std::log(s);
  for (const double value : e.held) {
    const double z = (value - mu) / s;
    if (z > -8) sum += log_upper_tail(z);  // below it the tail is 1 to the last digit
  }
  return sum;
}

/// Posterior on a grid: the smooth integrand falls off like a Gaussian at every edge, where the
/// trapezoid rule converges faster than any power. The grid is laid twice, the second time over
/// where the first found the weight.
class Posterior {
 public:
  Posterior(const Evidence& evidence, const BreakingPrior& prior)
      : evidence_(evidence), prior_(prior) {
    const double m = std::log(prior.median), w = 6 * prior.median_sigma;
    const double l = std::log(prior.spread), v = 6 * prior.spread_log_sigma;
    lay(m - w, m + w, l - v, l + v, 81);
    for (int i = 0; i < 3; ++i) refine(i == 2 ? 121 : 81);
  }

  const std::vector<Place>& places() const { return places_; }

  template <class F>
  double mean(F f) const {
    double sum = 0;
    for (const Place& place : places_) sum += place.weight * f(place);
    return sum;
  }
  /// Quantile of a function over the posterior.
  template <class F>
  double quantile(F f, double p) const {
    std::vector<std::pair<double, double>> sorted;
    sorted.reserve(places_.size());
    for (const Place& place : places_) sorted.emplace_back(f(place), place.weight);
    std::sort(sorted.begin(), sorted.end());
    double sum = 0;
    for (const auto& [value, weight] : sorted) {
      sum += weight;
      if (sum >= p) return value;
    }
    return sorted.back().first;
  }

 private:
  void lay(double mu_low, double mu_high, double l_low, double l_high, int points) {
    mu_step_ = (mu_high - mu_low) / (points - 1);
    l_step_ = (l_high - l_low) / (points - 1);
    places_.clear();
    places_.reserve(static_cast<std::size_t>(points) * static_cast<std::size_t>(points));
    std::vector<double> logs;
    double most = -1e300;
    for (int i = 0; i < points; ++i) {
      const double mu = mu_low + (mu_high - mu_low) * i / (points - 1);
      for (int j = 0; j < points; ++j) {
        const double l = l_low + (l_high - l_low) * j / (points - 1);
        const double a = (mu - std::log(prior_.median)) / prior_.median_sigma;
        const double b = (l - std::log(prior_.spread)) / prior_.spread_log_sigma;
        places_.push_back({mu, std::exp(l), 0});
        logs.push_back(log_likelihood(evidence_, mu, std::exp(l)) - (a * a + b * b) / 2);
        most = std::max(most, logs.back());
      }
    }
    double sum = 0;
    for (const double value : logs) sum += std::exp(value - most);
    for (std::size_t i = 0; i < places_.size(); ++i) {
      places_[i].weight = std::exp(logs[i] - most) / sum;
    }
  }

  void refine(int points) {
    const double mu = mean([](const Place& p) { return p.mu; });
    const double l = mean([](const Place& p) { return std::log(p.s); });
    const auto deviation = [&](auto of, double middle) {
      return std::sqrt(mean([&](const Place& p) { return (of(p) - middle) * (of(p) - middle); }));
    };
    // A weight narrower than the grid looks narrower than it is: never finer than a step at once.
    const double dm = std::max(deviation([](const Place& p) { return p.mu; }, mu), mu_step_ / 3);
    const double dl =
        std::max(deviation([](const Place& p) { return std::log(p.s); }, l), l_step_ / 3);
    lay(mu - 7 * dm, mu + 7 * dm, l - 6 * dl, l + 6 * dl, points);
  }

  const Evidence& evidence_;
  const BreakingPrior& prior_;
  std::vector<Place> places_;
  double mu_step_ = 0, l_step_ = 0;
};

double predictive(const Posterior& posterior, double log_kappa) {
  return posterior.mean([&](const Place& p) { return normal_cdf((log_kappa - p.mu) / p.s); });
}

/// ln kappa that the next motor breaks at or below with the chance `risk`.
double predictive_quantile(const Posterior& posterior, double risk, double median) {
  std::uintmax_t iterations = 60;
  const double middle = std::log(median);
  const auto close = [](double a, double b) { return std::abs(a - b) < 1e-9; };
  const auto f = [&](double at) { return predictive(posterior, at) - risk; };
  const auto bracket =
      boost::math::tools::toms748_solve(f, middle - 3, middle + 3, close, iterations);
  return bracket.first;
}

void breaking_notes(Breaking& b) {
  if (b.broke == 0) {
    b.notes.push_back(
        "No motor of this batch has been broken: these turns rest on what other "
        "strip does. Break some old motors of it and enter the turns.");
  } else if (b.broke < breaks_for_statistics) {
    b.notes.push_back(fmt::format("{} broken so far: the batch's own statistics begin with {}.",
                                  b.broke == 1 ? "One motor" : "Two motors",
                                  breaks_for_statistics));
  }
  if (b.by_rule) b.notes.push_back("The common rule of 0.9 of breaking turns is the lower here.");
  if (b.risk_high > 3 * b.risk) {
    b.notes.push_back(
        fmt::format("The true risk at these turns may be {:.0f} to {:.0f} %: with so "
                    "few breaks nobody can say it better.",
                    100 * b.risk_low, 100 * b.risk_high));
  }
}

}  // namespace

base::Expected<Breaking> breaking_statistics(const std::vector<Wind>& winds, double risk,
                                             const BreakingPrior& prior) {
  Counts counted = counted_winds(winds, prior);
  auto problems = breaking_problems(winds, counted, risk, prior);
  if (!problems.empty()) return base::fail(std::move(problems));
  const Evidence evidence = evidence_of(winds, counted);
  const Posterior posterior(evidence, prior);
  Breaking b{.broke = evidence.broke, .held = static_cast<int>(evidence.held.size())};
  for (std::size_t i = 0; i < winds.size(); ++i) {
    if (counted[i] == Counted::yes && winds[i].logged) {
      ++(winds[i].broke ? b.broke_logged : b.held_logged);
    }
  }
  b.counted = std::move(counted);
  const auto mu = [](const Place& p) { return p.mu; };
  const auto s = [](const Place& p) { return p.s; };
  b.median_kappa = std::exp(posterior.quantile(mu, 0.5));
  b.median_low = std::exp(posterior.quantile(mu, 0.05));
  b.median_high = std::exp(posterior.quantile(mu, 0.95));
  b.spread = posterior.quantile(s, 0.5);
  b.spread_low = posterior.quantile(s, 0.05);
  b.spread_high = posterior.quantile(s, 0.95);
  b.risk = risk;
  double at = predictive_quantile(posterior, risk, prior.median);
  const double by_rule = std::log(rule_of_thumb * b.median_kappa);
  if (b.broke < breaks_for_statistics && by_rule < at) {
    b.by_rule = true;
    at = by_rule;
  }
  b.safe_risk = b.by_rule ? predictive(posterior, at) : risk;
  b.safe_kappa = std::exp(at);
  const auto chance = [&](const Place& p) { return normal_cdf((at - p.mu) / p.s); };
  b.risk_low = posterior.quantile(chance, 0.05);
  b.risk_high = posterior.quantile(chance, 0.95);
  breaking_notes(b);
  return b;
}

double turns_at(double kappa, double section_m2, double length_m) {
  return kappa * length_m / std::sqrt(section_m2);
}

}  // namespace propwright::rubber
