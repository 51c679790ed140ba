// Two blades against each other. Differences are A less B.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "blade_tools.h"

namespace propwright::bench {
namespace {

constexpr double trim_share = 0.7;  // of the shorter blade: where a trim sits unless told

/// Radii of both blades that both cover, each once.
std::vector<double> common_radii(const BladeFigures& a, const BladeFigures& b) {
  const double low = std::max(a.stations.front().radius_m, b.stations.front().radius_m);
  const double high = std::min(a.stations.back().radius_m, b.stations.back().radius_m);
  std::vector<double> radii;
  for (const BladeFigures* blade : {&a, &b}) {
    for (const BladeStation& s : blade->stations) {
      if (s.radius_m < low - same_radius_m || s.radius_m > high + same_radius_m) continue;
      const bool there = std::any_of(radii.begin(), radii.end(), [&](double r) {
        return std::abs(r - s.radius_m) < same_radius_m;
      });
      if (!there) radii.push_back(s.radius_m);
    }
  }
  std::sort(radii.begin(), radii.end());
  return radii;
}

/// A sum of the stations' differences, each times its factor, with the sigma that all readings
/// together give it (a reading may serve two stations).
class Differences {
 public:
  Differences(const BladeFigures& a, const BladeFigures& b, std::vector<double> radii_m,
              double sigma_rad)
      : radii_m_(std::move(radii_m)), sigma_rad_(sigma_rad) {
    for (const double r : radii_m_) {
      a_.push_back(angle_at(a, r));
      b_.push_back(angle_at(b, r));
    }
  }
  Figure sum(const std::vector<double>& factors) const {
    Figure f;
    std::vector<double> on_a(a_.front().weights.size()), on_b(b_.front().weights.size());
    for (std::size_t k = 0; k < radii_m_.size(); ++k) {
      f.value += factors[k] * (a_[k].angle_rad - b_[k].angle_rad);
      for (std::size_t i = 0; i < on_a.size(); ++i) on_a[i] += factors[k] * a_[k].weights[i];
      for (std::size_t i = 0; i < on_b.size(); ++i) on_b[i] += factors[k] * b_[k].weights[i];
    }
    double square_sum = 0;
    for (const double w : on_a) square_sum += w * w;
    for (const double w : on_b) square_sum += w * w;
    f.sigma = sigma_rad_ * std::sqrt(square_sum);
    return f;
  }
  Figure at(std::size_t k) const {
    std::vector<double> factors(radii_m_.size());
    factors[k] = 1;
    return sum(factors);
  }
  Figure mean() const {
    return sum(std::vector<double>(radii_m_.size(), 1.0 / static_cast<double>(radii_m_.size())));
  }
  /// The difference at station k less the mean: what no turn takes out there.
  Figure beside_mean(std::size_t k) const {
    const double share = 1.0 / static_cast<double>(radii_m_.size());
    std::vector<double> factors(radii_m_.size(), -share);
    factors[k] += 1;
    return sum(factors);
  }
  /// Least-squares slope against radius; 0 with one station.
  Figure slope() const {
    double mean_m = 0, square_sum = 0;
    for (const double r : radii_m_) mean_m += r / static_cast<double>(radii_m_.size());
    for (const double r : radii_m_) square_sum += squared(r - mean_m);
    if (square_sum == 0) return {};
    std::vector<double> factors;
    for (const double r : radii_m_) factors.push_back((r - mean_m) / square_sum);
    return sum(factors);
  }
  const std::vector<AngleAt>& a() const { return a_; }
  const std::vector<AngleAt>& b() const { return b_; }

