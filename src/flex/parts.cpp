// x   along the chord, forward from the leading edge's end of it: -position times chord
// z   square to the chord, to the side lift points to; the blade is an arc of height h
#include "propwright/flex/parts.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/spar/reduce.h"

namespace propwright::flex {

using base::pi;

double Wood::modulus() const {
  return modulus_Pa.value_or(spar::usual_specific_modulus_J_kg * density_kg_m3);
}

namespace {

constexpr double film_modulus_Pa = 4.5e9, film_poisson = 0.35, film_density_kg_m3 = 1390;

double film_shear_N_per_m(const FilmPart& film) {
  return film_modulus_Pa / (2 * (1 + film_poisson)) * film.mass_kg_m2 / film_density_kg_m3;
}

/// Height of a parabolic arc over its chord at a share of it.
double arc_height(const PlanRow& at, double share) {
  return 4 * at.camber * at.chord_m * share * (1 - share);
}

/// One part of a section.
struct Piece {
  double flapwise_Nm2 = 0, chordwise_Nm2 = 0;  // own
  double axial_N = 0;                          // E A
  double torsion_Nm2 = 0;
  double x_m = 0, z_m = 0;
  double half_depth_m = 0, half_width_m = 0;
  double modulus_Pa = 0, rupture_Pa = 0;
  double mass_kg_per_m = 0, own_inertia_kg_m = 0;
  bool edge = false;
};

Piece spar_piece(const SparPart& s, const PlanRow& at) {
  const spar::Section section = spar::section_at(s.taper, at.radius_m - s.root_radius_m);
  const spar::SecondMoments i = spar::second_moments(section);
  const double e = s.wood.modulus(), area = spar::area_m2(section);
  Piece p;
  p.flapwise_Nm2 = e * i.i_0_m4;
  p.chordwise_Nm2 = e * i.i_90_m4;
  p.axial_N = e * area;
  p.torsion_Nm2 = s.wood.shear_Pa() * spar::torsion_constant_m4(section);
  p.x_m = -s.position * at.chord_m;
  p.z_m = arc_height(at, s.position);
  p.half_depth_m = section.depth_m / 2;
  p.half_width_m = section.width_m / 2;
  p.modulus_Pa = e;
  p.rupture_Pa = s.wood.rupture_Pa();
  p.mass_kg_per_m = s.wood.density_kg_m3 * area;
  return p;
}

Piece edge_piece(const BuiltUpPart& b, const PlanRow& at, bool trailing) {
  const double t = b.edge_size_m, e = b.wood.modulus();
  Piece p;
  p.flapwise_Nm2 = p.chordwise_Nm2 = e * t * t * t * t / 12;
  p.axial_N = e * t * t;
  p.torsion_Nm2 = b.wood.shear_Pa() * 0.1406 * t * t * t * t;  // square bar, Timoshenko & Goodier
  p.x_m = trailing ? -at.chord_m : 0;
  p.half_depth_m = p.half_width_m = t / 2;
  p.modulus_Pa = e;
  p.rupture_Pa = b.wood.rupture_Pa();
  p.mass_kg_per_m = b.wood.density_kg_m3 * t * t;
  p.edge = true;
  return p;
}

Piece sheet_piece(const SheetPart& s, const PlanRow& at) {
  const double t = s.thickness_m, c = at.chord_m, h = at.camber * c, e = s.wood.modulus();
  Piece p;
  p.flapwise_Nm2 = e * (c * t * t * t / 12 + 4.0 / 45 * c * t * h * h);
  p.chordwise_Nm2 = e * t * c * c * c / 12;
  p.axial_N = e * c * t;
  p.torsion_Nm2 = s.wood.shear_Pa() * c * t * t * t / 3;
  p.x_m = -c / 2;
  p.z_m = 2.0 / 3 * h;
  // The edges lie two thirds of the height below the arch's mean, the crown one third above.
  p.half_depth_m = 2.0 / 3 * h + t / 2;
  p.half_width_m = c / 2;
  p.modulus_Pa = e;
  p.rupture_Pa = s.wood.rupture_Pa();
  p.mass_kg_per_m = s.wood.density_kg_m3 * c * t;
  p.own_inertia_kg_m = p.mass_kg_per_m * c * c / 12;
  return p;
}

/// Film and ribs: mass alone.
Piece cover_piece(const Parts& parts, const PlanRow& at) {
  const double c = at.chord_m;
  Piece p;
  p.x_m = -c / 2;
  p.mass_kg_per_m = parts.film.mass_kg_m2 * parts.film.sides * c;
  if (parts.built_up) {
    const BuiltUpPart& b = *parts.built_up;
    const double span = parts.plan.back().radius_m - parts.plan.front().radius_m;
    p.mass_kg_per_m +=
        b.wood.density_kg_m3 * b.rib_count * b.rib_depth_m * b.rib_thickness_m * c / span;
  }
  p.own_inertia_kg_m = p.mass_kg_per_m * c * c / 12;
  return p;
}

/// The share of an edge's area that works at its distance from the rest.
double connected(const Parts& parts, const PlanRow& at, const Piece& piece, double other_x_m) {
  if (!piece.edge) return 1;
  const double distance = std::max(std::abs(piece.x_m - other_x_m), 1e-4);
  const double slip = parts.film.sides * film_shear_N_per_m(parts.film) / distance;
  const double span = 2 * (parts.plan.back().radius_m - parts.plan.front().radius_m);
  if (!(slip > 0) || !(at.chord_m > 0)) return 0;
  return 1 / (1 + pi * pi * piece.axial_N / (slip * span * span));
}

double lens_torsion(const Parts& parts, const PlanRow& at) {
  if (!parts.built_up || parts.film.sides != 2 || !(at.chord_m > 0)) return 0;
  const double area = 2.0 / 3 * at.chord_m * parts.built_up->rib_depth_m;
  return 4 * area * area * film_shear_N_per_m(parts.film) / (2 * at.chord_m);
}

/// The farthest fibre in one direction, as a distance of the row's own fibre: a part that breaks at
/// a lower strain counts as lying further out.
void take_fibre(double distance, const Piece& p, const BeamRow& row, double& half) {
  if (!(p.rupture_Pa > 0)) return;
  const double strain_ratio = (p.modulus_Pa / p.rupture_Pa) / (row.modulus_Pa / row.rupture_Pa);
  half = std::max(half, distance * strain_ratio);
}

BeamRow section_row(const Parts& parts, const PlanRow& at, const std::vector<Piece>& pieces) {
  BeamRow row;
  row.radius_m = at.radius_m;
  row.angle_rad = at.angle_rad;
  double own = 0, axis_x = 0, axis_z = 0, axial = 0, mean_x = 0, mean_z = 0;
  for (const Piece& p : pieces) {
    own += p.flapwise_Nm2;
    axis_x += p.flapwise_Nm2 * p.x_m;
    axis_z += p.flapwise_Nm2 * p.z_m;
  }
  axis_x /= own;
  axis_z /= own;
  std::vector<double> share;
  for (const Piece& p : pieces) {
    share.push_back(connected(parts, at, p, axis_x));
    axial += share.back() * p.axial_N;
    mean_x += share.back() * p.axial_N * p.x_m;
    mean_z += share.back() * p.axial_N * p.z_m;
  }
  if (axial > 0) {
    mean_x /= axial;
    mean_z /= axial;
  }
  double flapwise = 0, chordwise = 0, product = 0;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const Piece& p = pieces[i];
    const double x = p.x_m - mean_x, z = p.z_m - mean_z, weight = share[i] * p.axial_N;
    flapwise += p.flapwise_Nm2 + weight * z * z;
    chordwise += p.chordwise_Nm2 + weight * x * x;
    product += weight * x * z;
    row.torsion_Nm2 += p.torsion_Nm2;
    row.mass_kg_per_m += p.mass_kg_per_m;
    const double off = p.x_m - axis_x;
    row.inertia_kg_m += p.own_inertia_kg_m + p.mass_kg_per_m * off * off;
    if (!(row.rupture_Pa > 0) && p.rupture_Pa > 0) {
      row.modulus_Pa = p.modulus_Pa;
      row.rupture_Pa = p.rupture_Pa;
    }
    take_fibre(share[i] * std::abs(z) + p.half_depth_m, p, row, row.half_depth_m);
    take_fibre(share[i] * std::abs(x) + p.half_width_m, p, row, row.half_width_m);
  }
  row.torsion_Nm2 += lens_torsion(parts, at);
  const double mean = (flapwise + chordwise) / 2;
  const double half = std::hypot((chordwise - flapwise) / 2, product);
  row.chordwise_Nm2 = mean + half;
  row.flapwise_Nm2 = mean - half;
  if (half > 1e-12 * mean) row.principal_rad = std::atan2(2 * product, chordwise - flapwise) / 2;
  row.behind_quarter_m = -axis_x - 0.25 * at.chord_m;
  row.above_chord_m = axis_z;
  return row;
}

PlanRow between(const std::vector<PlanRow>& plan, double radius_m) {
  std::size_t i = 0;
  while (i + 2 < plan.size() && plan[i + 1].radius_m <= radius_m) ++i;
  const PlanRow &low = plan[i], &high = plan[i + 1];
  const double t = std::clamp((radius_m - low.radius_m) / (high.radius_m - low.radius_m), 0.0, 1.0);
  const auto mix = [t](double a, double b) { return a + t * (b - a); };
  return {radius_m, mix(low.chord_m, high.chord_m), mix(low.angle_rad, high.angle_rad),
          mix(low.camber, high.camber)};
}

/// A row at a radius with the parts present just inside (`inner`) or outside of it.
std::optional<BeamRow> row_at(const Parts& parts, double radius_m, bool inner) {
  const double blade_root = parts.plan.front().radius_m;
  const bool on_blade = inner ? radius_m > blade_root : radius_m >= blade_root;
  // A pointed tip still has the wood that holds it together: a millimetre of it.
  constexpr double least_chord_m = 1e-3;
  PlanRow at = between(parts.plan, radius_m);
  at.chord_m = on_blade ? std::max(at.chord_m, least_chord_m) : 0;
  std::vector<Piece> pieces;
  if (parts.spar) {
    const double start = parts.spar->root_radius_m, end = start + spar::length_m(parts.spar->taper);
    if (radius_m >= start && (inner ? radius_m <= end : radius_m < end)) {
      pieces.push_back(spar_piece(*parts.spar, at));
    }
  }
  if (on_blade && parts.sheet) pieces.push_back(sheet_piece(*parts.sheet, at));
  if (on_blade && parts.built_up) {
    pieces.push_back(edge_piece(*parts.built_up, at, false));
    pieces.push_back(edge_piece(*parts.built_up, at, true));
  }
  if (pieces.empty()) return std::nullopt;
  if (on_blade) pieces.push_back(cover_piece(parts, at));
  return section_row(parts, at, pieces);
}

base::Problem bad_part(const char* field, std::string value, const char* allowed,
                       const char* remedy, const char* message) {
  return {.field = field,
          .value = std::move(value),
          .allowed = allowed,
          .remedy = remedy,
          .message = message};
}

base::Problems check_parts(const Parts& parts) {
  base::Problems problems;
  const auto positive = [&](double value, const char* field) {
    if (value > 0 && std::isfinite(value)) return;
    problems.push_back(bad_part(field, fmt::format("{:g}", value), "above 0", "correct it",
                                "a part of the blade is out of range"));
  };
  const auto wood = [&](const Wood& w, const char* density, const char* modulus) {
    positive(w.density_kg_m3, density);
    positive(w.modulus(), modulus);
  };
  if (parts.plan.size() < 2) {
    problems.push_back(bad_part("plan", fmt::format("{} rows", parts.plan.size()),
                                "at least 2 rows", "give the blade at two radii or more",
                                "too few rows for a blade"));
  }
  for (std::size_t i = 1; i < parts.plan.size(); ++i) {
    if (parts.plan[i].radius_m > parts.plan[i - 1].radius_m) continue;
    problems.push_back(bad_part("plan", fmt::format("{:g} m", parts.plan[i].radius_m),
                                "radii increasing from row to row", "sort the rows",
                                "the radii are not in order"));
  }
  if (!parts.spar && !parts.built_up && !parts.sheet) {
    problems.push_back(bad_part("parts", "none", "a spar, edges or a sheet",
                                "give what the blade is built of", "nothing carries the blade"));
  }
  if (parts.spar) {
    wood(parts.spar->wood, "spar: density", "spar: modulus");
    for (base::Problem& p : spar::problems(parts.spar->taper)) problems.push_back(std::move(p));
  }
  if (parts.built_up) {
    positive(parts.built_up->edge_size_m, "edge size");
    wood(parts.built_up->wood, "edges: density", "edges: modulus");
  }
  if (parts.sheet) {
    positive(parts.sheet->thickness_m, "sheet: thickness");
    wood(parts.sheet->wood, "sheet: density", "sheet: modulus");
  }
  return problems;
}

/// Radii of the rows: those of the plan, of the spar's ends and of its stations.
std::vector<double> row_radii(const Parts& parts) {
  std::vector<double> radii;
  for (const PlanRow& row : parts.plan) radii.push_back(row.radius_m);
  const double tip = radii.back();
  if (parts.spar) {
    const SparPart& s = *parts.spar;
    for (const spar::Station& station : s.taper.stations) {
      radii.push_back(s.root_radius_m + station.x_m);
    }
    // EI of a taper is no straight line: rows close enough that the error is below 1e-3.
    constexpr int parts_of_spar = 24;
    const double length = spar::length_m(s.taper);
    for (int i = 1; i < parts_of_spar; ++i) {
      radii.push_back(s.root_radius_m + length * i / parts_of_spar);
    }
  }
  std::sort(radii.begin(), radii.end());
  std::erase_if(radii, [&](double r) { return r > tip; });
  std::vector<double> apart;
  for (const double r : radii) {
    if (apart.empty() || r - apart.back() > 1e-6) apart.push_back(r);
  }
  return apart;
}

}  // namespace

