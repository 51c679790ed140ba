// Drag and trim of the airframe, built up from its parts or scaled to a measured glide.
// Symbols: S wing area, AR aspect ratio, e span efficiency, W weight, V speed, gamma glide angle.
#include <fmt/format.h>

#include <algorithm>
#include <boost/math/tools/minima.hpp>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>

#include "parts.h"
#include "propwright/base/constants.h"

namespace propwright::brief {
namespace {

// Tails of indoor models are about three times as wide as deep (common practice). The Reynolds
// number of the tail needs no more: its drag goes with the root of the chord.
constexpr double tail_aspect_ratio = 3;

struct Wing {
  double area_m2, aspect_ratio, mean_chord_m;
};

Wing wing_of(const Model& model) {
  const double area_m2 =
      model.wing_area_m2 ? *model.wing_area_m2 : model.wing_span_m * model.wing_chord_m.value_or(0);
  return {area_m2, model.wing_span_m * model.wing_span_m / area_m2, area_m2 / model.wing_span_m};
}

double level_speed_m_s(double mass_kg, double density_kg_m3, double area_m2, double cl) {
  return std::sqrt(2 * mass_kg * base::gravity_m_s2 / (density_kg_m3 * area_m2 * cl));
}

/// CD/CL^1.5, to which the sink rate in a shallow straight glide is proportional.
double sink_factor(const flight::Airframe& airframe, double mass_kg, double density_kg_m3,
                   double cl) {
  const double speed_m_s = level_speed_m_s(mass_kg, density_kg_m3, airframe.wing_area_m2, cl);
  return airframe.drag.cd(cl, speed_m_s) / std::pow(cl, 1.5);
}

double best_endurance_cl(const flight::Airframe& airframe, double mass_kg, double density_kg_m3,
                         double cl_max) {
  const double low = 0.2, high = std::max(0.3, std::min(1.2, 0.9 * cl_max));
  const auto sink = [&](double cl) { return sink_factor(airframe, mass_kg, density_kg_m3, cl); };
  return boost::math::tools::brent_find_minima(sink, low, high, 30).first;
}

/// One pass of the build-up at the speed of an assumed trim; leaves the trim it finds.
void build_up(flight::Airframe& airframe, const Model& model, const Wing& wing,
              const section::Polar& polar, const air::Air& air, double flying_mass_kg) {
  const double speed_m_s =
      level_speed_m_s(flying_mass_kg, air.density_kg_m3, wing.area_m2, airframe.trim_cl);
  const double re_per_m = air.density_kg_m3 * speed_m_s / air.viscosity_Pa_s;
  const SectionDrag section = section_drag(polar, std::log(re_per_m * wing.mean_chord_m));
  flight::DragPolar& drag = airframe.drag;
  drag.profile_cd_min = section.cd_min;
  if (model.tail_area_m2 > 0) {
    const double tail_chord_m = std::sqrt(model.tail_area_m2 / tail_aspect_ratio);
    drag.profile_cd_min += plate_cd(re_per_m * tail_chord_m) * model.tail_area_m2 / wing.area_m2;
  }
  drag.profile_curvature = section.curvature;
  drag.profile_cl_at_min = section.cl_at_min;
  drag.reference_speed_m_s = speed_m_s;
  drag.induced_factor = 1 / (base::pi * wing.aspect_ratio * model.span_efficiency);
  drag.extra_cd = model.body_drag_area_m2 / wing.area_m2;
  airframe.trim_cl = model.trim_lift_coefficient.value_or(
      best_endurance_cl(airframe, flying_mass_kg, air.density_kg_m3, section.cl_max));
}

/// Glide angle of a straight steady glide from its sink rate: w = sqrt(2 W cos(g)/(rho S CL))
/// sin(g) for V = w/sin(g) and L = W cos(g). Rises up to tan(g) = sqrt(2). Problem: no_solution.
base::Expected<double> glide_angle_rad(double sink_m_s, double speed_scale_m_s) {
  const double steepest_rad = std::atan(std::sqrt(2.0));
  const auto off = [&](double g) {
    return speed_scale_m_s * std::sqrt(std::cos(g)) * std::sin(g) - sink_m_s;
  };
  if (off(steepest_rad) <= 0) {
    return base::fail({.kind = base::Kind::no_solution,
                       .field = "model.glide_sink_rate",
                       .value = fmt::format("{:.3f} m/s", sink_m_s),
                       .allowed = fmt::format("below {:.3f} m/s", sink_m_s + off(steepest_rad)),
                       .remedy = "measure it again or check model.mass and the wing",
                       .message = "a model of this weight and wing cannot glide so steeply"});
  }
  std::uintmax_t steps = 100;
  const auto bracket = boost::math::tools::toms748_solve(
      off, 0.0, steepest_rad, boost::math::tools::eps_tolerance<double>(48), steps);
  return (bracket.first + bracket.second) / 2;
}

/// Scales the whole drag so that the glide at the trim sinks as measured; gives the scale.
base::Expected<double> scale_to_glide(flight::Airframe& airframe, double sink_m_s, double mass_kg,
                                      double density_kg_m3) {
  const double cl = airframe.trim_cl;
  const double level_m_s = level_speed_m_s(mass_kg, density_kg_m3, airframe.wing_area_m2, cl);
  const auto angle_rad = glide_angle_rad(sink_m_s, level_m_s);
  if (!angle_rad) return base::fail(angle_rad.error());
  const double speed_m_s = level_m_s * std::sqrt(std::cos(*angle_rad));
  const double scale = cl * std::tan(*angle_rad) / airframe.drag.cd(cl, speed_m_s);
  for (double* part : {&airframe.drag.profile_cd_min, &airframe.drag.profile_curvature,
                       &airframe.drag.induced_factor, &airframe.drag.extra_cd}) {
    *part *= scale;
  }
  return scale;
}

std::vector<std::string> airframe_notes(const flight::Airframe& airframe, const Wing& wing,
                                        const Model& model, const air::Air& air) {
  std::vector<std::string> notes;
  const double speed_m_s = airframe.drag.reference_speed_m_s;
  const double re = air.density_kg_m3 * speed_m_s * wing.mean_chord_m / air.viscosity_Pa_s;
  const section::Family& family = section::Family::thin_arc();
  if (re < family.re_low() || re > family.re_high()) {
    notes.push_back(
        fmt::format("The wing's Reynolds number of {:.0f} lies outside the section "
                    "table ({:.0f} to {:.0f}); its drag follows the trend.",
                    re, family.re_low(), family.re_high()));
  }
  const double lift_over_drag = airframe.trim_cl / airframe.drag.cd(airframe.trim_cl, speed_m_s);
  if (lift_over_drag < 3 || lift_over_drag > 10) {
    notes.push_back(
        fmt::format("Lift over drag of the model comes to {:.1f}; 3 to 10 is usual for "
                    "its kind (judgement). Check wing, tail and body_drag_area, or "
                    "measure glide_sink_rate.",
                    lift_over_drag));
  }
  if (!model.trim_lift_coefficient) {
    notes.push_back(
        fmt::format("Trimmed for best endurance, lift coefficient {:.2f}.", airframe.trim_cl));
  }
  return notes;
}

}  // namespace

double plate_cd(double re) {
  // Laminar friction of Blasius with the trailing-edge correction of triple-deck theory
  // (Stewartson 1969, Messiter 1970; coefficient from memory), one side, doubled.
  return 2 * (1.328 / std::sqrt(re) + 2.67 * std::pow(re, -7.0 / 8.0));
}

SectionDrag section_drag(const section::Polar& polar, double ln_re) {
  const double low_rad = -6 * base::degree_rad, high_rad = polar.stall_onset_rad();
  const auto cd = [&](double alpha_rad) { return polar.at(alpha_rad, ln_re).cd; };
  const auto [alpha_at_min_rad, cd_min] =
      boost::math::tools::brent_find_minima(cd, low_rad, high_rad, 30);
  SectionDrag drag{.cd_min = cd_min, .cl_at_min = polar.at(alpha_at_min_rad, ln_re).cl};
  drag.cl_max = polar.at(high_rad, ln_re).cl;
  double above = 0, below = 0;
  constexpr int samples = 80;
  for (int i = 0; i <= samples; ++i) {
    const double alpha_rad = low_rad + (high_rad - low_rad) * i / samples;
    const section::Coefficients c = polar.at(alpha_rad, ln_re);
    if (c.cl < drag.cl_at_min - 0.3 || c.cl > 0.9) continue;
    const double square = (c.cl - drag.cl_at_min) * (c.cl - drag.cl_at_min);
    above += (c.cd - cd_min) * square;
    below += square * square;
  }
  drag.curvature = below > 0 ? std::max(0.0, above / below) : 0;
  return drag;
}

base::Expected<AirframeBuild> make_airframe(const Model& model, const air::Air& air,
                                            double flying_mass_kg) {
  const Wing wing = wing_of(model);
  AirframeBuild made;
  flight::Airframe& airframe = made.airframe;
  airframe.mass_kg = model.mass_kg;
  airframe.wing_area_m2 = wing.area_m2;
  airframe.circle_radius_m = model.circle_radius_m;
  airframe.trim_cl = model.trim_lift_coefficient.value_or(0.7);
  const section::Polar polar = section::Family::thin_arc().at_camber(model.wing_camber);
  // The speed, and with it the Reynolds number, hangs on the trim found: two passes settle it,
  // because friction goes with the fourth root of the lift coefficient only.
  for (int pass = 0; pass < 2; ++pass) {
    build_up(airframe, model, wing, polar, air, flying_mass_kg);
  }
  if (model.glide_sink_m_s) {
    const auto scale =
        scale_to_glide(airframe, *model.glide_sink_m_s, flying_mass_kg, air.density_kg_m3);
    if (!scale) return base::fail(scale.error());
    made.notes.push_back(
        fmt::format("Drag is scaled by {:.2f} to the glide measured at lift coefficient {:.2f}.",
                    *scale, airframe.trim_cl));
  }
  const auto more = airframe_notes(airframe, wing, model, air);
  made.notes.insert(made.notes.end(), more.begin(), more.end());
  return made;
}

}  // namespace propwright::brief
