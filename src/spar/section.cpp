#include "propwright/spar/section.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "propwright/base/constants.h"

namespace propwright::spar {
namespace {

using base::pi;

/// The corner radius that fits; sanding a face may leave less than was measured.
double corner_m(const Section& s) {
  if (s.shape != Shape::rounded_square) return 0;
  return std::clamp(s.corner_radius_m, 0.0, std::min(s.width_m, s.depth_m) / 2);
}

/// Second moment of the four corners that rounding takes away, about the axis that halves `depth`:
/// square of side r less quarter circle of radius r, each in the corner.
double corners_m4(double depth_m, double r) {
  const double inner = depth_m / 2 - r;  // centre of the quarter circle
  const double square = r * r * r * r / 12 + r * r * std::pow(depth_m / 2 - r / 2, 2);
  const double area = pi * r * r / 4, centroid = 4 * r / (3 * pi);
  const double quarter =
      pi * r * r * r * r / 16 - area * centroid * centroid + area * std::pow(inner + centroid, 2);
  return 4 * (square - quarter);
}

/// J = beta b a^3 of a rectangle, a the short side: the series of Timoshenko and Goodier, "Theory
/// of Elasticity", section 109 (from memory). Terms fall as 1/n^5: those after n = 41 sum to 4e-8,
/// which leaves J of a square, where they count most, 6e-8 of itself too large.
double rectangle_torsion_m4(double width_m, double depth_m) {
  const double a = std::min(width_m, depth_m), b = std::max(width_m, depth_m);
  double sum = 0;
  for (int n = 1; n <= 41; n += 2) sum += std::tanh(n * pi * b / (2 * a)) / std::pow(n, 5);
  const double beta = (1.0 - 192.0 / std::pow(pi, 5) * (a / b) * sum) / 3.0;
  return beta * b * a * a * a;
}

double rounded_torsion_m4(const Section& s) {
  const double r = corner_m(s), share = 2 * r / std::min(s.width_m, s.depth_m);
  const double w = s.width_m, d = s.depth_m, area = w * d;
  const double polar = area * (w * w + d * d) / 12;
  const double k_rectangle = std::pow(area, 4) / (polar * rectangle_torsion_m4(w, d));
  const double k_ellipse = 4 * pi * pi;
  const double k = k_rectangle + (k_ellipse - k_rectangle) * share;
  const SecondMoments moments = second_moments(s);
  return std::pow(area_m2(s), 4) / (k * (moments.i_0_m4 + moments.i_90_m4));
}

}  // namespace

double area_m2(const Section& s) {
  if (s.shape == Shape::round) return pi * s.width_m * s.depth_m / 4;
  const double r = corner_m(s);
  return s.width_m * s.depth_m - (4 - pi) * r * r;
}

SecondMoments second_moments(const Section& s) {
  const double w = s.width_m, d = s.depth_m;
  if (s.shape == Shape::round) return {pi * w * d * d * d / 64, pi * d * w * w * w / 64};
  const double r = corner_m(s);
  return {w * d * d * d / 12 - corners_m4(d, r), d * w * w * w / 12 - corners_m4(w, r)};
}

double torsion_constant_m4(const Section& s) {
  const double w = s.width_m, d = s.depth_m;
  if (s.shape == Shape::round) return pi * w * w * w * d * d * d / (16 * (w * w + d * d));
  return corner_m(s) > 0 ? rounded_torsion_m4(s) : rectangle_torsion_m4(w, d);
}

Taper taper(const Section& root, const std::optional<Section>& middle, const Section& tip,
            double length_m) {
  Taper result;
  result.stations.push_back({0, root});
  if (middle) result.stations.push_back({length_m / 2, *middle});
  result.stations.push_back({length_m, tip});
  return result;
}

double length_m(const Taper& taper) {
  return taper.stations.empty() ? 0 : taper.stations.back().x_m;
}

Section section_at(const Taper& taper, double x_m) {
  const std::vector<Station>& stations = taper.stations;
  if (x_m <= stations.front().x_m) return stations.front().section;
  for (std::size_t i = 1; i < stations.size(); ++i) {
    const Station &from = stations[i - 1], &to = stations[i];
    if (x_m > to.x_m) continue;
    const double t = (x_m - from.x_m) / (to.x_m - from.x_m);
    return {from.section.shape, std::lerp(from.section.width_m, to.section.width_m, t),
            std::lerp(from.section.depth_m, to.section.depth_m, t),
            std::lerp(from.section.corner_radius_m, to.section.corner_radius_m, t)};
  }
  return stations.back().section;
}

double volume_m3(const Taper& taper) {
  double volume = 0;
  for (std::size_t i = 1; i < taper.stations.size(); ++i) {
    const Station &from = taper.stations[i - 1], &to = taper.stations[i];
    const Section middle = section_at(taper, (from.x_m + to.x_m) / 2);
    volume += (to.x_m - from.x_m) / 6 *
              (area_m2(from.section) + 4 * area_m2(middle) + area_m2(to.section));
  }
  return volume;
}

namespace {

/// "width_root_m" of a spar given by two or three sizes, "width_m[2]" of one given by a table.
std::string size_field(const Taper& taper, const std::string& what, std::size_t i) {
  const std::size_t n = taper.stations.size();
  if (n > 3) return fmt::format("{}_m[{}]", what, i);
  if (i == 0) return what + "_root_m";
  return what + (i + 1 == n ? "_tip_m" : "_mid_m");
}

constexpr double thinnest_m = 1e-5;  // a tenth of the thinnest filament in use

void check_size(const std::string& field, double size_m, double most_m, base::Problems& problems) {
  if (size_m >= thinnest_m && size_m < most_m) return;
  problems.push_back({.field = field,
                      .value = fmt::format("{:g} m", size_m),
                      .allowed = fmt::format("{:g} m to below {:g} m", thinnest_m, most_m),
                      .remedy = "measure it again and mind the unit",
                      .message = size_m >= thinnest_m
                                     ? "a spar is far longer than it is thick"
                                     : "a size must be above zero, and no spar is so thin"});
}

void check_corner(const Taper& taper, std::size_t i, base::Problems& problems) {
  const Section& s = taper.stations[i].section;
  if (s.shape != Shape::rounded_square) return;
  const double most = std::min(s.width_m, s.depth_m) / 2;
  if (s.corner_radius_m >= 0 && s.corner_radius_m <= most) return;
  problems.push_back({.field = size_field(taper, "corner_radius", i),
                      .value = fmt::format("{:g} m", s.corner_radius_m),
                      .allowed = fmt::format("0 to {:g} m", most),
                      .remedy = "give at most half the smaller size, or call the spar round",
                      .message = "the corner radius does not fit the section"});
}

}  // namespace

base::Problems problems(const Taper& taper) {
  base::Problems found;
  const double length = length_m(taper);
  if (!(length > 0 && std::isfinite(length))) {
    found.push_back({.field = "length_m",
                     .value = fmt::format("{:g} m", length),
                     .allowed = "above 0",
                     .remedy = "give the free length from the clamp to the tip",
                     .message = "the spar has no length"});
    return found;
  }
  for (std::size_t i = 0; i < taper.stations.size(); ++i) {
    const Section& s = taper.stations[i].section;
    check_size(size_field(taper, "width", i), s.width_m, length / 10, found);
    check_size(size_field(taper, "depth", i), s.depth_m, length / 10, found);
    if (s.width_m > 0 && s.depth_m > 0) check_corner(taper, i, found);
    const double before = i == 0 ? 0 : taper.stations[i - 1].x_m;
    const double x = taper.stations[i].x_m;
    if (i == 0 ? x == 0 : x > before) continue;
    found.push_back({.field = fmt::format("x_m[{}]", i),
                     .value = fmt::format("{:g} m", x),
                     .allowed = i == 0 ? "0" : fmt::format("above {:g} m", before),
                     .remedy = "give the stations in order, the first at the clamp",
                     .message = "the stations are not in order"});
  }
  return found;
}

}  // namespace propwright::spar
