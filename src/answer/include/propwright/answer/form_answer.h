/// The form of a job: stations, flat pattern, the forms to make it on, the parts of a built-up
/// blade, and every drawing to cut.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "propwright/answer/prediction.h"
#include "propwright/base/problem.h"
#include "propwright/form/block.h"
#include "propwright/form/built_up.h"
#include "propwright/form/covering.h"
#include "propwright/form/cylinder.h"
#include "propwright/form/flat_pattern.h"
#include "propwright/form/form.h"
#include "propwright/form/gauge.h"
#include "propwright/form/ribbed.h"
#include "propwright/form/surface.h"
#include "propwright/sheet/form_sheets.h"
#include "propwright/solid/form_solid.h"

namespace propwright::answer {

enum class FormKind {
  templates,  ///< stations of paper or card, stood along a line
  block,      ///< carved from a block
  ribbed,     ///< ribs, spine and base cut from sheet
  solid,      ///< to print or to mill
  cylinder,   ///< a can or tube
};
inline constexpr FormKind all_form_kinds[] = {
    FormKind::templates, FormKind::block, FormKind::ribbed, FormKind::solid, FormKind::cylinder};
std::string to_text(FormKind kind);
std::optional<FormKind> form_kind(const std::string& word);
/// "templates, block, ribbed, solid, cylinder"
std::string form_kind_words();

struct FormOptions {
  /// The kinds wanted: one that cannot be made is a problem. Empty: all, and one that cannot be
  /// made is a note.
  std::vector<FormKind> kinds = {};
  form::SheetLimit limit = {};
  std::optional<double> cylinder_diameter_m = {};  ///< empty: the one of `cylinders` that fits best
  std::vector<form::Cylinder> cylinders = {};      ///< to choose from; empty: the program's list
  std::optional<double> gauge_radius_m = {};       ///< of a further gauge card
  form::RibbedOptions ribbed = {};
  /// Sheet or laser's bed; empty: what one printed page holds, or where the form is longer than
  /// that a sheet it fits on, printed in tiles.
  std::optional<double> sheet_width_m = {}, sheet_height_m = {};
  std::optional<double> slice_step_m =
      {};  ///< empty: 0.01 mm, or 0.001 in where the job is in inches
  std::optional<double> printer_bed_m = {};  ///< a solid longer than this is split in two
  double solid_tolerance_m = 0.0002;
  bool wants(FormKind kind) const;
  bool needs(FormKind kind) const;  ///< by name
};

/// What a station of the form is, and what it becomes once the blade is set.
struct FormRow {
  form::FormStation form;
  double camber = 0;
  double set_angle_rad = 0, set_pitch_m = 0;
  double pitch_per_degree = 0;  ///< share of the set pitch that one degree is there
  bool at_45 = false;           ///< the set blade stands at 45 degrees there
};

/// Parts of a built-up blade.
struct BuiltUp {
  form::RibOptions wood;
  std::vector<form::Rib> ribs;
  form::RibSlices slices;
  double slice_step_m = 0;
  std::vector<form::SparSlot> slots;  ///< empty where there is no spar
  form::OutlineStrip strip;
  form::Covering covering;
  double covering_mass_kg = 0;  ///< of one blade, all covered sides
  form::CoveringFrame frame;
};

/// Drawings with the part of the work they belong to: blade, form, ribs, covering, gauge.
struct FormDrawings {
  std::string key;
  sheet::FormGroup group;
};

struct FormAnswer {
  sheet::JobLine job;
  units::Profile profile = units::Profile::metric;
  form::Hand hand = form::Hand::anticlockwise;
  int blades = 2;
  form::Template outline;
  double form_pitch_m = 0;    ///< 0 where the form is not helical
  double radius_45_m = 0;     ///< of the form; 0 where it is not helical
  double reset_turn_rad = 0;  ///< from the form to the set blade
  double set_pitch_m = 0, gauge_radius_m = 0, gauge_angle_rad = 0;
  double set_radius_45_m = 0;     ///< of the set blade; 0 where it has none
  double flying_pitch_m = 0;      ///< advance a turn in level cruise; 0 where it does not fly
  std::vector<FormRow> stations;  ///< root to tip
  form::Surface surface;          ///< of the form, bent round cylinders as the helicoid is
  form::Surface across;           ///< the same with flat sections, as stood templates give it
  form::FlatPattern pattern;
  double strain_limit = 0;
  std::optional<form::Block> block;
  std::optional<form::Ribbed> ribbed;
  std::optional<form::CylinderFit> cylinder;
  std::string cylinder_name;
  std::optional<solid::FormOptions> solid;  ///< how the solid is to be made
  std::optional<BuiltUp> built_up;
  std::vector<FormDrawings> drawings;
  std::vector<std::string> notes;
};

/// Problem: as brief::assemble and the surface of the form; and what a kind asked for by name
/// cannot be.
base::Expected<FormAnswer> form_answer(const LoadedJob& loaded, const FormOptions& options);

/// "Set both blades to 45.0° at 111.5 mm: a degree wrong there is 3.5 % of pitch, ..."
std::string form_sentence(const FormAnswer& answer);

/// The answer as pages: tables, map, drawings.
sheet::FormSheets form_sheets(const FormAnswer& answer);

/// The solid as files.
struct SolidFile {
  std::string name, kind, bytes;  ///< kind: "stl", "3mf", "step"
};
/// Which of them; all by default. `progress` is told the share done and says whether to go on.
struct SolidFormats {
  bool stl = true, three_mf = true, step = true;
  bool one_stl = false;  ///< the halves of a split form in one file, 10 mm apart
};
/// answer.solid must be there (std::invalid_argument otherwise). Problem: as solid::form_solid and
/// the files; a problem "stopped" where progress said so.
base::Expected<std::vector<SolidFile>> solid_files(const FormAnswer& answer,
                                                   const SolidFormats& formats,
                                                   const std::function<bool(double)>& progress);

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
/// A quarter to seven quarters of the gauge radius: where the pitch is told unless asked otherwise.
std::vector<double> usual_reset_radii_m(double gauge_radius_m);

}  // namespace propwright::answer
