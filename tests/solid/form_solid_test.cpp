// The form as a mesh: its volume by quadrature, its distance from the surface, its symmetry, what
// grooves and holes take away, and the input it refuses.
#include "propwright/solid/form_solid.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "solid_forms.h"

namespace propwright::solid {
namespace {

using base::degree_rad;
using base::pi;

double volume_of(const form::Surface& surface, const FormOptions& options) {
  double sum = 0;
  for (const FormPart& part : form_solid(surface, options).value()) sum += volume_m3(part.mesh);
  return sum;
}

FormOptions plain(double tolerance_m = 0.0002) {
  FormOptions options;
  options.scribe_depth_m = 0;
  options.tolerance_m = tolerance_m;
  return options;
}

/// Volume of the plain form without camber on a base in the disc plane, lay across, in closed form
/// but for one integral: the section at x is a straight line at the blade angle, from -(trail +
/// border) to lead + border, over the bench at the lowest point less the base.
double block_volume_by_quadrature(const form::Surface& surface, const FormOptions& options) {
  const double root = surface.root_m(), tip = surface.tip_m(), border = options.border_m;
  const double least_m = 0.0003;  // the columns' gap where the chord vanishes
  const auto trail = [&](double x) { return std::max(surface.trail_m(x), least_m) + border; };
  const auto lead = [&](double x) { return std::max(surface.lead_m(x), least_m) + border; };
  double lowest = 0;
  for (int i = 0; i <= 200000; ++i) {
    const double x = root + (tip - root) * i / 200000;
    lowest = std::min(lowest, -trail(x) * std::sin(surface.angle_rad(x)));
  }
  const double lift = options.base_thickness_m - lowest;
  const auto area = [&](double x) {
    const double s = std::sin(surface.angle_rad(x)), c = std::cos(surface.angle_rad(x));
    const double l = lead(x), t = trail(x);
    return c * (lift * (l + t) + s * (l * l - t * t) / 2);
  };
  // The chord goes with the square root of the distance from the tip: x = tip - L u^2 makes it
  // smooth there; the midpoint rule with 2e5 points is then far below 1e-9.
  double sum = 0;
  constexpr int points = 200000;
  for (int i = 0; i < points; ++i) {
    const double u = (i + 0.5) / points;
    sum += area(tip - (tip - root) * u * u) * 2 * u;
  }
  return sum / points * (tip - root) + border * (area(root) + area(tip));
}

TEST(FormSolid, VolumeOfTheStraightFormIsTheQuadratureOfItsSections) {
  const form::Surface surface = blade_form(0, form::Hand::clockwise, form::Lay::across);
  // Triangles within 0.2 um of a block of some 40 mm height: 1e-6 of its volume at most half on
  // one side.
  const FormOptions options = plain(1e-6);
  const double exact = block_volume_by_quadrature(surface, options);
  EXPECT_NEAR(volume_of(surface, options) / exact, 1, 1e-6);
}

TEST(FormSolid, VolumeConvergesWithTheTolerance) {
  const form::Surface surface = blade_form(0.06);
  FormOptions options = plain(1e-6);
  options.base_tilt_rad = 30 * degree_rad;
  const double fine = volume_of(surface, options);
  for (const double tolerance : {2e-4, 5e-5, 1e-5}) {
    options.tolerance_m = tolerance;
    // No triangle is further off than the tolerance, and the block is some 10 mm high and more.
    EXPECT_NEAR(volume_of(surface, options) / fine, 1, tolerance / 0.01) << tolerance;
  }
}

/// The largest distance, along z, of points of the blade from the mesh's top, the base in the disc
/// plane and the lowest point of the mesh's top at the base's thickness.
double farthest_from(const Mesh& mesh, const form::Surface& surface, double lift_m) {
  double worst = 0;
  for (int i = 1; i < 20; ++i) {
    for (int j = 1; j < 10; ++j) {
      const double r = surface.root_m() + (surface.tip_m() - surface.root_m()) * i / 20;
      const form::Point p = surface.at(r, j / 10.0);
      double top = 0;
      for (const auto& t : mesh.triangles) {
        const MeshPoint &a = mesh.points_m[t[0]], &b = mesh.points_m[t[1]],
                        &c = mesh.points_m[t[2]];
        const double area = (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]);
        if (!(area > 0)) continue;
        const double v = ((p.x_m - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (p.y_m - a[1])) / area;
        const double w = ((b[0] - a[0]) * (p.y_m - a[1]) - (p.x_m - a[0]) * (b[1] - a[1])) / area;
        if (v < -1e-9 || w < -1e-9 || v + w > 1 + 1e-9) continue;
        top = std::max(top, a[2] + v * (b[2] - a[2]) + w * (c[2] - a[2]));
      }
      worst = std::max(worst, std::abs(top - lift_m - p.z_m) * std::cos(surface.angle_rad(r)));
    }
  }
  return worst;
}

TEST(FormSolid, TopIsTheBladesSurfaceWithinTheTolerance) {
  for (const form::Lay lay : {form::Lay::helical, form::Lay::across}) {
    const form::Surface surface = blade_form(0.04, form::Hand::clockwise, lay);
    FormOptions options = plain();
    const FormPart part = form_solid(surface, options).value().front();
    // The spar line of the surface is z = 0; where it is in the mesh tells how far it was lifted.
    double lift = 0;
    for (const MeshPoint& p : part.mesh.points_m) {
      if (std::abs(p[1]) < 1e-12 && p[0] > 0.1) lift = std::max(lift, p[2]);
    }
    ASSERT_GT(lift, options.base_thickness_m);
    // The vertical distance times the angle's cosine is the distance square to the chord; camber
    // adds up to 10 degrees to the angle, for which 1.3 stands.
    EXPECT_LT(farthest_from(part.mesh, surface, lift), 1.3 * options.tolerance_m);
  }
}

TEST(FormSolid, StandsOnTheBenchOverItsBase) {
  const form::Surface surface = blade_form(0.04);
  const Mesh mesh = form_solid(surface, plain()).value().front().mesh;
  double lowest_top = 1, lowest = 1;
  for (const MeshPoint& p : mesh.points_m) {
    lowest = std::min(lowest, p[2]);
    if (p[2] > 0) lowest_top = std::min(lowest_top, p[2]);
  }
  EXPECT_EQ(lowest, 0);
  EXPECT_NEAR(lowest_top, 0.004, 1e-15);
}

TEST(FormSolid, OfTheOtherHandIsTheMirrorImageToTheLastBit) {
  const auto one = form_solid(blade_form(0.06), all_cut()).value().front();
  const auto two =
      form_solid(blade_form(0.06, form::Hand::anticlockwise), all_cut()).value().front();
  ASSERT_EQ(one.mesh.points_m.size(), two.mesh.points_m.size());
  for (std::size_t i = 0; i < one.mesh.points_m.size(); ++i) {
    const MeshPoint &a = one.mesh.points_m[i], &b = two.mesh.points_m[i];
    ASSERT_EQ(a, (MeshPoint{b[0], -b[1], b[2]}));
  }
  EXPECT_EQ(one.name, "form-clockwise-760mm");
  EXPECT_EQ(two.name, "form-anticlockwise-760mm");
}

TEST(FormSolid, PinHolesTakeTheirCylinders) {
  const form::Surface surface = blade_form(0.06);
  FormOptions options = plain(2e-6);
  options.base_tilt_rad = 30 * degree_rad;
  const double whole = volume_of(surface, options);
  options.pin_radii_m = {0.0365, 0.2335};
  const double radius = options.pin_diameter_m / 2;
  // Each hole is as deep as told at its lowest rim, so more on a slope: to the mean height, at the
  // axis, it is deeper by the radius times the slope.
  const double taken = whole - volume_of(surface, options);
  const double least = 2 * pi * radius * radius * options.pin_depth_m;
  EXPECT_GT(taken, least * 0.999);  // polygon of many corners in the circle
  EXPECT_LT(taken, least + 2 * pi * radius * radius * radius * std::tan(60 * degree_rad));
}

TEST(FormSolid, GrooveTakesWidthTimesDepth) {
  const form::Surface surface = blade_form(0.06);
  FormOptions options = plain(2e-6);
  options.base_tilt_rad = 30 * degree_rad;
  options.base_thickness_m = 0.02;  // the groove must not be the lowest point
  const double whole = volume_of(surface, options);
  options.groove_width_m = 0.0015;
  const double length = surface.tip_m() - surface.root_m() + 2 * options.border_m;
  const double taken = whole - volume_of(surface, options);
  // Width across the slope times depth square to it is the upright section's area; the camber of
  // 1.5 mm of the arc and the wider end of the tip's columns are below one per cent.
  EXPECT_NEAR(taken / (options.groove_width_m * options.groove_depth_m * length), 1, 0.01);
}

TEST(FormSolid, ScribeLineTakesATriangleAlongBothEdges) {
  const form::Surface surface = blade_form(0.06);
  FormOptions options = plain(2e-6);
  options.base_tilt_rad = 30 * degree_rad;
  const double whole = volume_of(surface, options);
  options.scribe_depth_m = 0.0003;
  const double length = 2 * (surface.tip_m() - surface.root_m());
  const double triangle = options.scribe_width_m * options.scribe_depth_m / 2;
  const double taken = whole - volume_of(surface, options);
  // The edges are a little longer than the blade, and at the tip the line is left out for a
  // chord of a millimetre; the edges' slant in plan of 46 mm in 190 adds up to a tenth.
  EXPECT_NEAR(taken / (triangle * length), 1, 0.1);
}

TEST(FormSolid, SplitPartsFitAndMakeTheWhole) {
  const form::Surface surface = blade_form(0.06);
  const auto parts = form_solid(surface, all_cut(0.13)).value();
  ASSERT_EQ(parts.size(), 2u);
  EXPECT_EQ(parts[0].name, "form-clockwise-760mm-inner");
  EXPECT_EQ(parts[1].name, "form-clockwise-760mm-outer");
  // The faces hold the same points.
  std::vector<MeshPoint> inner, outer;
  for (const MeshPoint& p : parts[0].mesh.points_m) {
    if (p[0] == 0.13) inner.push_back(p);
    EXPECT_LE(p[0], 0.13);
  }
  for (const MeshPoint& p : parts[1].mesh.points_m) {
    if (p[0] == 0.13) outer.push_back(p);
    EXPECT_GE(p[0], 0.13);
  }
  std::sort(inner.begin(), inner.end());
  std::sort(outer.begin(), outer.end());
  EXPECT_EQ(inner, outer);
  // Without the dowels they are the whole, which has the same rows but for the split.
  const double dowels = 4 * pi * 0.001 * 0.001 * 0.006;
  const double whole = volume_of(surface, all_cut());
  const double both = volume_m3(parts[0].mesh) + volume_m3(parts[1].mesh);
  // The circles of 16 corners are 2.6 % smaller; the row more changes the whole by its tolerance.
  EXPECT_NEAR(whole - both, dowels, 0.05 * dowels + 1e-4 * whole);
}

std::string first_field(const base::Expected<std::vector<FormPart>>& result) {
  return result ? "none" : result.error().front().field;
}

TEST(FormSolid, RefusesBadInputByName) {
  const form::Surface surface = blade_form(0.04);
  const auto field = [&](auto change) {
    FormOptions options;
    change(options);
    return first_field(form_solid(surface, options));
  };
  EXPECT_EQ(field([](FormOptions& o) { o.tolerance_m = 0; }), "form.tolerance");
  EXPECT_EQ(field([](FormOptions& o) { o.tolerance_m = std::nan(""); }), "form.tolerance");
  EXPECT_EQ(field([](FormOptions& o) { o.border_m = 0; }), "form.border");
  EXPECT_EQ(field([](FormOptions& o) { o.border_m = 0.041; }), "form.border");
  EXPECT_EQ(field([](FormOptions& o) { o.base_thickness_m = -1; }), "form.base_thickness");
  EXPECT_EQ(field([](FormOptions& o) { o.pin_radii_m = {0.1}; }), "form.pins");
  EXPECT_EQ(field([](FormOptions& o) { o.pin_radii_m = {0.3}; }), "form.pins");
  EXPECT_EQ(field([](FormOptions& o) { o.split_radius_m = 0.03; }), "form.split");
  EXPECT_EQ(field([](FormOptions& o) { o.split_radius_m = 0.25; }), "form.split");
  EXPECT_EQ(field([](FormOptions& o) { o.base_tilt_rad = 2; }), "form.base_tilt");
  EXPECT_EQ(field([](FormOptions& o) {
              o.pin_radii_m = {0.0365};
              o.pin_depth_m = 0.05;
            }),
            "form.pins");
}

TEST(FormSolid, TellsTheTiltThatCuresAnUndercut) {
  // 72 degrees of blade angle at 40 mm and 18 of the camber's edge pass the vertical.
  const form::Surface surface = blade_form(0.08);
  const auto refused = form_solid(surface, {});
  ASSERT_EQ(first_field(refused), "form.undercut");
  EXPECT_THAT(refused.error().front().remedy, testing::HasSubstr("tilt the base by 5 deg"));
  FormOptions options;
  options.base_tilt_rad = least_base_tilt_rad(surface, 86 * degree_rad);
  EXPECT_NEAR(options.base_tilt_rad / degree_rad, 5, 1e-9);
  EXPECT_TRUE(form_solid(surface, options));
}

}  // namespace
}  // namespace propwright::solid
