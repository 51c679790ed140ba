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
  const auto parts = form_solid(surface, options).value();
  for (const FormPart& part : parts) sum += volume_m3(part.mesh);
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
  // No triangle of top and sides is further off than 1 um; both together are at most 200 cm2 round
  // a block of 160 cm3 at least, so 1e-6 m * 0.02 m2 / 1.6e-4 m3.
  const FormOptions options = plain(1e-6);
  const double exact = block_volume_by_quadrature(surface, options);
  EXPECT_NEAR(volume_of(surface, options) / exact, 1, 1.25e-4);
  EXPECT_GT(exact, 1.6e-4);
}

TEST(FormSolid, VolumeConvergesWithTheTolerance) {
  const form::Surface surface = blade_form(0.06);
  FormOptions options = plain(2e-6);
  options.base_tilt_rad = 30 * degree_rad;
  const double fine = volume_of(surface, options);
  for (const double tolerance : {2e-4, 2e-5}) {
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
      const double top = top_at(mesh, p.x_m, p.y_m);
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
  FormOptions options = plain(5e-6);
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

/// The volume below a level fixed to the surface and not to the bench: cuts that reach below the
/// lowest point of the plain top lift the form off the bench.
double hanging_volume(const form::Surface& surface, const FormOptions& options) {
  const Mesh mesh = form_solid(surface, options).value().front().mesh;
  double highest = 0, base_area = 0;
  for (const MeshPoint& p : mesh.points_m) highest = std::max(highest, p[2]);
  for (const auto& t : mesh.triangles) {
    const MeshPoint &a = mesh.points_m[t[0]], &b = mesh.points_m[t[1]], &c = mesh.points_m[t[2]];
    if (a[2] != 0 || b[2] != 0 || c[2] != 0) continue;
    base_area += std::abs((b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1])) / 2;
  }
  return highest * base_area - volume_m3(mesh);  // the air between the top and the level
}

TEST(FormSolid, GrooveTakesWidthTimesDepth) {
  const form::Surface surface = blade_form(0.06);
  FormOptions options = plain();
  options.base_tilt_rad = 30 * degree_rad;
  options.groove_width_m = 0.0015;
  options.groove_depth_m = 0.0004;
  const double shallow = hanging_volume(surface, options);
  options.groove_depth_m = 0.001;
  const double taken = hanging_volume(surface, options) - shallow;
  const double length = surface.tip_m() - surface.root_m() + 2 * options.border_m;
  // Width along the slope times depth square to it is the upright section's area. The triangles are
  // the same but for the floor's depth; a chord of 1.5 mm on an arc of 33 mm or more is shorter by
  // 1e-4, and its slope differs from floor's edge to edge by 2.6 degrees at most: 1e-3.
  EXPECT_NEAR(taken / (0.0015 * 0.0006 * length), 1, 0.002);
}

TEST(FormSolid, ScribeLineIsAtItsDepthAlongTheEdgesOfTheBlade) {
  for (const form::Lay lay : {form::Lay::helical, form::Lay::across}) {
    const form::Surface surface = blade_form(0.04, form::Hand::clockwise, lay);
    FormOptions options = plain(2e-5);
    options.scribe_depth_m = 0.0003;
    const Mesh mesh = form_solid(surface, options).value().front().mesh;
    const double middle = 0.13, steep = std::tan(surface.angle_rad(middle));
    ASSERT_GT(steep, 0.5);
    // The spar line is in the surface at z = 0 and uncut: it tells how far the form is lifted.
    const double lift = top_at(mesh, middle, 0);
    for (const double share : {0.0, 1.0}) {
      for (double radius = 0.06; radius < 0.225; radius += 0.015) {
        const form::Point edge = surface.at(radius, share);
        const double bend = 2 * std::atan(2 * surface.camber(radius));
        const double slope = surface.angle_rad(radius) + (share > 0 ? -bend : bend);
        const double cut = (edge.z_m + lift - top_at(mesh, edge.x_m, edge.y_m)) * std::cos(slope);
        // The bottom of the V lies within 0.02 mm of the edge, on sides that rise by 0.3 in 0.25,
        // and the heights within 0.02 mm: 0.044 mm.
        EXPECT_NEAR(cut, 0.0003, 4.4e-5) << radius << ' ' << share;
      }
    }
  }
}

TEST(FormSolid, ScribeLineCrossesTheRootToo) {
  const form::Surface surface = blade_form(0.04);
  FormOptions options = plain(2e-5);
  options.scribe_depth_m = 0.0003;
  const Mesh mesh = form_solid(surface, options).value().front().mesh;
  const double lift = top_at(mesh, 0.13, 0);
  // The spar line is at 0.6 of the arc, whose slope falls from edge to edge by 4 atan(2 * 0.04).
  const double slope = surface.angle_rad(0.04) + 2 * std::atan(0.08) * (1 - 2 * 0.6);
  const double cut = (lift - top_at(mesh, surface.root_m(), 0)) * std::cos(slope);
  EXPECT_NEAR(cut, 0.0003, 3e-6);  // at a corner of the triangles; the arc is bent round a cylinder
  EXPECT_NEAR(top_at(mesh, surface.root_m() - options.scribe_width_m, 0), lift, 2e-5 / 0.3);
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

TEST(FormSolid, OfASquareTipIsMadeWithFewTriangles) {
  const form::OutlineShape outline{.tip_radius_m = 0.217,
                                   .root_radius_m = 0.036,
                                   .widest_chord_m = 0.055,
                                   .widest_at = 0.45,
                                   .root_chord_m = 0.031,
                                   .tip_roundness = 0.27};
  auto rows = form::outline(outline, 40).value();
  rows.pop_back();  // its chord was 0
  const form::Form form{.pitch_m = 0.35, .camber = 0.03};
  const auto surface = form::Surface::make(form::surface_rows(form, rows),
                                           form::Hand::anticlockwise, form::Lay::helical);
  const auto parts = form_solid(surface.value(), {});
  ASSERT_TRUE(parts);
  // The tip's corners lie inside the plane of its middle: without rows at them the search for the
  // tolerance goes on to hundreds of thousands.
  EXPECT_LT(parts->front().mesh.triangles.size(), 20000u);
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
  // atan(0.76/(2 pi 0.04)) = 71.7 degrees of blade angle at the root and 2 atan(2 * 0.08) = 18.2 of
  // the camber's edge are 89.9: 3.9 more than the 86 allowed.
  const form::Surface surface = blade_form(0.08);
  const auto refused = form_solid(surface, {});
  ASSERT_EQ(first_field(refused), "form.undercut");
  EXPECT_THAT(refused.error().front().remedy, testing::HasSubstr("tilt the base by 4 deg"));
  FormOptions options;
  options.base_tilt_rad = least_base_tilt_rad(surface, 86 * degree_rad);
  EXPECT_NEAR(options.base_tilt_rad / degree_rad, 4, 1e-9);
  EXPECT_TRUE(form_solid(surface, options));
}

}  // namespace
}  // namespace propwright::solid
