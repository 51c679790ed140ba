// Ribs, outline strip, covering and frame of a built-up blade.
#include <algorithm>

#include "form_parts.h"
#include "propwright/base/constants.h"

namespace propwright::answer {
namespace {

using sheet::Hazard;

constexpr double strip_allowance_m = 0.010;     // at each end, to hold it by
constexpr double covering_allowance_m = 0.012;  // all round

/// The blade as it is to be, without over-bend, on the form's own twist.
base::Expected<form::Surface> blade_surface(const FormWork& work, const FormAnswer& answer) {
  form::Form wanted = work.assembly.form;
  wanted.angle_overbend = wanted.camber_overbend = 1;
  wanted.angles_rad.clear();
  wanted.cambers.clear();
  for (const form::OutlineRow& row : work.assembly.outline) {
    if (!work.helical) wanted.angles_rad.push_back(work.law.angle_rad(row.radius_m));
    wanted.cambers.push_back(work.law.camber(row.radius_m));
  }
  return form::Surface::make(form::surface_rows(wanted, work.assembly.outline), answer.hand,
                             form::Lay::across);
}

form::SparTaper taper_of(const brief::Spar& spar) {
  return {spar.root_radius_m, spar.length_m,    spar.root_width_m,
          spar.root_depth_m,  spar.tip_width_m, spar.tip_depth_m};
}

void add_rib_drawings(const FormWork& work, const BuiltUp& built, FormAnswer& answer) {
  if (built.ribs.empty()) return;
  auto& group = form_group(
      answer, "ribs", "Ribs",
      "The template to slice all ribs along, then each rib's own arc for those who cut them one by "
      "one. Leading edge on the right; trim to the strip when they are in.",
      {Hazard::knife, Hazard::instant_glue});
  group.drawings.push_back(form::blank_template(built.ribs, built.slices, answer.hand));
  for (const form::Rib& rib : built.ribs) {
    group.drawings.push_back(form::rib_template(work.law.outline(rib.radius_m), rib.camber,
                                                built.wood.depth_m, rib.number));
  }
}

void add_covering_drawings(const BuiltUp& built, FormAnswer& answer) {
  auto& cut = form_group(answer, "covering", "Covering film",
                         "Cut outside the solid line; dashed, the edge of the blade.",
                         {Hazard::knife, Hazard::solvent});
  cut.drawings.push_back(built.covering.cut);
  auto& frame = form_group(
      answer, "covering", "Covering frame",
      "Set each cross stick square to the spar line at its radius and angle, on the form or over "
      "its drawing, cement the rails to their ends piece by piece, and stretch the film over it: "
      "it lies at the blade's own twist.",
      {Hazard::knife, Hazard::solvent});
  for (auto& drawing : form::frame_templates(built.frame)) {
    frame.drawings.push_back(std::move(drawing));
  }
}

}  // namespace

base::Expected<void> add_built_up(const FormWork& work, FormAnswer& answer) {
  const brief::Propeller& propeller = work.loaded.job.propeller;
  const brief::BladeBuild& build = propeller.build;
  if (build.kind != brief::BladeKind::built_up) return {};
  const auto blade = blade_surface(work, answer);
  if (!blade) return tl::unexpected(blade.error());
  BuiltUp built;
  built.wood = {build.rib_count, build.rib_depth_m, build.rib_thickness_m, build.outline_size_m};
  const bool inch = answer.profile == units::Profile::inch;
  built.slice_step_m = work.options.slice_step_m.value_or(inch ? 25.4e-6 : 1e-5);
  if (build.rib_count > 0) {
    auto ribs = form::ribs(*blade, built.wood);
    if (!ribs) return tl::unexpected(ribs.error());
    built.ribs = std::move(*ribs);
    auto slices = form::rib_slices(built.ribs, built.wood,
                                   {.blades = propeller.blades, .step_m = built.slice_step_m});
    if (!slices) return tl::unexpected(slices.error());
    built.slices = std::move(*slices);
    if (propeller.spar.length_m > 0) {
      built.slots = form::spar_slots(built.ribs, taper_of(propeller.spar), build.rib_depth_m);
    }
  }
  built.strip = form::outline_strip(*blade, build.outline_size_m, strip_allowance_m);
  const auto pattern = form::flat_pattern(*blade, {.limit = work.options.limit});
  if (!pattern) return tl::unexpected(pattern.error());
  auto covering = form::covering(*pattern, covering_allowance_m);
  if (!covering) return tl::unexpected(covering.error());
  built.covering = std::move(*covering);
  built.covering_mass_kg = built.covering.area_m2 * build.covering_kg_m2 * build.covered_sides;
  form::FrameOptions frame_options;
  frame_options.margin_m = std::min(frame_options.margin_m, blade->root_m() / 2);
  auto frame = form::covering_frame(*blade, frame_options);
  if (!frame) return tl::unexpected(frame.error());
  built.frame = std::move(*frame);
  add_rib_drawings(work, built, answer);
  add_covering_drawings(built, answer);
  answer.built_up = std::move(built);
  return {};
}

}  // namespace propwright::answer
