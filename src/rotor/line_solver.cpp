// In a fixed wake: Gamma_i = W_i c_i cl(alpha_i, Re_i)/2, where W and alpha hold the velocity that
// all the Gamma induce; Newton with the whole Jacobian, cut back until the residual falls. Around
// it the wake's pitch follows the flow where it is shed.
#include "line_solver.h"

#include <Eigen/LU>
#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <utility>

#include "element.h"
#include "propwright/base/constants.h"

namespace propwright::rotor {

using base::pi;
using Eigen::VectorXd;

namespace {

constexpr int wake_rounds = 120;
constexpr int newton_rounds = 60;
constexpr int settle_rounds = 50;
constexpr double longest_step = 0.1;     // rad of inflow, a round
constexpr double stalled_share = 0.3;    // of the wake's step where lift falls
constexpr double wake_tolerance = 1e-6;  // rad of inflow
/// Where lift falls: rad of inflow, and of the greatest circulation. A station at the very tip may
/// go in and out of stall from round to round, without a load to show for it.
constexpr double stalled_tolerance = 1e-4;
constexpr double newton_tolerance = 1e-10;  // of the greatest W c
/// A wake of less pitch than this share of 2 pi times the tip radius is no wake: it would not leave
/// the disc.
constexpr double least_angle = 0.003;
constexpr int wake_degree = 5;
/// Times the least second difference that holds the shortest wave.
constexpr double hold = 4;

class Balance {
 public:
  Balance(const LiftingLine& line, const std::vector<Section>& sections, const Condition& condition,
          const Flow& flow)
      : line_(line), sections_(sections), condition_(condition), flow_(flow) {
    for (const Section& s : sections) {
      const double speed = std::hypot(condition.speed_m_s, turning(s));
      scale_ = std::max(scale_, s.chord_m * speed);
    }
    const auto n = static_cast<Eigen::Index>(sections.size());
    smoothing_ = VectorXd::Zero(n);
    curvature_ = -2 * Eigen::MatrixXd::Identity(n, n);
    for (Eigen::Index i = 0; i + 1 < n; ++i) curvature_(i, i + 1) = curvature_(i + 1, i) = 1;
    curvature_(0, 0) = curvature_(n - 1, n - 1) = -3;  // circulation is odd about both ends
  }

  double turning(const Section& s) const { return 2 * pi * condition_.rev_per_s * s.radius_m; }

  void set_wake(const std::vector<double>& inverse_pitch) {
    influence_ = line_.influence(inverse_pitch);
  }

  struct Evaluation {
    std::vector<SectionState> states;
    VectorXd residual;
    Eigen::MatrixXd jacobian;
    double size = 0;  // rms of the residual over the scale
  };

  enum class Slopes { none, own, rising };

  Evaluation evaluate(const VectorXd& circulation, Slopes slopes) const {
    const auto n = static_cast<Eigen::Index>(sections_.size());
    const VectorXd axial = influence_.axial * circulation;
    const VectorXd swirl = influence_.swirl * circulation;
    Evaluation e;
    e.residual.resize(n);
    const bool with_jacobian = slopes != Slopes::none;
    if (with_jacobian) e.jacobian = Eigen::MatrixXd::Identity(n, n);
    for (Eigen::Index i = 0; i < n; ++i) {
      const Section& section = sections_[static_cast<std::size_t>(i)];
      SectionState s = state(section, axial(i), swirl(i));
      s.circulation_m2_s = circulation(i);
      const double half_chord = section.chord_m / 2;
      e.residual(i) = circulation(i) - half_chord * s.speed_m_s * s.force.cl;
      if (with_jacobian) {
        // By the speed and by the inflow angle, then by both velocity components.
        const bool floored = s.ln_re <= least_ln_re;
        const double by_speed = half_chord * (s.force.cl + (floored ? 0 : s.force.cl_ln_re));
        const double slope = slopes == Slopes::own ? s.force.cl_alpha : std::abs(s.force.cl_alpha);
        const double by_angle = -half_chord * slope;  // times W dphi
        const double sine = std::sin(s.phi), cosine = std::cos(s.phi);
        e.jacobian.row(i) -= (by_speed * sine + by_angle * cosine) * influence_.axial.row(i) +
                             (by_speed * cosine - by_angle * sine) * influence_.swirl.row(i);
      }
      e.states.push_back(s);
    }
    const VectorXd smoothing = smoothing_.cwiseProduct(curvature_ * circulation);
    e.residual -= smoothing;
    if (with_jacobian) e.jacobian -= smoothing_.asDiagonal() * curvature_;
    e.size = e.residual.norm() / scale_;
    return e;
  }

  /// Walks towards a balance that a real flow would settle in: Newton's step with every lift slope
  /// taken as rising. It cannot be thrown off by a falling one, only slowed down.
  void settle(VectorXd& circulation, int rounds) {
    for (int round = 0; round < rounds; ++round) {
      const Evaluation e = evaluate(circulation, Slopes::rising);
      follow_stall(e.states);
      if (e.size < 1e-6) return;
      const VectorXd step = e.jacobian.partialPivLu().solve(-e.residual);
      if (!step.allFinite()) return;
      circulation += step;
    }
  }

