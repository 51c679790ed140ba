#include "propwright/asbuilt/blade.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/base/monotone_curve.h"

namespace propwright::asbuilt {

namespace {

std::size_t place_of(Aspect aspect) {
  return static_cast<std::size_t>(aspect);
}

/// Reads one blade into its deviation, collecting problems.
class BladeReader {
 public:
  BladeReader(const Design& design, const BladeReading& reading, std::size_t index)
      : design_(design), reading_(reading), index_(index) {}

  base::Expected<BladeDeviation> read() {
    made_.id = reading_.id;
    made_.moment_kgm = reading_.moment_kgm;
    const double tip = design_.blade.rows.back().radius_m;
    offset(Aspect::length, "length", reading_.length_m, tip, 0.7 * tip, 1.3 * tip);
    offset(Aspect::mass, "mass", reading_.mass_kg, design_.blade_mass_kg, 1e-6, 0.1);
    offset(Aspect::camber, "camber", reading_.camber, mean_camber(), 0, 0.2);
    offset(Aspect::spar_turn, "spar_turn", reading_.spar_turn_rad, 0, -base::pi, base::pi);
    ratio(Aspect::flapwise, "flapwise_stiffness", reading_.flapwise);
    ratio(Aspect::chordwise, "chordwise_stiffness", reading_.chordwise);
    ratio(Aspect::torsion, "torsion_stiffness", reading_.torsion);
    angles();
    if (reading_.moment_kgm && !(reading_.moment_kgm->value > 0)) {
      report("moment", reading_.moment_kgm->value, "above 0 kg m");
    }
    if (!problems_.empty()) return base::fail(std::move(problems_));
    return made_;
  }

 private:
  void report(const std::string& field, double value, const std::string& allowed) {
    problems_.push_back({.field = fmt::format("blade[{}].{}", index_ + 1, field),
                         .value = fmt::format("{:g}", value),
                         .allowed = allowed,
                         .remedy = "read it again, or check its unit",
                         .message = "the reading is out of range"});
  }

  bool good(const char* name, const Measured& m, double low, double high) {
    if (m.value >= low && m.value <= high && m.sigma >= 0 && std::isfinite(m.sigma)) return true;
    report(name, m.value, fmt::format("{:g} to {:g} (SI), doubt 0 or more", low, high));
    return false;
  }

  void set(Aspect aspect, double value, double sigma) {
    made_.value[place_of(aspect)] = value;
    made_.sigma[place_of(aspect)] = sigma;
    made_.measured[place_of(aspect)] = true;
  }

  void offset(Aspect aspect, const char* name, const std::optional<Measured>& m, double designed,
              double low, double high) {
    if (!m || !good(name, *m, low, high)) return;
    if (aspect == Aspect::mass && designed <= 0) return;
    set(aspect, m->value - designed, m->sigma);
  }

  void ratio(Aspect aspect, const char* name, const std::optional<Measured>& m) {
    // Factors beyond these are misread rather than built.
    if (m && good(name, *m, 0.1, 10)) set(aspect, std::log(m->value), m->sigma / m->value);
  }

  double mean_camber() const {
    double sum = 0;
    for (const rotor::BladeRow& row : design_.blade.rows) sum += row.camber;
    return sum / static_cast<double>(design_.blade.rows.size());
  }

  void angles() {
    if (reading_.angles.empty()) return;
    std::vector<double> radius, designed;
    for (const rotor::BladeRow& row : design_.blade.rows) {
      radius.push_back(row.radius_m);
      designed.push_back(row.angle_rad);
    }
    const auto curve = base::MonotoneCurve::through(radius, designed);
    if (!curve) {
      problems_.insert(problems_.end(), curve.error().begin(), curve.error().end());
      return;
    }
    std::vector<double> at, error, sigma;
    for (std::size_t i = 0; i < reading_.angles.size(); ++i) {
      const AngleReading& a = reading_.angles[i];
      const std::string name = fmt::format("angle[{}].", i + 1);
      // The longest blade that length allows.
      if (!(a.radius_m >= radius.front() && a.radius_m <= 1.3 * radius.back())) {
        report(name + "radius", a.radius_m,
               fmt::format("{:g} to {:g} m", radius.front(), 1.3 * radius.back()));
        return;
      }
      if (!(std::abs(a.angle_rad.value) < base::pi / 2) || !(a.angle_rad.sigma >= 0)) {
        report(name + "angle", a.angle_rad.value, "-pi/2 to pi/2, doubt 0 or more");
        return;
      }
      at.push_back(a.radius_m - reference_station * radius.back());
      error.push_back(a.angle_rad.value - curve->value(a.radius_m));
      sigma.push_back(a.angle_rad.sigma);
    }
    split(at, error, sigma);
  }

  // Least squares of error = turn + twist x; each is a sum of weights times errors, and so are its
  // variances.
  void split(const std::vector<double>& x, const std::vector<double>& error,
             const std::vector<double>& sigma) {
    const auto n = static_cast<double>(x.size());
    double mean = 0, square = 0;
    for (const double v : x) mean += v / n;
    for (const double v : x) square += (v - mean) * (v - mean);
    // Readings within a tenth of a millimetre tell no twist.
    const bool line = x.size() > 1 && square > 1e-8;
    double turn = 0, twist = 0, turn_variance = 0, twist_variance = 0;
    for (std::size_t i = 0; i < x.size(); ++i) {
      const double by_twist = line ? (x[i] - mean) / square : 0;
      const double by_turn = 1 / n - mean * by_twist;
      turn += by_turn * error[i];
      twist += by_twist * error[i];
      turn_variance += by_turn * by_turn * sigma[i] * sigma[i];
      twist_variance += by_twist * by_twist * sigma[i] * sigma[i];
    }
    set(Aspect::angle, turn, std::sqrt(turn_variance));
    if (line) set(Aspect::twist, twist, std::sqrt(twist_variance));
    left_over(x, error, turn, twist);
  }

  void left_over(const std::vector<double>& x, const std::vector<double>& error, double turn,
                 double twist) {
    std::vector<std::size_t> order(x.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::sort(order.begin(), order.end(), [&](auto p, auto q) { return x[p] < x[q]; });
    const double reference = reference_station * design_.blade.rows.back().radius_m;
    std::size_t together = 0;  // readings at the same radius are averaged
    for (const std::size_t i : order) {
      const double radius = x[i] + reference, rest = error[i] - turn - twist * x[i];
      if (together > 0 && radius - made_.left_over_radius_m.back() < 1e-6) {
        ++together;
        made_.left_over_rad.back() +=
            (rest - made_.left_over_rad.back()) / static_cast<double>(together);
        continue;
      }
      together = 1;
      made_.left_over_radius_m.push_back(radius);
      made_.left_over_rad.push_back(rest);
    }
  }

  const Design& design_;
  const BladeReading& reading_;
  std::size_t index_;
  BladeDeviation made_;
  base::Problems problems_;
};

}  // namespace

std::string key_of(Aspect aspect) {
  static constexpr std::array<const char*, aspect_count> keys{"angle",     "twist",   "length",
                                                              "camber",    "mass",    "flapwise",
                                                              "chordwise", "torsion", "spar_turn"};
  return keys.at(place_of(aspect));
}

base::Expected<BladeDeviation> deviation_of(const Design& design, const BladeReading& reading,
                                            std::size_t index) {
  return BladeReader(design, reading, index).read();
}

}  // namespace propwright::asbuilt
