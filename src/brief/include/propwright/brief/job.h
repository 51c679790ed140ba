/// The whole statement of a job: hall, air, model, rules, rubber, motor, launch, propeller.
/// Values are SI; the job file (docs/job-file.md) carries them as text with units. An empty
/// optional means that the file leaves the field out and the default of docs/job-file.md holds.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/form/form.h"
#include "propwright/rotor/rotor.h"
#include "propwright/rubber/usual_strip.h"

namespace propwright::brief {

enum class UnitProfile { metric, inch };

struct JobInfo {
  std::string name;
  int version = 1;   ///< 1..9999
  std::string note;  ///< free text
  UnitProfile units = UnitProfile::metric;
  bool operator==(const JobInfo&) const = default;
};

struct Hall {
  std::string name;
  double roof_height_m = 0;      ///< to the lowest obstacle, 2..120
  bool touching_allowed = true;  ///< file: contact = "light" | "none"
  double touch_loss_m = 0.5;     ///< height lost per light touch, 0.05..3
  bool operator==(const Hall&) const = default;
};

struct Air {
  double temperature_K = 293.15;  ///< -20..50 degC
  std::optional<double> pressure_Pa;
  bool pressure_is_reduced = false;  ///< pressure reduced to sea level; then altitude is needed
  std::optional<double> altitude_m;
  double relative_humidity = 0.5;
  bool operator==(const Air&) const = default;
};

struct Model {
  std::string name;
  double mass_kg = 0;      ///< ready to fly, propeller included, without rubber; 0.1..50 g
  double wing_span_m = 0;  ///< 0.05..2 m
  std::optional<double> wing_chord_m;  ///< mean chord; exactly one of chord and area
  std::optional<double> wing_area_m2;
  double wing_camber = 0.05;                    ///< 0..0.10
  double tail_area_m2 = 0;                      ///< 0 = none
  std::optional<double> trim_lift_coefficient;  ///< 0.1..1.6; empty = best endurance
  double span_efficiency = 0.85;                ///< Oswald's e, 0.3..1
  double body_drag_area_m2 = 0;                 ///< sticks, bracing, wire: CD times area
  double circle_radius_m = 0;                   ///< of the flown circle; 0 = straight
  std::optional<double>
      glide_sink_m_s;  ///< measured sink rate without propeller, replaces build-up
  bool operator==(const Model&) const = default;
};

struct Rules {
  std::string name;
  std::optional<double> least_mass_kg;  ///< of the model without rubber
  std::optional<double> largest_rubber_kg;
  std::optional<double> largest_propeller_m;  ///< diameter
  std::optional<double> largest_span_m;
  bool operator==(const Rules&) const = default;
};

struct Rubber {
  std::string name;
  double energy_J_per_kg = 12000;
  double turns_constant = 10.6;
  double density_kg_m3 = rubber::usual_rubber_density_kg_m3;
  // A bench test instead of the three numbers above:
  std::string test_file;  ///< CSV path, relative to the job file
  std::optional<double> test_section_m2, test_length_m, test_mass_kg, test_temperature_K;
  bool operator==(const Rubber&) const = default;
};

struct Motor {
  std::optional<double> strip_width_m;  ///< with thickness and strands: the section
  double strip_thickness_m = rubber::usual_strip_thickness_m;  ///< 0.3..3 mm
  int strands = 2;                                             ///< 2 for one loop
  double loop_length_m = 0;                                    ///< unloaded, broken in
  std::optional<double> mass_kg;        ///< rubber as weighed; may replace the strip width
  double spacer_mass_kg = 0;            ///< with a partial motor
  std::optional<double> temperature_K;  ///< empty = the hall's air
  bool operator==(const Motor&) const = default;
};

struct Launch {
  double height_m = 1.5;              ///< above the floor
  double wind_fraction = 0.9;         ///< of breaking turns, 0.3..1
  std::optional<double> wound_turns;  ///< instead of the fraction
  // How many turns are backed off: at most one of the three; none = margin 0.5 m.
  std::optional<double> margin_m, turns, torque_Nm;
  double wait_s = 60;
  double relaxation_per_s = 0.01 / 60;  ///< torque lost per second wound; a guess, see docs
  bool operator==(const Launch&) const = default;
};

/// A row of the blade table.
struct Station {
  double radius_m = 0, chord_m = 0;
  double angle_rad = 0;
  std::optional<double> camber;  ///< empty = the propeller's
  bool operator==(const Station&) const = default;
};

/// A reading on a propeller in hand.
struct MeasuredAngle {
  double radius_m = 0, angle_rad = 0;
  bool operator==(const MeasuredAngle&) const = default;
};
struct MeasuredChord {
  double radius_m = 0, chord_m = 0;
  bool operator==(const MeasuredChord&) const = default;
};

enum class BladeKind { sheet, built_up };

/// Materials and sizes, for the weights, the templates and the spar table.
struct BladeBuild {
  BladeKind kind = BladeKind::sheet;
  double sheet_thickness_m = 0.0006;           ///< sheet blades
  double wood_density_kg_m3 = 80;              ///< sheet, outline and ribs
  std::optional<double> wood_modulus_Pa = {};  ///< empty = usual for the density
  double outline_size_m = 0.0006;              ///< square outline strip of a built-up blade
  int rib_count = 8;
  double rib_depth_m = 0.0012, rib_thickness_m = 0.0006;
  double covering_kg_m2 = 0;  ///< film, per side; 0 for bare sheet
  int covered_sides = 1;
  bool operator==(const BladeBuild&) const = default;
};

struct Spar {
  double root_width_m = 0, root_depth_m = 0, tip_width_m = 0, tip_depth_m = 0;
  double length_m = 0;  ///< of one spar; 0 = no separate spar
  double density_kg_m3 = 90;
  double root_radius_m = 0;               ///< radius at which the spar starts
  std::optional<double> modulus_Pa = {};  ///< E along the grain; empty = usual for the density
  bool operator==(const Spar&) const = default;
};

/// How the blade bends and twists: whether it flies so, and what tests of the finished blade say.
/// Each test is given whole or not at all; the blade is held at its inner end.
struct FlexTests {
  bool fly = false;  ///< the prediction flies the blade as its loads deform it
  std::optional<double> twist_mass_kg, twist_arm_m, twist_radius_m, twist_angle_rad;
  std::optional<double> bend_mass_kg, bend_radius_m, bend_deflection_m;
  bool operator==(const FlexTests&) const = default;
};

struct Hub {
  double mass_kg = 0;                ///< tubes and fittings
  double shaft_diameter_m = 0.0004;  ///< wire
  double shaft_length_m = 0.03;      ///< straightened, hook included
  double arm_diameter_m = 0;         ///< open spar between hub and blade
  double friction_fraction = 0.02;   ///< of motor torque, 0..0.2
  bool freewheels = false;
  bool operator==(const Hub&) const = default;
};

enum class BladeSource {
  pitch,     ///< pitch + outline parameters
  stations,  ///< [[propeller.station]] table
  measured,  ///< readings on a propeller in hand
};

struct Propeller {
  std::string name;
  int blades = 2;  ///< 2..4
  double diameter_m = 0;
  form::Hand hand = form::Hand::anticlockwise;  ///< seen from behind
  double camber = 0.06;
  double spar_position = 0.4;  ///< spar line from the leading edge, of the chord
  BladeSource source = BladeSource::pitch;
  // source = pitch: made on a form of form_pitch, set so that the pitch at gauge_radius is pitch.
  std::optional<double> pitch_m;
  std::optional<double> form_pitch_m;    ///< empty = pitch (helical)
  std::optional<double> gauge_radius_m;  ///< empty = the 45-degree station, within the blade
  double root_radius_m = 0;              ///< outline parameters, see form::OutlineShape
  double widest_chord_m = 0, widest_at = 0.55, root_chord_m = 0, tip_roundness = 0.5;
  std::vector<Station> stations;
  std::vector<MeasuredAngle> measured_angles;
  std::vector<MeasuredChord> measured_chords;
  double angle_overbend = 1, camber_overbend = 1;
  BladeBuild build;
  Spar spar;
  FlexTests flex;
  Hub hub;
  std::string polar_file;  ///< CSV path; empty = built-in thin arcs
  bool operator==(const Propeller&) const = default;
};

/// 1-sigma doubts, used for every interval. Relative unless the unit says otherwise.
struct Doubts {
  double polar_scale = 1;  ///< multiplies the polar family's own doubt
  double airframe_drag = 0.10;
  double trim_lift = 0.05;
  double rubber_energy = 0.08;      ///< default batch; 0.03 is usual with a bench test
  double rubber_turns = 0.04;       ///< of breaking turns
  double blade_angle_rad = 0.0087;  ///< common to all stations, 0.5 degree
  double temperature_K = 1;
  double circle_radius = 0.1;
  double blade_stiffness = 0.15;  ///< of a flexing blade, bending and torsion alike
  double blade_moment = 0.15;     ///< of its sections' moment about the quarter chord
  bool operator==(const Doubts&) const = default;
};

/// A factor on what the sheet says, as flights taught it.
struct LearnedFactor {
  double factor = 1;
  std::optional<double> doubt;  ///< 1-sigma, relative; empty = as in Doubts
  bool operator==(const LearnedFactor&) const = default;
};

/// An angle to be added to what the sheet says.
struct LearnedAngle {
  double angle_rad = 0;
  std::optional<double> doubt_rad;  ///< 1-sigma; empty = as in Doubts
  bool operator==(const LearnedAngle&) const = default;
};

/// A direction in which flights tell several of what they taught together: how much drag the model
/// has and how much energy the rubber, say, better than either. Components are in units of the
/// doubt each had before, the direction's length is 1.
struct LearnedDirection {
  double left = 1;  ///< doubt left along it, as a share of that before, (0, 1]
  double airframe_drag = 0, trim_lift = 0, circle_radius = 0;
  double rubber_energy = 0, rubber_turns = 0;
  double polar_lift_slope = 0, polar_drag = 0, polar_cl_max = 0;
  double polar_zero_lift = 0, blade_angle = 0;
  double blade_stiffness = 0, blade_moment = 0;
  bool operator==(const LearnedDirection&) const = default;
};

/// What the flights of a model, a propeller and a batch taught. Every prediction uses it unless it
/// is switched off.
struct Learned {
  bool use = true;
  std::string from;  ///< "34 flights, 18 to 24 Nov 2026"
  /// Whose it is: model, batch of rubber, propeller, and the polars of the blade's sections (their
  /// file; "" = those built in). Without the first three it is taken for the job's.
  std::string model, rubber, propeller, sections;
  LearnedFactor airframe_drag, trim_lift, circle_radius;
  LearnedFactor rubber_energy, rubber_turns;
  LearnedFactor polar_lift_slope, polar_drag, polar_cl_max;
  LearnedAngle polar_zero_lift, blade_angle;
  LearnedFactor blade_stiffness, blade_moment;
  std::vector<LearnedDirection> directions;  ///< empty = the doubts left are independent
  bool operator==(const Learned&) const = default;
  /// Whether anything but the switch was learned.
  bool any() const;
  /// Whether it tells whose it is.
  bool named() const { return !model.empty() || !rubber.empty() || !propeller.empty(); }
};

struct Job {
  JobInfo info;
  Hall hall;
  Air air;
  Model model;
  Rules rules;
  Rubber rubber;
  Motor motor;
  Launch launch;
  Propeller propeller;
  Doubts doubts;
  Learned learned;
  bool operator==(const Job&) const = default;
};

}  // namespace propwright::brief
