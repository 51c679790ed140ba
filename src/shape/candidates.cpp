#include "candidates.h"

#include <fmt/format.h>

#include <algorithm>
#include <boost/math/tools/roots.hpp>
#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/base/monotone_curve.h"
#include "propwright/form/form.h"

namespace propwright::shape {
namespace {

using base::degree_rad;

constexpr int stations = 24;

/// Loads with a blade, or the problem.
base::Expected<rotor::Loads> loads_of(const Bench& bench, const rotor::Blade& blade) {
  const auto rotor = rotor::Rotor::make(blade, *bench.family, {.stations = stations});
  if (!rotor) return tl::unexpected(rotor.error());
  const auto loads = rotor->solve_all({bench.condition}, bench.flow);
  if (!loads) return tl::unexpected(loads.error());
  return loads->front();
}

base::Problem no_setting(const std::string& what) {
  return {.kind = base::Kind::no_solution,
          .field = "thrust",
          .remedy = "allow more chord, more revs or less thrust",
          .message = "no setting of " + what + " gives the wanted thrust"};
}

/// The setting x near `start` at which blade_at(x) gives the wanted thrust, and that blade's loads.
template <class BladeAt>
base::Expected<double> setting_for_thrust(const Bench& bench, const BladeAt& blade_at, double start,
                                          double step, const std::string& what) {
  base::Problems last;
  const auto off = [&](double x) {
    const auto loads = loads_of(bench, blade_at(x));
    if (loads) return loads->thrust_N - bench.thrust_N;
    last = loads.error();
    return std::nan("");
  };
  // Thrust rises with the setting until the blade stalls: outwards from the start, the nearer side
  // first.
  double low = start, high = start, at_low = off(start), at_high = at_low;
  if (!std::isfinite(at_low)) return base::fail(std::move(last));
  for (int i = 0; i < 20 && at_low > 0; ++i) {
    high = low;
    at_high = at_low;
    at_low = off(low -= step);
  }
  for (int i = 0; i < 20 && at_high < 0; ++i) {
    low = high;
    at_low = at_high;
    at_high = off(high += step);
  }
  if (!(at_low <= 0 && at_high >= 0)) return base::fail(no_setting(what));
  if (at_low == 0) return low;
  if (at_high == 0) return high;
  std::uintmax_t most = 30;
  const auto [a, b] = boost::math::tools::toms748_solve(
      off, low, high, at_low, at_high, boost::math::tools::eps_tolerance<double>(30), most);
  return (a + b) / 2;
}

base::Expected<Candidate> finished(const Bench& bench, Candidate candidate) {
  const auto loads = loads_of(bench, candidate.blade);
  if (!loads) return tl::unexpected(loads.error());
  const double omega = 2 * base::pi * bench.condition.rev_per_s;
  candidate.rev_per_s = bench.condition.rev_per_s;
  candidate.torque_Nm = loads->torque_Nm;
  candidate.camber = camber_of(candidate.blade);
  candidate.efficiency = loads->thrust_N * bench.condition.speed_m_s / (loads->torque_Nm * omega);
  candidate.gauge_radius_m = bench.gauge_radius_m;
  candidate.gauge_angle_rad = angle_at(candidate.blade, bench.gauge_radius_m);
  return candidate;
}

std::string millimetres(double length_m) {
  return fmt::format("{:.0f} mm", 1e3 * length_m);
}

/// Where the blade goes beyond the form.
std::vector<std::string> too_small(const OwnedForm& form, const rotor::Blade& blade) {
  constexpr double slack_m = 0.5e-3;  // nobody measures a form closer
  std::vector<std::string> notes;
  double root_m = blade.tip_radius_m, chord_m = 0;
  for (const rotor::BladeRow& row : blade.rows) {
    if (row.chord_m > 0) root_m = std::min(root_m, row.radius_m);
    chord_m = std::max(chord_m, row.chord_m);
  }
  if (form.from_radius_m && *form.from_radius_m > root_m + slack_m) {
    notes.push_back("the form begins at " + millimetres(*form.from_radius_m) + ", the blade at " +
                    millimetres(root_m));
  }
  if (form.to_radius_m && *form.to_radius_m < blade.tip_radius_m - slack_m) {
    notes.push_back("the form ends at " + millimetres(*form.to_radius_m) + ", the blade at " +
                    millimetres(blade.tip_radius_m));
  }
  if (form.width_m && *form.width_m < chord_m - slack_m) {
    notes.push_back("the form takes chords up to " + millimetres(*form.width_m) +
                    ", the blade's widest is " + millimetres(chord_m));
  }
  return notes;
}

}  // namespace

double angle_at(const rotor::Blade& blade, double radius_m) {
  std::vector<double> radius, angle;
  for (const rotor::BladeRow& row : blade.rows) {
    radius.push_back(row.radius_m);
    angle.push_back(row.angle_rad);
  }
  return base::MonotoneCurve::through(radius, angle).value().value(radius_m);
}

double camber_of(const rotor::Blade& blade) {
  const auto widest = std::max_element(
      blade.rows.begin(), blade.rows.end(),
      [](const rotor::BladeRow& a, const rotor::BladeRow& b) { return a.chord_m < b.chord_m; });
  return widest->camber;
}

base::Expected<Candidate> helical(const Bench& bench) {
  const auto blade_at = [&](double pitch_m) {
    rotor::Blade blade = bench.ideal;
    for (rotor::BladeRow& row : blade.rows) {
      row.angle_rad = form::blade_angle_rad(pitch_m, row.radius_m);
    }
    return blade;
  };
  const double radius = 0.7 * bench.ideal.tip_radius_m;
  const double start = form::local_pitch_m(angle_at(bench.ideal, radius), radius);
  const auto pitch = setting_for_thrust(bench, blade_at, start, 0.02 * start, "one pitch");
  if (!pitch) return tl::unexpected(pitch.error());
  Candidate candidate{.kind = Kind::helical};
  candidate.blade = blade_at(*pitch);
  candidate.form_pitch_m = *pitch;
  return finished(bench, std::move(candidate));
}

base::Expected<Candidate> on_form(const Bench& bench, const OwnedForm& form) {
  const auto as_formed_rad = [&](double radius_m) {
    return form::blade_angle_rad(form.pitch_m, radius_m) / form.angle_overbend;
  };
  const auto blade_at = [&](double turn) {
    rotor::Blade blade = bench.ideal;
    for (rotor::BladeRow& row : blade.rows) {
      row.angle_rad = as_formed_rad(row.radius_m) + turn;
      if (form.camber) row.camber = *form.camber;
    }
    return blade;
  };
  const double radius = 0.7 * bench.ideal.tip_radius_m;
  const double start = angle_at(bench.ideal, radius) - as_formed_rad(radius);
  const auto turn =
      setting_for_thrust(bench, blade_at, start, 0.5 * degree_rad, "the blade of this form");
  if (!turn) return tl::unexpected(turn.error());
  Candidate candidate{.kind = Kind::owned_form, .name = form.name};
  candidate.blade = blade_at(*turn);
  candidate.form_pitch_m = form.pitch_m;
  candidate.turn_rad = *turn;
  candidate.notes = too_small(form, candidate.blade);
  return finished(bench, std::move(candidate));
}

base::Expected<Candidate> on_cylinder(const Bench& bench, const form::Cylinder& cylinder) {
  std::vector<form::WantedStation> wanted;
  for (const rotor::BladeRow& row : bench.ideal.rows) {
    // Angles count where the lift is.
    wanted.push_back(
        {row.radius_m, row.chord_m, row.angle_rad, row.chord_m * row.radius_m * row.radius_m});
  }
  if (bench.sheet_thickness_m > 0) {
    const auto bends =
        form::check_bend(cylinder.diameter_m / 2, bench.sheet_thickness_m, bench.bend_limit);
    if (!bends) return tl::unexpected(bends.error());
  }
  const auto fit = form::fit_cylinder(cylinder.diameter_m / 2, wanted);
  if (!fit) return tl::unexpected(fit.error());
  constexpr double most_camber = 0.15;
  double steepest = 0;
  const auto blade_at = [&](double turn) {
    rotor::Blade blade = bench.ideal;
    for (std::size_t i = 0; i < blade.rows.size(); ++i) {
      blade.rows[i].angle_rad = fit->stations[i].angle_rad + turn;
      blade.rows[i].camber = std::min(most_camber, fit->stations[i].camber);
      steepest = std::max(steepest, fit->stations[i].camber);
    }
    return blade;
  };
  const auto turn =
      setting_for_thrust(bench, blade_at, 0, 0.5 * degree_rad, "the blade of this cylinder");
  if (!turn) return tl::unexpected(turn.error());
  Candidate candidate{.kind = Kind::cylinder, .name = cylinder.name};
  candidate.blade = blade_at(*turn);
  candidate.cylinder_diameter_m = cylinder.diameter_m;
  candidate.skew_rad = fit->skew_rad;
  if (steepest > most_camber) {
    candidate.notes.push_back("more camber than the section tables know; its loads are a guess");
  }
  return finished(bench, std::move(candidate));
}

}  // namespace propwright::shape
