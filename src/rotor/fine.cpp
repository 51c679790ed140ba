#include "propwright/rotor/fine.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "blade.h"
#include "line_solver.h"
#include "propwright/base/constants.h"

namespace propwright::rotor {

using base::pi;

struct FineRotor::Prepared {
  Rotor quick;
  FineOptions options;
  int blades = 2;
  double hub_radius_m = 0, arm_diameter_m = 0;
  LiftingLine line;
  std::map<double, section::Polar> polars;  // by camber; sections point into it
  std::vector<Section> sections;
};

base::Problems FineOptions::check() const {
  if (stations >= 6 && stations <= 96) return {};
  return {{.field = "stations",
           .value = fmt::format("{}", stations),
           .allowed = "6 to 96 in the fine mode",
           .remedy = "leave it out for 24",
           .message = "the number of blade stations is out of range"}};
}

base::Expected<FineRotor> FineRotor::make(const Blade& blade, const section::Family& family,
                                          const FineOptions& options, const Options& quick,
                                          const section::Shift& shift) {
  base::Problems problems = options.check();
  if (!problems.empty()) return base::fail(std::move(problems));
  auto rotor = Rotor::make(blade, family, quick, shift);
  if (!rotor) return base::fail(std::move(rotor.error()));
  const double hub = blade.hub_radius_m > 0 ? blade.hub_radius_m : blade.rows.front().radius_m;
  const LiftingLine line(blade.blades, hub, rotor->tip_radius_m(), options.stations);
  auto prepared = std::make_shared<Prepared>(
      Prepared{std::move(*rotor), options, blade.blades, hub, blade.arm_diameter_m, line, {}, {}});
  for (const BladeRow& row : at_radii(blade, prepared->line.controls())) {
    const double camber = rounded_camber(row.camber);
    auto polar = prepared->polars.find(camber);
    if (polar == prepared->polars.end()) {
      polar = prepared->polars.emplace(camber, family.at_camber(camber, shift)).first;
    }
    prepared->sections.push_back({row.radius_m, row.chord_m, row.angle_rad, &polar->second});
  }
  FineRotor fine;
  fine.prepared_ = std::move(prepared);
  return fine;
}

const Rotor& FineRotor::quick() const {
  return prepared_->quick;
}

namespace {

base::Problem unsolved(const LineSolution& solution, const Section& section,
                       const Condition& condition) {
  return {
      .kind = base::Kind::no_solution,
      .field = fmt::format("blade station at {:.1f} mm", 1000 * section.radius_m),
      .value = fmt::format("{:.3f} m/s, {:.3f} rev/s", condition.speed_m_s, condition.rev_per_s),
      .allowed = solution.reversed ? "conditions in which the wake leaves the disc"
                                   : "conditions with a balance of circulation and wake",
      .remedy = "take the quick mode's answer here, or another condition",
      .message = solution.reversed ? "the fine mode finds the air flowing back through the disc"
                                   : "the fine mode's lifting line does not settle"};
}

/// The quick mode's answer at the control points of the line.
std::vector<Guess> start_from(const Result& quick, const LiftingLine& line, const Flow& flow) {
  const auto guess_of = [&](const StationResult& s) {
    // Gamma = W c cl/2 and W c = Re mu/rho.
    const double speed_chord = s.re * flow.viscosity_Pa_s / flow.density_kg_m3;
    return Guess{s.inflow_rad, s.chord_m > 0 ? speed_chord * s.cl / 2 : 0};
  };
  const std::vector<StationResult>& s = quick.stations;
  std::vector<Guess> start;
  std::size_t k = 0;
  for (const double r : line.controls()) {
    while (k + 2 < s.size() && s[k + 1].radius_m < r) ++k;
    const double share =
        std::clamp((r - s[k].radius_m) / (s[k + 1].radius_m - s[k].radius_m), 0.0, 1.0);
    const Guess low = guess_of(s[k]), high = guess_of(s[k + 1]);
    start.push_back({std::lerp(low.phi, high.phi, share),
                     std::lerp(low.circulation_m2_s, high.circulation_m2_s, share)});
  }
  return start;
}

State state_of(const Section& section, const SectionState& s, double swirl_force,
               const Condition& condition) {
  if (s.alpha >= section.polar->stall_onset_rad()) return State::stalled;
  if (condition.speed_m_s > 0 && s.axial_m_s < 0.6 * condition.speed_m_s) return State::braked;
  return swirl_force < 0 ? State::windmill : State::attached;
}

StationResult station_of(const Section& section, const SectionState& s, int blades,
                         const Condition& condition, const Flow& flow) {
  StationResult r;
  r.radius_m = section.radius_m;
  r.chord_m = section.chord_m;
  r.blade_angle_rad = section.blade_angle_rad;
  r.inflow_rad = s.phi;
  r.alpha_rad = s.alpha;
  r.re = std::exp(s.ln_re);
  r.cl = s.force.cl;
  r.cd = s.force.cd;
  const double pressure =
      0.5 * flow.density_kg_m3 * s.speed_m_s * s.speed_m_s * blades * section.chord_m;
  const double sine = std::sin(s.phi), cosine = std::cos(s.phi);
  const double ct = r.cl * sine + r.cd * cosine;
  r.thrust_N_per_m = pressure * (r.cl * cosine - r.cd * sine);
  r.torque_Nm_per_m = pressure * ct * section.radius_m;
  if (condition.speed_m_s > 0) r.axial_induction = s.axial_m_s / condition.speed_m_s - 1;
  const double swirl = -4 * pi * section.radius_m * s.swirl_m_s;
  r.factor = swirl != 0 ? blades * s.circulation_m2_s / swirl : 0;
  r.in_table = section.polar->in_table(s.alpha, s.ln_re);
  r.state = state_of(section, s, ct, condition);
  return r;
}

/// Thrust and torque of lift (Kutta-Joukowski) and of section drag.
Loads line_loads(const LiftingLine& line, const std::vector<Section>& sections,
                 const std::vector<SectionState>& states, int blades, double density) {
  Loads sum;
  for (std::size_t i = 0; i < states.size(); ++i) {
    const SectionState& s = states[i];
    const double r = sections[i].radius_m;
    const double lift = line.loading_weights()[i] * blades * density * s.circulation_m2_s;
    const double drag = line.plain_weights()[i] * blades * 0.5 * density * s.speed_m_s *
                        sections[i].chord_m * s.force.cd;
    sum.thrust_N += lift * s.tangential_m_s - drag * s.axial_m_s;
    sum.torque_Nm += (lift * s.axial_m_s + drag * s.tangential_m_s) * r;
    sum.profile_power_W += drag * s.speed_m_s * s.speed_m_s;
  }
  return sum;
}

Difference difference(const Loads& fine, const Loads& quick, const Condition& condition) {
  Difference d;
  d.thrust_N = fine.thrust_N - quick.thrust_N;
  d.torque_Nm = fine.torque_Nm - quick.torque_Nm;
  // Neither the diameter nor the density matters to the efficiency.
  const Coefficients a = coefficients(fine, condition, 1, 1);
  const Coefficients b = coefficients(quick, condition, 1, 1);
  d.efficiency_defined = a.efficiency_defined && b.efficiency_defined;
  if (d.efficiency_defined) d.efficiency = a.efficiency - b.efficiency;
  return d;
}

}  // namespace

base::Expected<FineResult> FineRotor::solve(const Condition& condition, const Flow& flow) const {
  const Prepared& p = *prepared_;
  auto quick = p.quick.solve(condition, flow);
  if (!quick) return base::fail(std::move(quick.error()));
  FineResult fine;
  fine.quick = quick->loads;
  if (condition.rev_per_s == 0) {
    fine.result = std::move(*quick);
    fine.difference = difference(fine.result.loads, fine.quick, condition);
    return fine;
  }
  const LineSolution solution = solve_line(p.line, p.sections, condition, flow, p.options.wake,
                                           start_from(*quick, p.line, flow));
  if (!solution.solved) {
    return base::fail(unsolved(solution, p.sections[solution.worst], condition));
  }
  fine.result.condition = condition;
  fine.result.loads = arm_loads(p.hub_radius_m, p.arm_diameter_m, p.blades, condition, flow);
  const Loads line = line_loads(p.line, p.sections, solution.states, p.blades, flow.density_kg_m3);
  fine.result.loads.thrust_N += line.thrust_N;
  fine.result.loads.torque_Nm += line.torque_Nm;
  fine.result.loads.profile_power_W += line.profile_power_W;
  for (std::size_t i = 0; i < p.sections.size(); ++i) {
    fine.result.stations.push_back(
        station_of(p.sections[i], solution.states[i], p.blades, condition, flow));
  }
  fine.difference = difference(fine.result.loads, fine.quick, condition);
  return fine;
}

}  // namespace propwright::rotor
