#include "propwright/answer/flex_answer.h"

#include <algorithm>
#include <cmath>

#include "propwright/brief/stiffness.h"

namespace propwright::answer {
namespace {

constexpr double flex_gauge_share = 0.7;  // of the tip radius: where a pitch is told
constexpr double roof_out_of_reach_m = 1e3;

/// What is asked of one blade after another.
class FlexTrial {
 public:
  explicit FlexTrial(const predict::Nominal& nominal)
      : nominal_(nominal),
        flow_{nominal.assembly.air.density_kg_m3, nominal.assembly.air.viscosity_Pa_s} {}

  const rotor::Flow& flow() const { return flow_; }
  double tip_m() const { return nominal_.rotor.tip_radius_m(); }

  /// The state in which blades are compared: that of the job's own blade.
  flex::ChoiceState state(double motor_torque_Nm, double speed_m_s) const {
    const double friction = nominal_.setup.friction_fraction;
    return {motor_torque_Nm * (1 - friction), speed_m_s, flow_};
  }

  /// The set-up with another beam; empty where it holds no map.
  std::optional<flight::Setup> setup(const flex::BladeBeam& beam) const {
    const auto flexing = flex::FlexRotor::make(nominal_.rotor, beam);
    if (!flexing) return std::nullopt;
    auto made = flex::make_map(*flexing, flow_, nominal_.map.middle_speed_m_s());
    if (!made) return std::nullopt;
    flight::Setup setup = nominal_.setup;
    setup.propeller = std::move(made->map);
    return setup;
  }

  std::optional<double> free_top_m(flight::Setup setup) const {
    setup.hall.roof_m = roof_out_of_reach_m;
    setup.launch.margin_m.reset();
    setup.launch.torque_Nm.reset();
    setup.launch.turns = nominal_.flight.turns_at_launch;
    const auto flown = flight::fly(setup);
    return flown ? std::optional(flown->top_height_m) : std::nullopt;
  }

