// What goes on the bench: spar taper, cut list, weights.
#include <algorithm>
#include <cmath>

#include "packet_data.h"
#include "propwright/base/constants.h"

namespace propwright::answer {
namespace {

double mass_of(const brief::Assembly& assembly, const std::string& part) {
  for (const brief::PartMass& mass : assembly.weights) {
    if (mass.part == part) return mass.mass_kg;
  }
  return 0;
}

/// Length of the longer edge of the blade, root to tip.
double edge_length_m(const std::vector<form::OutlineRow>& rows) {
  double lead_m = 0, trail_m = 0;
  for (std::size_t i = 1; i < rows.size(); ++i) {
    const double along_m = rows[i].radius_m - rows[i - 1].radius_m;
    lead_m += std::hypot(along_m, rows[i].lead_m - rows[i - 1].lead_m);
    trail_m += std::hypot(along_m, rows[i].trail_m - rows[i - 1].trail_m);
  }
  return std::max(lead_m, trail_m);
}

double longest_rib_m(const BladeLaw& law, int ribs) {
  double longest_m = 0;
  for (int i = 1; i <= ribs; ++i) {
    const double radius_m = law.root_m() + (law.tip_m() - law.root_m()) * i / (ribs + 1);
    longest_m = std::max(longest_m,
                         form::arc_length_m(law.outline(radius_m).chord_m, law.camber(radius_m)));
  }
  return longest_m;
}

double widest_sheet_m(const BladeLaw& law, const std::vector<form::OutlineRow>& rows) {
  double widest_m = 0;
  for (const form::OutlineRow& row : rows) {
    widest_m = std::max(widest_m, form::arc_length_m(row.chord_m, law.camber(row.radius_m)));
  }
  return widest_m;
}

std::vector<sheet::CutItem> cut_list(const Prediction& prediction) {
  const brief::Propeller& p = prediction.loaded.job.propeller;
  const brief::Assembly& a = prediction.nominal.assembly;
  const brief::BladeBuild& b = p.build;
  const BladeLaw law(a);
  std::vector<sheet::CutItem> items{{"spar blank", p.blades, p.spar.length_m, p.spar.root_width_m,
                                     p.spar.root_depth_m, mass_of(a, "Spars")}};
  if (b.kind == brief::BladeKind::sheet) {
    items.push_back({"blade, from sheet", p.blades, law.tip_m() - law.root_m(),
                     widest_sheet_m(law, a.outline), b.sheet_thickness_m, mass_of(a, "Blades")});
    return items;
  }
  items.push_back({"outline strip", 2 * p.blades, edge_length_m(a.outline), b.outline_size_m,
                   b.outline_size_m, mass_of(a, "Outlines")});
  if (b.rib_count > 0) {
    items.push_back({"rib, from sheet", p.blades * b.rib_count, longest_rib_m(law, b.rib_count),
                     b.rib_depth_m, b.rib_thickness_m, mass_of(a, "Ribs")});
  }
  return items;
}

void add_spar(const Prediction& prediction, sheet::SparData& spar) {
  const brief::Spar& s = prediction.loaded.job.propeller.spar;
  if (s.length_m <= 0) return;
  const bool inch = prediction.loaded.profile() == units::Profile::inch;
  const double step_m = inch ? 0.0254 : 0.020;
  const auto row = [&](double along_m) {
    const double share = along_m / s.length_m;
    return sheet::SparRow{along_m, s.root_width_m + share * (s.tip_width_m - s.root_width_m),
                          s.root_depth_m + share * (s.tip_depth_m - s.root_depth_m)};
  };
  // A last step shorter than a tenth would only repeat the end.
  for (int i = 0; i * step_m < s.length_m - 0.1 * step_m; ++i) spar.rows.push_back(row(i * step_m));
  spar.rows.push_back(row(s.length_m));
  spar.count = prediction.loaded.job.propeller.blades;
  spar.density_kg_m3 = s.density_kg_m3;
  spar.mass_kg = mass_of(prediction.nominal.assembly, "Spars") / spar.count;
  spar.cut_list = cut_list(prediction);
}

}  // namespace

void add_build(const Prediction& prediction, sheet::PacketData& data) {
  add_spar(prediction, data.spar);
  for (const brief::PartMass& part : prediction.nominal.assembly.weights) {
    data.weights.push_back({part.part, part.mass_kg});
  }
}

}  // namespace propwright::answer