base::Expected<BladeBeam> beam_of(const Parts& parts) {
  base::Problems problems = check_parts(parts);
  if (!problems.empty()) return base::fail(std::move(problems));
  BladeBeam beam;
  beam.socket = parts.socket;
  const std::vector<double> radii = row_radii(parts);
  for (const double radius : radii) {
    const auto inside = row_at(parts, radius, true), outside = row_at(parts, radius, false);
    if (inside && radius > radii.front()) beam.rows.push_back(*inside);
    if (outside && radius < radii.back()) beam.rows.push_back(*outside);
  }
  // A pair of equal rows is no step.
  const auto same = [](const BeamRow& a, const BeamRow& b) {
    return a.radius_m == b.radius_m && a.flapwise_Nm2 == b.flapwise_Nm2 &&
           a.chordwise_Nm2 == b.chordwise_Nm2 && a.torsion_Nm2 == b.torsion_Nm2;
  };
  beam.rows.erase(std::unique(beam.rows.begin(), beam.rows.end(), same), beam.rows.end());
  const double tip = parts.plan.back().radius_m;
  if (beam.rows.size() < 2 || beam.rows.back().radius_m < tip - 1e-6) {
    return base::fail(bad_part(
        "parts", fmt::format("{:g} m", beam.rows.empty() ? 0.0 : beam.rows.back().radius_m),
        "wood out to the tip", "give a spar as long as the blade, or edges",
        "nothing carries the outer part of the blade"));
  }
  if (problems = check(beam); !problems.empty()) return base::fail(std::move(problems));
  return beam;
}

}  // namespace propwright::flex
