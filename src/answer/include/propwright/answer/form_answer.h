/// The form of a job: its stations, its flat pattern, and the drawings to cut.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/answer/prediction.h"
#include "propwright/base/problem.h"
#include "propwright/form/cylinder.h"
#include "propwright/form/flat_pattern.h"
#include "propwright/form/form.h"

namespace propwright::answer {

struct FormOptions {
  form::SheetLimit limit;
  std::optional<double> cylinder_diameter_m;  ///< also the layout line on this cylinder
};

struct FormAnswer {
  form::Hand hand = form::Hand::anticlockwise;
  double form_pitch_m = 0;    ///< 0 where the form is not helical
  double radius_45_m = 0;     ///< of the form; 0 where it is not helical
  double reset_turn_rad = 0;  ///< from the form to the set blade
  double set_pitch_m = 0, gauge_radius_m = 0, gauge_angle_rad = 0;
  std::vector<form::FormStation> stations;
  form::FlatPattern pattern;
  std::optional<form::CylinderFit> cylinder;
  std::vector<form::Template> drawings;  ///< outline, stations, flat pattern, layout line
  std::vector<std::string> notes;
};

/// Problem: as brief::assemble and the surface of the form; a cylinder that the sheet cannot be
/// bent round or that cannot give the twist.
base::Expected<FormAnswer> form_answer(const LoadedJob& loaded, const FormOptions& options);

/// The pattern over the distance along the spar line.
struct PatternRow {
  double along_m = 0, lead_m = 0, trail_m = 0;  ///< edges from the spar line there
  double strain = 0;                            ///< largest of the sheet about there
};
std::vector<PatternRow> pattern_rows(const form::FlatPattern& pattern);

/// A blade made on one pitch and set to another: the pitch along it.
struct ResetRow {
  double radius_m = 0, angle_rad = 0, pitch_m = 0;
};
struct ResetAnswer {
  double form_pitch_m = 0, turn_rad = 0, gauge_radius_m = 0;
  std::vector<ResetRow> rows;
};
ResetAnswer reset_answer(double form_pitch_m, double set_pitch_m, double gauge_radius_m,
                         const std::vector<double>& radii_m);

}  // namespace propwright::answer
