/// A packet of plausible invented numbers for a 360 mm propeller; nothing here is a prediction.
#pragma once

#include <algorithm>
#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/form/form.h"
#include "propwright/sheet/packet.h"

namespace propwright::sheet::demo {

inline constexpr double form_pitch_m = 0.640, set_pitch_m = 0.700, gauge_radius_m = 0.110;
inline constexpr double camber = 0.06;
inline constexpr form::Hand hand = form::Hand::anticlockwise;

inline std::vector<form::OutlineRow> rows_of(double tip_radius_m, double widest_chord_m,
                                             int count) {
  form::OutlineShape shape;
  shape.tip_radius_m = tip_radius_m;
  shape.root_radius_m = 0.17 * tip_radius_m;
  shape.widest_chord_m = widest_chord_m;
  shape.root_chord_m = 0.4 * widest_chord_m;
  return form::outline(shape, count).value();
}

inline void fill_facts(PacketData& data) {
  data.job = {"P14", 3, "Lantern 46", "the tram shed", 8.5};
  data.headline = {.duration_s = 783,
                   .sigma_s = 31,
                   .low_s = 730,
                   .high_s = 838,
                   .bound_s = 948,
                   .top_height_m = 8.1,
                   .top_time_s = 289,
                   .turns_left = 275,
                   .sentence = ""};
  const auto turn = form::reset_turn(form_pitch_m, set_pitch_m, gauge_radius_m);
  data.propeller = {.diameter_m = 0.36,
                    .blades = 2,
                    .hand = hand,
                    .kind = "built-up",
                    .form_pitch_m = form_pitch_m,
                    .set_pitch_m = set_pitch_m,
                    .gauge_radius_m = gauge_radius_m,
                    .gauge_angle_rad = form::blade_angle_rad(set_pitch_m, gauge_radius_m),
                    .turn_rad = turn.turn_rad,
                    .radius_45_m = 0.1117,
                    .widest_chord_m = 0.056,
                    .camber = camber,
                    .mass_kg = 390e-6};
  data.motor = {.rubber = "May batch",
                .strip_width_m = 0.00183,
                .strip_thickness_m = 0.00104,
                .strands = 2,
                .loop_length_m = 0.344,
                .mass_kg = 1.25e-3,
                .breaking_turns = 2180,
                .wind_turns = 1960,
                .wind_torque_Nm = 2.1e-3,
                .backed_off_turns = 200,
                .launch_turns = 1760,
                .launch_torque_Nm = 1.19e-3,
                .wait_s = 60};
}

/// Torque over the share of breaking turns: a steep start, a long shelf, a steep end.
inline double torque_Nm(double x) {
  return 2.6e-3 * (0.26 * (1 - std::exp(-x / 0.05)) + 0.1 * x + 0.64 * std::pow(x, 7));
}

inline void fill_curves(PacketData& data) {
  FlightCurves& flight = data.flight;
  for (int i = 0; i <= 80; ++i) {
    const double share = i / 80.0, t = 783 * share;
    const double rise = share < 0.37 ? std::sin(base::pi / 2 * std::pow(share / 0.37, 0.75))
                                     : 1 - std::pow((share - 0.37) / 0.63, 1.8);
    flight.height_m.x.push_back(t);
    flight.height_m.y.push_back(share < 0.37 ? 1.5 + 6.6 * rise : 8.1 * rise);
    const double turns = 1760 - (1760 - 275) * share;
    flight.torque_Nm.x.push_back(t);
    flight.torque_Nm.y.push_back(torque_Nm(turns / 2180));
    flight.rev_per_s.x.push_back(t);
    flight.rev_per_s.y.push_back(1.6 + 0.9 * std::exp(-share / 0.15));
    flight.band_time_s.push_back(t * 838 / 783);
    flight.band_low_m.push_back(std::max(0.0, flight.height_m.y.back() - 1.2 * share));
    flight.band_high_m.push_back(std::min(8.5, flight.height_m.y.back() + 0.5 * share));
  }
  for (int i = 0; i <= 60; ++i) {
    const double x = i / 60.0;
    data.winding.unwinding_Nm.x.push_back(2180 * x);
    data.winding.unwinding_Nm.y.push_back(torque_Nm(x));
    data.winding.winding_Nm.x.push_back(2180 * x);
    data.winding.winding_Nm.y.push_back(1.12 * torque_Nm(x));
  }
  for (const double off : {100.0, 150.0, 200.0, 250.0, 300.0, 400.0}) {
    data.winding.back_off.push_back(
        {off, 1960 - off, torque_Nm((1960 - off) / 2180), 9.4 - 0.0065 * off, 812 - 0.15 * off});
  }
  data.energy = {{"not wound", 1.9, EnergyOwner::motor},
                 {"backed off", 3.1, EnergyOwner::motor},
                 {"left in the motor", 0.9, EnergyOwner::motor},
                 {"lost while waiting", 0.2, EnergyOwner::motor},
                 {"shaft friction", 0.14, EnergyOwner::other},
                 {"propeller, induced", 1.1, EnergyOwner::propeller},
                 {"propeller, profile", 1.3, EnergyOwner::propeller},
                 {"airframe drag", 5.2, EnergyOwner::airframe},
                 {"height at launch", -0.06, EnergyOwner::airframe}};
}

inline void fill_rotor(PacketData& data) {
  RotorCurves& rotor = data.rotor;
  for (int i = 0; i <= 60; ++i) {
    const double j = 2.4 * i / 60;
    rotor.efficiency.x.push_back(j);
    rotor.efficiency.y.push_back(0.78 * std::sin(base::pi * std::pow(j / 2.2, 1.3)));
    const double rev_per_s = 0.8 + 2.2 * i / 60;
    rotor.torque_Nm.x.push_back(rev_per_s);
    rotor.torque_Nm.y.push_back(std::max(0.0, 0.32e-3 * (rev_per_s * rev_per_s - 0.8)));
  }
  rotor.flown_low = 1.05;
  rotor.flown_high = 1.62;
  rotor.speed_m_s = 1.02;
  const auto condition = [&](const std::string& name, double j, double rev, double alpha_deg) {
    Condition at{name,
                 j,
                 0.78 * std::sin(base::pi * std::pow(j / 2.2, 1.3)),
                 rev,
                 0.32e-3 * (rev * rev - 0.8),
                 {}};
    for (int i = 0; i <= 30; ++i) {
      const double r = 0.031 + 0.149 * i / 30;
      at.alpha_rad.x.push_back(r);
      at.alpha_rad.y.push_back((alpha_deg + 30 * (0.1 - r) - 2e-3 / (0.19 - r) * 0.5) *
                               base::degree_rad);
    }
    rotor.conditions.push_back(at);
  };
  condition("launch", 1.1, 2.13, 9);
  condition("cruise", 1.45, 1.72, 5.5);
  condition("let-down", 1.58, 1.55, 4);
}

inline void fill_build(PacketData& data) {
  std::vector<double> radii_m{0.031};
  for (double r = 0.045; r < 0.17; r += 0.015) radii_m.push_back(r);
  radii_m.push_back(0.1117);
  std::sort(radii_m.begin(), radii_m.end());
  form::OutlineShape shape;
  shape.tip_radius_m = 0.18;
  shape.root_radius_m = 0.031;
  shape.widest_chord_m = 0.056;
  shape.root_chord_m = 0.022;
  std::vector<double> chords_m;
  for (const double r : radii_m) chords_m.push_back(form::outline_chord_m(shape, r));
  const auto rows = form::outline_from_chords(radii_m, chords_m, 0.4);
  form::Form made;
  made.pitch_m = form_pitch_m;
  made.camber = camber;
  made.hand = hand;
  const auto stations = form::form_stations(made, rows);
  const double base_m = form::form_base_height_m(stations, rows, 0.006);
  const form::Reset turn{data.propeller.turn_rad};
  int number = 0;
  for (std::size_t i = 0; i < stations.size(); ++i) {
    const auto& s = stations[i];
    const double angle = form::reset_angle_rad(form_pitch_m, turn, s.radius_m);
    data.stations.push_back({s.radius_m, s.chord_m, angle, form::local_pitch_m(angle, s.radius_m),
                             angle, s.angle_rad, s.block_height_m, s.block_width_m,
                             s.camber_height_m, s.sheet_width_m, rows[i].lead_m, rows[i].trail_m});
    data.form_stations.push_back(
        {form::station_template(s, rows[i], camber, hand, base_m), s.radius_m, s.angle_rad});
    data.ribs.push_back({form::rib_template(rows[i], camber, 0.0012, ++number), s.radius_m, 0});
  }
  data.outline = form::outline_template(rows_of(0.18, 0.056, 60), 0.1117, hand);
  data.outline_notes = {"Sheet 0.6 mm, 80 to 90 kg/m³; the pair within 2 mg.",
                        "Grain along the spar line."};
  for (int i = 0; i <= 8; ++i) {
    const double along = i < 8 ? 0.02 * i : 0.149;
    data.spar.rows.push_back({along, 0.0019 - 0.0075 * along, 0.0017 - 0.0070 * along});
  }
  data.spar.density_kg_m3 = 90;
  data.spar.mass_kg = 27e-6;
  data.spar.cut_list = {{"spar blank", 2, 0.149, 0.0019, 0.0017, 54e-6},
                        {"outline strip", 4, 0.170, 0.0006, 0.0006, 22e-6},
                        {"rib, from sheet", 22, 0.056, 0.0012, 0.0006, 48e-6}};
  data.weights = {{"blades, two", 210e-6},
                  {"spars, two", 54e-6},
                  {"film", 38e-6},
                  {"hub tubes", 40e-6},
                  {"shaft", 48e-6}};
}

inline PacketData packet() {
  PacketData data;
  fill_facts(data);
  fill_curves(data);
  fill_rotor(data);
  fill_build(data);
  data.warnings = {"Launch torque is 4 % above what the stick has borne in tests."};
  data.notes = {"Rubber is the default strip: a bench test of your own batch halves the doubt.",
                "The form is over-bent by nothing: enter the springback once it is measured."};
  data.assumptions = {"Air 20 °C, 1013 hPa, half humid.",
                      "Trim lift coefficient 0.62, the best endurance of the drag polar."};
  return data;
}

inline PacketOptions options() {
  PacketOptions chosen;
  chosen.date = "2026-11-25";
  return chosen;
}

}  // namespace propwright::sheet::demo
