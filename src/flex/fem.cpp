#include "fem.h"

#include <algorithm>
#include <cmath>

namespace propwright::flex {

namespace {

// Gauss-Legendre, three points on 0..1.
constexpr double gauss_offset = 0.387298334620741688;  // sqrt(0.6)/2
constexpr std::array<double, 3> gauss_place{0.5 - gauss_offset, 0.5, 0.5 + gauss_offset};
constexpr std::array<double, 3> gauss_weight{5.0 / 18, 8.0 / 18, 5.0 / 18};

constexpr std::array<int, 4> v_of{0, 1, 5, 6}, w_of{2, 3, 7, 8};
constexpr std::array<int, 2> phi_of{4, 9};

/// Hermite's cubics at t = 0..1 of an element of length h.
std::array<double, 4> cubic(double t, double h) {
  const double r = 1 - t;
  return {(1 + 2 * t) * r * r, h * t * r * r, t * t * (3 - 2 * t), -h * t * t * r};
}
std::array<double, 4> cubic_slope(double t, double h) {
  const double v = 6 * t * (1 - t) / h;
  return {-v, (1 - t) * (1 - 3 * t), v, t * (3 * t - 2)};
}
std::array<double, 4> cubic_bend(double t, double h) {
  return {(12 * t - 6) / (h * h), (6 * t - 4) / h, (6 - 12 * t) / (h * h), (6 * t - 2) / h};
}

/// Where elements begin and end: equal parts of each stretch between steps.
std::vector<double> element_ends(const std::vector<BeamRow>& rows, int wanted) {
  std::vector<double> steps{rows.front().radius_m};
  for (std::size_t i = 1; i + 1 < rows.size(); ++i) {
    if (rows[i].radius_m == rows[i + 1].radius_m && rows[i].radius_m > steps.back()) {
      steps.push_back(rows[i].radius_m);
    }
  }
  if (rows.back().radius_m > steps.back()) steps.push_back(rows.back().radius_m);
  const double length = steps.back() - steps.front();
  std::vector<double> ends{steps.front()};
  for (std::size_t i = 0; i + 1 < steps.size(); ++i) {
    const double part = steps[i + 1] - steps[i];
    const int count = std::max(1, static_cast<int>(std::lround(wanted * part / length)));
    for (int k = 1; k <= count; ++k) ends.push_back(steps[i] + part * k / count);
  }
  return ends;
}

}  // namespace

BeamRow mixed_row(const BeamRow& low, const BeamRow& high, double t) {
  const auto between = [t](double a, double b) { return a + t * (b - a); };
  BeamRow r;
  r.radius_m = between(low.radius_m, high.radius_m);
  r.flapwise_Nm2 = between(low.flapwise_Nm2, high.flapwise_Nm2);
  r.chordwise_Nm2 = between(low.chordwise_Nm2, high.chordwise_Nm2);
  r.principal_rad = between(low.principal_rad, high.principal_rad);
  r.torsion_Nm2 = between(low.torsion_Nm2, high.torsion_Nm2);
  r.mass_kg_per_m = between(low.mass_kg_per_m, high.mass_kg_per_m);
  r.inertia_kg_m = between(low.inertia_kg_m, high.inertia_kg_m);
  r.angle_rad = between(low.angle_rad, high.angle_rad);
  r.behind_quarter_m = between(low.behind_quarter_m, high.behind_quarter_m);
  r.above_chord_m = between(low.above_chord_m, high.above_chord_m);
  r.half_depth_m = between(low.half_depth_m, high.half_depth_m);
  r.half_width_m = between(low.half_width_m, high.half_width_m);
  r.modulus_Pa = between(low.modulus_Pa, high.modulus_Pa);
  r.rupture_Pa = between(low.rupture_Pa, high.rupture_Pa);
  return r;
}

void BandMatrix::fix(int row) {
  for (int k = std::max(0, row - band); k <= std::min(size_ - 1, row + band); ++k) {
    at(row, k) = 0;
    at(k, row) = 0;
  }
  at(row, row) = 1;
}

int BandMatrix::factor() {
  int not_positive = 0;
  for (int k = 0; k < size_; ++k) {
    const double* pivot_row = &entries_[index(k, k)];
    const double pivot = pivot_row[0];
    if (!(pivot > 0)) ++not_positive;
    const double inverse = 1 / pivot;
    const int last = std::min(size_ - 1, k + band);
    for (int i = k + 1; i <= last; ++i) {
      double* row = &entries_[index(i, k)];
      const double share = row[0] * inverse;
      row[0] = share;
      if (share == 0) continue;
      for (int j = 1; j <= band; ++j) row[j] -= share * pivot_row[j];
    }
  }
  return not_positive;
}

void BandMatrix::solve(double* x) const {
  for (int k = 0; k < size_; ++k) {
    const int first = std::max(0, k - band);
    const double* row = &entries_[index(k, first)];
    double sum = x[k];
    for (int j = first; j < k; ++j) sum -= row[j - first] * x[j];
    x[k] = sum;
  }
  for (int k = size_ - 1; k >= 0; --k) {
    const double* row = &entries_[index(k, k)];
    const int last = std::min(size_ - 1, k + band);
    double sum = x[k];
    for (int j = k + 1; j <= last; ++j) sum -= row[j - k] * x[j];
    x[k] = sum / row[0];
  }
}

Fem::Fem(const BladeBeam& beam, int wanted) : rows(beam.rows), socket(beam.socket) {
  root_m = rows.front().radius_m;
  tip_m = rows.back().radius_m;
  const std::vector<double> ends = element_ends(rows, wanted);
  for (std::size_t i = 0; i + 1 < ends.size(); ++i) {
    BeamElement e;
    e.start_m = ends[i];
    e.length_m = ends[i + 1] - ends[i];
    double flexibility = 0;
    for (std::size_t g = 0; g < 3; ++g) {
      GaussPoint& p = e.points[g];
      const double t = gauss_place[g];
      p.radius_m = e.start_m + t * e.length_m;
      p.weight_m = gauss_weight[g] * e.length_m;
      p.value = cubic(t, e.length_m);
      p.slope = cubic_slope(t, e.length_m);
      p.bend = cubic_bend(t, e.length_m);
      p.twist = {1 - t, t};
      const BeamRow r = row(p.radius_m);
      flexibility += p.weight_m / r.torsion_Nm2;
      p.mean_Nm2 = (r.chordwise_Nm2 + r.flapwise_Nm2) / 2;
      p.half_Nm2 = (r.chordwise_Nm2 - r.flapwise_Nm2) / 2;
      p.cos_twice = std::cos(2 * (r.angle_rad + r.principal_rad));
      p.sin_twice = std::sin(2 * (r.angle_rad + r.principal_rad));
      p.cos_chord = std::cos(2 * r.angle_rad);
      p.sin_chord = std::sin(2 * r.angle_rad);
      p.mass_kg_per_m = r.mass_kg_per_m;
      p.inertia_kg_m = r.inertia_kg_m;
    }
    e.torsion_Nm = 1 / flexibility;
    elements.push_back(e);
  }
  double outside = 0;  // integral of m r outside the element
  for (auto e = elements.rbegin(); e != elements.rend(); ++e) {
    const double end = e->start_m + e->length_m;
    for (GaussPoint& p : e->points) {
      p.tension_kg_m = outside;
      for (std::size_t g = 0; g < 3; ++g) {
        const double r = p.radius_m + gauss_place[g] * (end - p.radius_m);
        p.tension_kg_m += gauss_weight[g] * (end - p.radius_m) * row(r).mass_kg_per_m * r;
      }
    }
    for (const GaussPoint& p : e->points) outside += p.weight_m * p.mass_kg_per_m * p.radius_m;
  }
}

BeamRow Fem::row(double radius_m) const {
  const auto above =
      std::upper_bound(rows.begin(), rows.end(), radius_m,
                       [](double radius, const BeamRow& r) { return radius < r.radius_m; });
  if (above == rows.begin()) return rows.front();
  if (above == rows.end()) return rows.back();
  const BeamRow& low = *(above - 1);
  return mixed_row(low, *above, (radius_m - low.radius_m) / (above->radius_m - low.radius_m));
}

Spot Fem::spot(double radius_m) const {
  Spot s;
  while (s.element + 1 < static_cast<int>(elements.size()) &&
         elements[s.element + 1].start_m <= radius_m) {
    ++s.element;
  }
  const BeamElement& e = elements[s.element];
  const double t = std::clamp((radius_m - e.start_m) / e.length_m, 0.0, 1.0);
  s.value = cubic(t, e.length_m);
  s.twist = {1 - t, t};
  return s;
}

BeamPoint Fem::point_at(double radius_m, const double* q) const {
  const Spot s = spot(radius_m);
  const double* left = q + node_unknowns * s.element;
  BeamPoint p{.radius_m = radius_m, .twist_rad = twist_at(s, q)};
  for (std::size_t k = 0; k < 4; ++k) {
    p.in_disc_m += s.value[k] * left[v_of[k]];
    p.out_of_disc_m += s.value[k] * left[w_of[k]];
  }
  return p;
}

namespace {

/// An element's forces and slopes, unknowns as in v_of, w_of, phi_of.
struct Local {
  std::array<double, 10> force{};
  std::array<std::array<double, 10>, 10> slope{};
};

struct Strain {
  double v = 0, w = 0;  // of the curvatures, or slopes, or values
};
Strain strain(const std::array<double, 4>& shape, const double* q) {
  Strain s;
  for (std::size_t k = 0; k < 4; ++k) {
    s.v += shape[k] * q[v_of[k]];
    s.w += shape[k] * q[w_of[k]];
  }
  return s;
}

/// Bending with its axes turned by the twist, and the twisting moment that comes of it.
void add_bending(const GaussPoint& p, const double* q, Local& l) {
  const double phi = p.twist[0] * q[4] + p.twist[1] * q[9];
  const Strain k = strain(p.bend, q);
  const double c = std::cos(2 * phi), s = std::sin(2 * phi);
  const double dc = p.half_Nm2 * (p.cos_twice * c - p.sin_twice * s);
  const double ds = p.half_Nm2 * (p.sin_twice * c + p.cos_twice * s);
  const double vv = p.mean_Nm2 + dc, ww = p.mean_Nm2 - dc, vw = ds;
  const double moment_v = vv * k.v + vw * k.w, moment_w = vw * k.v + ww * k.w;
  const double by_phi_v = 2 * (-ds * k.v + dc * k.w), by_phi_w = 2 * (dc * k.v + ds * k.w);
  const double twist = (by_phi_v * k.v + by_phi_w * k.w) / 2;
  const double twist_by_phi = -2 * dc * k.v * k.v - 4 * ds * k.v * k.w + 2 * dc * k.w * k.w;
  for (std::size_t i = 0; i < 4; ++i) {
    const double b = p.weight_m * p.bend[i];
    l.force[v_of[i]] += b * moment_v;
    l.force[w_of[i]] += b * moment_w;
    for (std::size_t j = 0; j < 4; ++j) {
      const double bb = b * p.bend[j];
      l.slope[v_of[i]][v_of[j]] += bb * vv;
      l.slope[v_of[i]][w_of[j]] += bb * vw;
      l.slope[w_of[i]][v_of[j]] += bb * vw;
      l.slope[w_of[i]][w_of[j]] += bb * ww;
    }
    for (std::size_t j = 0; j < 2; ++j) {
      const double bt = b * p.twist[j];
      l.slope[v_of[i]][phi_of[j]] += bt * by_phi_v;
      l.slope[phi_of[j]][v_of[i]] += bt * by_phi_v;
      l.slope[w_of[i]][phi_of[j]] += bt * by_phi_w;
      l.slope[phi_of[j]][w_of[i]] += bt * by_phi_w;
    }
  }
  for (std::size_t i = 0; i < 2; ++i) {
    const double t = p.weight_m * p.twist[i];
    l.force[phi_of[i]] += t * twist;
    for (std::size_t j = 0; j < 2; ++j) {
      l.slope[phi_of[i]][phi_of[j]] += t * p.twist[j] * twist_by_phi;
    }
  }
}

/// Centrifugal tension stiffens both bendings; sideways the centrifugal force itself follows the
/// deflection; a blade's masses are drawn into the disc (Omega^2 I sin cos, nose-down).
void add_rotation(const GaussPoint& p, const double* q, double omega2, Local& l) {
  const Strain slope = strain(p.slope, q);
  const double v = strain(p.value, q).v;
  const double tension = omega2 * p.tension_kg_m * p.weight_m;
  const double mass = omega2 * p.mass_kg_per_m * p.weight_m;
  for (std::size_t i = 0; i < 4; ++i) {
    const double t = tension * p.slope[i], m = mass * p.value[i];
    l.force[v_of[i]] += t * slope.v - m * v;
    l.force[w_of[i]] += t * slope.w;
    for (std::size_t j = 0; j < 4; ++j) {
      l.slope[v_of[i]][v_of[j]] += t * p.slope[j] - m * p.value[j];
      l.slope[w_of[i]][w_of[j]] += t * p.slope[j];
    }
  }
  const double phi = p.twist[0] * q[4] + p.twist[1] * q[9];
  const double c = std::cos(2 * phi), s = std::sin(2 * phi);
  const double moment = omega2 * p.inertia_kg_m * (p.sin_chord * c + p.cos_chord * s) / 2;
  const double by_phi = omega2 * p.inertia_kg_m * (p.cos_chord * c - p.sin_chord * s);
  for (std::size_t i = 0; i < 2; ++i) {
    const double t = p.weight_m * p.twist[i];
    l.force[phi_of[i]] += t * moment;
    for (std::size_t j = 0; j < 2; ++j) l.slope[phi_of[i]][phi_of[j]] += t * p.twist[j] * by_phi;
  }
}

}  // namespace

void Fem::add_beam(const double* q, double omega, BandMatrix& tangent, double* residual) const {
  for (std::size_t e = 0; e < elements.size(); ++e) {
    const int first = node_unknowns * static_cast<int>(e);
    const double* own = q + first;
    Local l;
    for (const GaussPoint& p : elements[e].points) {
      add_bending(p, own, l);
      if (omega != 0) add_rotation(p, own, omega * omega, l);
    }
    const double torsion = elements[e].torsion_Nm;
    l.force[4] += torsion * (own[4] - own[9]);
    l.force[9] += torsion * (own[9] - own[4]);
    l.slope[4][4] += torsion;
    l.slope[9][9] += torsion;
    l.slope[4][9] -= torsion;
    l.slope[9][4] -= torsion;
    for (int i = 0; i < 10; ++i) {
      residual[first + i] += l.force[i];
      for (int j = 0; j < 10; ++j) tangent.at(first + i, first + j) += l.slope[i][j];
    }
  }
}

void Fem::add_load(const Spot& s, const SpotLoad& load, BandMatrix& tangent,
                   double* residual) const {
  const int first = node_unknowns * s.element;
  const auto add = [&](int place, double shape, double force, double by_twist) {
    const int row = first + place;
    residual[row] -= shape * force;
    if (by_twist == 0) return;
    for (std::size_t j = 0; j < 2; ++j) {
      tangent.at(row, first + phi_of[j]) -= shape * by_twist * s.twist[j];
    }
  };
  for (std::size_t k = 0; k < 4; ++k) {
    add(v_of[k], s.value[k], load.in_disc_N, load.in_disc_by_twist);
    add(w_of[k], s.value[k], load.out_of_disc_N, load.out_of_disc_by_twist);
  }
  for (std::size_t k = 0; k < 2; ++k) {
    add(phi_of[k], s.twist[k], load.twist_Nm, load.moment_by_twist);
  }
}

void Fem::add_root(const double* q, BandMatrix& tangent, double* residual) const {
  const auto hold = [&](int place, const std::optional<double>& spring) {
    if (spring) {
      residual[place] += *spring * q[place];
      tangent.at(place, place) += *spring;
    } else {
      residual[place] = 0;
      tangent.fix(place);
    }
  };
  hold(0, {});
  hold(1, socket.in_disc_Nm);
  hold(2, {});
  hold(3, socket.out_of_disc_Nm);
  hold(4, socket.twist_Nm);
}

void Fem::hold_root(double* right_side) const {
  right_side[0] = right_side[2] = 0;
  if (!socket.in_disc_Nm) right_side[1] = 0;
  if (!socket.out_of_disc_Nm) right_side[3] = 0;
  if (!socket.twist_Nm) right_side[4] = 0;
}

}  // namespace propwright::flex
