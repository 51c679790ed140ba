#include "propwright/form/surface.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <stdexcept>

#include "arc.h"
#include "propwright/base/constants.h"

namespace propwright::form {
namespace {

constexpr double most_camber = 0.3;

std::string at_radius(double radius_m) {
  return fmt::format("{:.1f} mm", 1e3 * radius_m);
}

/// The first thing wrong with a row, if anything.
std::optional<base::Problem> problem_of(const SurfaceRow& row, double last_radius_m) {
  const std::string where = " at radius " + at_radius(row.radius_m);
  if (!(row.radius_m > last_radius_m)) {
    return base::Problem{.field = "form.radius",
                         .value = at_radius(row.radius_m),
                         .allowed = "above 0 and rising from root to tip",
                         .remedy = "sort the stations from root to tip and leave out doubles",
                         .message = "the stations of the form do not rise"};
  }
  if (!(row.pitch_m > 0)) {
    return base::Problem{.field = "form.pitch",
                         .value = fmt::format("{:.1f} mm", 1e3 * row.pitch_m),
                         .allowed = "above 0",
                         .remedy = "give a positive pitch; the other hand is set by the hand",
                         .message = "the pitch is not positive" + where};
  }
  if (!(row.camber >= 0 && row.camber <= most_camber)) {
    return base::Problem{.field = "form.camber",
                         .value = fmt::format("{:.3f}", row.camber),
                         .allowed = fmt::format("0 to {}", most_camber),
                         .remedy = "give the height of the arch over the chord",
                         .message = "the camber is out of range" + where};
  }
  if (!(row.lead_m + row.trail_m >= 0)) {
    return base::Problem{.field = "form.outline",
                         .value = fmt::format("{:.2f} mm", 1e3 * (row.lead_m + row.trail_m)),
                         .allowed = "a chord of 0 or more",
                         .remedy = "move the edges apart there",
                         .message = "the edges of the outline cross" + where};
  }
  return std::nullopt;
}

}  // namespace

std::vector<SurfaceRow> surface_rows(const Form& form, const std::vector<OutlineRow>& outline) {
  const std::vector<FormStation> stations = form_stations(form, outline);
  const auto widest = std::max_element(
      outline.begin(), outline.end(),
      [](const OutlineRow& a, const OutlineRow& b) { return a.chord_m < b.chord_m; });
  std::vector<SurfaceRow> rows;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const bool outside = outline[i].radius_m > widest->radius_m;
    const double fade = outside ? std::min(1.0, outline[i].chord_m / (widest->chord_m / 2)) : 1.0;
    const double camber = form.cambers.empty() ? form.camber : form.cambers[i];
    rows.push_back({.radius_m = outline[i].radius_m,
                    .pitch_m = stations[i].pitch_m,
                    .camber = fade * camber * form.camber_overbend,
                    .lead_m = outline[i].lead_m,
                    .trail_m = outline[i].trail_m});
  }
  return rows;
}

base::Expected<Surface> Surface::make(const std::vector<SurfaceRow>& rows, Hand hand, Lay lay) {
  if (rows.size() < 2) throw std::invalid_argument("Surface: at least two rows are needed");
  std::vector<double> radius, pitch, camber, lead, trail;
  for (const SurfaceRow& row : rows) {
    if (auto problem = problem_of(row, radius.empty() ? 0 : radius.back())) {
      return base::fail(*problem);
    }
    radius.push_back(row.radius_m);
    pitch.push_back(row.pitch_m);
    camber.push_back(row.camber);
    lead.push_back(row.lead_m);
    trail.push_back(row.trail_m);
  }
  Surface surface;
  surface.pitch_ = base::MonotoneCurve::through(radius, pitch).value();
  surface.camber_ = base::MonotoneCurve::through(radius, camber).value();
  surface.lead_ = base::MonotoneCurve::through(radius, lead).value();
  surface.trail_ = base::MonotoneCurve::through(radius, trail).value();
  surface.hand_ = hand;
  surface.lay_ = lay;
  return surface;
}