 private:
  const predict::Nominal& nominal_;
  rotor::Flow flow_;
};

FlexFlight flex_flight(const FlexTrial& trial, const flight::Setup& setup,
                       const flight::Flight& flown) {
  return {flown.duration_s,       flown.top_height_m, flown.turns_at_launch,
          flown.launch_torque_Nm, flown.touches,      trial.free_top_m(setup)};
}

std::optional<double> duration_with(flight::Setup setup, double more_mass_kg) {
  setup.airframe.mass_kg += more_mass_kg;
  const auto flown = flight::fly(setup);
  return flown ? std::optional(flown->duration_s) : std::nullopt;
}

std::vector<FlexAtTorque> states_of(const predict::Nominal& nominal, const FlexTrial& trial,
                                    int count) {
  const double cruise = nominal.flight.cruise_torque_Nm, launch = nominal.flight.launch_torque_Nm;
  const double low = std::min(cruise, launch), high = std::max(cruise, launch);
  std::vector<FlexAtTorque> states;
  states.reserve(static_cast<std::size_t>(count));
  for (int i = 0; i < count; ++i) {
    const double torque = low + (high - low) * i / (count - 1);
    const auto flying = flight::equilibrium(nominal.setup, torque);
    if (!flying) continue;
    auto state = nominal.flexing->solve({flying->speed_m_s, flying->rev_per_s}, trial.flow());
    if (!state) continue;
    FlexAtTorque at{torque, std::move(*state)};
    const auto value = [&](double flex::StationState::*member) {
      return flex::at_share(at.state, trial.tip_m(), flex_gauge_share, member);
    };
    at.flare_rad = value(&flex::StationState::flare_rad);
    at.pitch_m = value(&flex::StationState::pitch_m);
    at.pitch_rise_m = value(&flex::StationState::pitch_rise_m);
    states.push_back(std::move(at));
  }
  return states;
}

/// What tests of the finished blade found of the stiffness of its parts.
flex::StiffnessFactors found_by_tests(const flex::BladeBeam& tested, const flex::BladeBeam& parts) {
  const flex::BeamRow &t = tested.rows.front(), &p = parts.rows.front();
  return {t.flapwise_Nm2 / p.flapwise_Nm2, t.chordwise_Nm2 / p.chordwise_Nm2,
          t.torsion_Nm2 / p.torsion_Nm2};
}

/// To the tip and short of it by steps, and where the job's own spar ends.
std::vector<double> spar_shares(double present) {
  std::vector<double> shares{1.0, 0.95, 0.9, 0.85, 0.8, 0.75, 0.7, 0.65, 0.6};
  std::erase_if(shares, [&](double share) { return std::abs(share - present) < 0.02; });
  shares.push_back(present);
  std::sort(shares.begin(), shares.end(), std::greater<>());
  return shares;
}

base::Expected<std::vector<FlexSparEnd>> ends_of(const predict::Nominal& nominal,
                                                 const FlexTrial& trial, const flex::Parts& parts,
                                                 const flex::StiffnessFactors& tests) {
  const double reach = parts.spar->root_radius_m + spar::length_m(parts.spar->taper);
  const double present = std::min(1.0, reach / trial.tip_m());
  const auto ends = flex::spar_ends(parts, spar_shares(present));
  if (!ends) return base::fail(ends.error());
  const auto own = std::find_if(ends->begin(), ends->end(),
                                [&](const flex::SparEnd& end) { return end.share == present; });
  const flight::Flight& f = nominal.flight;
  const auto launch = trial.state(f.launch_torque_Nm, f.history.front().speed_m_s);
  std::vector<FlexSparEnd> made;
  made.reserve(ends->size());
  for (const flex::SparEnd& end : *ends) {
    FlexSparEnd row{.end = end, .present = end.share == present};
    row.propeller_mass_change_kg = nominal.assembly.blade.blades * (end.mass_kg - own->mass_kg);
    const auto changed = flex::with_spar_to(parts, end.share);
    const auto beam = changed ? flex::beam_of(*changed) : base::fail(changed.error());
    if (beam) {
      const flex::BladeBeam tested = flex::stiffened(*beam, tests);
      if (const auto setup = trial.setup(tested)) {
        row.duration_s = duration_with(*setup, row.propeller_mass_change_kg);
        row.same_mass_s = duration_with(*setup, 0);
      }
      const auto flexing = flex::FlexRotor::make(nominal.rotor, tested);
      const auto state = flexing ? flex::solve_for_torque(*flexing, launch.torque_Nm,
                                                          launch.speed_m_s, launch.flow)
                                 : base::fail(flexing.error());
      if (state) row.launch_flare_rad = state->tip.twist_rad;
    }
    made.push_back(row);
  }
  return made;
}

/// Around the job's own, a step of five hundredths of the chord.
std::vector<double> spar_positions(double own) {
  std::vector<double> positions;
  for (const int step : {-2, -1, 0, 1, 2}) {
    const double position = own + 0.05 * step;
    if (position >= 0.1 && position <= 0.8) positions.push_back(position);
  }
  return positions;
}

base::Expected<std::vector<FlexChoice>> choices_of(const predict::Nominal& nominal,
                                                   const FlexTrial& trial, const flex::Parts& parts,
                                                   const flex::StiffnessFactors& tests) {
  const flight::Flight& f = nominal.flight;
  const auto positions = spar_positions(parts.spar->position);
  const std::vector<double> factors{0.5, 1, 2};
  const auto chart = [&](const flex::ChoiceState& state) {
    return flex::flare_chart(nominal.rotor, parts, state, positions, factors, tests);
  };
  auto launch = chart(trial.state(f.launch_torque_Nm, f.history.front().speed_m_s));
  if (!launch) return base::fail(std::move(launch.error()));
  auto cruise = chart(trial.state(f.cruise_torque_Nm, f.cruise_speed_m_s));
  if (!cruise) return base::fail(std::move(cruise.error()));
  std::vector<FlexChoice> choices;
  choices.reserve(launch->size());
  for (std::size_t i = 0; i < launch->size(); ++i) {
    FlexChoice choice{.present = false, .launch = (*launch)[i], .cruise = (*cruise)[i]};
    const double factor = choice.launch.torsion_factor, position = choice.launch.spar_position;
    choice.present = factor == 1 && position == parts.spar->position;
    flex::Parts moved = parts;
    moved.spar->position = position;
    const auto beam = flex::beam_of(moved);
    if (beam) {
      const auto setup = trial.setup(
          flex::stiffened(*beam, {tests.flapwise, tests.chordwise, factor * tests.torsion}));
      const auto flown = setup ? flight::fly(*setup) : base::fail(base::Problems{{}});
      if (flown) choice.flight = flex_flight(trial, *setup, *flown);
    }
    choices.push_back(std::move(choice));
  }
  return choices;
}

/// What could be chosen instead; a blade without a spar, or of which a strike cannot be told, says
/// so in the notes.
void add_choices(FlexAnswer& answer, const LoadedJob& loaded, const predict::Nominal& nominal,
                 const FlexTrial& trial) {
  const flex::Parts parts = brief::blade_parts(loaded.job.propeller, nominal.assembly.blade);
  const auto beam = flex::beam_of(parts);
  if (!parts.spar || !beam) {
    answer.notes.push_back("The blade has no spar: there is nothing to choose about it.");
    return;
  }
  const flex::StiffnessFactors tests = found_by_tests(*nominal.assembly.beam, *beam);
  auto choices = choices_of(nominal, trial, parts, tests);
  if (choices) answer.choices = std::move(*choices);
  auto ends = ends_of(nominal, trial, parts, tests);
  if (ends) {
    answer.spar_ends = std::move(*ends);
  } else {
    answer.notes.push_back(
        "What a tip strike breaks cannot be told: " + ends.error().front().message + ".");
  }
}

}  // namespace

base::Expected<FlexAnswer> flex_answer(const LoadedJob& loaded, int states) {
  LoadedJob bent = loaded, stiff = loaded;
  bent.job.propeller.flex.fly = true;
  stiff.job.propeller.flex.fly = false;
  const auto nominal = predict::predict(bent.job, bent.attachments);
  if (!nominal) return base::fail(in_file(nominal.error(), loaded.path));
  const FlexTrial trial(*nominal);
  FlexAnswer answer;
  answer.flies_flexing = loaded.job.propeller.flex.fly;
  answer.tip_radius_m = trial.tip_m();
  answer.roof_m = nominal->setup.hall.roof_m;
  answer.least_mass_kg = loaded.job.rules.least_mass_kg;
  answer.model_mass_kg = nominal->setup.airframe.mass_kg;
  answer.flexing = flex_flight(trial, nominal->setup, nominal->flight);
  answer.limit = nominal->flex_limit;
  answer.notes = nominal->assembly.notes;
  answer.states = states_of(*nominal, trial, states);
  const auto rigid = predict::predict(stiff.job, stiff.attachments);
  if (rigid) answer.rigid = flex_flight(trial, rigid->setup, rigid->flight);
  add_choices(answer, loaded, *nominal, trial);
  return answer;
}

}  // namespace propwright::answer
