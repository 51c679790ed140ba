#include "propwright/answer/form_answer.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "packet_data.h"
#include "propwright/base/constants.h"
#include "propwright/base/monotone_curve.h"
#include "propwright/brief/assemble.h"
#include "propwright/form/pattern_template.h"
#include "propwright/form/surface.h"

namespace propwright::answer {
namespace {

constexpr double foot_m = 0.006;  // paper under the lowest edge of a form station

/// The form at these rows: the helix it is made to, or the blade's own angles.
form::Form form_at(const brief::Assembly& assembly, bool helical, const BladeLaw& law,
                   const std::vector<form::OutlineRow>& rows) {
  form::Form form = assembly.form;
  form.angles_rad.clear();
  if (helical) return form;
  for (const form::OutlineRow& row : rows) form.angles_rad.push_back(law.angle_rad(row.radius_m));
  return form;
}

void add_station_drawings(const brief::Assembly& assembly, const form::Form& form,
                          const std::vector<form::OutlineRow>& rows, FormAnswer& answer) {
  const double base_m = form::form_base_height_m(answer.stations, rows, foot_m);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (rows[i].chord_m <= 0) continue;
    answer.drawings.push_back(form::station_template(answer.stations[i], rows[i],
                                                     form.camber * form.camber_overbend,
                                                     assembly.form.hand, base_m));
  }
}

base::Expected<void> add_cylinder(const brief::Assembly& assembly,
                                  const brief::Propeller& propeller, const form::Surface& surface,
                                  const FormOptions& options, FormAnswer& answer) {
  const double radius_m = *options.cylinder_diameter_m / 2;
  if (propeller.build.kind == brief::BladeKind::sheet) {
    const auto bends =
        form::check_bend(radius_m, propeller.build.sheet_thickness_m, options.limit.strain);
    if (!bends) return tl::unexpected(bends.error());
  }
  std::vector<form::WantedStation> wanted;
  for (const form::FormStation& s : answer.stations) {
    wanted.push_back({s.radius_m, s.chord_m, s.angle_rad, s.chord_m * s.radius_m * s.radius_m});
  }
  const auto fit = form::fit_cylinder(radius_m, wanted);
  if (!fit) return tl::unexpected(fit.error());
  answer.cylinder = *fit;
  if (answer.form_pitch_m <= 0) {
    answer.notes.push_back("No layout line: it needs a form of one pitch.");
    return {};
  }
  const auto line =
      form::layout_line(radius_m, surface.root_m(), surface.tip_m(), answer.form_pitch_m);
  if (line) {
    answer.drawings.push_back(form::layout_line_template(*line, radius_m, assembly.form.hand));
  } else {
    answer.notes.push_back("No layout line: " + line.error().front().message + ".");
  }
  return {};
}

/// Largest strain of the triangles that begin at each station and reach the next.
std::vector<double> strain_by_station(const form::FlatPattern& pattern) {
  std::vector<double> strain(pattern.stations.size(), 0);
  for (std::size_t i = 0; i < pattern.triangles.size(); ++i) {
    const auto& [a, b, c] = pattern.triangles[i];
    const double along =
        (pattern.flat[a].along_m + pattern.flat[b].along_m + pattern.flat[c].along_m) / 3;
    const auto next = std::upper_bound(
        pattern.stations.begin(), pattern.stations.end(), along,
        [](double x, const form::PatternStation& s) { return x < s.spar.along_m; });
    const auto at =
        static_cast<std::size_t>(std::max<std::ptrdiff_t>(0, next - pattern.stations.begin() - 1));
    const form::Stretch& stretch = pattern.stretch[i];
    strain[at] = std::max({strain[at], stretch.largest - 1, 1 - stretch.smallest});
  }
  return strain;
}

}  // namespace

