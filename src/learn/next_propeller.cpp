// g    gain of a candidate over the subject, s        e    one-sigma steps of what is not known
// The candidate shares section, model and rubber with the subject, as learned; new blades have a
// blade angle (and stiffness) of their own again.
#include "propwright/learn/next_propeller.h"

#include <fmt/format.h>

#include <algorithm>
#include <boost/math/distributions/normal.hpp>
#include <cmath>

#include "candidates.h"

namespace propwright::learn {

namespace {

/// What is unknown to both or to the candidate alone: a step of z for each of them.
struct Unknown {
  Eigen::VectorXd of_subject, of_candidate;
};

bool of_its_blades(const Parameter& parameter, const Subject& subject) {
  return parameter.doubt.owner == predict::Owner::propeller &&
         parameter.owner == subject.job.propeller.name;
}

/// The candidate's parameters where the subject's are z: new blades begin at their sheet.
Eigen::VectorXd as_new(const FlownLog& log, const Subject& subject, Eigen::VectorXd z) {
  for (std::size_t p = 0; p < log.parameters().size(); ++p) {
    if (of_its_blades(log.parameters()[p], subject)) z[static_cast<Eigen::Index>(p)] = 0;
  }
  return z;
}

std::vector<Unknown> unknowns(const FlownLog& log, const Subject& subject,
                              const Posterior& posterior, bool new_blades) {
  std::vector<Unknown> all;
  for (const Eigen::VectorXd& step : axes(posterior.covariance)) {
    all.push_back({step, new_blades ? as_new(log, subject, step) : step});
  }
  if (!new_blades) return all;
  const auto n = static_cast<Eigen::Index>(log.parameters().size());
  for (std::size_t p = 0; p < log.parameters().size(); ++p) {
    if (!of_its_blades(log.parameters()[p], subject)) continue;
    all.push_back(
        {Eigen::VectorXd::Zero(n), Eigen::VectorXd::Unit(n, static_cast<Eigen::Index>(p))});
  }
  return all;
}

double duration_or(const std::optional<flight::Flight>& flown, double otherwise_s) {
  return flown ? flown->duration_s : otherwise_s;
}

// A parameter with less of its doubt left than this is known: flights teach little more of it.
constexpr double known_share = 0.3;

/// The parameter, of those still open, that moves the gain most with its present doubt; "" where
/// none is open.
std::string teaches(const FlownLog& log, const Posterior& posterior,
                    const std::vector<double>& gain_slopes, const std::vector<Unknown>& all) {
  const auto n = static_cast<Eigen::Index>(log.parameters().size());
  // Covariance of each parameter with the gain.
  Eigen::VectorXd with = Eigen::VectorXd::Zero(n);
  for (std::size_t i = 0; i < static_cast<std::size_t>(n); ++i) {
    with += gain_slopes[i] * all[i].of_subject;
  }
  std::optional<Eigen::Index> best;
  double most = 0;
  for (Eigen::Index p = 0; p < n; ++p) {
    if (posterior.covariance(p, p) < known_share * known_share) continue;
    // No flight of another day tells it.
    if (log.parameters()[static_cast<std::size_t>(p)].doubt.owner == predict::Owner::day) continue;
    const double share = std::abs(with[p]) / std::sqrt(posterior.covariance(p, p));
    if (share <= most) continue;
    most = share;
    best = p;
  }
  return best ? log.parameters()[static_cast<std::size_t>(*best)].doubt.label : "";
}

void judge_gain(Candidate& candidate, double gain_s, double variance) {
  const double sigma = std::sqrt(std::max(variance, 1e-12));
  const boost::math::normal standard;
  const double z = gain_s / sigma;
  candidate.gain_s = gain_s;
  candidate.sigma_s = sigma;
  candidate.expected_improvement_s =
      sigma * boost::math::pdf(standard, z) + gain_s * boost::math::cdf(standard, z);
  candidate.probability_10_s = boost::math::cdf(standard, (gain_s - 10) / sigma);
}

class Next {
 public:
  Next(const std::vector<Subject>& subjects, std::size_t subject, const FlownLog& log,
       const Posterior& posterior)
      : subjects_(subjects), subject_(subject), log_(log), posterior_(posterior) {
    for (const bool fresh : {false, true}) {
      Side& side = sides_[fresh ? 1 : 0];
      side.unknown = unknowns(log, subjects[subject], posterior, fresh);
      std::vector<Eigen::VectorXd> points{posterior.mode};
      for (const Unknown& one : side.unknown) {
        points.emplace_back(posterior.mode - one.of_subject);
        points.emplace_back(posterior.mode + one.of_subject);
      }
      side.own = log.own_flights(subject, points);
    }
  }

  bool flies() const { return sides_[0].own.front().has_value(); }

