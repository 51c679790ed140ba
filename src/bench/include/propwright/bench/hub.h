/// The hub: what it weighs, whether the root fits, and what each fault of alignment does in flight.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/base/constants.h"
#include "propwright/bench/figure.h"

namespace propwright::bench {

/// All optional: what was not measured is said to be missing, not guessed.
struct HubReading {
  std::optional<double> bore_m = {}, root_circle_m = {};  ///< tube, and the root's circle (tube.h)
  std::optional<double> wire_diameter_m = {}, wire_length_m = {};
  std::optional<double> bearing_hole_m = {};
  std::optional<double> washer_radius_m = {};  ///< mean of the rubbing ring
  int washers = 0;
  double washer_mass_kg = 0;  ///< each
  double tubes_mass_kg = 0, glue_mass_kg = 0;
  std::optional<double> weighed_mass_kg = {};  ///< the whole hub
  std::optional<double> hook_run_out_m = {};   ///< to and fro of the hook in one turn of the shaft
  std::optional<double> shaft_bow_m = {};      ///< daylight in the middle under the shaft on a flat
  std::optional<double> shaft_length_m = {};   ///< over which the bow was read
  /// Each socket against the shaft, rad, 90 degrees when square; less: leaning forward.
  std::optional<double> socket_a_rad = {}, socket_b_rad = {};
  std::optional<double> socket_line_rad =
      {};  ///< angle between the sockets seen along the shaft, pi
};

/// What the faults are weighed against. Zero: not known, the effects that need it are left out.
struct HubLoads {
  double motor_pull_N = 0;     ///< tension of the motor
  double motor_torque_Nm = 0;  ///< in cruise
  double tip_radius_m = 0;
  double blade_moment_kgm = 0;       ///< first moment of one blade about the shaft
  double wire_density_kg_m3 = 7850;  ///< steel, a spring-trade data sheet
  double washer_friction = 0.07;     ///< PTFE 0.04 to 0.10, a builders' archive and data sheets
};

struct HubTolerances {  ///< ours: no published figure was found
  double hook_offset_m = 0.2e-3;
  double socket_rad = 1.0 * base::degree_rad;
  double shaft_slope_rad = 0.5 * base::degree_rad;
  double least_clearance_m = 0.0, greatest_clearance_m = 0.1e-3;
  double friction_share = 0.05;  ///< of the motor's torque
};

struct HubCheck {
  enum class Subject { hook, shaft, track, socket_line, root_fit, bearing_fit, friction };
  enum class Status { ok, suspect, cannot_tell, not_measured };
  Subject subject = Subject::hook;
  Status status = Status::not_measured;
  Figure amount =
      {};  ///< hook, root_fit, bearing_fit: m; shaft, track, socket_line: rad; friction: N m
  std::string amount_unit = {};       ///< "m", "rad", "N m"
  std::optional<Figure> effect = {};  ///< what it does
  std::string effect_unit = {};       ///< "N m", "m", "kg m", "N"
  std::string formula = {};           ///< "moment = hook offset x motor pull"
  std::string sentence = {};
};

struct HubFigures {
  std::optional<Figure> hook_offset_m = {};  ///< half the run-out
  std::optional<double> wire_mass_kg = {};
  double planned_mass_kg = 0;               ///< tubes, wire, washers and glue, as far as known
  std::optional<Figure> over_mass_kg = {};  ///< weighed less planned
  std::vector<HubCheck> checks = {};        ///< in the order of Subject
};
/// Problem: bad_input naming the member below zero or out of range.
base::Expected<HubFigures> hub_figures(const HubReading& hub, const HubLoads& loads,
                                       const Instruments& instruments,
                                       const HubTolerances& tolerances = {});

}  // namespace propwright::bench
