/// The helical form, the blade outline over it, and what re-setting a blade does to its pitch.
/// Symbols: r radius, P pitch, theta blade angle from the disc plane, tan(theta) = P/(2 pi r).
#pragma once

#include <string>
#include <vector>

#include "propwright/base/monotone_curve.h"
#include "propwright/base/problem.h"

namespace propwright::form {

/// Hand of rotation, seen from behind the model. The two hands are mirror images.
enum class Hand { clockwise, anticlockwise };

/// Blade angle of a helix, rad in (0, pi/2): atan(P/(2 pi r)). r > 0, P > 0 (pitch may be negative
/// for a reversed form; the angle then is negative).
double blade_angle_rad(double pitch_m, double radius_m);

/// Local geometric pitch, m: 2 pi r tan(theta).
double local_pitch_m(double angle_rad, double radius_m);

/// Radius of the 45-degree station, m: P/(2 pi) (common practice).
double radius_45deg_m(double pitch_m);

/// One row of a blade outline, in the developed (flat) plane of the planform: distances along the
/// chord from the spar (stacking) line.
struct OutlineRow {
  double radius_m = 0;
  double chord_m = 0;   ///< straight distance between the edges
  double lead_m = 0;    ///< spar line to leading edge, positive forward
  double trail_m = 0;   ///< spar line to trailing edge, positive backward; lead + trail = chord
};

/// A parametric outline for builders who give a widest chord instead of a table. A smooth plan form
/// from root to tip: root chord, widest chord at a fraction of the radius, rounded tip.
struct OutlineShape {
  double tip_radius_m = 0;
  double root_radius_m = 0;       ///< inner end of the blade, >= 0, < tip radius
  double widest_chord_m = 0;
  double widest_at = 0.55;        ///< fraction of the tip radius, between root and tip
  double root_chord_m = 0;        ///< at the root radius, > 0
  double tip_roundness = 0.5;     ///< exponent of the tip: 0.5 ellipse-like, 1 pointed, 0.25 blunt
  double spar_position = 0.4;     ///< spar line from the leading edge, fraction of chord, 0..1
};

/// Chord of a parametric outline at radius r, m; zero at the tip.
double outline_chord_m(const OutlineShape& shape, double radius_m);

/// `count` rows of a parametric outline, denser towards the tip so that the rounding is true.
/// Problem: bad_input naming the member out of range.
base::Expected<std::vector<OutlineRow>> outline(const OutlineShape& shape, int count);

/// A form station: what a template, block or gauge at this radius must be.
struct FormStation {
  double radius_m = 0;
  double chord_m = 0;
  double angle_rad = 0;        ///< of the form, over-bend included
  double pitch_m = 0;          ///< local pitch of the form there
  double block_width_m = 0;    ///< chord projected on the disc plane: c cos(theta)
  double block_height_m = 0;   ///< chord projected on the shaft: c sin(theta)
  double camber_height_m = 0;  ///< camber ratio times chord
  double sheet_width_m = 0;    ///< length along the cambered surface (circular arc)
};

/// What the form of a blade is.
struct Form {
  double pitch_m = 0;                       ///< form pitch; helical unless angles are given
  double camber = 0;                        ///< height over chord, 0..0.15
  double angle_overbend = 1;                ///< form angle = this times the wanted, 0.8..1.3
  double camber_overbend = 1;               ///< form camber = this times the wanted, 0.8..2
  Hand hand = Hand::anticlockwise;
};

/// Stations of a helical form at the given rows of the outline.
std::vector<FormStation> form_stations(const Form& form, const std::vector<OutlineRow>& rows);

/// Length of a circular arc with chord c and camber height h = camber * c, m. Exact; for camber 0
/// the chord itself.
double arc_length_m(double chord_m, double camber);

/// A blade made on a helical form of pitch `form_pitch_m`, set afterwards so that it has
/// `set_pitch_m` at `gauge_radius_m`: every station turns by the same angle.
struct Reset {
  double turn_rad = 0;  ///< the common turn, positive to higher pitch
};
Reset reset_turn(double form_pitch_m, double set_pitch_m, double gauge_radius_m);
/// Blade angle of the re-set blade at r: atan(P_form/(2 pi r)) + turn.
double reset_angle_rad(double form_pitch_m, const Reset& reset, double radius_m);

/// A template drawn at 1:1: closed or open polylines in metres in the plane of the sheet, x right,
/// y up. The sheet module draws it; nothing here knows about paper.
struct TemplateLine {
  enum class Kind { cut, score, centre, station } kind = Kind::cut;
  std::vector<std::pair<double, double>> points_m;
  bool closed = false;
  std::string label;  ///< drawn at the last point; empty for none
};
struct Template {
  std::string name;    ///< file-safe: "outline", "station-120mm", "rib-3"
  std::string title;   ///< for the page: "Blade outline"
  Hand hand = Hand::anticlockwise;
  std::vector<TemplateLine> lines;
};

/// The blade's plan form (developed about the spar line), true scale, with stations ticked and
/// numbered, the 45-degree station marked and the shaft axis at the origin, radius upwards.
/// Mirrored for the other hand. `gauge_angles_rad` per row as the blade will stand.
Template outline_template(const std::vector<OutlineRow>& rows, double radius_45_m, Hand hand);

/// The upright template of a form station: base line, sloping edge at the form angle with the
/// camber arc on it, spar line marked, so that templates stood on their radii along a straight line
/// give the form. Seen from the tip, mirrored for the other hand.
Template station_template(const FormStation& station, const OutlineRow& row, double camber,
                          Hand hand, double base_height_m);

/// A rib blank: the camber arc of a built-up blade's rib, `depth_m` deep, chord long.
Template rib_template(const OutlineRow& row, double camber, double depth_m, int number);

}  // namespace propwright::form
