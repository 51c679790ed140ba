#include "propwright/rotor/minimum_loss.h"

#include <fmt/format.h>

#include <algorithm>
#include <boost/math/tools/minima.hpp>
#include <boost/math/tools/roots.hpp>
#include <cmath>

#include "blade.h"
#include "circulation.h"
#include "element.h"
#include "propwright/base/constants.h"
#include "propwright/base/monotone_curve.h"
#include "quadrature.h"

namespace propwright::rotor {
namespace {

using base::degree_rad;
using base::pi;

// Where the best lift is looked for. Below, lift over drag is poor; above, every section of the
// built-in family is past its best.
constexpr double least_alpha_rad = -2 * degree_rad, most_alpha_rad = 14 * degree_rad;
constexpr int most_iterations = 60;
constexpr double zeta_at_rest = 1e-12;

/// What a station does at one displacement velocity.
struct Worked {
  DesignStation station;
  double xi = 0, sine = 0, cosine = 0, g = 0, epsilon = 0;
};

/// Best lift over drag at a given product of Reynolds number and lift, which the circulation fixes:
/// more lift leaves a smaller chord and a lower Reynolds number.
double best_alpha(const section::Polar& polar, double re_times_lift, double least_re) {
  const auto drag_over_lift = [&](double alpha) {
    // A few rounds of lift and Reynolds number settle each other.
    section::Coefficients c{.cl = 0.6};
    for (int round = 0; round < 3; ++round) {
      const double re = std::max(least_re, re_times_lift / std::max(c.cl, 0.05));
      c = polar.at(alpha, std::log(re));
    }
    return c.cl > 0.02 ? c.cd / c.cl : 10.0 - c.cl;
  };
  // The ratio has one valley between zero lift and stall, but polars are pieced together: look
  // around first, then close in.
  const double most_alpha = std::clamp(polar.stall_onset_rad(), 4 * degree_rad, most_alpha_rad);
  const double step = (most_alpha - least_alpha_rad) / 16;
  double best = 0, least = 1e300;
  for (int i = 0; i <= 16; ++i) {
    const double alpha = least_alpha_rad + i * step, ratio = drag_over_lift(alpha);
    if (ratio < least) {
      least = ratio;
      best = alpha;
    }
  }
  return boost::math::tools::brent_find_minima(drag_over_lift, best - step,
                                               std::min(most_alpha, best + step), 20)
      .first;
}

/// The best angle over the logarithm of that product, tabulated: it is asked for at every station
/// and every round.
base::MonotoneCurve best_alphas(const section::Family& family, const section::Polar& polar) {
  // Below the family's Reynolds numbers its trend is worth no optimum of its own.
  const double least_re = family.re_low();
  std::vector<double> log_product, alpha;
  for (double product = 0.3 * least_re; product < 1e6; product *= 1.3) {
    log_product.push_back(std::log(product));
    alpha.push_back(best_alpha(polar, product, least_re));
  }
  return base::MonotoneCurve::through(log_product, alpha).value();
}

class Designer {
 public:
  Designer(const DesignRequest& request, const section::Family& family)
      : request_(request),
        polar_(family.at_camber(request.camber)),
        least_re_(family.re_low()),
        omega_(2 * pi * request.condition.rev_per_s),
        lambda_(request.condition.speed_m_s / (omega_ * request.tip_radius_m)),
        rule_(tip_rule(request.hub_radius_m, request.tip_radius_m, request.stations)),
        arms_(arm_loads(request.hub_radius_m, request.arm_diameter_m, request.blades,
                        request.condition, request.flow)) {
    if (!request.lift) best_alpha_ = best_alphas(family, polar_);
  }

  base::Expected<Design> run() const;

