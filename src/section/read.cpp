// From a table of measured or computed points to the C1 surface of a family.
//
// 1. Each (camber, Re) curve becomes a monotone cubic over its own angles, blended past its ends to
//    the separated plate, and is sampled at one common set of angles.
// 2. A (camber, Re) pair the table lacks is filled by the trend of its neighbours.
// 3. Slopes along alpha, ln Re and camber by the same monotone rule give Hermite data.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "plate.h"
#include "propwright/base/constants.h"
#include "propwright/base/monotone_curve.h"
#include "propwright/base/table.h"
#include "propwright/section/section.h"

namespace propwright::section {

using base::degree_rad;
using base::pi;

namespace {

/// Angle at which separated-plate behaviour is complete, on either side.
constexpr double plate_from_rad = 30 * degree_rad;

struct Row {
  double camber, re, alpha_rad, cl, cd, cm;
  int line;
};

/// One (camber, Re) curve over all angles.
struct Curve {
  base::MonotoneCurve cl, drag, cm;  // drag = cd sqrt(Re); angles in rad
  double root_re = 1;
  double friction_cd = 0;
  double plate_cd = 1.2;
  double low_rad = 0, high_rad = 0;

  /// cl, cd sqrt(Re), cm at any angle.
  std::array<double, 3> at(double alpha) const {
    const double edge = std::clamp(alpha, low_rad, high_rad);
    const double distance = std::abs(alpha - edge);
    const double reach = std::max(plate_from_rad - std::abs(edge), 10 * degree_rad);
    const double s = std::min(distance / reach, 1.0);
    const double weight = s * s * (3 - 2 * s);
    const PlateForce plate = separated_plate(alpha, plate_cd, friction_cd);
    // Centre of pressure of the separated plate at half chord (from memory): cm = -cn/4.
    const double normal = plate.cl * std::cos(alpha) + (plate.cd - friction_cd) * std::sin(alpha);
    return {(1 - weight) * cl.value(edge) + weight * plate.cl,
            (1 - weight) * drag.value(edge) + weight * plate.cd * root_re,
            (1 - weight) * cm.value(edge) - weight * normal / 4};
  }
};

std::vector<double> common_angles(const std::vector<Row>& rows, double low, double high) {
  std::set<double> angles;
  for (const Row& row : rows) angles.insert(row.alpha_rad);
  for (int degree = -180; degree <= 180; degree += 10) {
    const double angle = degree * degree_rad;
    if (angle < low - 6 * degree_rad || angle > high + 6 * degree_rad) angles.insert(angle);
  }
  for (int step = 1; step <= 6; ++step) {  // through the blend
    angles.insert(high + step * std::max(plate_from_rad - high, 10 * degree_rad) / 6);
    angles.insert(low - step * std::max(plate_from_rad + low, 10 * degree_rad) / 6);
  }
  std::vector<double> result;
  for (const double angle : angles) {
    const bool distinct = result.empty() || angle - result.back() > 1e-6;
    if (distinct && angle >= -pi && angle <= pi) result.push_back(angle);
  }
  result.front() = -pi;
  result.back() = pi;
  return result;
}

/// Slopes by the monotone rule. A turn of angles closes on itself: its ends get the slope that an
/// inner point would.
std::vector<double> slopes_along(const std::vector<double>& x, const std::vector<double>& y,
                                 bool full_turn) {
  const std::size_t n = x.size();
  if (n < 2) return std::vector<double>(n, 0.0);
  const base::MonotoneCurve curve = base::MonotoneCurve::through(x, y).value();
  std::vector<double> slopes(n);
  for (std::size_t i = 0; i < n; ++i) slopes[i] = curve.slope(x[i]);
  if (full_turn && n > 2) {
    const auto seam = base::MonotoneCurve::through({x[n - 2], x[n - 1], x[n - 1] + x[1] - x[0]},
                                                   {y[n - 2], y[n - 1], y[1]});
    slopes.front() = slopes.back() = seam->slope(x[n - 1]);
  }
  return slopes;
}

}  // namespace

/// Builds a Family from the rows of a table.
class FamilyBuilder {
 public:
  FamilyBuilder(std::vector<Row> rows, bool has_cm, double plate_cd, std::string file)
      : rows_(std::move(rows)), plate_cd_(plate_cd), file_(std::move(file)) {
    family_.has_cm_ = has_cm;
  }

