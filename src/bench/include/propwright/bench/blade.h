/// A finished blade as measured, and two of them against each other: length, angle, pitch, camber,
/// mass and static balance, each with its doubt, and what to do.
/// Symbols: r radius, theta blade angle from the disc plane, P pitch = 2 pi r tan(theta).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/base/constants.h"
#include "propwright/bench/figure.h"

namespace propwright::bench {

struct AngleReading {
  double radius_m = 0;   ///< > 0, at most the blade's length
  double angle_rad = 0;  ///< from the disc plane, -pi/2..pi/2
};

/// A template of known camber held to the blade's hollow face.
struct CamberCheck {
  double radius_m = 0, chord_m = 0;
  double template_camber = 0;  ///< share of the chord
  double gap_m = 0;  ///< daylight: + under the middle (blade hollower), - at the edges (flatter)
};

struct BladeReading {
  std::string id = {};
  double length_m = 0;                    ///< shaft centre to tip, > 0
  double mass_kg = 0;                     ///< net, > 0
  std::vector<AngleReading> angles = {};  ///< at two or more radii, radii all different
  std::vector<CamberCheck> cambers = {};
  /// Shaft centre to the centre of mass: blade balanced over an edge. Either this or the moment.
  std::optional<double> centre_of_mass_m = {};
  /// First moment about the shaft, mass times centre of mass, as weighed at the tip on a pivot.
  std::optional<double> moment_kgm = {};
};

struct BladeStation {
  double radius_m = 0;
  Figure angle_rad = {}, pitch_m = {};
};
struct CamberStation {
  double radius_m = 0;
  Figure camber = {};  ///< share of the chord: template + gap/chord
};
struct BladeFigures {
  Figure length_m = {}, mass_kg = {};
  std::vector<BladeStation> stations = {};  ///< by radius
  Figure mean_pitch_m = {};                 ///< plain mean over the stations
  std::vector<CamberStation> cambers = {};
  std::optional<Figure> moment_kgm = {};
  std::vector<Question> questions = {};
};
/// Problem: bad_input naming length_m, mass_kg, angles, angles[i].radius_m, ... (i from 0).
base::Expected<BladeFigures> blade_figures(const BladeReading& blade,
                                           const Instruments& instruments);

/// Defaults are common practice, from memory; nothing is published. Angle 0.5 to 1 degree, length
/// 0.5 mm, mass 2 %, camber 1 % of the chord (ours). The balance tolerance is the mass tolerance
/// times the blades' mean moment, so that both ask for the same care.
struct BladeTolerances {
  double angle_rad = 1.0 * base::degree_rad;
  double length_m = 0.5e-3;
  double mass_share = 0.02;
  double camber = 0.01;
};

enum class Blade { a, b };

/// The propeller on its shaft between level edges, made level by a known mass.
struct LevelTest {
  Blade light = Blade::b;       ///< blade that needed the mass
  double mass_kg = 0;           ///< 0: level without
  double radius_m = 0;          ///< where the mass sat
  double least_moment_kgm = 0;  ///< smallest imbalance that still turns the shaft; sets the doubt
};

struct PairStation {
  double radius_m = 0;
  Figure angle_a_rad = {}, angle_b_rad = {}, difference_rad = {};  ///< A less B
  Figure pitch_a_m = {}, pitch_b_m = {};
  double after_turn_rad = 0;  ///< difference left after the turn advised
};

/// From good to bad, `not_measured` apart. re_set: turn in the socket; re_form: no turn cures it.
enum class Verdict { not_measured, matched, cannot_tell, trim, re_set, re_form };
struct Finding {
  enum class Subject { length, angle, twist, camber, mass, balance };
  Subject subject = Subject::length;
  Verdict verdict = Verdict::not_measured;
  std::string sentence = {};   ///< with the numbers, in mm, degrees and mg
  int readings_to_settle = 1;  ///< see figure.h, for cannot_tell
};

/// Turn B in its socket.
struct ResetAdvice {
  Figure turn_rad = {};  ///< add to B's angle: mean difference A less B
  double gauge_radius_m = 0;
  Figure set_angle_rad = {};  ///< B's angle at the gauge radius afterwards
  double left_over_rad = 0;   ///< greatest difference at a station that no turn takes out
};

/// Make the propeller level, one way or the other.
struct TrimAdvice {
  Blade light = Blade::b;
  Figure imbalance_kgm = {};     ///< >= 0
  double radius_m = 0;           ///< where to add or to take off
  Figure add_mass_kg = {};       ///< to the light blade at that radius
  Figure sand_off_mass_kg = {};  ///< or from the heavy blade there
  Figure mass_difference_after_kg =
      {};  ///< A less B, once added or sanded off: the same either way
};

struct PairFigures {
  BladeFigures a = {}, b = {};
  Figure length_difference_m = {};  ///< A less B, so are all the differences
  Figure mass_difference_kg = {};
  Figure mass_difference_share = {};  ///< of the mean mass
  std::vector<PairStation> stations = {};
  Figure angle_difference_rad = {};              ///< plain mean over the stations
  Figure twist_difference_rad_m = {};            ///< slope of the difference against radius
  std::optional<Figure> camber_difference = {};  ///< mean over stations common to both
  /// Static imbalance, + when A is the heavy side; from the level test if given, else the moments.
  std::optional<Figure> imbalance_kgm = {};
  ResetAdvice reset = {};
  std::optional<TrimAdvice> trim = {};
  std::vector<Finding> findings = {};      ///< one for each subject, in the order of Subject
  Verdict verdict = Verdict::cannot_tell;  ///< worst of the findings that were measured
};

struct PairOptions {
  BladeTolerances tolerances = {};
  double gauge_radius_m = 0;  ///< 0: the common station nearest 45 degrees
  double trim_radius_m = 0;   ///< 0: at 70 % of the shorter blade
  std::optional<LevelTest> level_test = {};
};

/// Angles are compared at the radii of either blade that both cover; between two readings the pitch
/// runs straight. Gauge and rule serve both blades, so their steady error drops out. Problem:
/// bad_input, fields "a.NAME", "b.NAME", "options.NAME"; no common radius: "b.angles".
base::Expected<PairFigures> pair_figures(const BladeReading& a, const BladeReading& b,
                                         const Instruments& instruments,
                                         const PairOptions& options);

}  // namespace propwright::bench