  /// Newton from `circulation`, which is left at the best found. True if solved.
  bool solve(VectorXd& circulation, Evaluation& e) const {
    e = evaluate(circulation, Slopes::own);
    for (int round = 0; round < newton_rounds; ++round) {
      if (e.size < newton_tolerance) return true;
      const VectorXd step = e.jacobian.partialPivLu().solve(-e.residual);
      if (!step.allFinite()) return false;
      bool fell = false;
      for (double share = 1; share > 1e-3 && !fell; share /= 2) {
        const VectorXd next = circulation + share * step;
        Evaluation trial = evaluate(next, Slopes::own);
        if (!(trial.size < (1 - 1e-4 * share) * e.size)) continue;
        circulation = next;
        e = std::move(trial);
        fell = true;
      }
      if (!fell) return e.size < 1e3 * newton_tolerance;
    }
    return false;
  }

  /// Where lift falls with angle, a wave of circulation from station to station would feed itself;
  /// a second difference large enough to hold the shortest one is added. It shrinks with the
  /// spacing and is nothing where the flow is attached. Moves half way.
  void follow_stall(const std::vector<SectionState>& states) {
    for (Eigen::Index i = 0; i < smoothing_.size(); ++i) {
      const SectionState& s = states[static_cast<std::size_t>(i)];
      const double fall = std::max(0.0, -s.force.cl_alpha);
      const double turn = std::cos(s.phi) * influence_.axial(i, i) -
                          std::sin(s.phi) * influence_.swirl(i, i);  // W dphi/dGamma
      const double wanted =
          hold * fall * sections_[static_cast<std::size_t>(i)].chord_m / 4 * std::abs(turn);
      smoothing_(i) += (wanted - smoothing_(i)) / 2;
    }
  }

 private:
  SectionState state(const Section& section, double axial, double swirl) const {
    SectionState s;
    s.axial_m_s = condition_.speed_m_s + axial;
    s.swirl_m_s = swirl;
    s.tangential_m_s = turning(section) + swirl;
    s.speed_m_s = std::hypot(s.axial_m_s, s.tangential_m_s);
    s.phi = std::atan2(s.axial_m_s, s.tangential_m_s);
    s.alpha = section.blade_angle_rad - s.phi;
    const double re = flow_.density_kg_m3 * section.chord_m * s.speed_m_s / flow_.viscosity_Pa_s;
    s.ln_re = std::max(std::log(std::max(re, 1e-12)), least_ln_re);
    s.force = section.polar->at(s.alpha, s.ln_re);
    return s;
  }

  const LiftingLine& line_;
  const std::vector<Section>& sections_;
  Condition condition_;
  Flow flow_;
  LiftingLine::Influence influence_;
  VectorXd smoothing_;
  Eigen::MatrixXd curvature_;  // second difference
  double scale_ = 1e-12;
};

/// The wake's pitch as an angle: atan(h/R) at every node. One sheet leaves the blade, not strips
/// that slip past each other, so the angle is a polynomial of `wake_degree` in r, fitted to the
/// flow at the control points, each counting by the circulation it carries.
class WakeFit {
 public:
  explicit WakeFit(const LiftingLine& line) : line_(line) {
    const int n = line.stations();
    at_controls_.resize(n, wake_degree + 1);
    at_nodes_.resize(n + 1, wake_degree + 1);
    for (int k = 0; k <= wake_degree; ++k) {
      for (int i = 0; i < n; ++i) at_controls_(i, k) = std::cos(k * (i + 0.5) * pi / n);
      for (int j = 0; j <= n; ++j) at_nodes_(j, k) = std::cos(k * j * pi / n);
    }
  }

  VectorXd angles(const std::vector<double>& phi, const VectorXd& circulation) const {
    const double tip = line_.nodes().back();
    const double greatest = std::max(circulation.cwiseAbs().maxCoeff(), 1e-300);
    VectorXd weight(circulation.size()), angle(circulation.size());
    for (Eigen::Index i = 0; i < weight.size(); ++i) {
      const auto point = static_cast<std::size_t>(i);
      // A little of every point, for a blade that carries nothing.
      const double carried = std::abs(circulation(i)) / greatest + 0.01;
      weight(i) = std::sqrt(line_.loading_weights()[point] * carried);
      angle(i) =
          std::atan2(std::sin(phi[point]) * line_.controls()[point], std::cos(phi[point]) * tip);
    }
    const Eigen::MatrixXd weighted = weight.asDiagonal() * at_controls_;
    const VectorXd coefficients = weighted.householderQr().solve(weight.cwiseProduct(angle));
    return at_nodes_ * coefficients;
  }

