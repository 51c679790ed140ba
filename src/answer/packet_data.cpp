#include "packet_data.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "propwright/base/constants.h"

namespace propwright::answer {
namespace {

using D = units::Dimension;

const std::string& first_of(const std::string& a, const std::string& b) {
  return a.empty() ? b : a;
}

void add_job(const Prediction& prediction, sheet::PacketData& data) {
  const brief::Job& job = prediction.loaded.job;
  data.job = {.design = first_of(job.propeller.name, job.info.name),
              .version = job.info.version,
              .model = first_of(job.model.name, job.info.name),
              .hall = first_of(job.hall.name, "the hall"),
              .roof_m = job.hall.roof_height_m};
}

void add_headline(const Prediction& prediction, sheet::PacketData& data) {
  const flight::Flight& flight = prediction.nominal.flight;
  data.headline.duration_s = flight.duration_s;
  data.headline.bound_s = prediction.nominal.bound_s;
  data.headline.top_height_m = flight.top_height_m;
  data.headline.top_time_s = flight.top_time_s;
  data.headline.turns_left = flight.turns_left;
  data.headline.sentence = after_duration(prediction);
  if (!prediction.spread) return;
  data.headline.sigma_s = prediction.spread->sigma_s;
  data.headline.low_s = prediction.spread->duration_s[0];
  data.headline.high_s = prediction.spread->duration_s[2];
}

void add_propeller(const Prediction& prediction, sheet::PacketData& data) {
  const brief::Job& job = prediction.loaded.job;
  const brief::Assembly& a = prediction.nominal.assembly;
  double widest_m = 0;
  for (const form::OutlineRow& row : a.outline) widest_m = std::max(widest_m, row.chord_m);
  data.propeller = {
      .diameter_m = 2 * a.blade.tip_radius_m,
      .blades = a.blade.blades,
      .hand = a.form.hand,
      .kind = job.propeller.build.kind == brief::BladeKind::sheet ? "sheet" : "built-up",
      .form_pitch_m = on_helical_form(job.propeller) ? a.form.pitch_m : 0,
      .set_pitch_m = a.set_pitch_m,
      .gauge_radius_m = a.gauge_radius_m,
      .gauge_angle_rad = a.gauge_angle_rad,
      .turn_rad = a.reset_turn_rad,
      .radius_45_m = a.radius_45_m,
      .widest_chord_m = widest_m,
      .camber = job.propeller.camber,
      .mass_kg = a.propeller_mass_kg};
}

void add_flight(const Prediction& prediction, sheet::PacketData& data) {
  for (const flight::Instant& at : prediction.nominal.flight.history) {
    for (auto* series : {&data.flight.height_m, &data.flight.rev_per_s, &data.flight.torque_Nm}) {
      series->x.push_back(at.time_s);
    }
    data.flight.height_m.y.push_back(at.height_m);
    data.flight.rev_per_s.y.push_back(at.rev_per_s);
    data.flight.torque_Nm.y.push_back(at.torque_Nm);
  }
  if (!prediction.spread) return;
  data.flight.band_time_s = prediction.spread->band_time_s;
  data.flight.band_low_m = prediction.spread->band_low_m;
  data.flight.band_high_m = prediction.spread->band_high_m;
}

sheet::EnergyOwner owner_of(const std::string& key) {
  using Owner = sheet::EnergyOwner;
  if (key == "induced" || key == "profile") return Owner::propeller;
  if (key == "airframe" || key == "height" || key == "kinetic") return Owner::airframe;
  if (key == "shaft_friction" || key == "ceiling") return Owner::other;
  return Owner::motor;
}

void add_energy(const Prediction& prediction, sheet::PacketData& data) {
  for (const LedgerLine& line : ledger(prediction.nominal.flight.energy)) {
    if (!worth_telling(line, prediction.nominal.flight.energy)) continue;
    data.energy.push_back({line.label, line.energy_J, owner_of(line.key)});
  }
}

std::vector<std::string> assumptions(const Prediction& prediction) {
  const brief::Job& job = prediction.loaded.job;
  const brief::Assembly& a = prediction.nominal.assembly;
  const units::Profile profile = prediction.loaded.profile();
  const auto text = [&](double si, D dimension) { return units::to_text(si, dimension, profile); };
  std::vector<std::string> all{
      fmt::format("Air at {} and {}, {}.", text(a.air.temperature_K, D::temperature),
                  text(a.air.pressure_Pa, D::pressure), text(a.air.density_kg_m3, D::density))};
  // A trim that was worked out is in the notes already.
  if (job.model.trim_lift_coefficient) {
    all.push_back(fmt::format("Trim lift coefficient {:.2f}.", a.airframe.trim_cl));
  }
  if (a.airframe.circle_radius_m <= 0) all.push_back("Straight flight, no circle.");
  return all;
}

}  // namespace

BladeLaw::BladeLaw(const brief::Assembly& assembly) {
  std::vector<double> r, chord, lead, angle, camber;
  for (const form::OutlineRow& row : assembly.outline) {
    r.push_back(row.radius_m);
    chord.push_back(row.chord_m);
    lead.push_back(row.lead_m);
  }
  chord_ = base::MonotoneCurve::through(r, std::move(chord)).value();
  lead_ = base::MonotoneCurve::through(std::move(r), std::move(lead)).value();
  r.clear();
  for (const rotor::BladeRow& row : assembly.blade.rows) {
    r.push_back(row.radius_m);
    angle.push_back(row.angle_rad);
    camber.push_back(row.camber);
  }
  angle_ = base::MonotoneCurve::through(r, std::move(angle)).value();
  camber_ = base::MonotoneCurve::through(std::move(r), std::move(camber)).value();
}

form::OutlineRow BladeLaw::outline(double radius_m) const {
  const double chord_m = chord_.value(radius_m), lead_m = lead_.value(radius_m);
  return {radius_m, chord_m, lead_m, chord_m - lead_m};
}

bool on_helical_form(const brief::Propeller& propeller) {
  return propeller.source == brief::BladeSource::pitch || propeller.form_pitch_m.has_value();
}

sheet::PacketData packet_data(const Prediction& prediction) {
  sheet::PacketData data;
  add_job(prediction, data);
  add_headline(prediction, data);
  add_propeller(prediction, data);
  add_flight(prediction, data);
  add_energy(prediction, data);
  add_rotor(prediction, data);
  add_stations(prediction, data);
  add_build(prediction, data);
  add_winding(prediction, data);
  data.warnings = prediction.warnings;
  if (!prediction.loaded.job.info.note.empty())
    data.notes.push_back(prediction.loaded.job.info.note);
  for (const std::string& note : prediction.nominal.assembly.notes) data.notes.push_back(note);
  data.assumptions = assumptions(prediction);
  return data;
}

}  // namespace propwright::answer