 private:
  std::vector<double> radii_m_;
  double sigma_rad_;
  std::vector<AngleAt> a_, b_;
};

Figure pitch_at(const AngleAt& at, double radius_m, const Instruments& i) {
  double square_sum = 0;
  for (const double w : at.weights) square_sum += w * w;
  const double tangent = std::tan(at.angle_rad), circle = 2 * base::pi * radius_m;
  const double by_angle =
      circle * (1 + tangent * tangent) * angle_sigma_rad(i) * std::sqrt(square_sum);
  const double by_radius = 2 * base::pi * tangent * reading_sigma(i.rule_resolution_m, 0);
  return {circle * tangent, std::hypot(by_angle, by_radius)};
}

Figure angle_figure(const AngleAt& at, const Instruments& i) {
  double square_sum = 0;
  for (const double w : at.weights) square_sum += w * w;
  return {at.angle_rad, angle_sigma_rad(i) * std::sqrt(square_sum)};
}

/// Angles, and what a turn of B does. Gives back the greatest difference that is left.
Figure compare_angles(PairFigures& pair, const Instruments& instruments, const PairOptions& options,
                      const std::vector<double>& radii_m) {
  const Differences differences(pair.a, pair.b, radii_m, angle_sigma_rad(instruments));
  pair.angle_difference_rad = differences.mean();
  pair.twist_difference_rad_m = differences.slope();
  Figure left_over;
  std::size_t gauge = 0;
  for (std::size_t k = 0; k < radii_m.size(); ++k) {
    const AngleAt &a = differences.a()[k], &b = differences.b()[k];
    pair.stations.push_back({radii_m[k], angle_figure(a, instruments), angle_figure(b, instruments),
                             differences.at(k), pitch_at(a, radii_m[k], instruments),
                             pitch_at(b, radii_m[k], instruments),
                             differences.beside_mean(k).value});
    const Figure beside = differences.beside_mean(k);
    if (std::abs(beside.value) >= std::abs(left_over.value)) left_over = beside;
    const auto off = [&](std::size_t station) {
      return options.gauge_radius_m > 0
                 ? std::abs(radii_m[station] - options.gauge_radius_m)
                 : std::abs(differences.b()[station].angle_rad - base::pi / 4);
    };
    if (off(k) < off(gauge)) gauge = k;
  }
  double radius = options.gauge_radius_m;
  radius = std::clamp(radius > 0 ? radius : radii_m[gauge], radii_m.front(), radii_m.back());
  const AngleAt here = angle_at(pair.b, radius);
  pair.reset.turn_rad = pair.angle_difference_rad;
  pair.reset.gauge_radius_m = radius;
  // The turn is set by moving B from what the gauge shows now, so its doubt is the turn's.
  pair.reset.set_angle_rad = {here.angle_rad + pair.angle_difference_rad.value,
                              pair.angle_difference_rad.sigma};
  pair.reset.left_over_rad = std::abs(left_over.value);
  return left_over;
}

void compare_cambers(PairFigures& pair) {
  double sum = 0, square_sum = 0;
  int count = 0;
  for (const CamberStation& a : pair.a.cambers) {
    for (const CamberStation& b : pair.b.cambers) {
      if (std::abs(a.radius_m - b.radius_m) >= same_radius_m) continue;
      sum += a.camber.value - b.camber.value;
      square_sum += squared(a.camber.sigma) + squared(b.camber.sigma);
      ++count;
    }
  }
  if (count > 0) pair.camber_difference = Figure{sum / count, std::sqrt(square_sum) / count};
}

void compare_balance(PairFigures& pair, const Instruments& instruments,
                     const PairOptions& options) {
  const double rule = reading_sigma(instruments.rule_resolution_m, 0);
  if (options.level_test) {
    const LevelTest& t = *options.level_test;
    const double moment = t.mass_kg * t.radius_m;
    const double reading =
        std::hypot(t.mass_kg * rule, t.radius_m * net_mass_sigma_kg(instruments));
    // Anywhere between plus and minus the least moment that turns the shaft.
    pair.imbalance_kgm = Figure{t.light == Blade::b ? moment : -moment,
                                std::hypot(reading, t.least_moment_kgm / std::sqrt(3.0))};
  } else if (pair.a.moment_kgm && pair.b.moment_kgm) {
    pair.imbalance_kgm = Figure{pair.a.moment_kgm->value - pair.b.moment_kgm->value,
                                std::hypot(pair.a.moment_kgm->sigma, pair.b.moment_kgm->sigma)};
  }
  if (!pair.imbalance_kgm) return;
  TrimAdvice trim;
  trim.light = pair.imbalance_kgm->value >= 0 ? Blade::b : Blade::a;
  trim.imbalance_kgm = {std::abs(pair.imbalance_kgm->value), pair.imbalance_kgm->sigma};
  const double shorter = std::min(pair.a.length_m.value, pair.b.length_m.value);
  trim.radius_m = options.trim_radius_m > 0 ? options.trim_radius_m : trim_share * shorter;
  trim.add_mass_kg = {trim.imbalance_kgm.value / trim.radius_m,
                      trim.imbalance_kgm.sigma / trim.radius_m};
  trim.sand_off_mass_kg = trim.add_mass_kg;
  const double sign = trim.light == Blade::b ? -1 : 1;
  trim.mass_difference_after_kg = {
      pair.mass_difference_kg.value + sign * trim.add_mass_kg.value,
      std::hypot(pair.mass_difference_kg.sigma, trim.add_mass_kg.sigma)};
  pair.trim = trim;
}

base::Problems option_problems(const PairOptions& o, double shorter_m) {
  Checks checks;
  const auto tolerance = [&](double value, double high, const char* name, std::string shown) {
    checks.within(value, 1e-9, high, std::string("options.tolerances.") + name, std::move(shown),
                  "above 0", "leave it out for the usual tolerance");
  };
  tolerance(o.tolerances.angle_rad, 1, "angle_rad", in_degrees(o.tolerances.angle_rad));
  tolerance(o.tolerances.length_m, 1, "length_m", in_mm(o.tolerances.length_m));
  tolerance(o.tolerances.mass_share, 1, "mass_share", fmt::format("{:g}", o.tolerances.mass_share));
  tolerance(o.tolerances.camber, 1, "camber", fmt::format("{:g}", o.tolerances.camber));
  const auto radius = [&](double value, const char* name) {
    checks.within(value, 0, shorter_m, std::string("options.") + name, in_mm(value),
                  fmt::format("at most the shorter blade, {}", in_mm(shorter_m)),
                  "leave it out for the usual place");
  };
  radius(o.gauge_radius_m, "gauge_radius_m");
  radius(o.trim_radius_m, "trim_radius_m");
  if (!o.level_test) return checks.take();
  const LevelTest& t = *o.level_test;
  checks.within(t.mass_kg, 0, greatest_mass_kg, "options.level_test.mass_kg", in_mg(t.mass_kg),
                "0 to 1 kg", "0 when the propeller hangs level without");
  checks.within(t.radius_m, t.mass_kg > 0 ? least_length_m : 0, greatest_length_m,
                "options.level_test.radius_m", in_mm(t.radius_m), "above 0, at most 10 m",
                "measure from the shaft's centre to the mass");
  checks.within(t.least_moment_kgm, 0, 1, "options.level_test.least_moment_kgm",
                fmt::format("{:.4g} mg mm", 1e9 * t.least_moment_kgm), "0 or more",
                "find the least mass at a known radius that still turns the shaft");
  return checks.take();
}

Figure less(Figure a, Figure b) {
  return {a.value - b.value, std::hypot(a.sigma, b.sigma)};
}

}  // namespace

AngleAt angle_at(const BladeFigures& blade, double radius_m) {
  const auto& stations = blade.stations;
  AngleAt at{0, std::vector<double>(stations.size())};
  std::size_t above = 1;
  while (above + 1 < stations.size() && stations[above].radius_m < radius_m) ++above;
  const BladeStation &low = stations[above - 1], &high = stations[above];
  const double share =
      std::clamp((radius_m - low.radius_m) / (high.radius_m - low.radius_m), 0.0, 1.0);
  const double pitch = (1 - share) * low.pitch_m.value + share * high.pitch_m.value;
  at.angle_rad = std::atan(pitch / (2 * base::pi * radius_m));
  // d(angle)/d(angle of a station) = share x dP_station/d(angle)/ (dP/d(angle)) here.
  const auto steepness = [](double r, double angle) { return r / squared(std::cos(angle)); };
  const double here = steepness(radius_m, at.angle_rad);
  at.weights[above - 1] = (1 - share) * steepness(low.radius_m, low.angle_rad.value) / here;
  at.weights[above] = share * steepness(high.radius_m, high.angle_rad.value) / here;
  return at;
}

base::Expected<PairFigures> pair_figures(const BladeReading& a, const BladeReading& b,
                                         const Instruments& instruments,
                                         const PairOptions& options) {
  Checks checks;
  checks.add(problems_of(instruments));
  if (!checks.sound()) return base::fail(checks.take());
  auto figures_a = blade_figures(a, instruments), figures_b = blade_figures(b, instruments);
  if (!figures_a) checks.add(figures_a.error(), "a.");
  if (!figures_b) checks.add(figures_b.error(), "b.");
  const double shorter = std::min(a.length_m, b.length_m);
  checks.add(option_problems(options, std::isfinite(shorter) ? shorter : greatest_length_m));
  if (!checks.sound()) return base::fail(checks.take());
  const std::vector<double> radii = common_radii(*figures_a, *figures_b);
  if (radii.empty()) {
    return base::fail({.field = "b.angles",
                       .value = "",
                       .allowed = "radii that reach over those of the other blade",
                       .remedy = "read both blades at the same radii",
                       .message = "the blades were not measured at common radii"});
  }
  PairFigures pair;
  pair.a = std::move(*figures_a);
  pair.b = std::move(*figures_b);
  pair.length_difference_m = less(pair.a.length_m, pair.b.length_m);
  pair.mass_difference_kg = less(pair.a.mass_kg, pair.b.mass_kg);
  const double mean_mass = (a.mass_kg + b.mass_kg) / 2;
  pair.mass_difference_share = {pair.mass_difference_kg.value / mean_mass,
                                pair.mass_difference_kg.sigma / mean_mass};
  const Figure left_over = compare_angles(pair, instruments, options, radii);
  compare_cambers(pair);
  compare_balance(pair, instruments, options);
  pair.findings = findings_of(pair, options, left_over);
  pair.verdict = Verdict::not_measured;
  for (const Finding& f : pair.findings) pair.verdict = std::max(pair.verdict, f.verdict);
  return pair;
}

}  // namespace propwright::bench
