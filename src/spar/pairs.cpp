#include "propwright/spar/pairs.h"

#include <fmt/format.h>

#include <cmath>

#include "least_cost_pairs.h"
#include "mounting.h"
#include "sanding_plan.h"

namespace propwright::spar {
namespace {

enum class Likeness { alike, different, open };

Likeness likeness(const Comparison& c, double tolerance) {
  const double m = std::abs(c.log_ratio);
  if (m + 2 * c.sigma <= tolerance) return Likeness::alike;
  if (m > tolerance && m > 2 * c.sigma) return Likeness::different;
  return Likeness::open;
}

Verdict first_verdict(const Comparison& flap, const Comparison& edge, double tolerance) {
  const Likeness f = likeness(flap, tolerance), e = likeness(edge, tolerance);
  if (f == Likeness::different || e == Likeness::different) return Verdict::sand;
  return f == Likeness::alike && e == Likeness::alike ? Verdict::matched : Verdict::cannot_tell;
}

/// How the doubt of a spar's stiffness shrinks when it is read so many more times each way.
double shrink(const Measured& m, const Rig& rig, int more) {
  const double now = mean_sigma_m(rig, m.at_0.readings);
  return now > 0 ? mean_sigma_m(rig, m.at_0.readings + more) / now : 1;
}

std::optional<int> readings_to_settle(const Measured& a, const Measured& b, const Mounted& mounted,
                                      const Rig& rig, double tolerance) {
  for (int more = 1; more <= 50; ++more) {
    const double by_a = shrink(a, rig, more), by_b = shrink(b, rig, more);
    const auto reread = [&](const Comparison& c, const Stiffness& of_a, const Stiffness& of_b) {
      return Comparison{c.log_ratio,
                        std::hypot(by_a * of_a.sigma_relative, by_b * of_b.sigma_relative)};
    };
    const Comparison flap = reread(mounted.flap, mounted.a.flap, mounted.b.flap);
    const Comparison edge = reread(mounted.edge, mounted.a.edge, mounted.b.edge);
    if (first_verdict(flap, edge, tolerance) != Verdict::cannot_tell) return more;
  }
  return {};
}

std::string percent(const Pair& pair) {
  return fmt::format("{:.1f} ± {:.1f} %", 100 * pair.mismatch, 100 * pair.sigma);
}

bool worst_is_flap(const Pair& pair) {
  return std::abs(pair.flap.log_ratio) >= std::abs(pair.edge.log_ratio);
}

const std::string& stiffer_id(const Pair& pair) {
  return (worst_is_flap(pair) ? pair.flap : pair.edge).log_ratio > 0 ? pair.a : pair.b;
}

std::string reason_for(const Pair& pair, const Limits& limits) {
  const char* way = worst_is_flap(pair) ? "across the blade" : "along the chord";
  switch (pair.verdict) {
    case Verdict::matched:
      return fmt::format("alike to {} both ways", percent(pair));
    case Verdict::sand:
      return fmt::format("{} is {} stiffer {}", stiffer_id(pair), percent(pair), way);
    case Verdict::make_new:
      return fmt::format(
          "{} is {} stiffer {}; sanding cannot bring them together and leave {:.2f} mm",
          stiffer_id(pair), percent(pair), way, 1e3 * limits.smallest_m);
    case Verdict::cannot_tell:
      break;
  }
  const std::string seen = fmt::format("they differ by {} {}", percent(pair), way);
  if (!pair.more_readings) return seen + "; it takes a finer scale or a heavier load to tell";
  return fmt::format("{}; read each {} more {} both ways", seen, *pair.more_readings,
                     *pair.more_readings == 1 ? "time" : "times");
}

Pair judge_mounted(const Measured& a, const Measured& b, const Mounted& mounted, const Rig& rig,
                   const Limits& limits) {
  Pair pair{.a = a.spar.id, .b = b.spar.id};
  pair.turn_a_deg = mounted.a.turn_deg, pair.turn_b_deg = mounted.b.turn_deg;
  pair.flap = mounted.flap, pair.edge = mounted.edge;
  const Comparison& worst = worst_is_flap(pair) ? pair.flap : pair.edge;
  pair.mismatch = std::abs(worst.log_ratio), pair.sigma = worst.sigma;
  pair.verdict = first_verdict(pair.flap, pair.edge, limits.tolerance);
  if (pair.verdict == Verdict::sand) {
    if (auto cuts = plan_sanding({a, b, mounted, rig, limits})) {
      pair.cuts = *std::move(cuts);
    } else {
      pair.verdict = Verdict::make_new;
      // The softer one lacks wood, and wood cannot be added.
      pair.make_new = stiffer_id(pair) == pair.a ? pair.b : pair.a;
    }
  } else if (pair.verdict == Verdict::cannot_tell) {
    pair.more_readings = readings_to_settle(a, b, mounted, rig, limits.tolerance);
  }
  pair.reason = reason_for(pair, limits);
  return pair;
}

}  // namespace

Pair judge(const Measured& a, const Measured& b, const Rig& rig, const Limits& limits) {
  return judge_mounted(a, b, most_alike(mountings(a), mountings(b)), rig, limits);
}

Pairing pair(const std::vector<Measured>& batch, const Rig& rig, const Limits& limits) {
  const std::size_t n = batch.size(), nodes = n + n % 2;  // the odd one's partner is nobody
  std::vector<std::array<Mounting, 2>> ways;
  ways.reserve(n);
  for (const Measured& measured : batch) ways.push_back(mountings(measured));
  std::vector<std::vector<double>> cost(nodes, std::vector<double>(nodes, 0));
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j < i; ++j) cost[i][j] = cost[j][i] = most_alike(ways[j], ways[i]).cost;
  }
  const std::vector<int> partner = least_cost_pairs(cost);
  Pairing result;
  for (std::size_t i = 0; i < n; ++i) {
    const auto j = static_cast<std::size_t>(partner[i]);
    if (j < i) continue;
    if (j >= n) {
      result.unpaired.push_back(batch[i].spar.id);
      continue;
    }
    const Mounted mounted = most_alike(ways[i], ways[j]);
    result.cost += mounted.cost;
    result.pairs.push_back(judge_mounted(batch[i], batch[j], mounted, rig, limits));
  }
  return result;
}

}  // namespace propwright::spar
