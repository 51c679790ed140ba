// What each fault does once per turn. Symbols: W speed of the air over the blade at 0.7 R, phi its
// angle to the disc, a lift slope.
#include "propwright/bench/shaking.h"

#include <fmt/format.h>

#include <array>
#include <cmath>

#include "check.h"

namespace propwright::bench {
namespace {

constexpr double typical_station = 0.7;  // of the tip radius: where a blade's thrust acts
// Lift slope of a thin blade of aspect ratio 6 to 8, 2 pi/(1 + 2/AR) = 4.7 to 5, less what low
// Reynolds numbers and induction take; an estimate that is good to a factor of about 2.
constexpr double lift_slope_per_rad = 4;

base::Problems shaking_problems(const ShakingFigures& f, const ShakingFlight& flight,
                                const ShakingLimits& limits) {
  Checks checks;
  const auto figure = [&](const std::optional<Figure>& value, const char* field) {
    if (!value) return;
    checks.within(value->value, -1e3, 1e3, field, fmt::format("{:g}", value->value),
                  "a finite number", "measure again");
    checks.within(value->sigma, 0, 1e3, field, fmt::format("{:g}", value->sigma),
                  "a doubt of 0 or more", "give the reading's 1-sigma");
  };
  figure(f.angle_difference_rad, "angle_difference_rad");
  figure(f.hook_offset_m, "hook_offset_m");
  figure(f.spar_mismatch_share, "spar_mismatch_share");
  figure(f.length_difference_m, "length_difference_m");
  figure(f.imbalance_kgm, "imbalance_kgm");
  figure(f.mass_difference_share, "mass_difference_share");
  const auto state = [&](double value, double high, const char* field) {
    checks.within(value, 0, high, std::string("flight.") + field, fmt::format("{:g}", value),
                  fmt::format("0 to {:g}", high), "0 when not known");
  };
  state(flight.revolutions_Hz, 1000, "revolutions_Hz");
  state(flight.speed_m_s, 100, "speed_m_s");
  state(flight.motor_pull_N, 1000, "motor_pull_N");
  state(flight.thrust_N, 100, "thrust_N");
  state(flight.tip_radius_m, 10, "tip_radius_m");
  state(flight.blade_area_m2, 10, "blade_area_m2");
  state(flight.air_density_kg_m3, 10, "air_density_kg_m3");
  state(flight.flare_rad, 3, "flare_rad");
  for (const double limit : {limits.angle_rad, limits.hook_offset_m, limits.spar_share,
                             limits.length_m, limits.mass_share, limits.imbalance_kgm}) {
    checks.within(limit, 1e-12, 10, "limits", fmt::format("{:g}", limit), "above 0",
                  "leave a limit out for the usual one");
  }
  return checks.take();
}

/// Moment per radian of difference between the blades, N m: one blade half of it up, the other half
/// of it down, each on an arm of 0.7 R. Nothing when the flight is not known.
std::optional<double> moment_per_angle(const ShakingFlight& f) {
  if (f.revolutions_Hz == 0 || f.tip_radius_m == 0 || f.blade_area_m2 == 0) return std::nullopt;
  const double arm = typical_station * f.tip_radius_m;
  const double round = 2 * base::pi * f.revolutions_Hz * arm;
  const double W2 = round * round + f.speed_m_s * f.speed_m_s;
  const double phi = std::atan2(f.speed_m_s, round);
  return f.air_density_kg_m3 / 2 * W2 * f.blade_area_m2 * lift_slope_per_rad * std::cos(phi) * arm;
}

CauseStatus cause_status(Figure figure, double limit) {
  switch (within(figure, limit)) {
    case Within::yes:
      return CauseStatus::ok;
    case Within::no:
      return CauseStatus::suspect;
    case Within::cannot_tell:
      break;
  }
  return CauseStatus::cannot_tell;
}

struct CauseWords {
  Cause cause;
  const char* unit;
  const char* formula;
  const char* found;  ///< "{}" is the figure
  const char* cure;   ///< when suspect
  const char* measure;
};

constexpr std::array<CauseWords, 5> words{{
    {Cause::blade_angles, "rad",
     "moment = air density/2 x W^2 x blade area x 4 per rad x difference x 0.7 R",
     "The blades stand {} apart", "re-set one blade to the other at the gauge",
     "Read both blades at the same two or more radii of the gauge"},
    {Cause::hook, "m", "moment = hook offset x motor pull", "The hook stands {} off the axis",
     "bend it back until it runs true", "Turn the shaft once and read how far the hook swings"},
    {Cause::spars, "1", "angle = flare x mismatch; moment as for an angle between the blades",
     "The spars differ by {} in stiffness", "sand the stiffer one, or pair it anew",
     "Deflect both spars in both directions on one rig"},
    {Cause::length, "m", "moment = 1.4 x thrust x difference in length",
     "The blades differ by {} in length", "shorten the longer one at the root",
     "Measure both from the shaft's centre to the tip"},
    {Cause::weight, "kg m", "moment about the shaft = imbalance x gravity",
     "The propeller is {} out of balance", "add to the light blade or sand the heavy one",
     "Balance the propeller on its shaft, or weigh both blades"},
}};

std::string shown(Cause cause, double value, bool as_share) {
  const double size = std::abs(value);
  if (as_share || cause == Cause::spars) return fmt::format("{:.1f} %", 100 * size);
  switch (cause) {
    case Cause::blade_angles:
      return in_degrees(size);
    case Cause::weight:
      return fmt::format("{:.4g} mg mm", 1e9 * size);
    default:
      return in_mm(size);
  }
}

ShakingCheck check_cause(const CauseWords& w, const std::optional<Figure>& figure, double limit,
                         std::optional<double> moment_per_figure, bool as_share = false) {
  ShakingCheck c{.cause = w.cause, .figure = figure};
  c.figure_unit = as_share ? "1" : w.unit;
  c.formula = as_share ? "" : w.formula;
  if (!figure) {
    c.sentence = fmt::format("{}.", w.measure);
    return c;
  }
  c.status = cause_status(*figure, limit);
  if (moment_per_figure) c.moment_Nm = std::abs(figure->value) * *moment_per_figure;
  const std::string found =
      fmt::format(fmt::runtime(w.found), shown(w.cause, figure->value, as_share));
  switch (c.status) {
    case CauseStatus::ok:
      c.sentence = found + ": in order.";
      break;
    case CauseStatus::suspect:
      c.sentence = fmt::format("{}: {}.", found, w.cure);
      break;
    default: {
      const int n = readings_to_settle(*figure, limit);
      c.sentence = n > 1 ? fmt::format(
                               "{}, too near the limit of {} to tell: the mean of {} "
                               "readings would settle it.",
                               found, shown(w.cause, limit, as_share), n)
                         : fmt::format("{}, too near the limit of {} to tell.", found,
                                       shown(w.cause, limit, as_share));
    }
  }
  return c;
}

std::optional<double> known(double value) {
  return value > 0 ? std::optional<double>(value) : std::nullopt;
}

void find_next(ShakingAnswer& answer) {
  for (const CauseStatus wanted :
       {CauseStatus::suspect, CauseStatus::not_measured, CauseStatus::cannot_tell}) {
    for (const ShakingCheck& c : answer.checks) {
      if (c.status != wanted || answer.next) continue;
      answer.next = c.cause;
      answer.headline = wanted == CauseStatus::suspect ? "Suspect: " + c.sentence
                        : wanted == CauseStatus::not_measured
                            ? "Nothing measured is at fault. Next: " + c.sentence
                            : "Nothing is clearly at fault. " + c.sentence;
    }
  }
  if (!answer.next) {
    answer.headline = "All five are in order: look at the model, its bearing and the motor.";
  }
  double most = 0;
  for (const ShakingCheck& c : answer.checks) {
    if (!c.moment_Nm || *c.moment_Nm <= most) continue;
    most = *c.moment_Nm;
    answer.strongest = c.cause;
  }
}

}  // namespace

base::Expected<ShakingAnswer> shaking(const ShakingFigures& figures, const ShakingFlight& flight,
                                      const ShakingLimits& limits) {
  if (auto problems = shaking_problems(figures, flight, limits); !problems.empty()) {
    return base::fail(std::move(problems));
  }
  const std::optional<double> per_angle = moment_per_angle(flight);
  std::optional<double> per_mismatch;
  if (per_angle && flight.flare_rad > 0) per_mismatch = *per_angle * flight.flare_rad;
  // One blade's thrust is half of the whole and goes about with the fourth power of its length;
  // the moment is its change at 0.7 R: T/2 x 4 dL/R x 0.7 R.
  const auto per_length = known(2 * typical_station * flight.thrust_N);
  const bool by_mass = !figures.imbalance_kgm && figures.mass_difference_share;
  ShakingAnswer answer;
  answer.checks = {
      check_cause(words[0], figures.angle_difference_rad, limits.angle_rad, per_angle),
      check_cause(words[1], figures.hook_offset_m, limits.hook_offset_m,
                  known(flight.motor_pull_N)),
      check_cause(words[2], figures.spar_mismatch_share, limits.spar_share, per_mismatch),
      check_cause(words[3], figures.length_difference_m, limits.length_m, per_length),
      by_mass
          ? check_cause(words[4], figures.mass_difference_share, limits.mass_share, {}, true)
          : check_cause(words[4], figures.imbalance_kgm, limits.imbalance_kgm, base::gravity_m_s2)};
  find_next(answer);
  return answer;
}

}  // namespace propwright::bench