  /// Fills the candidate; false where it does not fly.
  bool judge(Candidate& candidate, const predict::Nominal& nominal) const {
    const Side& side = sides_[candidate.new_blades ? 1 : 0];
    const Subject& subject = subjects_[subject_];
    const Eigen::VectorXd start =
        candidate.new_blades ? as_new(log_, subject, posterior_.mode) : posterior_.mode;
    std::vector<Eigen::VectorXd> points{start};
    for (const Unknown& one : side.unknown) {
      points.emplace_back(start - one.of_candidate);
      points.emplace_back(start + one.of_candidate);
    }
    const auto flown = log_.flights_of(subject_, nominal, points);
    if (!flown.front() || !side.own.front()) return false;
    const double gain = flown.front()->duration_s - side.own.front()->duration_s;
    double variance = 0;
    std::vector<double> slopes;
    for (std::size_t i = 0; i < side.unknown.size(); ++i) {
      const auto gain_at = [&](std::size_t at) {
        return duration_or(flown[at], flown.front()->duration_s) -
               duration_or(side.own[at], side.own.front()->duration_s);
      };
      slopes.push_back(0.5 * (gain_at(2 * i + 2) - gain_at(2 * i + 1)));
      variance += slopes.back() * slopes.back();
    }
    judge_gain(candidate, gain, variance);
    candidate.teaches = teaches(log_, posterior_, slopes, side.unknown);
    return true;
  }

 private:
  struct Side {
    std::vector<Unknown> unknown;
    std::vector<std::optional<flight::Flight>> own;
  };
  const std::vector<Subject>& subjects_;
  std::size_t subject_;
  const FlownLog& log_;
  const Posterior& posterior_;
  Side sides_[2];
};

/// The best of each key, best first.
std::vector<Candidate> best_of_each(std::vector<Candidate> all) {
  std::stable_sort(all.begin(), all.end(), [](const Candidate& a, const Candidate& b) {
    return a.expected_improvement_s > b.expected_improvement_s;
  });
  std::vector<Candidate> kept;
  for (Candidate& one : all) {
    const bool there =
        std::any_of(kept.begin(), kept.end(), [&](const Candidate& k) { return k.key == one.key; });
    if (!there) kept.push_back(std::move(one));
  }
  return kept;
}

// The ends of the steps are about so much of the work; the rest lies between them.
constexpr double ends_share = 0.75;

/// A change of a subject, as a share of its key's step.
struct Step {
  const char* key;
  double share;
};

/// Where between a step down and a step up the gain is greatest, by a parabola through both and
/// nought in between, to a quarter of a step; empty where that is an end or nothing.
std::optional<double> best_share(double gain_down_s, double gain_up_s) {
  const double bend = (gain_down_s + gain_up_s) / 2, slope = (gain_up_s - gain_down_s) / 2;
  if (bend >= 0) return std::nullopt;
  const double share = std::round(4 * slope / (-2 * bend)) / 4;
  return share == 0 || std::abs(share) >= 1 ? std::nullopt : std::optional(share);
}

}  // namespace

std::vector<Candidate> next_propellers(const std::vector<Subject>& subjects, std::size_t subject,
                                       const brief::Attachments& attachments, const FlownLog& log,
                                       const Posterior& posterior, const EachOf& each_of,
                                       const NextOptions& options, const Progress& progress) {
  const Next next(subjects, subject, log, posterior);
  std::vector<Candidate> all;
  if (!next.flies()) return all;
  bool stopped = false;
  /// Gains of the steps; nothing where one is no job or does not fly. `from` to `to`: shares done.
  const auto judge = [&](const std::vector<Step>& steps, double from, double to) {
    std::vector<ChangedJob> changed;
    changed.reserve(steps.size());
    for (const Step& step : steps) {
      changed.push_back(changed_job(subjects[subject], options, step.key, step.share));
    }
    std::vector<std::optional<predict::Nominal>> nominal(steps.size());
    each_of(steps.size(), [&](std::size_t i) {
      auto made = predict::predict(changed[i].job, attachments);
      if (made) nominal[i] = std::move(*made);
    });
    std::vector<std::optional<double>> gains(steps.size());
    for (std::size_t i = 0; i < steps.size() && !stopped; ++i) {
      const double share = static_cast<double>(i) / static_cast<double>(steps.size());
      stopped = progress && !progress(from + (to - from) * share);
      if (stopped || !nominal[i] || !next.judge(changed[i].candidate, *nominal[i])) continue;
      gains[i] = changed[i].candidate.gain_s;
      all.push_back(std::move(changed[i].candidate));
    }
    return gains;
  };
  std::vector<Step> ends, between;
  for (const char* key : changes_of(subjects[subject])) {
    ends.push_back({key, -1});
    ends.push_back({key, 1});
  }
  const auto gains = judge(ends, 0, ends_share);
  for (std::size_t i = 0; i < ends.size(); i += 2) {
    if (!gains[i] || !gains[i + 1]) continue;
    if (const auto share = best_share(*gains[i], *gains[i + 1])) {
      between.push_back({ends[i].key, *share});
    }
  }
  if (!stopped) judge(between, ends_share, 1);
  return best_of_each(std::move(all));
}

}  // namespace propwright::learn
