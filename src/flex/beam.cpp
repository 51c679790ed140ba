#include "propwright/flex/beam.h"

#include <fmt/format.h>

#include <Eigen/Eigenvalues>
#include <cmath>

#include "fem.h"
#include "propwright/base/constants.h"

namespace propwright::flex {

namespace {

void check_beam_row(const BeamRow& row, std::size_t number, base::Problems& problems) {
  const auto require = [&](bool good, const char* field, double value, const char* allowed) {
    if (good) return;
    problems.push_back({.field = fmt::format("beam row {}: {}", number, field),
                        .value = fmt::format("{:g}", value),
                        .allowed = allowed,
                        .remedy = "correct the row",
                        .message = "the stiffness of the blade is out of range"});
  };
  const auto above = [&](const char* field, double value, const char* allowed) {
    require(value > 0 && std::isfinite(value), field, value, allowed);
  };
  const auto not_below = [&](const char* field, double value, const char* allowed) {
    require(value >= 0 && std::isfinite(value), field, value, allowed);
  };
  not_below("radius", row.radius_m, "0 m or more");
  above("flapwise stiffness", row.flapwise_Nm2, "above 0 N m2");
  above("chordwise stiffness", row.chordwise_Nm2, "above 0 N m2");
  above("torsional stiffness", row.torsion_Nm2, "above 0 N m2");
  not_below("mass", row.mass_kg_per_m, "0 kg/m or more");
  not_below("inertia", row.inertia_kg_m, "0 kg m or more");
  require(std::abs(row.angle_rad) <= base::pi, "angle", row.angle_rad, "-180 to 180 degrees");
  require(std::abs(row.principal_rad) <= base::pi, "principal axis", row.principal_rad,
          "-180 to 180 degrees");
  require(std::isfinite(row.behind_quarter_m) && std::isfinite(row.above_chord_m), "spar line",
          row.behind_quarter_m, "a finite offset");
  not_below("half depth", row.half_depth_m, "0 m or more");
  not_below("half width", row.half_width_m, "0 m or more");
  not_below("modulus", row.modulus_Pa, "0 Pa or more");
  not_below("rupture stress", row.rupture_Pa, "0 Pa or more");
}

void check_socket(const std::optional<double>& spring, const char* field,
                  base::Problems& problems) {
  if (!spring || (*spring > 0 && std::isfinite(*spring))) return;
  problems.push_back({.field = field,
                      .value = fmt::format("{:g}", *spring),
                      .allowed = "above 0 N m per rad",
                      .remedy = "leave it out for a socket that holds fast",
                      .message = "the stiffness of the socket is out of range"});
}

base::Problem buckled() {
  return {.kind = base::Kind::no_solution,
          .field = "beam",
          .allowed = "loads below those that buckle the beam",
          .remedy = "lower the loads or stiffen the beam",
          .message = "the beam does not hold under these loads"};
}

}  // namespace

base::Problems check(const BladeBeam& beam) {
  base::Problems problems;
  if (beam.rows.size() < 2) {
    problems.push_back({.field = "beam",
                        .value = fmt::format("{} rows", beam.rows.size()),
                        .allowed = "at least 2 rows",
                        .remedy = "give the stiffness at two radii or more",
                        .message = "too few rows for a beam"});
    return problems;
  }
  for (std::size_t i = 0; i < beam.rows.size(); ++i) {
    check_beam_row(beam.rows[i], i + 1, problems);
    if (i > 0 && !(beam.rows[i].radius_m >= beam.rows[i - 1].radius_m)) {
      problems.push_back({.field = fmt::format("beam row {}: radius", i + 1),
                          .value = fmt::format("{:g} m", beam.rows[i].radius_m),
                          .allowed = "radii not decreasing from row to row",
                          .remedy = "sort the rows",
                          .message = "the radii are not in order"});
    }
  }
  if (!(beam.rows.back().radius_m > beam.rows.front().radius_m)) {
    problems.push_back({.field = "beam",
                        .allowed = "a tip outside the root",
                        .remedy = "check the radii",
                        .message = "the beam has no length"});
  }
  check_socket(beam.socket.out_of_disc_Nm, "socket: out of the disc", problems);
  check_socket(beam.socket.in_disc_Nm, "socket: in the disc", problems);
  check_socket(beam.socket.twist_Nm, "socket: twist", problems);
  return problems;
}

base::Expected<Beam> Beam::make(const BladeBeam& beam, int elements) {
  base::Problems problems = flex::check(beam);
  if (elements < 4 || elements > 128) {
    problems.push_back({.field = "elements",
                        .value = fmt::format("{}", elements),
                        .allowed = "4 to 128",
                        .remedy = "leave it out for 16",
                        .message = "the number of elements is out of range"});
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  Beam made;
  made.fem_ = std::make_shared<const Fem>(beam, elements);
  return made;
}

double Beam::root_radius_m() const {
  return fem_->root_m;
}
double Beam::tip_radius_m() const {
  return fem_->tip_m;
}

base::Expected<std::vector<BeamPoint>> Beam::deflect(const std::vector<PointLoad>& loads,
                                                     double rev_per_s,
                                                     const std::vector<double>& radii_m) const {
  const Fem& fem = *fem_;
  const int n = fem.unknowns();
  const double omega = 2 * base::pi * rev_per_s;
  std::vector<double> q(n), residual(n);
  BandMatrix tangent(n);
  constexpr int most = 60;
  for (int i = 0; i < most; ++i) {
    tangent.clear();
    residual.assign(n, 0.0);
    fem.add_beam(q.data(), omega, tangent, residual.data());
    for (const PointLoad& p : loads) {
      const SpotLoad load{
          .in_disc_N = p.in_disc_N, .out_of_disc_N = p.out_of_disc_N, .twist_Nm = p.twist_Nm};
      fem.add_load(fem.spot(p.radius_m), load, tangent, residual.data());
    }
    fem.add_root(q.data(), tangent, residual.data());
    if (tangent.factor() > 0) return base::fail(buckled());
    tangent.solve(residual.data());
    double step = 0, size = 1e-9;
    for (int k = 0; k < n; ++k) {
      q[k] -= residual[k];
      step = std::max(step, std::abs(residual[k]));
      size = std::max(size, std::abs(q[k]));
    }
    if (!std::isfinite(step)) break;
    if (step > 1e-9 * size) continue;
    std::vector<BeamPoint> points;
    points.reserve(radii_m.size());
    for (const double r : radii_m) points.push_back(fem.point_at(r, q.data()));
    return points;
  }
  return base::fail(buckled());
}

std::optional<double> Beam::divergence_factor(const std::vector<TwistLoad>& loads) const {
  const Fem& fem = *fem_;
  const int n = fem.unknowns();
  std::vector<double> q(n), residual(n);
  BandMatrix tangent(n);
  fem.add_beam(q.data(), 0, tangent, residual.data());
  fem.add_root(q.data(), tangent, residual.data());
  tangent.factor();
  return flex::divergence_factor(fem, tangent, loads);
}

std::optional<double> divergence_factor(const Fem& fem, const BandMatrix& factored,
                                        const std::vector<TwistLoad>& loads) {
  const auto count = static_cast<Eigen::Index>(loads.size());
  std::vector<Spot> spots;
  spots.reserve(loads.size());
  for (const TwistLoad& load : loads) spots.push_back(fem.spot(load.radius_m));
  Eigen::MatrixXd twist_by_twist(count, count);
  BandMatrix unused(fem.unknowns());
  for (Eigen::Index j = 0; j < count; ++j) {
    std::vector<double> answer(static_cast<std::size_t>(fem.unknowns()));
    const auto place = static_cast<std::size_t>(j);
    // add_load takes the load away; the answer's sign is turned with it.
    fem.add_load(spots[place],
                 {.in_disc_N = -loads[place].in_disc_N_per_rad,
                  .out_of_disc_N = -loads[place].out_of_disc_N_per_rad,
                  .twist_Nm = -loads[place].twist_Nm_per_rad},
                 unused, answer.data());
    fem.hold_root(answer.data());
    factored.solve(answer.data());
    for (Eigen::Index i = 0; i < count; ++i) {
      twist_by_twist(i, j) = fem.twist_at(spots[static_cast<std::size_t>(i)], answer.data());
    }
  }
  const auto values = twist_by_twist.eigenvalues().eval();
  double largest = 0;
  for (Eigen::Index i = 0; i < count; ++i) {
    const bool is_real = std::abs(values[i].imag()) <= 1e-9 * std::abs(values[i]);
    if (is_real) largest = std::max(largest, values[i].real());
  }
  // Loads a hundred times as great are no loads of this kind any more.
  if (largest < 0.01) return std::nullopt;
  return 1 / largest;
}

}  // namespace propwright::flex
