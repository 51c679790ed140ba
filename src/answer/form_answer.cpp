#include "propwright/answer/form_answer.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "form_parts.h"
#include "propwright/base/constants.h"
#include "propwright/base/monotone_curve.h"
#include "propwright/brief/assemble.h"
#include "propwright/form/pattern_template.h"

namespace propwright::answer {
namespace {

/// The form at these rows: the helix it is made to or the blade's own angles, and its cambers.
form::Form form_at(const brief::Assembly& assembly, bool helical, const BladeLaw& law,
                   const std::vector<form::OutlineRow>& rows) {
  form::Form form = assembly.form;
  form.angles_rad.clear();
  form.cambers.clear();
  for (const form::OutlineRow& row : rows) {
    if (!helical) form.angles_rad.push_back(law.angle_rad(row.radius_m));
    form.cambers.push_back(law.camber(row.radius_m));
  }
  return form;
}

const std::string& first_name(const std::string& a, const std::string& b) {
  return a.empty() ? b : a;
}

void add_facts(const FormWork& work, FormAnswer& answer) {
  const brief::Job& job = work.loaded.job;
  const brief::Assembly& a = work.assembly;
  answer.job = {.design = first_name(job.propeller.name, job.info.name),
                .version = job.info.version,
                .model = first_name(job.model.name, job.info.name),
                .hall = first_name(job.hall.name, "the hall"),
                .roof_m = job.hall.roof_height_m};
  answer.profile = work.loaded.profile();
  answer.hand = a.form.hand;
  answer.blades = a.blade.blades;
  answer.outline = form::outline_template(a.outline, a.radius_45_m, a.form.hand);
  answer.form_pitch_m = work.helical ? a.form.pitch_m : 0;
  answer.radius_45_m = work.helical ? form::radius_45deg_m(a.form.pitch_m) : 0;
  answer.reset_turn_rad = a.reset_turn_rad;
  answer.set_pitch_m = a.set_pitch_m;
  answer.gauge_radius_m = a.gauge_radius_m;
  answer.gauge_angle_rad = a.gauge_angle_rad;
  answer.set_radius_45_m = a.radius_45_m;
  answer.strain_limit = work.options.limit.strain;
  // A model that does not fly has no flying pitch; its form can be made all the same.
  const auto flown = predict::predict(job, work.loaded.attachments);
  if (flown && flown->flight.cruise_rev_per_s > 0) {
    answer.flying_pitch_m = flown->flight.cruise_speed_m_s / flown->flight.cruise_rev_per_s;
  }
}

/// Round radii, root and tip, the 45-degree stations of the form and of the set blade.
std::vector<double> row_radii_m(const FormWork& work, const FormAnswer& answer) {
  std::vector<double> radii =
      station_radii_m(work.law.root_m(), work.law.tip_m(), answer.set_radius_45_m, answer.profile);
  // Two stations a millimetre apart could not both stand on the form.
  const auto beside = [&](double r) {
    return std::any_of(radii.begin(), radii.end(),
                       [r](double each) { return std::abs(each - r) < 0.001; });
  };
  const double r45 = answer.radius_45_m;
  if (r45 > work.law.root_m() && r45 < work.law.tip_m() && !beside(r45)) radii.push_back(r45);
  std::sort(radii.begin(), radii.end());
  return radii;
}

void add_stations_of(const FormWork& work, FormAnswer& answer) {
  const auto stations = form::form_stations(work.form, work.rows);
  for (std::size_t i = 0; i < stations.size(); ++i) {
    const double radius = stations[i].radius_m, set = work.law.angle_rad(radius);
    answer.stations.push_back({.form = stations[i],
                               .camber = work.form.camber_overbend * work.form.cambers[i],
                               .set_angle_rad = set,
                               .set_pitch_m = form::local_pitch_m(set, radius),
                               .pitch_per_degree = form::pitch_error_per_degree(set),
                               .at_45 = std::abs(radius - answer.set_radius_45_m) < 1e-6});
  }
}

base::Expected<void> add_surfaces(const FormWork& work, FormAnswer& answer) {
  const auto& outline = work.assembly.outline;
  const form::Form whole = form_at(work.assembly, work.helical, work.law, outline);
  const auto rows = form::surface_rows(whole, outline);
  auto helical = form::Surface::make(rows, answer.hand, form::Lay::helical);
  if (!helical) return tl::unexpected(helical.error());
  answer.surface = std::move(*helical);
  answer.across = form::Surface::make(rows, answer.hand, form::Lay::across).value();
  return {};
}

base::Expected<void> add_pattern(const FormWork& work, FormAnswer& answer) {
  auto pattern = form::flat_pattern(answer.surface, {.limit = work.options.limit});
  if (!pattern) return tl::unexpected(pattern.error());
  answer.pattern = std::move(*pattern);
  auto& group = form_group(
      answer, "blade", "Blade",
      "The flat pattern that the sheet is cut to before it is wetted and bent; dashed, the plain "
      "pattern of arc lengths. Cut all blades alike, from one sheet.",
      {sheet::Hazard::knife, sheet::Hazard::dust});
  group.drawings.push_back(form::pattern_template(answer.pattern));
  if (!answer.pattern.within_limit) {
    answer.notes.push_back(
        fmt::format("The sheet would be strained by {:.1f} %, more than the {:.1f} % set as its "
                    "limit: use less camber, a narrower blade, or edge-glued strips.",
                    100 * std::max(answer.pattern.worst_stretch, answer.pattern.worst_squeeze),
                    100 * work.options.limit.strain));
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
  const BladeLaw law(*assembly);
  FormWork work{loaded, *assembly, law, options, on_helical_form(loaded.job.propeller), {}, {}};
  FormAnswer answer;
  add_facts(work, answer);
  for (const double r : row_radii_m(work, answer)) work.rows.push_back(law.outline(r));
  work.form = form_at(*assembly, work.helical, law, work.rows);
  add_stations_of(work, answer);
  using Step = base::Expected<void> (*)(const FormWork&, FormAnswer&);
  const Step steps[] = {add_surfaces, add_pattern, add_form_kinds, add_built_up, add_gauges};
  for (const Step step : steps) {
    if (const auto done = step(work, answer); !done) {
      return tl::unexpected(in_file(done.error(), loaded.path));
    }
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

std::vector<double> usual_reset_radii_m(double gauge_radius_m) {
  std::vector<double> radii;
  for (int quarter = 1; quarter <= 7; ++quarter) radii.push_back(gauge_radius_m * quarter / 4);
  return radii;
}

}  // namespace propwright::answer
