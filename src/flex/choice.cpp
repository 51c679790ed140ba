#include "propwright/flex/choice.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace propwright::flex {

namespace {

base::Problem choice_problem(const char* field, std::string value, const char* allowed,
                             const char* remedy, const char* message) {
  return {.field = field,
          .value = std::move(value),
          .allowed = allowed,
          .remedy = remedy,
          .message = message};
}

base::Problem no_spar() {
  return choice_problem("spar", "none", "a blade with a spar", "give the spar",
                        "there is no spar to choose about");
}

base::Expected<State> flared(const rotor::Rotor& rotor, const Parts& parts,
                             const ChoiceState& state, const StiffnessFactors& factors) {
  auto beam = beam_of(parts);
  if (!beam) return base::fail(std::move(beam.error()));
  const auto flex = FlexRotor::make(rotor, stiffened(std::move(*beam), factors));
  if (!flex) return base::fail(flex.error());
  return solve_for_torque(*flex, state.torque_Nm, state.speed_m_s, state.flow);
}

}  // namespace

double at_share(const State& state, double tip_radius_m, double share,
                double StationState::*member) {
  const std::vector<StationState>& s = state.stations;
  const double r = share * tip_radius_m;
  std::size_t i = 0;
  while (i + 2 < s.size() && s[i + 1].radius_m < r) ++i;
  const double t = (r - s[i].radius_m) / (s[i + 1].radius_m - s[i].radius_m);
  return s[i].*member + t * (s[i + 1].*member - s[i].*member);
}

BladeBeam stiffened(BladeBeam beam, const StiffnessFactors& factors) {
  for (BeamRow& row : beam.rows) {
    row.flapwise_Nm2 *= factors.flapwise;
    row.chordwise_Nm2 *= factors.chordwise;
    row.torsion_Nm2 *= factors.torsion;
  }
  return beam;
}

base::Expected<std::vector<FlareChoice>> flare_chart(const rotor::Rotor& rotor, const Parts& parts,
                                                     const ChoiceState& state,
                                                     const std::vector<double>& spar_positions,
                                                     const std::vector<double>& torsion_factors,
                                                     const StiffnessFactors& measured) {
  if (!parts.spar) return base::fail(no_spar());
  if (spar_positions.empty() || torsion_factors.empty()) {
    return base::fail(choice_problem("chart", "nothing", "a spar position and a factor or more",
                                     "give them", "nothing is asked for"));
  }
  std::vector<FlareChoice> chart;
  for (const double position : spar_positions) {
    Parts moved = parts;
    moved.spar->position = position;
    for (const double factor : torsion_factors) {
      FlareChoice choice{.spar_position = position, .torsion_factor = factor};
      const auto solved = flared(
          rotor, moved, state, {measured.flapwise, measured.chordwise, factor * measured.torsion});
      choice.holds = solved.has_value();
      if (solved) {
        const double tip = rotor.tip_radius_m();
        choice.flare_rad = at_share(*solved, tip, 0.7, &StationState::flare_rad);
        choice.tip_flare_rad = solved->tip.twist_rad;
        choice.pitch_m = at_share(*solved, tip, 0.7, &StationState::pitch_m);
        choice.pitch_rise_m = at_share(*solved, tip, 0.7, &StationState::pitch_rise_m);
        choice.rev_per_s = solved->rotor.condition.rev_per_s;
        choice.thrust_N = solved->rotor.loads.thrust_N;
        choice.margin = solved->strength.margin;
      } else {
        choice.problem = solved.error().front().message;
      }
      chart.push_back(std::move(choice));
    }
  }
  return chart;
}

base::Expected<Parts> with_spar_to(const Parts& parts, double share) {
  if (!parts.spar) return base::fail(no_spar());
  const double tip = parts.plan.empty() ? 0 : parts.plan.back().radius_m;
  const double length = share * tip - parts.spar->root_radius_m;
  if (!(length > 0.1 * spar::length_m(parts.spar->taper))) {
    return base::fail(choice_problem("share", fmt::format("{:g}", share),
                                     "a share of the radius that leaves a spar on the blade",
                                     "let it end further out", "nothing is left of the spar"));
  }
  Parts changed = parts;
  std::vector<spar::Station>& stations = changed.spar->taper.stations;
  const spar::Station end{
      length,
      spar::section_at(parts.spar->taper, std::min(length, spar::length_m(parts.spar->taper)))};
  std::erase_if(stations, [&](const spar::Station& s) { return s.x_m >= length; });
  stations.push_back(end);
  return changed;
}

base::Expected<std::vector<SparEnd>> spar_ends(const Parts& parts,
                                               const std::vector<double>& shares) {
  std::vector<SparEnd> ends;
  for (const double share : shares) {
    const auto changed = with_spar_to(parts, share);
    if (!changed) return base::fail(changed.error());
    const auto beam = beam_of(*changed);
    if (!beam) return base::fail(beam.error());
    const auto flapwise = tip_strike(*beam, Strike::flapwise);
    const auto chordwise = tip_strike(*beam, Strike::chordwise);
    if (!flapwise) return base::fail(flapwise.error());
    if (!chordwise) return base::fail(chordwise.error());
    ends.push_back({share, flapwise->mass_kg, *flapwise, *chordwise});
  }
  return ends;
}

}  // namespace propwright::flex
