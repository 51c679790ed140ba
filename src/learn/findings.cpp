#include "propwright/learn/findings.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "propwright/base/constants.h"

namespace propwright::learn {

namespace {

constexpr double five_percent = 1.6448536;  // of the normal distribution

// A parameter is unseen while the flights took less than a tenth off its doubt.
constexpr double unseen_share = 0.9;

Measure measure_of(const predict::Doubt& doubt) {
  if (doubt.factor) return Measure::factor;
  return doubt.owner == predict::Owner::day ? Measure::temperature_K : Measure::angle_deg;
}

/// What is added, in the unit it is told in.
double told(const predict::Doubt& doubt, double z) {
  return measure_of(doubt) == Measure::angle_deg ? doubt.sigma * z / base::degree_rad
                                                 : doubt.sigma * z;
}

/// The value of a parameter at z deviations of its prior.
double value_at(const predict::Doubt& doubt, double z) {
  return doubt.factor ? std::exp(doubt.sigma * z) : told(doubt, z);
}

constexpr double fahrenheit_per_K = 1.8;

std::string doubt_text(const Finding& f) {
  switch (f.measure) {
    case Measure::angle_deg:
      return fmt::format("{:.1f}°", f.sigma);
    case Measure::temperature_K:
      return fmt::format("{:.1f}\u00a0K ({:.1f}\u00a0°F)", f.sigma, fahrenheit_per_K * f.sigma);
    case Measure::factor:
      break;
  }
  return fmt::format("{:.1f}\u00a0%", 100 * f.sigma);
}

/// "5 ± 2 %", with a decimal where the doubt is below one.
std::string percent_text(double off, double sigma) {
  const int decimals = sigma < 0.0095 ? 1 : 0;
  return fmt::format("{:.{}f} ± {:.{}f}\u00a0%", 100 * std::abs(off), decimals,
                     std::max(100 * sigma, 0.1), decimals);
}

std::string off_text(const Finding& f) {
  const double off = std::abs(f.posterior);
  switch (f.measure) {
    case Measure::angle_deg:
      return fmt::format("{:.1f} ± {:.1f}°", off, f.sigma);
    case Measure::temperature_K:
      return fmt::format("{:.1f} ± {:.1f}\u00a0K ({:.1f} ± {:.1f}\u00a0°F)", off, f.sigma,
                         fahrenheit_per_K * off, fahrenheit_per_K * f.sigma);
    case Measure::factor:
      break;
  }
  return percent_text(f.posterior - 1, f.sigma);
}

std::string sentence_of(const Finding& f) {
  const std::string what = f.owner.empty() ? f.label : fmt::format("{} ({})", f.label, f.owner);
  const char* is = f.label.starts_with("turns") ? "are" : "is";
  switch (f.state) {
    case State::unseen:
      return fmt::format("The flights say next to nothing of the {}: {} within ± {}.", what,
                         f.label.starts_with("turns") ? "they stay" : "it stays", doubt_text(f));
    case State::confirmed:
      return fmt::format("The {} {} as the sheet says, within ± {}.", what, is, doubt_text(f));
    case State::moved:
      break;
  }
  const double on_sheet = f.measure == Measure::factor ? 1 : 0;
  return fmt::format("The {} {} {} {} the sheet.", what, is, off_text(f),
                     f.posterior > on_sheet ? "above" : "below");
}

/// Several owners of one kind are told apart by name.
bool several(const std::vector<Parameter>& parameters, const Parameter& one) {
  return std::count_if(parameters.begin(), parameters.end(), [&](const Parameter& p) {
           return std::string_view(p.doubt.key) == one.doubt.key;
         }) > 1;
}

/// Spread of the durations one step either way along each axis.
double sigma_of(const std::vector<std::optional<flight::Flight>>& flown, double centre_s) {
  double variance = 0;
  for (std::size_t i = 0; i + 1 < flown.size(); i += 2) {
    if (!flown[i] && !flown[i + 1]) continue;
    const double low = flown[i] ? flown[i]->duration_s : 2 * centre_s - flown[i + 1]->duration_s;
    const double high =
        flown[i + 1] ? flown[i + 1]->duration_s : 2 * centre_s - flown[i]->duration_s;
    // A bend counts as in predict::sensitivities.
    const double a = (high - low) / 2, b = (high + low) / 2 - centre_s;
    variance += a * a + (1 - 2 / base::pi) * b * b;
  }
  return std::sqrt(variance);
}

std::vector<Eigen::VectorXd> around(const Eigen::VectorXd& centre,
                                    const std::vector<Eigen::VectorXd>& steps) {
  std::vector<Eigen::VectorXd> points;
  points.reserve(2 * steps.size());
  for (const Eigen::VectorXd& step : steps) {
    points.emplace_back(centre - step);
    points.emplace_back(centre + step);
  }
  return points;
}

}  // namespace

std::vector<Eigen::VectorXd> axes(const Eigen::MatrixXd& covariance) {
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> solver(covariance);
  std::vector<Eigen::VectorXd> steps;
  steps.reserve(static_cast<std::size_t>(covariance.rows()));
  for (Eigen::Index i = 0; i < covariance.rows(); ++i) {
    steps.emplace_back(std::sqrt(std::max(solver.eigenvalues()[i], 0.0)) *
                       solver.eigenvectors().col(i));
  }
  return steps;
}

std::vector<Finding> findings(const FlownLog& log, const Posterior& posterior) {
  std::vector<Finding> all;
  all.reserve(log.parameters().size());
  for (std::size_t p = 0; p < log.parameters().size(); ++p) {
    const Parameter& parameter = log.parameters()[p];
    const predict::Doubt& doubt = parameter.doubt;
    const auto i = static_cast<Eigen::Index>(p);
    const double mode = posterior.mode[i], sigma = std::sqrt(posterior.covariance(i, i));
    Finding f;
    f.key = doubt.key;
    f.owner = parameter.owner;
    f.name = several(log.parameters(), parameter) ? fmt::format("{} {}", f.key, f.owner) : f.key;
    f.label = doubt.label;
    f.measure = measure_of(doubt);
    f.prior = value_at(doubt, 0);
    f.prior_low = value_at(doubt, -five_percent);
    f.prior_high = value_at(doubt, five_percent);
    f.posterior = value_at(doubt, mode);
    f.low = value_at(doubt, mode - five_percent * sigma);
    f.high = value_at(doubt, mode + five_percent * sigma);
    f.sigma = doubt.factor ? doubt.sigma * sigma * f.posterior : told(doubt, sigma);
    // What moved by more than its doubt was seen, however much doubt is left.
    f.state = std::abs(mode) > sigma ? State::moved
              : sigma > unseen_share ? State::unseen
                                     : State::confirmed;
    f.sentence = sentence_of(f);
    all.push_back(std::move(f));
  }
  return all;
}

std::vector<std::string> entangled(const FlownLog& log, const Posterior& posterior) {
  struct Pair {
    std::size_t a = 0, b = 0;
    double correlation = 0;
  };
  std::vector<Pair> pairs;
  for (std::size_t a = 0; a < log.parameters().size(); ++a) {
    for (std::size_t b = a + 1; b < log.parameters().size(); ++b) {
      const auto i = static_cast<Eigen::Index>(a), j = static_cast<Eigen::Index>(b);
      const auto& c = posterior.covariance;
      const double r = c(i, j) / std::sqrt(c(i, i) * c(j, j));
      if (std::abs(r) > 0.6) pairs.push_back({a, b, r});
    }
  }
  std::stable_sort(pairs.begin(), pairs.end(), [](const Pair& x, const Pair& y) {
    return std::abs(x.correlation) > std::abs(y.correlation);
  });
  const auto label = [&](std::size_t p) {
    const Parameter& one = log.parameters()[p];
    const bool named = several(log.parameters(), one) && !one.owner.empty();
    return named ? fmt::format("{} ({})", one.doubt.label, one.owner)
                 : std::string(one.doubt.label);
  };
  std::vector<std::string> sentences;
  for (std::size_t i = 0; i < std::min<std::size_t>(pairs.size(), 3); ++i) {
    sentences.push_back(fmt::format(
        "Only together are the {} and the {} known: more of one with {} of the other "
        "flies the same.",
        label(pairs[i].a), label(pairs[i].b), pairs[i].correlation > 0 ? "more" : "less"));
  }
  return sentences;
}

std::vector<Change> changes(const FlownLog& log, std::size_t subjects, const Posterior& posterior) {
  const auto n = static_cast<Eigen::Index>(log.parameters().size());
  const Eigen::VectorXd nought = Eigen::VectorXd::Zero(n);
  const double scatter =
      log.scatter().duration * posterior.scatter_factor[static_cast<std::size_t>(Kind::duration)];
  std::vector<Change> all;
  for (std::size_t s = 0; s < subjects; ++s) {
    const auto centre = log.own_flights(s, {nought, posterior.mode});
    if (!centre[0] || !centre[1]) continue;
    const flight::Flight &before = *centre[0], &after = *centre[1];
    const auto prior = log.own_flights(s, around(nought, axes(Eigen::MatrixXd::Identity(n, n))),
                                       before.turns_at_launch);
    const auto learned = log.own_flights(s, around(posterior.mode, axes(posterior.covariance)),
                                         after.turns_at_launch);
    const double after_sigma_s = sigma_of(learned, after.duration_s);
    all.push_back({.subject = s,
                   .before_s = before.duration_s,
                   .before_sigma_s = sigma_of(prior, before.duration_s),
                   .after_s = after.duration_s,
                   .after_sigma_s = after_sigma_s,
                   .flight_sigma_s = std::hypot(after_sigma_s, scatter * after.duration_s),
                   .before_top_m = before.top_height_m,
                   .after_top_m = after.top_height_m,
                   .before_launch_turns = before.turns_at_launch,
                   .after_launch_turns = after.turns_at_launch,
                   .before_turns_left = before.turns_left,
                   .after_turns_left = after.turns_left});
  }
  return all;
}

}  // namespace propwright::learn