 private:
  const LiftingLine& line_;
  Eigen::MatrixXd at_controls_, at_nodes_;  // cos(k theta), a polynomial in r
};

std::vector<double> inverse_pitch(const VectorXd& angles, double tip) {
  std::vector<double> result;
  for (const double angle : angles) result.push_back(std::cos(angle) / (std::sin(angle) * tip));
  return result;
}

/// How far the wake goes along with the flow in one round. More pitch lowers the induced velocity
/// about as 1/h, and with it the pitch found: this is Newton's step for that.
double share_of_step(const SectionState& s, double speed_m_s) {
  const double induced = s.axial_m_s - speed_m_s;
  return 1 / (1 + std::clamp(induced / std::max(s.axial_m_s, 1e-9), 0.0, 1.5));
}

bool any_stalled(const std::vector<SectionState>& states) {
  return std::any_of(states.begin(), states.end(),
                     [](const SectionState& s) { return s.force.cl_alpha < 0; });
}

/// The balance of circulation and wake, in rounds.
class LineSearch {
 public:
  LineSearch(const LiftingLine& line, const std::vector<Section>& sections,
             const Condition& condition, const Flow& flow, Wake wake)
      : condition_(condition),
        wake_(wake),
        tip_(line.nodes().back()),
        fit_(line),
        balance_(line, sections, condition, flow) {}

  LineSolution solve(const std::vector<Guess>& start) {
    LineSolution solution;
    VectorXd circulation = begin(start);
    bool stalled = false;
    for (int round = 0; round < wake_rounds; ++round) {
      const VectorXd before = circulation;
      balance_.set_wake(inverse_pitch(angles_, tip_));
      if (round == 0 || stalled) balance_.settle(circulation, settle_rounds);
      Balance::Evaluation e;
      solution.solved = balance_.solve(circulation, e);
      solution.states = std::move(e.states);
      if (!solution.solved) {
        e.residual.cwiseAbs().maxCoeff(&solution.worst);
        return solution;
      }
      stalled = any_stalled(solution.states);
      if (stalled) slower_ = std::min(slower_, stalled_share);
      double change = 0;
      if (stalled) {
        balance_.follow_stall(solution.states);
        const double greatest = std::max(circulation.cwiseAbs().maxCoeff(), 1e-300);
        change = (circulation - before).cwiseAbs().maxCoeff(&solution.worst) / greatest;
      }
      if (wake_ == Wake::own_flow) change = std::max(change, follow(solution, circulation));
      if (change < (stalled ? stalled_tolerance : wake_tolerance)) {
        solution.solved = !solution.reversed;
        return solution;
      }
      slow_down(change);
    }
    solution.solved = false;
    return solution;
  }

 private:
  VectorXd begin(const std::vector<Guess>& start) {
    std::vector<double> phi;
    VectorXd circulation(static_cast<Eigen::Index>(start.size()));
    for (const Guess& guess : start) {
      circulation(static_cast<Eigen::Index>(phi.size())) = guess.circulation_m2_s;
      phi.push_back(guess.phi);
    }
    const double turning = 2 * pi * condition_.rev_per_s * tip_;
    angles_ = wake_ == Wake::own_flow
                  ? within(fit_.angles(phi, circulation))
                  : within(VectorXd::Constant(circulation.size() + 1,
                                              std::atan2(condition_.speed_m_s, turning)));
    return circulation;
  }

  static VectorXd within(const VectorXd& angles) {
    return angles.cwiseMax(least_angle).cwiseMin(pi - least_angle);
  }

  /// Lets the wake follow the flow; returns how far it still is from it.
  double follow(LineSolution& solution, const VectorXd& circulation) {
    std::vector<double> phi;
    for (const SectionState& s : solution.states) phi.push_back(s.phi);
    const VectorXd found = fit_.angles(phi, circulation);
    const VectorXd target = within(found);
    solution.reversed = (found - target).cwiseAbs().maxCoeff() > 0;
    const VectorXd step = target - angles_;
    for (Eigen::Index j = 0; j < step.size(); ++j) {
      const auto point = static_cast<std::size_t>(std::min(j, step.size() - 2));
      const double share = slower_ * share_of_step(solution.states[point], condition_.speed_m_s);
      angles_(j) += std::clamp(share * step(j), -longest_step, longest_step);
    }
    const double change = step.cwiseAbs().maxCoeff(&solution.worst);
    solution.worst = std::min(solution.worst, phi.size() - 1);
    return change;
  }

  void slow_down(double change) {
    without_gain_ = change < best_ ? 0 : without_gain_ + 1;
    best_ = std::min(best_, change);
    if (without_gain_ <= 5) return;
    slower_ *= 0.6;
    without_gain_ = 0;
  }

  Condition condition_;
  Wake wake_;
  double tip_;
  WakeFit fit_;
  Balance balance_;
  VectorXd angles_;  // of the wake, at the nodes
  double slower_ = 1, best_ = 1e300;
  int without_gain_ = 0;
};

}  // namespace

LineSolution solve_line(const LiftingLine& line, const std::vector<Section>& sections,
                        const Condition& condition, const Flow& flow, Wake wake,
                        const std::vector<Guess>& start) {
  return LineSearch(line, sections, condition, flow, wake).solve(start);
}

}  // namespace propwright::rotor
