// The residual of Ning (Wind Energy 17 (2014) 1327-1345; Struct. Multidisc. Optim. 63 (2021)), from
// memory, with propeller signs and multiplied through by 4 F |sin phi| so that nothing is divided:
//
//   g(phi) = V (4 F |sin| cos + sigma ct) - Omega r (4 F sin |sin| - sigma cn)
//
// A braked wake (u/V < -0.4) takes its axial balance from Buhl, NREL/TP-500-36834 (2005), from
// memory: with kappa = -k/sin the axial term 4 F sin^2 (1 + kappa) becomes 4 F sin^2/(1 - a).
#include "element.h"

#include <algorithm>
#include <cmath>

#include "propwright/base/constants.h"

namespace propwright::rotor {

using base::pi;

namespace {

constexpr double braked_from = 2.0 / 3.0;  // kappa at a = 0.4

/// 1/(1 - a) of the windmill-brake relation and its derivative with respect to kappa.
struct Brake {
  double inverse, slope;
};

double brake_induction(double kappa, double factor) {
  const double g1 = 2 * factor * kappa - (10.0 / 9 - factor);
  const double g2 = 2 * factor * kappa - factor * (4.0 / 3 - factor);
  const double g3 = 2 * factor * kappa - (25.0 / 9 - 2 * factor);
  const double root = std::sqrt(std::max(g2, 0.0));
  if (std::abs(g3) < 1e-7) return 1 - 1 / (2 * std::max(root, 1e-12));
  return (g1 - root) / g3;
}

Brake brake(double kappa, double factor) {
  const double step = 1e-6 * kappa;
  const double a = std::min(brake_induction(kappa, factor), 1 - 1e-9);
  const double next = std::min(brake_induction(kappa + step, factor), 1 - 1e-9);
  return {1 / (1 - a), (1 / (1 - next) - 1 / (1 - a)) / step};
}

struct Residual {
  double value, slope;
  ElementState state;
  section::Coefficients section;
  double factor_slope;
  double axial, axial_slope, swirl, swirl_slope;  // 4 F |sin| times V/W and Omega r/W, over phi
  double cn_slope, ct_slope;                      // over phi, alpha following
  double axial_by_cn;                             // at fixed phi
};

/// W from both velocity components: V = W axial/(4F|sin|), Omega r = W swirl/(4F|sin|). Also tells
/// whether the state is one: neither component may be turned round by the induced flow.
void set_speed(ElementState& s, const ElementFlow& flow, double axial, double swirl) {
  const double undisturbed2 =
      flow.axial_m_s * flow.axial_m_s + flow.tangential_m_s * flow.tangential_m_s;
  const double sum2 = std::max(axial * axial + swirl * swirl, 1e-300);
  s.speed_m_s = 4 * s.factor * std::abs(s.sine) * std::sqrt(undisturbed2 / sum2);
  s.solved = flow.axial_m_s * axial >= -1e-12 && flow.tangential_m_s * swirl >= -1e-12;
}

/// g, dg/dphi at fixed Re, and the state there.
Residual residual(const Element& e, const ElementFlow& flow, double phi, double ln_re) {
  Residual r{};
  ElementState& s = r.state;
  s.phi = phi;
  s.ln_re = ln_re;
  s.sine = std::sin(phi);
  s.cosine = std::cos(phi);
  s.alpha = e.blade_angle_rad - phi;
  const section::Coefficients c = e.polar->at(s.alpha, ln_re);
  const FactorTable::Value f = e.factor.at(s.sine, s.cosine);
  r.section = c;
  r.factor_slope = f.slope;
  s.cl = c.cl;
  s.cd = c.cd;
  s.factor = f.factor;
  s.cn = c.cl * s.cosine - c.cd * s.sine;
  s.ct = c.cl * s.sine + c.cd * s.cosine;
  const double cn_slope = -(c.cl_alpha * s.cosine - c.cd_alpha * s.sine) - s.ct;
  const double ct_slope = -(c.cl_alpha * s.sine + c.cd_alpha * s.cosine) + s.cn;

  const double size = std::abs(s.sine);
  const double sign = s.sine < 0 ? -1 : 1;
  const double sigma = e.solidity;
  const double f4 = 4 * f.factor;
  const double swirl = f4 * size * s.cosine + sigma * s.ct;
  const double swirl_slope = 4 * f.slope * size * s.cosine +
                             f4 * sign * (s.cosine * s.cosine - s.sine * s.sine) + sigma * ct_slope;
  double axial = f4 * s.sine * size - sigma * s.cn;
  double axial_slope = 4 * f.slope * s.sine * size + 2 * f4 * size * s.cosine - sigma * cn_slope;
  r.axial_by_cn = -sigma;
  const double square = f4 * s.sine * s.sine;
  const double kappa = square > 0 ? -sigma * s.cn / square : 0;
  if (flow.axial_m_s > 0 && s.sine > 0 && kappa > braked_from) {
    const Brake b = brake(kappa, f.factor);
    const double square_slope = 4 * f.slope * s.sine * s.sine + 2 * f4 * s.sine * s.cosine;
    const double kappa_slope = (-sigma * cn_slope - kappa * square_slope) / square;
    axial = square * b.inverse;
    axial_slope = square_slope * b.inverse + square * b.slope * kappa_slope;
    r.axial_by_cn = -sigma * b.slope;
    s.braked = true;
  }
  r.value = flow.axial_m_s * swirl - flow.tangential_m_s * axial;
  r.slope = flow.axial_m_s * swirl_slope - flow.tangential_m_s * axial_slope;
  r.axial = axial;
  r.axial_slope = axial_slope;
  r.swirl = swirl;
  r.swirl_slope = swirl_slope;
  r.cn_slope = cn_slope;
  r.ct_slope = ct_slope;
  set_speed(s, flow, axial, swirl);
  return r;
}

double ln_re_of(const ElementFlow& flow, double speed_m_s) {
  return std::max(flow.ln_re_per_speed + std::log(std::max(speed_m_s, 1e-12)), least_ln_re);
}

/// The state after a last small step in phi and ln Re, to first order in every part: the error is
/// of the step's square, below 1e-7 for the steps allowed here.
ElementState finished(const Residual& r, const Element& e, const ElementFlow& flow, double step,
                      double ln_re_step) {
  ElementState s = r.state;
  s.falling = r.slope < 0;
  const double half = 1 - step * step / 2;
  s.phi += step;
  s.alpha = e.blade_angle_rad - s.phi;
  s.sine = r.state.sine * half + step * r.state.cosine;
  s.cosine = r.state.cosine * half - step * r.state.sine;
  s.ln_re += ln_re_step;
  s.cl += r.section.cl_ln_re * ln_re_step - r.section.cl_alpha * step;
  s.cd += r.section.cd_ln_re * ln_re_step - r.section.cd_alpha * step;
  s.factor += r.factor_slope * step;
  s.cn = s.cl * s.cosine - s.cd * s.sine;
  s.ct = s.cl * s.sine + s.cd * s.cosine;
  const double f4 = 4 * s.factor * std::abs(s.sine);
  const double square = f4 * s.sine;
  const double kappa = -e.solidity * s.cn / square;
  const double axial = s.braked ? square * brake(kappa, s.factor).inverse : square * (1 + kappa);
  set_speed(s, flow, axial, f4 * s.cosine + e.solidity * s.ct);
  return s;
}

constexpr double bracket_tolerance = 1e-6;  // rad
constexpr double last_step = 3e-4;          // rad and ln Re: see finished()

/// Newton in a bracket at fixed Re, falling back on bisection; g(low) has the sign `low_positive`.
double root_at_fixed_re(const Element& e, const ElementFlow& flow, double low, double high,
                        bool low_positive, double phi, double ln_re) {
  if (!(phi > low && phi < high)) phi = (low + high) / 2;
  for (int i = 0; i < 60; ++i) {
    const Residual r = residual(e, flow, phi, ln_re);
    ((r.value > 0) == low_positive ? low : high) = phi;
    double step = r.slope != 0 ? -r.value / r.slope : high - low;
    if (!(phi + step > low && phi + step < high)) step = (low + high) / 2 - phi;
    phi += step;
    if (std::abs(step) < bracket_tolerance) break;
  }
  return phi;
}

/// Newton from a start close to a solution, Re following along. Fails quietly (not solved).
ElementState newton(const Element& e, const ElementFlow& flow, double phi, double ln_re) {
  for (int i = 0; i < 15; ++i) {
    const Residual r = residual(e, flow, phi, ln_re);
    const double next_ln_re = ln_re_of(flow, r.state.speed_m_s);
    const double step = -r.value / r.slope;
    if (!(std::abs(step) < 0.3)) break;
    const double ln_re_step = next_ln_re - ln_re;
    if (std::abs(step) < last_step && std::abs(ln_re_step) < last_step) {
      return finished(r, e, flow, step, ln_re_step);
    }
    phi += step;
    ln_re = next_ln_re;
  }
  return {};
}

/// The solution that starts in a bracket of the residual at the undisturbed Re; the bracket is
/// found anew, wider, whenever Re moves the root out of it.
ElementState solve_in(const Element& e, const ElementFlow& flow, double low, double high,
                      bool low_positive, double ln_re) {
  double phi = root_at_fixed_re(e, flow, low, high, low_positive, (low + high) / 2, ln_re);
  const ElementState quick = newton(e, flow, phi, ln_re);
  if (quick.solved && std::abs(quick.phi - phi) < 0.1) return quick;
  for (int i = 0; i < 40; ++i) {
    Residual r = residual(e, flow, phi, ln_re);
    const double next_ln_re = ln_re_of(flow, r.state.speed_m_s);
    if (std::abs(next_ln_re - ln_re) < 1e-5) return r.state;
    ln_re += 0.7 * (next_ln_re - ln_re);
    for (double reach = 1e-3; reach < 0.5; reach *= 2) {
      const double from = phi - reach;
      const double to = phi + reach;
      const bool from_positive = residual(e, flow, from, ln_re).value > 0;
      if (from_positive == (residual(e, flow, to, ln_re).value > 0)) continue;
      phi = root_at_fixed_re(e, flow, from, to, from_positive, phi, ln_re);
      break;
    }
  }
  return {};
}

constexpr double edge = 1e-7;
constexpr double scan_step = 3 * base::degree_rad;

/// First solution met when walking from `to` down to `from`; counts all if asked.
ElementState first_below(const Element& e, const ElementFlow& flow, double from, double to,
                         double ln_re, int* count = nullptr) {
  ElementState first;
  if (!(to > from)) return first;
  const int steps = static_cast<int>(std::ceil((to - from) / scan_step));
  double high = to;
  bool high_positive = residual(e, flow, high, ln_re).value > 0;
  for (int i = 1; i <= steps; ++i) {
    const double low = i == steps ? from : to - i * scan_step;
    const bool low_positive = residual(e, flow, low, ln_re).value > 0;
    if (low_positive != high_positive) {
      const ElementState state = solve_in(e, flow, low, high, low_positive, ln_re);
      if (state.solved) {
        if (count) ++*count;
        if (!first.solved) first = state;
        if (!count) return first;
      }
    }
    high = low;
    high_positive = low_positive;
  }
  return first;
}

/// The inflow angle at which the section is at its stall onset. With more inflow lift falls
/// steadily, and with it the residual, so there is at most one solution there: the attached one.
double onset_inflow(const Element& e) {
  return std::clamp(e.blade_angle_rad - e.polar->stall_onset_rad(), edge, pi / 2);
}

/// Whether a solution lies between s.phi and `to`, where the residual is negative. Above a solution
/// at which it falls it is negative too, so a pair of solutions would show as a positive value
/// between; the lift curve has one hump, so that two looks suffice.
bool positive_between(const Element& e, const ElementFlow& flow, const ElementState& s, double to) {
  if (!s.falling) return true;
  for (const double share : {0.35, 0.75}) {
    if (residual(e, flow, s.phi + share * (to - s.phi), s.ln_re).value > 0) return true;
  }
  return false;
}

/// Makes sure that no attached solution lies above one found: below the stall onset and down to -11
/// degrees lift falls steadily with more inflow, so that there is nothing to look for.
ElementState largest(const Element& e, const ElementFlow& flow, const ElementState& s) {
  double to = pi / 2;
  if (s.alpha >= -0.2) {
    if (s.alpha < e.polar->stall_onset_rad()) return s;
    to = onset_inflow(e);
    if (residual(e, flow, to, s.ln_re).value > 0) {
      const ElementState attached = solve_in(e, flow, to, pi / 2, true, s.ln_re);
      if (attached.solved) return attached;
    }
  }
  if (!positive_between(e, flow, s, to)) return s;
  const ElementState higher = first_below(e, flow, s.phi + 2e-3, to, s.ln_re);
  return higher.solved ? higher : s;
}

/// The largest inflow angle in (0, 90] degrees that solves the element, then the other quadrants.
ElementState search(const Element& e, const ElementFlow& flow) {
  const double ln_re = ln_re_of(flow, std::hypot(flow.axial_m_s, flow.tangential_m_s));
  const double onset = onset_inflow(e);
  ElementState s;
  if (residual(e, flow, onset, ln_re).value > 0) {
    s = solve_in(e, flow, onset, pi / 2, true, ln_re);
    if (s.solved && s.phi > 0 && s.phi <= pi / 2) return largest(e, flow, s);
  }
  s = first_below(e, flow, edge, pi / 2, ln_re);
  if (!s.solved) s = first_below(e, flow, pi / 2, pi - edge, ln_re);
  if (!s.solved) s = first_below(e, flow, -pi / 2, -edge, ln_re);
  if (!s.solved) s = first_below(e, flow, -pi + edge, -pi / 2, ln_re);
  return s;
}

/// Nothing turns the flow where the blade has no chord.
ElementState undisturbed(const Element& e, const ElementFlow& flow) {
  Residual r = residual(e, flow, std::atan2(flow.axial_m_s, flow.tangential_m_s), 0);
  ElementState s = r.state;
  s.speed_m_s = std::hypot(flow.axial_m_s, flow.tangential_m_s);
  s.ln_re = ln_re_of(flow, s.speed_m_s);
  s.solved = true;
  return s;
}

/// At rest the section sees the plain flight speed.
ElementState stopped(const Element& e, const ElementFlow& flow) {
  ElementState s;
  s.phi = pi / 2;
  s.sine = 1;
  s.cosine = 0;
  s.speed_m_s = flow.axial_m_s;
  s.ln_re = ln_re_of(flow, s.speed_m_s);
  s.alpha = e.blade_angle_rad - s.phi;
  const section::Coefficients c = e.polar->at(s.alpha, s.ln_re);
  s.cl = c.cl;
  s.cd = c.cd;
  s.cn = -c.cd;
  s.ct = c.cl;
  s.solved = true;
  return s;
}

}  // namespace

ElementState solve_element(const Element& element, const ElementFlow& flow, double guess,
                           double guess_ln_re) {
  if (flow.tangential_m_s == 0) return stopped(element, flow);
  if (element.solidity < 1e-9) return undisturbed(element, flow);
  if (guess > 0 && guess < pi / 2) {
    const ElementState s = newton(element, flow, guess, guess_ln_re);
    if (s.solved && s.phi > 0 && s.phi < pi / 2) return largest(element, flow, s);
  }
  return search(element, flow);
}

// At a fixed Reynolds number g(phi, theta) = 0 gives dphi/dtheta = -g_theta/g_phi. What Re does to
// lift and drag follows with W; what it does to phi is left out, a few per mille of the slopes.
ElementSlopes slopes(const Element& e, const ElementFlow& flow, const ElementState& s) {
  if (flow.tangential_m_s == 0) {
    const section::Coefficients c = e.polar->at(s.alpha, s.ln_re);
    return {.phi = 0, .ln_speed = 0, .cn = -c.cd_alpha, .ct = c.cl_alpha, .cd = c.cd_alpha};
  }
  if (e.solidity < 1e-9) return {};
  const Residual r = residual(e, flow, s.phi, s.ln_re);
  const ElementState& at = r.state;
  const section::Coefficients& c = r.section;
  const double cn_alpha = c.cl_alpha * at.cosine - c.cd_alpha * at.sine;
  const double ct_alpha = c.cl_alpha * at.sine + c.cd_alpha * at.cosine;
  const double axial_theta = r.axial_by_cn * cn_alpha, swirl_theta = e.solidity * ct_alpha;
  const double g_theta = flow.axial_m_s * swirl_theta - flow.tangential_m_s * axial_theta;
  ElementSlopes by;
  by.phi = r.slope != 0 ? -g_theta / r.slope : 0;
  const double axial_by = r.axial_slope * by.phi + axial_theta;
  const double swirl_by = r.swirl_slope * by.phi + swirl_theta;
  by.ln_speed = (r.factor_slope / at.factor + at.cosine / at.sine) * by.phi -
                (r.axial * axial_by + r.swirl * swirl_by) / (r.axial * r.axial + r.swirl * r.swirl);
  by.cn = r.cn_slope * by.phi + cn_alpha +
          (c.cl_ln_re * at.cosine - c.cd_ln_re * at.sine) * by.ln_speed;
  by.ct = r.ct_slope * by.phi + ct_alpha +
          (c.cl_ln_re * at.sine + c.cd_ln_re * at.cosine) * by.ln_speed;
  by.cd = c.cd_alpha * (1 - by.phi) + c.cd_ln_re * by.ln_speed;
  return by;
}

int count_solutions(const Element& element, const ElementFlow& flow) {
  if (flow.tangential_m_s == 0 || element.solidity < 1e-9) return 1;
  int count = 0;
  const double ln_re = ln_re_of(flow, std::hypot(flow.axial_m_s, flow.tangential_m_s));
  first_below(element, flow, edge, pi / 2, ln_re, &count);
  return count;
}

}  // namespace propwright::rotor
