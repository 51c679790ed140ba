/// The helical form, the blade outline over it, and what re-setting a blade does to its pitch.
/// Symbols: r radius, P pitch, theta blade angle from the disc plane, tan(theta) = P/(2 pi r).
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "propwright/base/problem.h"

namespace propwright::form {

/// Hand of rotation of a tractor propeller, seen from behind the model (from the tail, looking the
/// way it flies). The two hands are mirror images. With a blade pointing up, seen from behind, a
/// clockwise propeller moves the blade to the right, so its leading edge is the right-hand one; an
/// anticlockwise propeller has its leading edge on the left.
enum class Hand { clockwise, anticlockwise };

/// Blade angle of a helix from the disc plane, rad in (-pi/2, pi/2): atan(P/(2 pi r)). r > 0; a
/// negative pitch (reversed form) has a negative angle. Common practice.
double blade_angle_rad(double pitch_m, double radius_m);

/// Local geometric pitch, m: 2 pi r tan(theta).
double local_pitch_m(double angle_rad, double radius_m);

/// Radius of the 45-degree station, m: P/(2 pi) (common practice).
double radius_45deg_m(double pitch_m);

/// One row of a blade outline, in the developed (flat) plane of the planform: distances along the
/// chord from the spar (stacking) line.
struct OutlineRow {
  double radius_m = 0;
  double chord_m = 0;  ///< straight distance between the edges
  double lead_m = 0;   ///< spar line to leading edge, positive forward
  double trail_m = 0;  ///< spar line to trailing edge, positive backward; lead + trail = chord
};

/// A parametric outline for builders who give a widest chord instead of a table. A smooth plan form
/// (slope continuous) from root to tip: root chord, widest chord at a fraction of the radius,
/// rounded tip. Inside the widest point a parabola that is level there; outside it (1 -
/// t^2)^roundness, t from 0 at the widest point to 1 at the tip, which is an ellipse for roundness
/// 0.5.
struct OutlineShape {
  double tip_radius_m = 0;
  double root_radius_m = 0;  ///< inner end of the blade, >= 0, < tip radius
  double widest_chord_m = 0;
  double widest_at = 0.55;     ///< fraction of the tip radius, between root and tip
  double root_chord_m = 0;     ///< at the root radius, > 0
  double tip_roundness = 0.5;  ///< exponent of the tip: 0.5 ellipse-like, 1 pointed, 0.25 blunt
  double spar_position = 0.4;  ///< spar line from the leading edge, fraction of chord, 0..1
};

/// Chord of a parametric outline at radius r, m; zero at the tip.
double outline_chord_m(const OutlineShape& shape, double radius_m);

/// `count` (3..2000) rows of a parametric outline, denser towards the tip so that the rounding is
/// true: radii go with the sine of an evenly divided quarter turn. The chord of the last row is 0.
/// Problem: bad_input naming the member out of range: widest_at between the root and 0.98 of the
/// tip, root_chord_m above 0 and at most the widest, tip_roundness 0.1..2, spar_position 0..1.
base::Expected<std::vector<OutlineRow>> outline(const OutlineShape& shape, int count);

/// Rows of a table of chords, spar line at the same fraction of each chord from the leading edge.
/// The lists must be equally long (std::invalid_argument otherwise).
std::vector<OutlineRow> outline_from_chords(const std::vector<double>& radii_m,
                                            const std::vector<double>& chords_m,
                                            double spar_position);

/// A form station: what a template, block or gauge at this radius must be.
struct FormStation {
  double radius_m = 0;
  double chord_m = 0;
  double angle_rad = 0;        ///< of the form, over-bend included
  double pitch_m = 0;          ///< local pitch of the form there
  double block_width_m = 0;    ///< chord projected on the disc plane: c cos(theta)
  double block_height_m = 0;   ///< chord projected on the shaft: c sin(theta), never negative
  double camber_height_m = 0;  ///< camber ratio times chord, of the form, over-bend included
  double sheet_width_m = 0;    ///< length along the form's cambered surface (circular arc)
};

/// What the form of a blade is.
struct Form {
  double pitch_m = 0;          ///< form pitch; helical unless angles are given
  double camber = 0;           ///< height over chord, 0..0.15
  double angle_overbend = 1;   ///< form angle = this times the wanted, 0.8..1.3
  double camber_overbend = 1;  ///< form camber = this times the wanted, 0.8..2
  Hand hand = Hand::anticlockwise;
  std::vector<double> angles_rad = {};  ///< wanted angle at each row; empty: helix of pitch_m
  std::vector<double> cambers = {};     ///< wanted camber at each row; empty: camber at all
};

/// Stations of the form at the given rows of the outline. The angles and cambers, where given, must
/// be as many as the rows (std::invalid_argument otherwise).
std::vector<FormStation> form_stations(const Form& form, const std::vector<OutlineRow>& rows);

/// The least base height for the templates of these stations: the lowest edge of any of them stands
/// `margin_m` above the bench. The same height must be used for all templates of a form.
double form_base_height_m(const std::vector<FormStation>& stations,
                          const std::vector<OutlineRow>& rows, double margin_m);

/// Length of a circular arc with chord c and camber height h = camber * c, m: c phi/sin(phi) with
/// tan(phi/2) = 2 camber, phi half the arc's angle. Rounding error only; camber 0: the chord
/// itself.
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
  enum class Kind {
    cut,     ///< cut here
    score,   ///< mark, do not cut: base line, chord line
    centre,  ///< centre lines: spar line, shaft axis, grain
    station  ///< ticks and lines of a radius
  } kind = Kind::cut;
  std::vector<std::pair<double, double>> points_m = {};
  bool closed = false;
  std::string label = {};  ///< drawn at the last point; empty for none
  double value_m = 0;      ///< where above 0: the radius the label tells, for printing in any unit
  bool dashed = false;
};
/// A word on the template, its middle at (x, y).
struct TemplateText {
  double x_m = 0, y_m = 0;
  std::string text = {};
  double angle_deg = 0;  ///< of the writing, anticlockwise from x
  double value_m = 0;    ///< where above 0: a length to be written after the text, in any unit
};
struct Template {
  std::string name;   ///< file-safe: "outline", "station-120mm", "rib-3"
  std::string title;  ///< for the page: "Blade outline"
  Hand hand = Hand::anticlockwise;
  std::vector<TemplateLine> lines;
  std::vector<TemplateText> texts;
};