double Surface::angle_rad(double radius_m) const {
  return blade_angle_rad(pitch_m(radius_m), radius_m);
}

double Surface::sheet_width_m(double radius_m) const {
  return arc_length_m(chord_m(radius_m), camber(radius_m));
}

double Surface::spar_share(double radius_m) const {
  const double chord = chord_m(radius_m);
  if (chord <= 0) return 0.5;
  return arc_share(chord, camber(radius_m), (trail_m(radius_m) - lead_m(radius_m)) / 2);
}

Point Surface::place(double radius_m, double along_m, double height_m) const {
  const double angle = angle_rad(radius_m);
  const double y = along_m * std::cos(angle) - height_m * std::sin(angle);
  const double z = along_m * std::sin(angle) + height_m * std::cos(angle);
  const double side = hand_ == Hand::clockwise ? 1 : -1;
  if (lay_ == Lay::across) return {radius_m, side * y, z};
  const double turn = y / radius_m;
  return {radius_m * std::cos(turn), side * radius_m * std::sin(turn), z};
}

Point Surface::at(double radius_m, double share) const {
  const double lead = lead_m(radius_m), trail = trail_m(radius_m), chord = lead + trail;
  if (chord <= 0) return place(radius_m, (lead - trail) / 2, 0);
  const double k = camber(radius_m);
  const ArcPoint point = arc_point(chord, k, 2 * share - 1);
  const double spar_height = arc_height_m(chord, k, (trail - lead) / 2);
  return place(radius_m, (lead - trail) / 2 + point.along_m, point.height_m - spar_height);
}

Point Surface::along_arc(double radius_m, double arc_m) const {
  const double width = sheet_width_m(radius_m);
  if (width <= 0) return place(radius_m, arc_m, 0);
  return at(radius_m, spar_share(radius_m) + arc_m / width);
}

namespace {

using Vector = std::array<double, 3>;

double dot(const Vector& a, const Vector& b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/// Fourth-order central differences of a function of the step count.
template <class F>
Vector first_difference(const F& at, double step) {
  Vector d{};
  const auto a = at(-2), b = at(-1), c = at(1), e = at(2);
  for (int i = 0; i < 3; ++i) d[i] = (a[i] - 8 * b[i] + 8 * c[i] - e[i]) / (12 * step);
  return d;
}
template <class F>
Vector second_difference(const F& at, double step) {
  Vector d{};
  const auto a = at(-2), b = at(-1), m = at(0), c = at(1), e = at(2);
  for (int i = 0; i < 3; ++i) {
    d[i] = (-a[i] + 16 * b[i] - 30 * m[i] + 16 * c[i] - e[i]) / (12 * step * step);
  }
  return d;
}

}  // namespace

Fundamental fundamental_forms(const Surface& surface, double radius_m, double arc_m) {
  // Truncation h^4 and rounding 1e-16/h^2 balance near 3e-3 of the scale of the surface.
  const double h = 1e-3 * radius_m;
  const auto at = [&](double i, double j) -> Vector {
    const Point p = surface.along_arc(radius_m + i * h, arc_m + j * h);
    return {p.x_m, p.y_m, p.z_m};
  };
  const Vector u = first_difference([&](int i) { return at(i, 0); }, h);
  const Vector v = first_difference([&](int j) { return at(0, j); }, h);
  const Vector uu = second_difference([&](int i) { return at(i, 0); }, h);
  const Vector vv = second_difference([&](int j) { return at(0, j); }, h);
  const Vector uv = first_difference(
      [&](int i) { return first_difference([&](int j) { return at(i, j); }, h); }, h);
  Vector normal{u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]};
  const double length = std::sqrt(dot(normal, normal));
  for (double& each : normal) each /= length;
  return {dot(u, u), dot(u, v), dot(v, v), dot(uu, normal), dot(uv, normal), dot(vv, normal)};
}

double helicoid_curvature_per_m2(double pitch_m, double radius_m) {
  const double p = pitch_m / (2 * base::pi);
  const double square = radius_m * radius_m + p * p;
  return -p * p / (square * square);
}

}  // namespace propwright::form
