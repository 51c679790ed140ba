// What the propeller will weigh, part by part.
#include <fmt/format.h>

#include <cmath>

#include "fields.h"
#include "parts.h"
#include "propwright/base/constants.h"
#include "propwright/base/monotone_curve.h"

namespace propwright::brief {
namespace {

using D = units::Dimension;

constexpr double wire_density_kg_m3 = 7860;  // carbon spring steel (common practice: 7850 to 7870)
// Glue and dope of the wooden parts and the covering, as a share of them. Judgement: a built-up
// wing of an indoor model takes 3 % for its covering alone (builders' lists), joints the rest.
constexpr double glue_share = 0.06;

class Budget {
 public:
  Budget(const Job& job, const std::vector<form::OutlineRow>& rows)
      : p_(job.propeller), rows_(rows), profile_(profile_of(job)) {}

  std::vector<PartMass> all() {
    if (p_.build.kind == BladeKind::sheet) {
      sheet();
    } else {
      outline();
      ribs();
    }
    covering();
    spars();
    glue();
    if (p_.hub.mass_kg > 0) parts_.push_back({"Hub", p_.hub.mass_kg, "as given"});
    shaft();
    return std::move(parts_);
  }

 private:
  std::string text(double si, D dimension) const { return units::to_text(si, dimension, profile_); }

  /// Area of one blade along its arched surface, m2.
  double surface_m2() const { return curve(true).integral(root_m(), tip_m()); }
  double root_m() const { return rows_.front().radius_m; }
  double tip_m() const { return rows_.back().radius_m; }

  /// Chord, or length along the arch, over the radius.
  base::MonotoneCurve curve(bool along_surface) const {
    std::vector<double> r, c;
    for (const form::OutlineRow& row : rows_) {
      r.push_back(row.radius_m);
      c.push_back(along_surface ? form::arc_length_m(row.chord_m, p_.camber) : row.chord_m);
    }
    return base::MonotoneCurve::through(std::move(r), std::move(c)).value();
  }

  void sheet() {
    const BladeBuild& b = p_.build;
    const double area_m2 = surface_m2();
    parts_.push_back({"Blades", p_.blades * area_m2 * b.sheet_thickness_m * b.wood_density_kg_m3,
                      fmt::format("{} × {} of {} sheet at {}", p_.blades, text(area_m2, D::area),
                                  text(b.sheet_thickness_m, D::length),
                                  text(b.wood_density_kg_m3, D::density))});
  }

  void outline() {
    const BladeBuild& b = p_.build;
    double length_m = 0;
    for (std::size_t i = 1; i < rows_.size(); ++i) {
      const double along_m = rows_[i].radius_m - rows_[i - 1].radius_m;
      length_m += std::hypot(along_m, rows_[i].lead_m - rows_[i - 1].lead_m) +
                  std::hypot(along_m, rows_[i].trail_m - rows_[i - 1].trail_m);
    }
    const double section_m2 = b.outline_size_m * b.outline_size_m;
    parts_.push_back(
        {"Outlines", p_.blades * length_m * section_m2 * b.wood_density_kg_m3,
         fmt::format("{} × {} of {} square at {}", p_.blades, text(length_m, D::length),
                     text(b.outline_size_m, D::length), text(b.wood_density_kg_m3, D::density))});
  }

  /// Ribs stand at equal distances between root and tip.
  void ribs() {
    const BladeBuild& b = p_.build;
    if (b.rib_count == 0) return;
    const base::MonotoneCurve lengths = curve(true);
    double length_m = 0;
    for (int i = 1; i <= b.rib_count; ++i) {
      length_m += lengths.value(root_m() + (tip_m() - root_m()) * i / (b.rib_count + 1));
    }
    parts_.push_back(
        {"Ribs", p_.blades * length_m * b.rib_depth_m * b.rib_thickness_m * b.wood_density_kg_m3,
         fmt::format("{} × {} ribs, {} long together, {} by {} at {}", p_.blades, b.rib_count,
                     text(length_m, D::length), text(b.rib_depth_m, D::length),
                     text(b.rib_thickness_m, D::length), text(b.wood_density_kg_m3, D::density))});
  }

  void covering() {
    const BladeBuild& b = p_.build;
    if (b.covering_kg_m2 <= 0) return;
    const double area_m2 = surface_m2() * b.covered_sides;
    parts_.push_back({"Covering", p_.blades * area_m2 * b.covering_kg_m2,
                      fmt::format("{} × {} at {}", p_.blades, text(area_m2, D::area),
                                  text(b.covering_kg_m2, D::areal_density))});
  }

  /// Width and depth both taper linearly: the volume is the integral of their product, which
  /// L/6 (2 w0 d0 + w0 d1 + w1 d0 + 2 w1 d1) gives exactly.
  void spars() {
    const Spar& s = p_.spar;
    if (s.length_m <= 0) return;
    const double volume_m3 = s.length_m / 6 *
                             (2 * s.root_width_m * s.root_depth_m + s.root_width_m * s.tip_depth_m +
                              s.tip_width_m * s.root_depth_m + 2 * s.tip_width_m * s.tip_depth_m);
    parts_.push_back(
        {"Spars", p_.blades * volume_m3 * s.density_kg_m3,
         fmt::format("{} × {}, {} by {} to {} by {}, at {}", p_.blades, text(s.length_m, D::length),
                     text(s.root_width_m, D::length), text(s.root_depth_m, D::length),
                     text(s.tip_width_m, D::length), text(s.tip_depth_m, D::length),
                     text(s.density_kg_m3, D::density))});
  }

  void glue() {
    double wooden_kg = 0;
    for (const PartMass& part : parts_) wooden_kg += part.mass_kg;
    parts_.push_back({"Glue", glue_share * wooden_kg,
                      fmt::format("{:.0f} % of the parts above (judgement)", 100 * glue_share)});
  }

  void shaft() {
    const Hub& hub = p_.hub;
    if (hub.shaft_length_m <= 0) return;
    const double section_m2 = base::pi / 4 * hub.shaft_diameter_m * hub.shaft_diameter_m;
    parts_.push_back({"Shaft", section_m2 * hub.shaft_length_m * wire_density_kg_m3,
                      fmt::format("{} of {} steel wire", text(hub.shaft_length_m, D::length),
                                  text(hub.shaft_diameter_m, D::length))});
  }

  const Propeller& p_;
  const std::vector<form::OutlineRow>& rows_;
  units::Profile profile_;
  std::vector<PartMass> parts_;
};

}  // namespace

std::vector<PartMass> propeller_weights(const Job& job, const std::vector<form::OutlineRow>& rows) {
  return Budget(job, rows).all();
}

}  // namespace propwright::brief