/// The blade's plan form (developed about the spar line), true scale, radius upwards, shaft axis a
/// cross at the origin, as the blade is seen from behind the model: the hollow (pressure) face
/// up. The leading edge is on the right for a clockwise propeller, on the left for an anticlockwise
/// one; the two are mirror images to the last bit. Lines: the closed cut line (about 200 points,
/// leading edge from root to tip, then trailing edge back, all rows among them), the spar line,
/// ticks on both edges at round radii with the label in mm and value_m, the 45-degree station
/// dashed across the blade (left out where it is not on the blade), the grain arrow. `tick_step_m`
/// 0: chosen from the length among 5, 10, 15, 20, 25, 50 mm, about twelve ticks. rows: at least
/// two, radius rising (std::invalid_argument otherwise).
Template outline_template(const std::vector<OutlineRow>& rows, double radius_45_m, Hand hand,
                          double tick_step_m = 0);

/// The upright template of a form station: stood on its base line on the bench at its radius,
/// across the straight spar line, seen from the tip towards the shaft. The bench is the disc plane
/// and up is the way the model flies: the edge stands at the form angle to the base line, rising to
/// the leading edge (on the right for clockwise, on the left for anticlockwise), with the camber
/// arc on it, hollow side down; the pressure face of the blade rests on the form. x = 0 is the spar
/// line, y = 0 the bench, and the spar's point of the working edge is at (0, base_height_m), so
/// that templates with one base height stood along a straight line give the form. `camber` is that
/// of the form, over-bend included. base_height_m: see form_base_height_m; where less, the foot
/// reaches below the bench line rather than bend the edge. Lines: the closed cut line (foot
/// trailing side, foot leading side, leading edge, the arc in 61 points, trailing edge), base line,
/// chord line, spar mark, middle mark.
Template station_template(const FormStation& station, const OutlineRow& row, double camber,
                          Hand hand, double base_height_m);

/// A rib blank: the camber arc of a built-up blade's rib over the same arc `depth_m` lower, chord
/// long, ends cut square to the chord, spar marked at x = 0, leading edge on the right; turned over
/// it serves the other hand.
Template rib_template(const OutlineRow& row, double camber, double depth_m, int number);

}  // namespace propwright::form
