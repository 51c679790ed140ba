// The station table, the outline, the templates of form and ribs.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "packet_data.h"

namespace propwright::answer {
namespace {

using D = units::Dimension;

constexpr double inch_m = 0.0254;
constexpr std::size_t most_station_rows = 12;
constexpr double base_margin_m = 0.006;  // paper under the lowest edge of a form station

/// The form of one station: the helix, or the blade's own angle.
form::FormStation form_station(const Prediction& prediction, const BladeLaw& law,
                               const form::OutlineRow& row) {
  form::Form form = prediction.nominal.assembly.form;
  form.camber = law.camber(row.radius_m);
  form.angles_rad.clear();
  if (!on_helical_form(prediction.loaded.job.propeller)) {
    form.angles_rad = {law.angle_rad(row.radius_m)};
  }
  return form::form_stations(form, {row}).front();
}

sheet::StationRow table_row(const BladeLaw& law, const form::OutlineRow& row,
                            const form::FormStation& formed) {
  const double angle = law.angle_rad(row.radius_m);
  return {.radius_m = row.radius_m,
          .chord_m = row.chord_m,
          .angle_rad = angle,
          .pitch_m = form::local_pitch_m(angle, row.radius_m),
          .gauge_angle_rad = angle,
          .form_angle_rad = formed.angle_rad,
          .block_height_m = formed.block_height_m,
          .block_width_m = formed.block_width_m,
          .camber_height_m = formed.camber_height_m,
          .sheet_width_m = formed.sheet_width_m,
          .lead_m = row.lead_m,
          .trail_m = row.trail_m};
}

void add_rib_templates(const Prediction& prediction, const BladeLaw& law, sheet::PacketData& data) {
  const brief::BladeBuild& build = prediction.loaded.job.propeller.build;
  if (build.kind != brief::BladeKind::built_up) return;
  for (int i = 1; i <= build.rib_count; ++i) {
    const double radius_m = law.root_m() + (law.tip_m() - law.root_m()) * i / (build.rib_count + 1);
    data.ribs.push_back(
        {form::rib_template(law.outline(radius_m), law.camber(radius_m), build.rib_depth_m, i),
         radius_m, 0});
  }
}

std::vector<std::string> outline_notes(const Prediction& prediction) {
  const brief::BladeBuild& build = prediction.loaded.job.propeller.build;
  const auto text = [&](double si, D dimension) {
    return units::to_text(si, dimension, prediction.loaded.profile());
  };
  const std::string wood = text(build.wood_density_kg_m3, D::density);
  if (build.kind == brief::BladeKind::sheet) {
    return {fmt::format("Sheet {}, wood of {}; cut all blades from one sheet.",
                        text(build.sheet_thickness_m, D::length), wood),
            "Grain along the spar line."};
  }
  return {fmt::format("Outline strip {} square, wood of {}; {} ribs {} deep in each blade.",
                      text(build.outline_size_m, D::length), wood, build.rib_count,
                      text(build.rib_depth_m, D::length))};
}

/// Steps a rule is divided in.
const std::vector<double>& round_steps_m(units::Profile profile) {
  static const std::vector<double> metric{0.005, 0.010, 0.015, 0.020, 0.025, 0.030, 0.050, 0.100};
  static const std::vector<double> inch{0.25 * inch_m, 0.5 * inch_m, inch_m, 2 * inch_m,
                                        4 * inch_m};
  return profile == units::Profile::inch ? inch : metric;
}

}  // namespace

std::vector<double> station_radii_m(double root_m, double tip_m, double radius_45_m,
                                    units::Profile profile) {
  const auto& steps = round_steps_m(profile);
  const auto enough = std::find_if(steps.begin(), steps.end(), [&](double step_m) {
    return (tip_m - root_m) / step_m <= static_cast<double>(most_station_rows);
  });
  const double step_m = enough == steps.end() ? steps.back() : *enough;
  const bool has_45 = radius_45_m > root_m && radius_45_m < tip_m;
  std::vector<double> all{root_m, tip_m};
  if (has_45) all.push_back(radius_45_m);
  for (int i = static_cast<int>(std::ceil(root_m / step_m)); i * step_m < tip_m; ++i) {
    const double radius_m = i * step_m;
    const bool beside_end = radius_m - root_m < 0.2 * step_m || tip_m - radius_m < 0.2 * step_m;
    // Two templates a millimetre apart could not both stand on the form.
    const bool beside_45 = has_45 && std::abs(radius_m - radius_45_m) < 0.001;
    if (!beside_end && !beside_45) all.push_back(radius_m);
  }
  std::sort(all.begin(), all.end());
  return all;
}

void add_stations(const Prediction& prediction, sheet::PacketData& data) {
  const brief::Assembly& a = prediction.nominal.assembly;
  const units::Profile profile = prediction.loaded.profile();
  const BladeLaw law(a);
  std::vector<form::OutlineRow> rows;
  std::vector<form::FormStation> formed;
  for (const double r : station_radii_m(law.root_m(), law.tip_m(), a.radius_45_m, profile)) {
    rows.push_back(law.outline(r));
    formed.push_back(form_station(prediction, law, rows.back()));
    data.stations.push_back(table_row(law, rows.back(), formed.back()));
  }
  const double base_m = form::form_base_height_m(formed, rows, base_margin_m);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (rows[i].chord_m <= 0) continue;
    const double camber = a.form.camber_overbend * law.camber(rows[i].radius_m);
    data.form_stations.push_back(
        {form::station_template(formed[i], rows[i], camber, a.form.hand, base_m), rows[i].radius_m,
         formed[i].angle_rad});
  }
  const double tick_m =
      profile == units::Profile::inch ? (law.tip_m() > 0.16 ? inch_m / 2 : inch_m / 4) : 0;
  data.outline = form::outline_template(a.outline, a.radius_45_m, a.form.hand, tick_m);
  data.outline_notes = outline_notes(prediction);
  add_rib_templates(prediction, law, data);
}

}  // namespace propwright::answer
