#include "sanding_plan.h"

#include <algorithm>
#include <array>
#include <boost/math/tools/minima.hpp>
#include <cmath>
#include <limits>

namespace propwright::spar {
namespace {

enum class Faces { top_and_bottom, sides, all_round };

/// A spar of the pair seen by the planner.
struct Workpiece {
  const Measured* spar = nullptr;
  double sign = 1;       ///< +1: a stiffer spar raises the log ratios (a); -1: b
  bool quarter = false;  ///< mounted so that its own direction 90 is in the flap direction
  bool round = false;
  double compliance_0 = 0, compliance_90 = 0;  ///< before; in any unit
};

/// Log ratios a over b in the two directions.
struct Ratios {
  double flap = 0, edge = 0;
};

double largest(const Ratios& r) {
  return std::max(std::abs(r.flap), std::abs(r.edge));
}

double compliance_of(const Taper& taper, Bending bending, const Rig& rig) {
  const SecondMoments root = second_moments(taper.stations.front().section);
  return unit_flexibility_m3(taper, bending, rig.load_at_m, rig.read_at_m) /
         (bending == Bending::width ? root.i_90_m4 : root.i_0_m4);
}

Workpiece workpiece(const Measured& spar, const Mounting& mounting, double sign, const Rig& rig) {
  const Taper& taper = spar.spar.taper;
  Workpiece piece{.spar = &spar, .sign = sign};
  piece.round = taper.stations.front().section.shape == Shape::round;
  piece.quarter = std::abs(mounting.turn_deg) > 45;
  piece.compliance_0 = compliance_of(taper, Bending::depth, rig);
  piece.compliance_90 = compliance_of(taper, Bending::width, rig);
  return piece;
}

/// How far from the clamp the faces can lose this thickness and leave the smallest size.
double reach_m(const Taper& taper, double from_m, double remove_0_m, double remove_90_m,
               double smallest_m) {
  const auto spare = [&](double x) {
    const Section s = section_at(taper, x);
    const double depth = remove_0_m > 0 ? s.depth_m - 2 * remove_0_m : smallest_m;
    const double width = remove_90_m > 0 ? s.width_m - 2 * remove_90_m : smallest_m;
    return std::min(depth, width) - smallest_m;
  };
  double last = from_m, spare_last = spare(from_m);
  if (spare_last < 0) return from_m;
  for (const Station& station : taper.stations) {
    if (station.x_m <= from_m) continue;
    const double spare_here = spare(station.x_m);
    if (spare_here < 0) {
      return last + (station.x_m - last) * spare_last / (spare_last - spare_here);
    }
    last = station.x_m, spare_last = spare_here;
  }
  return last;
}

/// A cut over as much of the spar as the smallest size allows: from what the hub tube holds to the
/// tip, or short of it. Empty: less than a third of the spar could be sanded, which would leave a
/// waist.
std::optional<Cut> cut_of(const Workpiece& piece, double remove_0_m, double remove_90_m,
                          const Limits& limits) {
  const Taper& taper = piece.spar->spar.taper;
  const double length = length_m(taper), from = std::clamp(limits.keep_root_m, 0.0, length);
  const double to = reach_m(taper, from, remove_0_m, remove_90_m, limits.smallest_m);
  if (to - from < length / 3) return {};
  Cut cut;
  cut.id = piece.spar->spar.id;
  cut.remove_0_per_face_m = remove_0_m, cut.remove_90_per_face_m = remove_90_m;
  cut.from_m = from, cut.to_m = to;
  cut.after = sanded(taper, cut);
  return cut;
}

Ratios after_cut(const Ratios& before, const Workpiece& piece, const Cut& cut, const Rig& rig) {
  const double change_0 =
      std::log(piece.compliance_0 / compliance_of(cut.after, Bending::depth, rig));
  const double change_90 =
      std::log(piece.compliance_90 / compliance_of(cut.after, Bending::width, rig));
  return {before.flap + piece.sign * (piece.quarter ? change_90 : change_0),
          before.edge + piece.sign * (piece.quarter ? change_0 : change_90)};
}

std::optional<Cut> cut_faces(const Workpiece& piece, Faces faces, double remove_m,
                             const Limits& limits) {
  return cut_of(piece, faces == Faces::sides ? 0 : remove_m,
                faces == Faces::top_and_bottom ? 0 : remove_m, limits);
}

/// Half of the largest thickness is more than the smallest size ever leaves.
double most_removable_m(const Workpiece& piece, const Limits& limits) {
  const Section& root = piece.spar->spar.taper.stations.front().section;
  return std::max(0.0, (std::max(root.width_m, root.depth_m) - limits.smallest_m) / 2);
}

/// A cut and what it leaves.
struct Outcome {
  std::vector<Cut> cuts = {};
  Ratios left = {};
};

/// The amount off one pair of faces that leaves the least sum of squares.
std::optional<Outcome> best_single(const PlanInput& in, const Ratios& before,
                                   const Workpiece& piece, Faces faces) {
  const auto squares = [&](double remove) {
    const auto cut = cut_faces(piece, faces, remove, in.limits);
    if (!cut) return 1e3 + remove;
    const Ratios r = after_cut(before, piece, *cut, in.rig);
    return r.flap * r.flap + r.edge * r.edge;
  };
  const double most = most_removable_m(piece, in.limits);
  if (!(most > 0)) return {};
  // The minimum is parabolic: 20 bits of the amount are a thousandth of a percent of the depth.
  std::uintmax_t tries = 60;
  const double remove = boost::math::tools::brent_find_minima(squares, 0.0, most, 20, tries).first;
  const auto cut = cut_faces(piece, faces, remove, in.limits);
  if (!cut) return {};
  return Outcome{{*cut}, after_cut(before, piece, *cut, in.rig)};
}

/// One pair of faces of one spar, or a round spar all round: what a cut can work on.
struct Tool {
  Workpiece piece = {};
  Faces faces = Faces::top_and_bottom;
};

std::vector<Tool> tools_for(const Workpiece& piece) {
  if (piece.round) return {{piece, Faces::all_round}};
  return {{piece, Faces::top_and_bottom}, {piece, Faces::sides}};
}

/// Both tools at once; on one spar they make one cut.
std::optional<Outcome> outcome_of(const PlanInput& in, const Ratios& before, const Tool& one,
                                  double remove_one_m, const Tool& two, double remove_two_m) {
  if (one.piece.spar == two.piece.spar) {
    const bool one_is_depth = one.faces == Faces::top_and_bottom;
    const auto cut = cut_of(one.piece, one_is_depth ? remove_one_m : remove_two_m,
                            one_is_depth ? remove_two_m : remove_one_m, in.limits);
    if (!cut) return {};
    return Outcome{{*cut}, after_cut(before, one.piece, *cut, in.rig)};
  }
  const auto first = cut_faces(one.piece, one.faces, remove_one_m, in.limits);
  const auto second = cut_faces(two.piece, two.faces, remove_two_m, in.limits);
  if (!first || !second) return {};
  const Ratios half_way = after_cut(before, one.piece, *first, in.rig);
  return Outcome{{*first, *second}, after_cut(half_way, two.piece, *second, in.rig)};
}

/// Newton's method for the two amounts that leave no difference. Empty: one of them would have to
/// add wood, or too much would go.
std::optional<Outcome> both_to_nothing(const PlanInput& in, const Ratios& before, const Tool& one,
                                       const Tool& two) {
  const double h = 1e-6;  // m: ratios change by a few thousandths, far above their rounding
  double x = h, y = h;
  for (int k = 0; k < 12; ++k) {
    const auto here = outcome_of(in, before, one, x, two, y);
    const auto by_x = outcome_of(in, before, one, x + h, two, y);
    const auto by_y = outcome_of(in, before, one, x, two, y + h);
    if (!here || !by_x || !by_y) return {};
    if (largest(here->left) < 1e-5) return here;
    const double a = (by_x->left.flap - here->left.flap) / h;
    const double b = (by_y->left.flap - here->left.flap) / h;
    const double c = (by_x->left.edge - here->left.edge) / h;
    const double d = (by_y->left.edge - here->left.edge) / h;
    const double determinant = a * d - b * c;
    if (std::abs(determinant) < 0.05 * (a * a + b * b + c * c + d * d)) return {};
    x -= (d * here->left.flap - b * here->left.edge) / determinant;
    y -= (a * here->left.edge - c * here->left.flap) / determinant;
    if (!(x > 0 && y > 0)) return {};
  }
  return {};
}

double removed_m(const Outcome& outcome) {
  double sum = 0;
  for (const Cut& cut : outcome.cuts) sum += cut.remove_0_per_face_m + cut.remove_90_per_face_m;
  return sum;
}

/// Whether what is left would be called alike; where the doubt alone uses up the tolerance, a
/// quarter of it is as near as can be aimed.
bool would_match(const PlanInput& in, const Ratios& left) {
  const double tolerance = in.limits.tolerance;
  const auto within = [&](double ratio, double sigma) {
    return std::abs(ratio) <= std::max(tolerance - 2 * sigma, tolerance / 4);
  };
  return within(left.flap, in.mounted.flap.sigma) && within(left.edge, in.mounted.edge.sigma);
}

std::optional<Outcome> best_outcome(const PlanInput& in, const Ratios& before,
                                    const std::vector<Tool>& tools) {
  std::optional<Outcome> single, pair;
  for (const Tool& tool : tools) {
    const auto outcome = best_single(in, before, tool.piece, tool.faces);
    if (outcome && (!single || largest(outcome->left) < largest(single->left))) single = outcome;
  }
  if (single && would_match(in, single->left)) return single;
  for (std::size_t i = 0; i < tools.size(); ++i) {
    for (std::size_t j = i + 1; j < tools.size(); ++j) {
      const auto outcome = both_to_nothing(in, before, tools[i], tools[j]);
      if (outcome && (!pair || removed_m(*outcome) < removed_m(*pair))) pair = outcome;
    }
  }
  if (pair) return pair;
  if (single && largest(single->left) <= in.limits.tolerance) return single;
  return {};
}

/// The part of the whole amount to take now; see sanding.h.
double share_now(const PlanInput& in) {
  const double tolerance = in.limits.tolerance;
  double share = 1;
  for (const Comparison& c : {in.mounted.flap, in.mounted.edge}) {
    const double m = std::abs(c.log_ratio);
    if (m <= tolerance) continue;
    share = std::min(share, (m - 2 * c.sigma + tolerance) / m);
    if (m > 2 * tolerance) share = std::min(share, 0.7);
  }
  return share;
}

/// To the builder's step, up only from three quarters of one since wood cannot be put back. Less
/// than three quarters of a single step is left as it is.
double rounded_m(double remove_m, double step_m) {
  if (!(step_m > 0) || remove_m < 0.75 * step_m) return remove_m;
  return step_m * std::floor(remove_m / step_m + 0.25);
}

struct Target {
  double reading_m = 0, sigma_m = 0;
};

Target target_of(const PlanInput& in, const Measured& spar, const Cut& cut, Bending bending,
                 double ratio_sigma) {
  const bool depth = bending == Bending::depth;
  const Direction& direction = depth ? spar.at_0 : spar.at_90;
  const SecondMoments root = second_moments(cut.after.stations.front().section);
  const double ei = direction.modulus_Pa.value * (depth ? root.i_0_m4 : root.i_90_m4);
  const double mass = spar.density_kg_m3 * volume_m3(cut.after);
  // A sanded spar of a matched pair reads hardly more than it did; should it hang past the place of
  // reading all the same, its old reading is the nearest that can be said.
  const double reading = reading_m({cut.after, mass, bending}, in.rig, ei)
                             .value_or(direction.deflection_m + in.rig.zero_reading_m);
  const double deflection = reading - in.rig.zero_reading_m;
  return {reading, std::hypot(mean_sigma_m(in.rig, 1), deflection * ratio_sigma)};
}

Cut finished(const PlanInput& in, const Workpiece& piece, const Cut& whole, double share) {
  const double step = in.limits.step_m;
  // Less wood than a cut that was possible: possible too.
  const double remove_0 = rounded_m(share * whole.remove_0_per_face_m, step);
  const double remove_90 = rounded_m(share * whole.remove_90_per_face_m, step);
  Cut cut = cut_of(piece, remove_0, remove_90, in.limits).value_or(whole);
  cut.is_first_step = share < 1;
  const Comparison& on_0 = piece.quarter ? in.mounted.edge : in.mounted.flap;
  const Comparison& on_90 = piece.quarter ? in.mounted.flap : in.mounted.edge;
  const Target at_0 = target_of(in, *piece.spar, cut, Bending::depth, on_0.sigma);
  const Target at_90 = target_of(in, *piece.spar, cut, Bending::width, on_90.sigma);
  cut.target_reading_0_m = at_0.reading_m, cut.target_sigma_0_m = at_0.sigma_m;
  cut.target_reading_90_m = at_90.reading_m, cut.target_sigma_90_m = at_90.sigma_m;
  return cut;
}

}  // namespace

std::optional<std::vector<Cut>> plan_sanding(const PlanInput& in) {
  const Workpiece a = workpiece(in.a, in.mounted.a, 1, in.rig);
  const Workpiece b = workpiece(in.b, in.mounted.b, -1, in.rig);
  std::vector<Tool> tools = tools_for(a);
  for (const Tool& tool : tools_for(b)) tools.push_back(tool);
  const Ratios before{in.mounted.flap.log_ratio, in.mounted.edge.log_ratio};
  auto outcome = best_outcome(in, before, tools);
  if (!outcome) return {};
  const double share = share_now(in);
  for (Cut& cut : outcome->cuts) {
    cut = finished(in, cut.id == a.spar->spar.id ? a : b, cut, share);
  }
  return std::move(outcome->cuts);
}

}  // namespace propwright::spar
