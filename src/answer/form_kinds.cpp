// The forms a blade can be made on: templates, carved block, ribs, solid, cylinder.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>

#include "form_parts.h"
#include "propwright/base/constants.h"
#include "propwright/data/data.h"
#include "propwright/form/pattern_template.h"

namespace propwright::answer {
namespace {

using sheet::Hazard;

constexpr double foot_m = 0.006;  // paper under the lowest edge of a form station
constexpr double steepest_rad = 85 * base::degree_rad;  // a degree inside what the solid refuses
constexpr double pin_from_blade_m = 0.0035;

void add_templates(const FormWork& work, FormAnswer& answer) {
  auto& group = form_group(
      answer, "form", "Form stations",
      "Stand each on its base line at its radius along a straight spar line, seen from the tip "
      "towards the shaft. Solid: cut. Dashed: mark only.",
      {Hazard::knife, Hazard::spray_glue, Hazard::heat});
  std::vector<form::FormStation> stations;
  for (const FormRow& row : answer.stations) stations.push_back(row.form);
  const double base_m = form::form_base_height_m(stations, work.rows, foot_m);
  for (std::size_t i = 0; i < work.rows.size(); ++i) {
    if (work.rows[i].chord_m <= 0) continue;
    group.drawings.push_back(form::station_template(
        stations[i], work.rows[i], answer.stations[i].camber, answer.hand, base_m));
  }
}

base::Expected<void> add_block(const FormWork& work, FormAnswer& answer) {
  std::vector<double> radii;
  for (const form::OutlineRow& row : work.rows) radii.push_back(row.radius_m);
  auto block = form::carved_block(answer.across, radii, {});
  if (!block) return tl::unexpected(block.error());
  auto& group = form_group(
      answer, "form", "Carved block",
      "Glue the side view to the block's side and the plan to its top, saw to both, then carve "
      "straight from edge to edge at each station and hollow to the camber. Dashed in the side "
      "view: carve down to here along the trailing edge.",
      {Hazard::knife, Hazard::dust, Hazard::spray_glue});
  group.drawings.push_back(form::block_side_template(*block));
  group.drawings.push_back(form::block_plan_template(*block));
  answer.block = std::move(*block);
  return {};
}

/// On the sheet asked for; else on what one printed page of A4 holds at true scale, else on one as
/// long as the form needs.
base::Expected<form::Ribbed> ribbed_on_sheet(const FormWork& work, const FormAnswer& answer) {
  form::RibbedOptions options = work.options.ribbed;
  const auto &width = work.options.sheet_width_m, &height = work.options.sheet_height_m;
  if (width || height) {
    options.page_width_m = width.value_or(options.page_width_m);
    options.page_height_m = height.value_or(options.page_height_m);
    return form::ribbed_form(answer.across, options);
  }
  options.page_width_m = 0.178;
  options.page_height_m = 0.195;
  options.margin_m = 0.001;
  auto ribbed = form::ribbed_form(answer.across, options);
  if (ribbed || ribbed.error().front().field != "ribbed.page") return ribbed;
  options.page_width_m = 0.35;
  options.page_height_m = answer.across.tip_m() - answer.across.root_m() + 0.08;
  return form::ribbed_form(answer.across, options);
}

base::Expected<void> add_ribbed(const FormWork& work, FormAnswer& answer) {
  auto ribbed = ribbed_on_sheet(work, answer);
  if (!ribbed) return tl::unexpected(ribbed.error());
  auto& group = form_group(
      answer, "form", "Ribbed form",
      fmt::format(
          "Cut from sheet of {}. Ribs go over the spine half and half and stand with their "
          "tabs in the base; sand the tops to the surface, cover with thin sheet or thread.",
          units::to_text(ribbed->sheet_m, units::Dimension::length, answer.profile)),
      {Hazard::knife, Hazard::dust, Hazard::heat});
  for (const form::RibbedPage& page : ribbed->pages) group.drawings.push_back(page.drawing);
  answer.ribbed = std::move(*ribbed);
  return {};
}

/// The solid with its groove for the spar, pins beyond both ends, tilted where it is steep and
/// split where it is longer than the printer's bed. Whether it can be made is found by its mesh.
base::Expected<void> add_solid(const FormWork& work, FormAnswer& answer) {
  solid::FormOptions how;
  how.tolerance_m = work.options.solid_tolerance_m;
  const brief::Spar& spar = work.loaded.job.propeller.spar;
  if (spar.length_m > 0) {
    how.groove_width_m = spar.root_width_m;
    how.groove_depth_m = std::min(how.groove_depth_m, spar.root_depth_m);
  }
  const double root = answer.surface.root_m(), tip = answer.surface.tip_m();
  how.pin_radii_m = {root - pin_from_blade_m, tip + pin_from_blade_m};
  how.base_tilt_rad = solid::least_base_tilt_rad(answer.surface, steepest_rad);
  if (how.base_tilt_rad > 0) {
    answer.notes.push_back(
        fmt::format("The solid's base is tilted by {:.0f}° about the spar line, so that the steep "
                    "root does not "
                    "overhang.",
                    how.base_tilt_rad / base::degree_rad));
  }
  const double length = tip - root + 2 * how.border_m;
  if (work.options.printer_bed_m && length > *work.options.printer_bed_m) {
    how.split_radius_m = (root + tip) / 2;
    if (length / 2 > *work.options.printer_bed_m) {
      answer.notes.push_back("The halves of the solid are still longer than the printer's bed.");
    }
  }
  answer.solid = how;
  return {};
}

base::Expected<std::vector<form::Cylinder>> cylinder_list(const FormOptions& options) {
  if (options.cylinder_diameter_m) {
    return std::vector<form::Cylinder>{{"", *options.cylinder_diameter_m}};
  }
  if (!options.cylinders.empty()) return options.cylinders;
  return form::read_cylinders(data::file("cylinders.csv"), "cylinders.csv");
}

/// How far the camber that a cylinder gives is from the wanted, mean over the chords.
double camber_off(const form::CylinderFit& fit, const FormAnswer& answer) {
  double off = 0, chords = 0;
  for (std::size_t i = 0; i < fit.stations.size(); ++i) {
    const double chord = answer.stations[i].form.chord_m;
    off += chord * std::abs(fit.stations[i].camber - answer.stations[i].camber);
    chords += chord;
  }
  return chords > 0 ? off / chords : 0;
}

/// The cylinder of the list whose camber is least off, of those that can twist enough and that the
/// sheet can be bent round. The angles do not tell them apart: each has the same even twist.
base::Expected<void> fit_best_cylinder(const FormWork& work, FormAnswer& answer) {
  const auto list = cylinder_list(work.options);
  if (!list) return tl::unexpected(list.error());
  std::vector<form::WantedStation> wanted;
  for (const FormRow& row : answer.stations) {
    const form::FormStation& s = row.form;
    wanted.push_back({s.radius_m, s.chord_m, s.angle_rad, s.chord_m * s.radius_m * s.radius_m});
  }
  const brief::BladeBuild& build = work.loaded.job.propeller.build;
  const double thickness =
      build.kind == brief::BladeKind::sheet ? build.sheet_thickness_m : build.outline_size_m;
  base::Problems refused;
  double least_off = 0;
  for (const form::Cylinder& cylinder : *list) {
    const double radius = cylinder.diameter_m / 2;
    const auto bends = form::check_bend(radius, thickness, work.options.limit.strain);
    const auto fit = form::fit_cylinder(radius, wanted);
    if (!bends || !fit) {
      refused = bends ? fit.error() : bends.error();
      continue;
    }
    const double off = camber_off(*fit, answer);
    if (answer.cylinder && off >= least_off) continue;
    least_off = off;
    answer.cylinder = *fit;
    answer.cylinder_name = cylinder.name;
  }
  if (!answer.cylinder) return tl::unexpected(refused);
  return {};
}

base::Expected<void> add_cylinder(const FormWork& work, FormAnswer& answer) {
  if (auto found = fit_best_cylinder(work, answer); !found) return found;
  if (answer.form_pitch_m <= 0) {
    answer.notes.push_back("No layout line: it needs a form of one pitch.");
    return {};
  }
  const double radius = answer.cylinder->cylinder_radius_m;
  const auto line = form::layout_line(radius, answer.surface.root_m(), answer.surface.tip_m(),
                                      answer.form_pitch_m);
  if (!line) {
    answer.notes.push_back("No layout line: " + line.error().front().message + ".");
    return {};
  }
  auto& group = form_group(
      answer, "form", "Layout line on the cylinder",
      fmt::format("Wrap it round the cylinder of {}, print outwards, and lay the blade's spar line "
                  "along the curve: the blade is then truly helical.",
                  units::to_text(2 * radius, units::Dimension::length, answer.profile)),
      {Hazard::heat});
  group.drawings.push_back(form::layout_line_template(*line, radius, answer.hand));
  return {};
}

base::Expected<void> add_kind(FormKind kind, const FormWork& work, FormAnswer& answer) {
  switch (kind) {
    case FormKind::templates:
      add_templates(work, answer);
      return {};
    case FormKind::block:
      return add_block(work, answer);
    case FormKind::ribbed:
      return add_ribbed(work, answer);
    case FormKind::solid:
      return add_solid(work, answer);
    case FormKind::cylinder:
      return add_cylinder(work, answer);
  }
  return {};
}

}  // namespace

std::string to_text(FormKind kind) {
  switch (kind) {
    case FormKind::templates:
      return "templates";
    case FormKind::block:
      return "block";
    case FormKind::ribbed:
      return "ribbed";
    case FormKind::solid:
      return "solid";
    case FormKind::cylinder:
      return "cylinder";
  }
  return {};
}

std::optional<FormKind> form_kind(const std::string& word) {
  for (const FormKind kind : all_form_kinds) {
    if (to_text(kind) == word) return kind;
  }
  return std::nullopt;
}

std::string form_kind_words() {
  std::string words;
  for (const FormKind kind : all_form_kinds) words += (words.empty() ? "" : ", ") + to_text(kind);
  return words;
}

bool FormOptions::wants(FormKind kind) const {
  return kinds.empty() || needs(kind);
}

bool FormOptions::needs(FormKind kind) const {
  return std::find(kinds.begin(), kinds.end(), kind) != kinds.end();
}

sheet::FormGroup& form_group(FormAnswer& answer, const std::string& key, const std::string& title,
                             const std::string& words, std::vector<sheet::Hazard> hazards) {
  for (FormDrawings& each : answer.drawings) {
    if (each.key == key && each.group.title == title) return each.group;
  }
  answer.drawings.push_back({key, {title, words, std::move(hazards), {}}});
  return answer.drawings.back().group;
}

base::Expected<void> add_form_kinds(const FormWork& work, FormAnswer& answer) {
  base::Problems problems;
  for (const FormKind kind : all_form_kinds) {
    if (!work.options.wants(kind)) continue;
    auto added = add_kind(kind, work, answer);
    if (added) continue;
    // A diameter given by hand asks for the cylinder as its name does.
    const bool asked = work.options.needs(kind) ||
                       (kind == FormKind::cylinder && work.options.cylinder_diameter_m);
    if (asked) {
      std::move(added.error().begin(), added.error().end(), std::back_inserter(problems));
    } else {
      const base::Problem& why = added.error().front();
      answer.notes.push_back(
          fmt::format("No {} form: {}; {}.", to_text(kind), why.message, why.remedy));
    }
  }
  if (!problems.empty()) return tl::unexpected(std::move(problems));
  return {};
}

}  // namespace propwright::answer
