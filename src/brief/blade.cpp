// The blade from what the job states of it.
// Symbols: r radius, P pitch, theta blade angle, tan(theta) = P/(2 pi r).
#include <fmt/format.h>

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <functional>

#include "parts.h"
#include "propwright/base/constants.h"

namespace propwright::brief {
namespace {

constexpr int row_count = 40;  // enough for templates true to 0.1 mm; the rotor interpolates anyway

using Law = std::function<double(double)>;  // a quantity over the radius, m

struct Laws {
  Law angle_rad;
  Law camber;
};

bool has_outline_shape(const Propeller& p) {
  return p.source == BladeSource::pitch ||
         (p.source == BladeSource::measured && p.measured_chords.empty());
}

/// Radii from root to tip, denser towards the tip where chords change fastest.
std::vector<double> radii(double root_m, double tip_m) {
  std::vector<double> all(row_count);
  for (int i = 0; i < row_count; ++i) {
    const double share = std::sin(base::pi / 2 * i / (row_count - 1));
    all[i] = root_m + (tip_m - root_m) * share;
  }
  all.back() = tip_m;
  return all;
}

std::vector<form::OutlineRow> rows_of(const Law& chord_m, double root_m, const Propeller& p) {
  std::vector<form::OutlineRow> rows;
  for (const double radius_m : radii(root_m, p.diameter_m / 2)) {
    const double c = chord_m(radius_m);
    rows.push_back({radius_m, c, p.spar_position * c, (1 - p.spar_position) * c});
  }
  return rows;
}

/// Through the chord readings; past the last one the edge is rounded off to the tip.
base::Expected<std::vector<form::OutlineRow>> measured_outline(const Propeller& p) {
  std::vector<double> r, c;
  for (const MeasuredChord& row : p.measured_chords) {
    r.push_back(row.radius_m);
    c.push_back(row.chord_m);
  }
  const double tip_m = p.diameter_m / 2, last_m = r.back(), root_m = r.front();
  auto curve = base::MonotoneCurve::through(std::move(r), std::move(c));
  if (!curve) return base::fail(curve.error());
  const Law chord_m = [curve = *curve, last_m, tip_m](double radius_m) {
    const double c_m = curve.value(radius_m);
    if (radius_m <= last_m || tip_m <= last_m) return c_m;
    const double x = (radius_m - last_m) / (tip_m - last_m);
    return c_m * std::sqrt(std::max(0.0, 1 - x * x));
  };
  return rows_of(chord_m, root_m, p);
}

base::Expected<std::vector<form::OutlineRow>> station_outline(const Propeller& p) {
  std::vector<double> r, c;
  for (const Station& row : p.stations) {
    r.push_back(row.radius_m);
    c.push_back(row.chord_m);
  }
  const double root_m = r.front();
  auto curve = base::MonotoneCurve::through(std::move(r), std::move(c));
  if (!curve) return base::fail(curve.error());
  return rows_of([curve = *curve](double radius_m) { return curve.value(radius_m); }, root_m, p);
}

base::Expected<std::vector<form::OutlineRow>> outline_of(const Propeller& p) {
  if (p.source == BladeSource::stations) return station_outline(p);
  if (!has_outline_shape(p)) return measured_outline(p);
  return form::outline({.tip_radius_m = p.diameter_m / 2,
                        .root_radius_m = p.root_radius_m,
                        .widest_chord_m = p.widest_chord_m,
                        .widest_at = p.widest_at,
                        .root_chord_m = p.root_chord_m,
                        .tip_roundness = p.tip_roundness,
                        .spar_position = p.spar_position},
                       row_count);
}

/// On the blade, and where an angle error costs least pitch: the 45-degree station if it lies well
/// inside the blade, else 0.7 of the radius (both common practice).
double gauge_radius(const Propeller& p, double radius_45_m, double root_m) {
  if (p.gauge_radius_m) return *p.gauge_radius_m;
  const double tip_m = p.diameter_m / 2;
  const bool inside = radius_45_m >= std::max(0.3 * tip_m, root_m) && radius_45_m <= 0.9 * tip_m;
  return inside ? radius_45_m : std::max(0.7 * tip_m, root_m);
}

base::Expected<Laws> pitch_laws(const Propeller& p, double root_m) {
  const double pitch_m = *p.pitch_m, form_pitch_m = p.form_pitch_m.value_or(pitch_m);
  const double gauge_m = gauge_radius(p, form::radius_45deg_m(pitch_m), root_m);
  const form::Reset reset = form::reset_turn(form_pitch_m, pitch_m, gauge_m);
  return Laws{[=](double radius_m) { return form::reset_angle_rad(form_pitch_m, reset, radius_m); },
              [camber = p.camber](double) { return camber; }};
}

base::Expected<Laws> station_laws(const Propeller& p) {
  std::vector<double> r, angle, camber;
  for (const Station& row : p.stations) {
    r.push_back(row.radius_m);
    angle.push_back(row.angle_rad);
    camber.push_back(row.camber.value_or(p.camber));
  }
  auto angles = base::MonotoneCurve::through(r, std::move(angle));
  auto cambers = base::MonotoneCurve::through(std::move(r), std::move(camber));
  if (!angles) return base::fail(angles.error());
  if (!cambers) return base::fail(cambers.error());
  return Laws{[curve = *angles](double radius_m) { return curve.value(radius_m); },
              [curve = *cambers](double radius_m) { return curve.value(radius_m); }};
}

/// Pitch between readings by a monotone cubic, held outside: one reading makes a helix.
base::Expected<Laws> measured_laws(const Propeller& p) {
  std::vector<double> r, pitch;
  for (const MeasuredAngle& row : p.measured_angles) {
    r.push_back(row.radius_m);
    pitch.push_back(form::local_pitch_m(row.angle_rad, row.radius_m));
  }
  auto curve = base::MonotoneCurve::through(std::move(r), std::move(pitch));
  if (!curve) return base::fail(curve.error());
  return Laws{[curve = *curve](double radius_m) {
                return form::blade_angle_rad(curve.value(radius_m), radius_m);
              },
              [camber = p.camber](double) { return camber; }};
}

base::Expected<Laws> laws_of(const Propeller& p, double root_m) {
  switch (p.source) {
    case BladeSource::stations:
      return station_laws(p);
    case BladeSource::measured:
      return measured_laws(p);
    case BladeSource::pitch:
      break;
  }
  return pitch_laws(p, root_m);
}

/// Outermost radius at which the blade stands at 45 degrees; 0 when there is none.
double find_radius_45(const Law& angle_rad, const std::vector<form::OutlineRow>& rows) {
  const auto off = [&](double radius_m) { return angle_rad(radius_m) - base::pi / 4; };
  for (std::size_t i = rows.size() - 1; i > 0; --i) {
    const double inner_m = rows[i - 1].radius_m, outer_m = rows[i].radius_m;
    const double at_inner = off(inner_m), at_outer = off(outer_m);
    if (at_outer == 0) return outer_m;
    if (at_inner == 0) return inner_m;
    if (at_inner * at_outer > 0) continue;
    std::uintmax_t steps = 100;
    const auto bracket =
        boost::math::tools::toms748_solve(off, inner_m, outer_m, at_inner, at_outer,
                                          boost::math::tools::eps_tolerance<double>(48), steps);
    return (bracket.first + bracket.second) / 2;
  }
  return 0;
}

/// Radii of the blade's rows: those of the outline and of the angle readings, so that the readings
/// are met exactly.
std::vector<double> row_radii(const Propeller& p, const std::vector<form::OutlineRow>& outline) {
  std::vector<double> all;
  all.reserve(outline.size() + p.measured_angles.size());
  for (const form::OutlineRow& row : outline) all.push_back(row.radius_m);
  const double root_m = all.front(), tip_m = all.back();
  for (const MeasuredAngle& reading : p.measured_angles) {
    if (reading.radius_m > root_m && reading.radius_m < tip_m) all.push_back(reading.radius_m);
  }
  std::sort(all.begin(), all.end());
  all.erase(std::unique(all.begin(), all.end()), all.end());
  return all;
}

/// The stations themselves where the job gives them, else rows along the outline.
base::Expected<std::vector<rotor::BladeRow>> blade_rows(
    const Propeller& p, const Laws& laws, const std::vector<form::OutlineRow>& outline) {
  std::vector<rotor::BladeRow> rows;
  if (p.source == BladeSource::stations) {
    for (const Station& s : p.stations) {
      rows.push_back({s.radius_m, s.chord_m, s.angle_rad, s.camber.value_or(p.camber)});
    }
    return rows;
  }
  std::vector<double> r, c;
  for (const form::OutlineRow& row : outline) {
    r.push_back(row.radius_m);
    c.push_back(row.chord_m);
  }
  const auto chords = base::MonotoneCurve::through(std::move(r), std::move(c));
  if (!chords) return base::fail(chords.error());
  for (const double radius_m : row_radii(p, outline)) {
    rows.push_back(
        {radius_m, chords->value(radius_m), laws.angle_rad(radius_m), laws.camber(radius_m)});
  }
  return rows;
}

std::vector<std::string> blade_notes(const Propeller& p) {
  std::vector<std::string> notes;
  if (p.source == BladeSource::measured && p.measured_angles.size() == 1) {
    notes.push_back("One angle was read on the propeller: the blade is taken for a true helix.");
  }
  if (!p.measured_chords.empty() && p.measured_chords.back().radius_m < 0.98 * p.diameter_m / 2) {
    notes.push_back("The outline between the last chord reading and the tip is rounded off.");
  }
  return notes;
}

}  // namespace

base::Expected<BladeGeometry> make_blade(const Propeller& p) {
  auto outline = outline_of(p);
  if (!outline) return base::fail(outline.error());
  const double root_m = outline->front().radius_m;
  const auto laws = laws_of(p, root_m);
  if (!laws) return base::fail(laws.error());

  auto rows = blade_rows(p, *laws, *outline);
  if (!rows) return base::fail(rows.error());

  BladeGeometry made;
  made.outline = std::move(*outline);
  made.blade = {.rows = std::move(*rows),
                .hub_radius_m = root_m,
                .tip_radius_m = p.diameter_m / 2,
                .blades = p.blades,
                .arm_diameter_m = p.hub.arm_diameter_m};
  made.radius_45_m = find_radius_45(laws->angle_rad, made.outline);
  // With a pitch given this is the radius pitch_laws() has set it at.
  const double helix_45_m =
      p.source == BladeSource::pitch ? form::radius_45deg_m(*p.pitch_m) : made.radius_45_m;
  made.gauge_radius_m = gauge_radius(p, helix_45_m, root_m);
  made.gauge_angle_rad = laws->angle_rad(made.gauge_radius_m);
  if (made.gauge_angle_rad <= 0 || made.gauge_angle_rad >= base::pi / 2) {
    return base::fail({.field = "propeller.gauge_radius",
                       .allowed = "a radius with a blade angle between 0 and 90 deg",
                       .remedy = "give a gauge radius further out or check the angles",
                       .message = fmt::format("the blade stands at {:.1f} deg there",
                                              made.gauge_angle_rad / base::degree_rad)});
  }
  made.set_pitch_m = form::local_pitch_m(made.gauge_angle_rad, made.gauge_radius_m);
  made.form = {.pitch_m = p.form_pitch_m.value_or(made.set_pitch_m),
               .camber = p.camber,
               .angle_overbend = p.angle_overbend,
               .camber_overbend = p.camber_overbend,
               .hand = p.hand};
  if (p.form_pitch_m) {
    made.reset_turn_rad =
        form::reset_turn(*p.form_pitch_m, made.set_pitch_m, made.gauge_radius_m).turn_rad;
  }
  made.notes = blade_notes(p);
  return made;
}

}  // namespace propwright::brief
