#include <fmt/format.h>

#include "command.h"
#include "propwright/answer/json_answers.h"
#include "rotor_input.h"

namespace propwright::desk {
namespace {

using D = units::Dimension;

constexpr int map_points = 40;
constexpr double past_zero_thrust = 1.03;
// Far past what any propeller of this kind sees; below it nothing overflows.
constexpr Limits speed_limits{0, 100}, rev_limits{0, 1000};

/// Every combination of the speeds and revs asked for.
std::vector<rotor::Condition> combinations(const std::vector<double>& speeds_m_s,
                                           const std::vector<double>& revs_per_s) {
  std::vector<rotor::Condition> all;
  for (const double speed : speeds_m_s) {
    for (const double rev : revs_per_s) all.push_back({speed, rev});
  }
  return all;
}

/// Evenly spaced advance ratios from static to a little past zero thrust.
base::Expected<std::vector<rotor::Condition>> map_conditions(const RotorInput& input,
                                                             double rev_per_s) {
  const auto zero = rotor::zero_thrust_advance_ratio(input.rotor, input.flow, rev_per_s);
  if (!zero) return base::fail(zero.error());
  std::vector<rotor::Condition> all;
  for (int i = 0; i < map_points; ++i) {
    const double ratio = past_zero_thrust * *zero * i / (map_points - 1);
    all.push_back({ratio * rev_per_s * input.rotor.diameter_m(), rev_per_s});
  }
  return all;
}

Answer answer_rotor(const Arguments& arguments) {
  base::Problems misuse = check_rotor_usage(arguments);
  if (!misuse.empty()) return wrong_usage(std::move(misuse));
  OptionReader reader(arguments);
  const auto speeds = reader.quantities("--speed", D::speed, speed_limits);
  const bool map = arguments.has("--map");
  const Limits revs_allowed{map ? 0.01 : rev_limits.low, rev_limits.high};
  const auto revs = reader.quantities("--rev", D::rotation, revs_allowed);
  const auto input = read_rotor(arguments, reader);
  if (!input) return tl::unexpected<Failure>(input.error());
  auto conditions = map ? map_conditions(*input, revs.front())
                        : base::Expected<std::vector<rotor::Condition>>(combinations(speeds, revs));
  if (!conditions) return no_answer(std::move(conditions.error()));
  auto solved = solve_rotor(*input, *conditions);
  if (!solved) return tl::unexpected<Failure>(std::move(solved.error()));
  if (arguments.json()) return answer::rotor_json(*solved);
  return arguments.has("--csv") ? rotor_csv(*solved) : rotor_text(*solved, input->profile);
}

}  // namespace

Command rotor_command() {
  const std::string blade = "A blade table instead of a job", at = "Where", how = "How";
  return {
      .name = "rotor",
      .purpose = "Thrust and torque of a propeller at given speeds and revs, station by station",
      .input = "JOB.toml",
      .input_help = "The job whose propeller and air are taken; or give --blade",
      .input_required = false,
      .options = {{"--speed", "V", at,
                   "Flight speed, e.g. \"0.9 m/s\"; with --rev every combination", false, true},
                  {"--rev", "N", at, "Shaft speed, e.g. \"1.5 rev/s\" or \"90 rpm\" (needed)",
                   false, true},
                  {"--map", "", at,
                   "40 advance ratios from static to just past zero thrust, at one --rev"},
                  {"--blade", "B.csv", blade, "Columns radius_m, chord_m, angle_deg, camber"},
                  {"--polar", "P.csv", blade,
                   "Columns alpha_deg, cl, cd and optionally re, camber, cm; left out: thin arcs"},
                  {"--blades", "N", blade, "Number of blades"},
                  {"--density", "D", blade, "Of the air, e.g. \"1.19 kg/m3\""},
                  {"--viscosity", "M", blade, "Of the air, e.g. \"1.8e-5 Pa.s\""},
                  {"--tip-radius", "R", blade, "Left out: the last row of the blade table"},
                  {"--tip", "FACTOR", how,
                   "Loss at the tip: exact (Goldstein), prandtl or none; left out: exact"},
                  {"--stations", "N", how, "Stations along the blade, 8 to 400; left out: 24"},
                  {"--fine", "", how,
                   "A lifting line with a helical wake as well, and how far the quick mode is off"},
                  {"--csv", "", "Output", "The points as CSV, without the stations"}},
      .example =
          "  propwright rotor examples/lantern46.toml --speed \"0.9 m/s\" --rev \"90 rpm\"\n"
          "  propwright rotor examples/lantern46.toml --map --rev \"90 rpm\" --csv",
      .answer = answer_rotor};
}

}  // namespace propwright::desk
