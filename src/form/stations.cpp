/// Form stations: what a template, block or gauge must be at each row of the outline.
#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "arc.h"
#include "propwright/form/form.h"

namespace propwright::form {

std::vector<FormStation> form_stations(const Form& form, const std::vector<OutlineRow>& rows) {
  for (const auto* law : {&form.angles_rad, &form.cambers}) {
    if (!law->empty() && law->size() != rows.size()) {
      throw std::invalid_argument("form_stations: as many angles and cambers as rows are needed");
    }
  }
  std::vector<FormStation> stations;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const double radius_m = rows[i].radius_m, chord_m = rows[i].chord_m;
    const double wanted_rad =
        form.angles_rad.empty() ? blade_angle_rad(form.pitch_m, radius_m) : form.angles_rad[i];
    const double angle_rad = form.angle_overbend * wanted_rad;
    const double camber =
        form.camber_overbend * (form.cambers.empty() ? form.camber : form.cambers[i]);
    stations.push_back({.radius_m = radius_m,
                        .chord_m = chord_m,
                        .angle_rad = angle_rad,
                        .pitch_m = local_pitch_m(angle_rad, radius_m),
                        .block_width_m = chord_m * std::cos(angle_rad),
                        .block_height_m = chord_m * std::abs(std::sin(angle_rad)),
                        .camber_height_m = camber * chord_m,
                        .sheet_width_m = arc_length_m(chord_m, camber)});
  }
  return stations;
}

double form_base_height_m(const std::vector<FormStation>& stations,
                          const std::vector<OutlineRow>& rows, double margin_m) {
  if (stations.size() != rows.size()) {
    throw std::invalid_argument("form_base_height_m: as many stations as rows are needed");
  }
  double deepest_m = 0;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const auto& row = rows[i];
    if (row.chord_m <= 0) continue;
    const double sine = std::sin(stations[i].angle_rad), cosine = std::cos(stations[i].angle_rad);
    const double spar_height_m = arc_height_m(
        row.chord_m, stations[i].camber_height_m / row.chord_m, (row.trail_m - row.lead_m) / 2);
    const double below_m = std::max(row.trail_m * sine, -row.lead_m * sine);
    deepest_m = std::max(deepest_m, below_m + spar_height_m * cosine);
  }
  return margin_m + deepest_m;
}

}  // namespace propwright::form