 private:
  struct Sums {
    double i1 = 0, i2 = 0, j1 = 0, j2 = 0;
  };
  double factor(double xi, double tan_tip) const;
  base::Expected<Worked> work(double radius_m, double zeta) const;
  base::Expected<void> choose_section(double lift_times_chord_m, double speed_m_s,
                                      DesignStation& station) const;
  double alpha_of_lift(double cl, double ln_re) const;
  double ln_re(double chord_m, double speed_m_s) const {
    const double re =
        request_.flow.density_kg_m3 * speed_m_s * chord_m / request_.flow.viscosity_Pa_s;
    return std::max(least_ln_re, std::log(std::max(re, 1e-9)));
  }
  base::Expected<Sums> sums(double zeta) const;
  base::Expected<double> next_zeta(const Sums& sums) const;
  base::Problem arms_take_all() const;
  base::Expected<Design> drawn(double zeta, const Sums& sums) const;

  const DesignRequest& request_;
  section::Polar polar_;
  double least_re_, omega_, lambda_;
  Rule rule_;
  Loads arms_;                      // their thrust is negative
  base::MonotoneCurve best_alpha_;  // over ln(Re cl); empty where the lift is given
};

double Designer::factor(double xi, double tan_tip) const {
  if (xi >= 1) return 0;
  switch (request_.tip_factor) {
    case TipFactor::none:
      return 1;
    case TipFactor::prandtl:
      return prandtl_factor(request_.blades, xi, tan_tip, request_.wake_helix);
    case TipFactor::exact:
      break;
  }
  return exact_factor(request_.blades, xi, tan_tip);
}

/// The attached angle of attack with this lift; NaN where the section does not reach it.
double Designer::alpha_of_lift(double cl, double ln_re) const {
  const double top = std::max(polar_.stall_onset_rad(), 0.0);
  const auto off = [&](double alpha) { return polar_.at(alpha, ln_re).cl - cl; };
  const double low = -10 * degree_rad;
  if (off(low) > 0 || off(top) < 0) return std::nan("");
  std::uintmax_t steps = 60;
  const auto [a, b] = boost::math::tools::toms748_solve(
      off, low, top, boost::math::tools::eps_tolerance<double>(40), steps);
  return (a + b) / 2;
}

base::Expected<void> Designer::choose_section(double lift_times_chord_m, double speed_m_s,
                                              DesignStation& station) const {
  const auto set = [&](double alpha, double chord_m) {
    station.alpha_rad = alpha;
    station.chord_m = chord_m;
    if (!std::isfinite(alpha)) return;  // told below
    const double log_re = ln_re(chord_m, speed_m_s);
    const section::Coefficients c = polar_.at(alpha, log_re);
    station.cl = c.cl;
    station.cd = c.cd;
    station.re = std::exp(log_re);
  };
  if (request_.lift) {
    const double chord = lift_times_chord_m / *request_.lift;
    // Near the tip the chord and its Reynolds number vanish, and with them the lift reached: the
    // angle there is that of the family's lowest Reynolds number.
    const double log_re = std::max(ln_re(chord, speed_m_s), std::log(least_re_));
    set(alpha_of_lift(*request_.lift, log_re), chord);
  } else {
    double chord = lift_times_chord_m / 0.6;
    const double product =
        request_.flow.density_kg_m3 * speed_m_s * lift_times_chord_m / request_.flow.viscosity_Pa_s;
    const double alpha = best_alpha_.value(std::log(std::max(product, 1e-9)));
    for (int round = 0; round < 30; ++round) {
      const double next = lift_times_chord_m / polar_.at(alpha, ln_re(chord, speed_m_s)).cl;
      const double moved = std::abs(next - chord);
      chord = next;
      if (moved <= 1e-13 * chord) break;
    }
    set(alpha, chord);
  }
  const double least = std::min(request_.least_chord_m, request_.largest_chord_m.value_or(1e9));
  const double held = std::clamp(station.chord_m, least, request_.largest_chord_m.value_or(1e9));
  if (held != station.chord_m && station.chord_m > 0) {
    station.limited = true;
    set(alpha_of_lift(lift_times_chord_m / held, ln_re(held, speed_m_s)), held);
  }
  if (std::isfinite(station.alpha_rad)) return {};
  return base::fail(
      {.kind = base::Kind::no_solution,
       .field = "largest_chord",
       .value = fmt::format("{:.1f} mm at radius {:.1f} mm", 1e3 * station.chord_m,
                            1e3 * station.radius_m),
       .allowed = "chords whose sections reach the lift",
       .remedy = "allow a larger chord, more revs, a larger propeller or more camber",
       .message = fmt::format("the section there would need a lift coefficient of {:.2f}",
                              lift_times_chord_m / std::max(station.chord_m, 1e-9))});
}

base::Expected<Worked> Designer::work(double radius_m, double zeta) const {
  const double speed = request_.condition.speed_m_s;
  Worked w;
  w.xi = radius_m / request_.tip_radius_m;
  const double tan_tip = lambda_ * (1 + zeta / 2), tangent = tan_tip / w.xi;
  w.cosine = 1 / std::sqrt(1 + tangent * tangent);
  w.sine = tangent * w.cosine;
  w.station.radius_m = radius_m;
  w.station.inflow_rad = std::atan(tangent);
  w.station.factor = factor(w.xi, tan_tip);
  w.g = w.station.factor * (w.xi / lambda_) * w.cosine * w.sine;
  // cl W c, of the circulation; W itself depends a little on the drag: settled by repetition.
  const double cl_speed_chord =
      4 * pi * lambda_ * w.g * speed * request_.tip_radius_m * zeta / request_.blades;
  double local_speed = speed / w.sine;
  for (int round = 0; round < 3; ++round) {
    auto chosen = choose_section(cl_speed_chord / local_speed, local_speed, w.station);
    if (!chosen) return tl::unexpected(chosen.error());
    w.epsilon = w.station.cl > 0 ? w.station.cd / w.station.cl : 0;
    const double axial = zeta / 2 * w.cosine * w.cosine * (1 - w.epsilon * tangent);
    local_speed = speed * (1 + axial) / w.sine;
  }
  w.station.blade_angle_rad = w.station.inflow_rad + w.station.alpha_rad;
  w.station.pitch_m = 2 * pi * radius_m * std::tan(w.station.blade_angle_rad);
  return w;
}

base::Expected<Designer::Sums> Designer::sums(double zeta) const {
  Sums sums;
  for (std::size_t i = 0; i < rule_.place.size(); ++i) {
    const auto w = work(rule_.place[i], zeta);
    if (!w) return tl::unexpected(w.error());
    const double weight = rule_.weight[i] / request_.tip_radius_m;
    const double tangent = w->sine / w->cosine, e = w->epsilon;
    const double i1 = 4 * w->xi * w->g * (1 - e * tangent);
    const double j1 = 4 * w->xi * w->g * (1 + e / tangent);
    sums.i1 += weight * i1;
    sums.j1 += weight * j1;
    sums.i2 += weight * lambda_ * (i1 / (2 * w->xi)) * (1 + e / tangent) * w->sine * w->cosine;
    sums.j2 += weight * (j1 / 2) * (1 - e * tangent) * w->cosine * w->cosine;
  }
  return sums;
}

base::Problem Designer::arms_take_all() const {
  return {.kind = base::Kind::no_solution,
          .field = "power",
          .value = fmt::format("{:.3g} mW", 1e3 * *request_.power_W),
          .allowed = fmt::format("above {:.3g} mW", 1e3 * arms_.torque_Nm * omega_),
          .remedy = "give more power, thinner arms or less revs",
          .message = "the drag of the open arms takes all the power"};
}

base::Expected<double> Designer::next_zeta(const Sums& s) const {
  const double speed = request_.condition.speed_m_s;
  const double disc = 0.5 * request_.flow.density_kg_m3 * speed * speed * pi *
                      request_.tip_radius_m * request_.tip_radius_m;
  if (request_.power_W) {
    const double left_W = *request_.power_W - arms_.torque_Nm * omega_;
    if (!(left_W > 0)) return base::fail(arms_take_all());
    const double wanted = left_W / (disc * speed), half = s.j1 / (2 * s.j2);
    return wanted / (s.j2 * (half + std::sqrt(half * half + wanted / s.j2)));
  }
  const double wanted = (*request_.thrust_N - arms_.thrust_N) / disc, half = s.i1 / (2 * s.i2);
  const double root = half * half - wanted / s.i2;
  if (root < 0 || !(s.i1 > 0)) {
    const double most =
        std::max(0.0, (s.i1 > 0 ? s.i1 * s.i1 / (4 * s.i2) * disc : 0) + arms_.thrust_N);
    return base::fail({.kind = base::Kind::no_solution,
                       .field = "thrust",
                       .value = fmt::format("{:.3g} mN", 1e3 * *request_.thrust_N),
                       .allowed = fmt::format("up to about {:.3g} mN", 1e3 * most),
                       .remedy = "ask for less thrust, or give more diameter, revs or blades",
                       .message = "no wake gives so much thrust at this speed and these revs"});
  }
  // The smaller root, without the difference of near numbers.
  return wanted / (s.i2 * (half + std::sqrt(root)));
}

base::Expected<Design> Designer::drawn(double zeta, const Sums& s) const {
  const double speed = request_.condition.speed_m_s;
  const double disc = 0.5 * request_.flow.density_kg_m3 * speed * speed * pi *
                      request_.tip_radius_m * request_.tip_radius_m;
  Design design{.zeta = zeta, .condition = request_.condition, .stations = {}};
  design.thrust_N = disc * (s.i1 - s.i2 * zeta) * zeta + arms_.thrust_N;
  design.power_W = disc * speed * (s.j1 + s.j2 * zeta) * zeta + arms_.torque_Nm * omega_;
  design.torque_Nm = design.power_W / omega_;
  design.efficiency = design.thrust_N * speed / design.power_W;
  design.induced_efficiency = 1 / (1 + zeta / 2);
  design.blades = request_.blades;
  design.camber = request_.camber;
  design.hub_radius_m = request_.hub_radius_m;
  design.tip_radius_m = request_.tip_radius_m;
  design.arm_diameter_m = request_.arm_diameter_m;
  for (int i = 0; i < request_.rows; ++i) {
    const double share = std::sin(pi / 2 * i / (request_.rows - 1));
    const bool tip = i == request_.rows - 1;
    // The tip carries nothing: its angle is that of its neighbourhood.
    const double radius = request_.hub_radius_m + (request_.tip_radius_m - request_.hub_radius_m) *
                                                      std::min(share, 1 - 1e-9);
    auto w = work(radius, zeta);
    if (!w) return tl::unexpected(w.error());
    if (tip) {
      w->station.radius_m = request_.tip_radius_m;
      w->station.chord_m = 0;
      w->station.factor = 0;
    }
    design.stations.push_back(w->station);
  }
  return design;
}

base::Expected<Design> Designer::run() const {
  double zeta = 0.1;
  for (int iteration = 0; iteration < most_iterations; ++iteration) {
    const auto s = sums(zeta);
    if (!s) return tl::unexpected(s.error());
    const auto next = next_zeta(*s);
    if (!next) return tl::unexpected(next.error());
    const double moved = std::abs(*next - zeta);
    zeta = *next;
    if (moved > zeta_at_rest * (1 + zeta)) continue;
    return drawn(zeta, *s);
  }
  return base::fail({.kind = base::Kind::no_solution,
                     .field = "thrust",
                     .remedy = "ask for less thrust, or another lift",
                     .message = "the design does not settle"});
}

base::Problem wrong(const char* field, double value, const char* allowed, const char* remedy) {
  return {.field = field,
          .value = fmt::format("{:g}", value),
          .allowed = allowed,
          .remedy = remedy,
          .message = "the value is out of range"};
}

base::Problems problems_of(const DesignRequest& r) {
  base::Problems problems;
  const auto need = [&](bool good, const char* field, double value, const char* allowed,
                        const char* remedy) {
    if (!good) problems.push_back(wrong(field, value, allowed, remedy));
  };
  need(r.condition.speed_m_s > 0, "speed", r.condition.speed_m_s, "above 0 m/s",
       "give the flight speed");
  need(r.condition.rev_per_s > 0, "rev", r.condition.rev_per_s, "above 0 rev/s",
       "give the shaft speed");
  need(r.thrust_N.has_value() != r.power_W.has_value(), "thrust", r.thrust_N.value_or(0),
       "either a thrust or a power", "give one of the two");
  need(r.thrust_N.value_or(1) > 0, "thrust", r.thrust_N.value_or(0), "above 0 N",
       "give the thrust wanted");
  need(r.power_W.value_or(1) > 0, "power", r.power_W.value_or(0), "above 0 W",
       "give the shaft power");
  need(r.tip_radius_m > 0, "tip_radius", r.tip_radius_m, "above 0 m", "give the radius");
  need(r.hub_radius_m > 0 && r.hub_radius_m < r.tip_radius_m, "hub_radius", r.hub_radius_m,
       "above 0 m and inside the tip", "give the inner end of the blade");
  need(r.arm_diameter_m >= 0, "arm_diameter", r.arm_diameter_m, "0 m or more",
       "leave it out for none");
  need(r.blades >= 2 && r.blades <= 4, "blades", r.blades, "2 to 4", "give the number of blades");
  need(r.camber >= 0 && r.camber <= 0.15, "camber", r.camber, "0 to 0.15",
       "give height over chord");
  need(r.lift.value_or(0.5) > 0, "lift", r.lift.value_or(0), "above 0",
       "leave it out for the best");
  need(r.least_chord_m >= 0, "least_chord", r.least_chord_m, "0 m or more",
       "leave it out for none");
  need(r.largest_chord_m.value_or(1) > 0, "largest_chord", r.largest_chord_m.value_or(0),
       "above 0 m", "leave it out for none");
  need(r.stations >= 8 && r.stations <= 400, "stations", r.stations, "8 to 400", "48 is usual");
  need(r.rows >= 8 && r.rows <= 400, "rows", r.rows, "8 to 400", "40 is usual");
  return problems;
}

}  // namespace

Blade Design::blade() const {
  Blade blade{.rows = {},
              .hub_radius_m = hub_radius_m,
              .tip_radius_m = tip_radius_m,
              .arm_diameter_m = arm_diameter_m};
  for (const DesignStation& s : stations) {
    blade.rows.push_back({s.radius_m, s.chord_m, s.blade_angle_rad, camber});
  }
  blade.blades = blades;
  return blade;
}

base::Expected<Design> minimum_loss(const DesignRequest& request, const section::Family& family) {
  base::Problems problems = problems_of(request);
  if (!problems.empty()) return base::fail(std::move(problems));
  return Designer(request, family).run();
}

base::Expected<BestRevs> minimum_loss_free_revs(DesignRequest request, double low_rev_per_s,
                                                double high_rev_per_s,
                                                const section::Family& family) {
  base::Problems last;
  const auto loss = [&](double log_rev) {
    request.condition.rev_per_s = std::exp(log_rev);
    const auto design = minimum_loss(request, family);
    if (design) return 1 - design->efficiency;
    last = design.error();
    return 2.0;
  };
  const double low = std::log(low_rev_per_s), high = std::log(high_rev_per_s);
  // Some shaft speeds may have no design: find the neighbourhood of the best first.
  constexpr int looks = 12;
  double best = low, least = 2;
  for (int i = 0; i <= looks; ++i) {
    const double at = low + (high - low) * i / looks;
    const double here = loss(at);
    if (here < least) {
      least = here;
      best = at;
    }
  }
  if (least >= 2) return base::fail(std::move(last));
  const double step = (high - low) / looks;
  const double found = boost::math::tools::brent_find_minima(loss, std::max(low, best - step),
                                                             std::min(high, best + step), 16)
                           .first;
  const double chosen = loss(found) <= least ? found : best;
  request.condition.rev_per_s = std::exp(chosen);
  auto design = minimum_loss(request, family);
  if (!design) return tl::unexpected(design.error());
  const bool at_limit = chosen - low < 0.01 * step || high - chosen < 0.01 * step;
  return BestRevs{std::move(*design), at_limit};
}

}  // namespace propwright::rotor