  base::Expected<Family> build();
  Family& family() { return family_; }

 private:
  using Grid = std::vector<double>;  // [camber][re][alpha] of one coefficient

  void list_axes();
  void mirror_symmetric_section();
  base::Problems make_curves();
  const Curve* curve(std::size_t camber, std::size_t re) const;
  void sample();
  void fill_missing();
  void bound_drag_trend(std::array<Grid, 4>& drag) const;
  void make_planes(const Grid& lift, const Grid& drag,
                   std::vector<Polar::Node> Family::Plane::*nodes,
                   std::vector<Polar::Node> Family::Plane::*by_camber);
  std::size_t index(std::size_t camber, std::size_t re, std::size_t alpha) const {
    return (camber * res_.size() + re) * family_.alpha_.size() + alpha;
  }
  Grid slopes(const Grid& values, int axis) const;

  std::vector<Row> rows_;
  double plate_cd_;
  std::string file_;
  std::vector<double> res_;
  std::map<std::pair<double, double>, Curve> curves_;  // by (camber, Re)
  Grid cl_, drag_, cm_;
  std::vector<Family::Plane> planes_;
  Family family_;
};

void FamilyBuilder::list_axes() {
  std::set<double> cambers, res;
  family_.table_low_rad_ = pi;
  family_.table_high_rad_ = -pi;
  for (const Row& row : rows_) {
    cambers.insert(row.camber);
    res.insert(row.re);
    family_.table_low_rad_ = std::min(family_.table_low_rad_, row.alpha_rad);
    family_.table_high_rad_ = std::max(family_.table_high_rad_, row.alpha_rad);
  }
  family_.cambers_.assign(cambers.begin(), cambers.end());
  res_.assign(res.begin(), res.end());
  for (const double re : res_) family_.ln_re_.push_back(std::log(re));
  family_.alpha_ = common_angles(rows_, family_.table_low_rad_, family_.table_high_rad_);
}

void FamilyBuilder::mirror_symmetric_section() {
  std::vector<Row> mirrored;
  double lowest = 0;
  for (const Row& row : rows_) {
    if (row.camber == 0) lowest = std::min(lowest, row.alpha_rad);
  }
  if (lowest < 0) return;  // both signs given
  for (const Row& row : rows_) {
    if (row.camber != 0 || row.alpha_rad <= 0) continue;
    mirrored.push_back({0, row.re, -row.alpha_rad, -row.cl, row.cd, -row.cm, row.line});
  }
  const bool has_cambered =
      std::any_of(rows_.begin(), rows_.end(), [](const Row& row) { return row.camber > 0; });
  if (!has_cambered) return;  // an imported one-sided table may be cambered without saying so
  rows_.insert(rows_.end(), mirrored.begin(), mirrored.end());
}

base::Problems FamilyBuilder::make_curves() {
  base::Problems problems;
  std::map<std::pair<double, double>, std::vector<Row>> groups;
  for (const Row& row : rows_) groups[{row.camber, row.re}].push_back(row);
  for (auto& [key, rows] : groups) {
    std::sort(rows.begin(), rows.end(),
              [](const Row& a, const Row& b) { return a.alpha_rad < b.alpha_rad; });
    std::vector<double> alpha, cl, drag, cm;
    const double root_re = std::sqrt(key.second);
    for (const Row& row : rows) {
      if (!alpha.empty() && row.alpha_rad - alpha.back() < 1e-9) {
        problems.push_back({.file = file_,
                            .line = row.line,
                            .field = "alpha_deg",
                            .value = fmt::format("{:g}", row.alpha_rad / degree_rad),
                            .allowed = "each angle once per re and camber",
                            .remedy = "remove one of the two rows",
                            .message = "the same angle stands twice"});
        return problems;
      }
      alpha.push_back(row.alpha_rad);
      cl.push_back(row.cl);
      drag.push_back(row.cd * root_re);
      cm.push_back(row.cm);
    }
    if (alpha.size() < 2) {
      problems.push_back({.file = file_,
                          .line = rows.front().line,
                          .field = "alpha_deg",
                          .value = "1 angle",
                          .allowed = "at least 2 angles per re and camber",
                          .remedy = "add rows",
                          .message = "too few angles for a curve"});
      continue;
    }
    Curve made;
    made.root_re = root_re;
    made.plate_cd = plate_cd_;
    made.low_rad = alpha.front();
    made.high_rad = alpha.back();
    made.friction_cd = *std::min_element(drag.begin(), drag.end()) / root_re;
    made.cl = base::MonotoneCurve::through(alpha, cl).value();
    made.drag = base::MonotoneCurve::through(alpha, drag).value();
    made.cm = base::MonotoneCurve::through(alpha, cm).value();
    curves_[key] = std::move(made);
  }
  return problems;
}

const Curve* FamilyBuilder::curve(std::size_t camber, std::size_t re) const {
  const auto found = curves_.find({family_.cambers_[camber], res_[re]});
  return found == curves_.end() ? nullptr : &found->second;
}

void FamilyBuilder::sample() {
  const std::size_t size = family_.cambers_.size() * res_.size() * family_.alpha_.size();
  cl_.resize(size);
  drag_.resize(size);
  cm_.resize(size);
  for (std::size_t c = 0; c < family_.cambers_.size(); ++c) {
    for (std::size_t r = 0; r < res_.size(); ++r) {
      const Curve* source = curve(c, r);
      for (std::size_t a = 0; source && a < family_.alpha_.size(); ++a) {
        const auto [cl, drag, cm] = source->at(family_.alpha_[a]);
        cl_[index(c, r, a)] = cl;
        drag_[index(c, r, a)] = drag;
        cm_[index(c, r, a)] = cm;
      }
    }
  }
}

/// f(c, Re) = f(c', Re) + f(c, Re') - f(c', Re') with the nearest neighbours given; with only one
/// neighbour its values are taken.
void FamilyBuilder::fill_missing() {
  for (std::size_t c = 0; c < family_.cambers_.size(); ++c) {
    for (std::size_t r = 0; r < res_.size(); ++r) {
      if (curve(c, r)) continue;
      const std::size_t c2 = c > 0 ? c - 1 : c + 1;
      const std::size_t r2 = r > 0 ? r - 1 : r + 1;
      const bool camber_side = c2 < family_.cambers_.size() && curve(c2, r);
      const bool re_side = r2 < res_.size() && curve(c, r2);
      const bool corner = camber_side && re_side && curve(c2, r2);
      for (std::size_t a = 0; a < family_.alpha_.size(); ++a) {
        for (Grid* grid : {&cl_, &drag_, &cm_}) {
          double& value = (*grid)[index(c, r, a)];
          const double by_re = re_side ? (*grid)[index(c, r2, a)] : 0;
          const double by_camber = camber_side ? (*grid)[index(c2, r, a)] : 0;
          if (corner) {
            value = by_re + by_camber - (*grid)[index(c2, r2, a)];
          } else {
            value = re_side ? by_re : by_camber;
          }
        }
      }
    }
  }
}

FamilyBuilder::Grid FamilyBuilder::slopes(const Grid& values, int axis) const {
  const std::array<const std::vector<double>*, 3> axes{&family_.cambers_, &family_.ln_re_,
                                                       &family_.alpha_};
  const std::array<std::size_t, 3> count{family_.cambers_.size(), res_.size(),
                                         family_.alpha_.size()};
  const std::array<std::size_t, 3> stride{count[1] * count[2], count[2], 1};
  const auto along = static_cast<std::size_t>(axis);
  Grid result(values.size());
  std::vector<double> line(count[along]);
  for (std::size_t start = 0; start < values.size(); ++start) {
    if ((start / stride[along]) % count[along] != 0) continue;
    for (std::size_t i = 0; i < line.size(); ++i) line[i] = values[start + i * stride[along]];
    const std::vector<double> slope = slopes_along(*axes[along], line, axis == 2);
    for (std::size_t i = 0; i < line.size(); ++i) result[start + i * stride[along]] = slope[i];
  }
  return result;
}

/// The trend of drag followed past the table's Re, from what the edge's slope in ln Re says, held
/// between a slow decline of friction's cd sqrt(Re), as thin plates show it, and a section on which
/// all drag above the curve's least is pressure that knows no Re. A jump of the flow next to the
/// edge would else be carried on as if it were a trend.
void FamilyBuilder::bound_drag_trend(std::array<Grid, 4>& drag) const {
  if (res_.size() < 2) return;
  Grid& by_ln_re = drag[2];
  for (std::size_t c = 0; c < family_.cambers_.size(); ++c) {
    for (const std::size_t r : {std::size_t{0}, res_.size() - 1}) {
      const auto row = drag[0].begin() + static_cast<std::ptrdiff_t>(index(c, r, 0));
      const double least = *std::min_element(row, row + std::ssize(family_.alpha_));
      std::vector<double> trend;
      for (std::size_t a = 0; a < family_.alpha_.size(); ++a) {
        const double value = drag[0][index(c, r, a)];
        trend.push_back(std::clamp(by_ln_re[index(c, r, a)], -0.05 * value, 0.5 * (value - least)));
      }
      const std::vector<double> cross = slopes_along(family_.alpha_, trend, true);
      for (std::size_t a = 0; a < family_.alpha_.size(); ++a) {
        by_ln_re[index(c, r, a)] = trend[a];
        drag[3][index(c, r, a)] = cross[a];
      }
    }
  }
}

void FamilyBuilder::make_planes(const Grid& lift, const Grid& drag,
                                std::vector<Polar::Node> Family::Plane::*nodes,
                                std::vector<Polar::Node> Family::Plane::*by_camber) {
  // Value, d/dalpha, d/dlnRe, cross; then the camber derivative of each.
  std::array<std::array<Grid, 4>, 2> parts;
  std::array<std::array<Grid, 4>, 2> camber_parts;
  for (std::size_t k = 0; k < 2; ++k) {
    const Grid& values = k == 0 ? lift : drag;
    parts[k] = {values, slopes(values, 2), slopes(values, 1), {}};
    parts[k][3] = slopes(parts[k][1], 1);
    if (by_camber == &Family::Plane::nodes_by_camber && k == 1) bound_drag_trend(parts[k]);
    for (std::size_t i = 0; i < 4; ++i) camber_parts[k][i] = slopes(parts[k][i], 0);
  }
  const auto node = [](const std::array<std::array<Grid, 4>, 2>& from, std::size_t i) {
    return Polar::Node{{from[0][0][i], from[1][0][i]},
                       {from[0][1][i], from[1][1][i]},
                       {from[0][2][i], from[1][2][i]},
                       {from[0][3][i], from[1][3][i]}};
  };
  const std::size_t plane_size = res_.size() * family_.alpha_.size();
  for (std::size_t c = 0; c < family_.cambers_.size(); ++c) {
    for (std::size_t i = 0; i < plane_size; ++i) {
      (planes_[c].*nodes).push_back(node(parts, c * plane_size + i));
      (planes_[c].*by_camber).push_back(node(camber_parts, c * plane_size + i));
    }
  }
}

base::Expected<Family> FamilyBuilder::build() {
  mirror_symmetric_section();
  list_axes();
  base::Problems problems = make_curves();
  if (family_.alpha_.size() > 4000) {
    problems.push_back({.file = file_,
                        .field = "alpha_deg",
                        .value = fmt::format("{} different angles", family_.alpha_.size()),
                        .allowed = "up to 4000",
                        .remedy = "thin the table",
                        .message = "too many different angles"});
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  sample();
  fill_missing();
  planes_.resize(family_.cambers_.size());
  make_planes(cl_, drag_, &Family::Plane::nodes, &Family::Plane::nodes_by_camber);
  if (family_.has_cm_) {
    make_planes(cm_, Grid(cm_.size(), 0.0), &Family::Plane::moments,
                &Family::Plane::moments_by_camber);
  }
  family_.planes_ = std::make_shared<const std::vector<Family::Plane>>(std::move(planes_));
  return std::move(family_);
}

namespace {

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return values[values.size() / 2];
}

/// The family's doubt from a table that carries its own 1-sigma and quality flags.
Uncertainty uncertainty_of(const base::Table& table) {
  Uncertainty result;
  if (!table.has("sigma_cl") || !table.has("sigma_cd")) return result;
  std::vector<double> slope, zero_lift, drag, cl_max;
  const std::vector<double>& cl = table.column("cl");
  const std::vector<double>& cd = table.column("cd");
  const std::vector<double>& sigma_cl = table.column("sigma_cl");
  const std::vector<double>& sigma_cd = table.column("sigma_cd");
  const std::vector<double>& alpha_deg = table.column("alpha_deg");
  for (std::size_t i = 0; i < table.rows(); ++i) {
    const std::string flag = table.text(i, "flag");
    const bool doubtful = flag == "C" || flag == "D";
    if (!doubtful && cl[i] > 0.3 && cl[i] < 0.9) slope.push_back(sigma_cl[i] / cl[i]);
    if (!doubtful) drag.push_back(sigma_cd[i] / cd[i]);
    // 5 per rad: a lift slope of 0.8 times 2 pi turns a doubt of lift into one of angle.
    if (std::abs(alpha_deg[i]) < 0.5) zero_lift.push_back(sigma_cl[i] / 5.0);
    if (doubtful && alpha_deg[i] >= 6) cl_max.push_back(sigma_cl[i] / cl[i]);
  }
  if (!slope.empty()) result.lift_slope = median(slope);
  if (!zero_lift.empty()) result.zero_lift_rad = median(zero_lift);
  if (!drag.empty()) result.drag = median(drag);
  if (!cl_max.empty()) result.cl_max = median(cl_max);
  return result;
}

}  // namespace

base::Expected<Family> Family::read(std::string_view csv, const std::string& file,
                                    double normal_plate_cd) {
  auto table = base::Table::read(csv,
                                 {{"alpha_deg", true, -180, 180},
                                  {"cl", true, -5, 5},
                                  {"cd", true, 1e-5, 5},
                                  {"re", false, 50, 1e7},
                                  {"camber", false, 0, 0.25},
                                  {"cm", false, -5, 5},
                                  {"cm_quarter", false, -5, 5},
                                  {"sigma_cl", false, 0, 5},
                                  {"sigma_cd", false, 0, 5}},
                                 file, true);
  if (!table) return base::fail(std::move(table.error()));
  const std::string cm_name = table->has("cm") ? "cm" : "cm_quarter";
  const bool has_cm = table->has(cm_name);
  std::vector<Row> rows;
  for (std::size_t i = 0; i < table->rows(); ++i) {
    rows.push_back({table->has("camber") ? table->column("camber")[i] : 0.0,
                    table->has("re") ? table->column("re")[i] : 1e4,
                    table->column("alpha_deg")[i] * degree_rad, table->column("cl")[i],
                    table->column("cd")[i], has_cm ? table->column(cm_name)[i] : 0.0,
                    table->line(i)});
  }
  FamilyBuilder builder(std::move(rows), has_cm, normal_plate_cd, file);
  builder.family().uncertainty_ = uncertainty_of(*table);
  return builder.build();
}

}  // namespace propwright::section