base::Expected<FormAnswer> form_answer(const LoadedJob& loaded, const FormOptions& options) {
  const auto assembly = brief::assemble(loaded.job, loaded.attachments);
  if (!assembly) return tl::unexpected(in_file(assembly.error(), loaded.path));
  const brief::Propeller& propeller = loaded.job.propeller;
  const bool helical = on_helical_form(propeller);
  const BladeLaw law(*assembly);

  FormAnswer answer;
  answer.hand = assembly->form.hand;
  answer.form_pitch_m = helical ? assembly->form.pitch_m : 0;
  answer.radius_45_m = helical ? form::radius_45deg_m(assembly->form.pitch_m) : 0;
  answer.reset_turn_rad = assembly->reset_turn_rad;
  answer.set_pitch_m = assembly->set_pitch_m;
  answer.gauge_radius_m = assembly->gauge_radius_m;
  answer.gauge_angle_rad = assembly->gauge_angle_rad;
  answer.drawings.push_back(
      form::outline_template(assembly->outline, answer.radius_45_m, answer.hand));

  std::vector<form::OutlineRow> rows;
  for (const double r :
       station_radii_m(law.root_m(), law.tip_m(), answer.radius_45_m, loaded.profile())) {
    rows.push_back(law.outline(r));
  }
  const form::Form form = form_at(*assembly, helical, law, rows);
  answer.stations = form::form_stations(form, rows);
  add_station_drawings(*assembly, form, rows, answer);

  const form::Form whole = form_at(*assembly, helical, law, assembly->outline);
  const auto surface = form::Surface::make(form::surface_rows(whole, assembly->outline),
                                           answer.hand, form::Lay::helical);
  if (!surface) return tl::unexpected(in_file(surface.error(), loaded.path));
  auto pattern = form::flat_pattern(*surface, {.limit = options.limit});
  if (!pattern) return tl::unexpected(in_file(pattern.error(), loaded.path));
  answer.pattern = std::move(*pattern);
  answer.drawings.push_back(form::pattern_template(answer.pattern));
  if (!answer.pattern.within_limit) {
    answer.notes.push_back(
        fmt::format("The sheet would be strained by {:.1f} %, more than the {:.1f} % set as its "
                    "limit: use less camber, a narrower blade, or edge-glued strips.",
                    100 * std::max(answer.pattern.worst_stretch, answer.pattern.worst_squeeze),
                    100 * options.limit.strain));
  }
  if (options.cylinder_diameter_m) {
    const auto added = add_cylinder(*assembly, propeller, *surface, options, answer);
    if (!added) return tl::unexpected(in_file(added.error(), loaded.path));
  }
  return answer;
}

std::vector<PatternRow> pattern_rows(const form::FlatPattern& pattern) {
  std::vector<double> lead_along, lead, trail_along, trail;
  const auto add = [](std::vector<double>& along, std::vector<double>& across,
                      const form::FlatPoint& point) {
    if (!along.empty() && point.along_m <= along.back()) return;
    along.push_back(point.along_m);
    across.push_back(std::abs(point.across_m));
  };
  for (const form::PatternStation& s : pattern.stations) {
    add(lead_along, lead, s.lead);
    add(trail_along, trail, s.trail);
  }
  const auto lead_at = base::MonotoneCurve::through(lead_along, lead).value();
  const auto trail_at = base::MonotoneCurve::through(trail_along, trail).value();
  const std::vector<double> strain = strain_by_station(pattern);
  std::vector<PatternRow> rows;
  for (std::size_t i = 0; i < pattern.stations.size(); ++i) {
    const double along = pattern.stations[i].spar.along_m;
    rows.push_back({along, lead_at.value(along), trail_at.value(along), strain[i]});
  }
  return rows;
}

ResetAnswer reset_answer(double form_pitch_m, double set_pitch_m, double gauge_radius_m,
                         const std::vector<double>& radii_m) {
  const form::Reset reset = form::reset_turn(form_pitch_m, set_pitch_m, gauge_radius_m);
  ResetAnswer answer{form_pitch_m, reset.turn_rad, gauge_radius_m, {}};
  for (const double radius_m : radii_m) {
    const double angle = form::reset_angle_rad(form_pitch_m, reset, radius_m);
    answer.rows.push_back({radius_m, angle, form::local_pitch_m(angle, radius_m)});
  }
  return answer;
}

}  // namespace propwright::answer
