// The form's surface against the closed forms of the helicoid, and its own symmetries.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/form/surface.h"

namespace propwright::form {
namespace {

using base::pi;

constexpr double helix_pitch_m = 0.76;

std::vector<SurfaceRow> helix_rows(double camber, double pitch_m = helix_pitch_m) {
  return {{0.03, pitch_m, camber, 0.008, 0.012},
          {0.09, pitch_m, camber, 0.018, 0.027},
          {0.15, pitch_m, camber, 0.014, 0.021},
          {0.195, pitch_m, camber, 0, 0}};
}

Surface helix(double camber, Hand hand = Hand::clockwise, Lay lay = Lay::helical) {
  return Surface::make(helix_rows(camber), hand, lay).value();
}

TEST(Surface, WithoutCamberIsTheHelicoid) {
  const Surface surface = helix(0);
  const double p = helix_pitch_m / (2 * pi);
  for (const double r : {0.03, 0.07, 0.111, 0.18}) {
    for (const double share : {0.0, 0.3, 0.8, 1.0}) {
      const Point at = surface.at(r, share);
      EXPECT_NEAR(std::hypot(at.x_m, at.y_m), r, 1e-15);
      // z = p psi, the definition; rounding of lengths below 0.1 m.
      EXPECT_NEAR(at.z_m, p * std::atan2(at.y_m, at.x_m), 1e-15);
    }
  }
}

TEST(Surface, OfTheOtherHandIsTheMirrorImageToTheLastBit) {
  for (const Lay lay : {Lay::helical, Lay::across}) {
    const Surface one = helix(0.07, Hand::clockwise, lay),
                  two = helix(0.07, Hand::anticlockwise, lay);
    for (const double r : {0.031, 0.1, 0.19}) {
      const Point a = one.at(r, 0.9), b = two.at(r, 0.9);
      EXPECT_EQ(a.x_m, b.x_m);
      EXPECT_EQ(a.y_m, -b.y_m);
      EXPECT_EQ(a.z_m, b.z_m);
    }
  }
}

TEST(Surface, HoldsTheSparLine) {
  const Surface surface = helix(0.08);
  for (const double r : {0.03, 0.0777, 0.16}) {
    const Point spar = surface.at(r, surface.spar_share(r));
    EXPECT_NEAR(spar.x_m, r, 1e-15);
    EXPECT_NEAR(spar.y_m, 0, 1e-15);
    EXPECT_NEAR(spar.z_m, 0, 1e-15);
  }
}

TEST(Surface, LeadingEdgeOfAClockwiseFormRisesToTheRight) {
  const Point edge = helix(0.05).at(0.1, 1);
  EXPECT_GT(edge.y_m, 0);
  EXPECT_GT(edge.z_m, 0);
}

TEST(Surface, AcrossHasThePlaneSectionOfAStationTemplate) {
  const Surface surface = helix(0.06, Hand::clockwise, Lay::across);
  const double r = 0.1, chord = surface.chord_m(r);
  const Point lead = surface.at(r, 1), trail = surface.at(r, 0), top = surface.at(r, 0.5);
  EXPECT_EQ(lead.x_m, r);
  EXPECT_NEAR(std::hypot(lead.y_m - trail.y_m, lead.z_m - trail.z_m), chord, 1e-15);
  const double angle = std::atan2(lead.z_m - trail.z_m, lead.y_m - trail.y_m);
  EXPECT_NEAR(angle, blade_angle_rad(helix_pitch_m, r), 1e-13);
  // The arch over the middle of the chord, hollow side down.
  const double y = (lead.y_m + trail.y_m) / 2, z = (lead.z_m + trail.z_m) / 2;
  EXPECT_NEAR(-(top.y_m - y) * std::sin(angle) + (top.z_m - z) * std::cos(angle), 0.06 * chord,
              1e-15);
}

TEST(Surface, IsAsWideAsItsArc) {
  const Surface surface = helix(0.1, Hand::clockwise, Lay::across);
  double length = 0;
  constexpr int pieces = 2000;
  for (int i = 0; i < pieces; ++i) {
    const Point a = surface.at(0.09, 1.0 * i / pieces),
                b = surface.at(0.09, 1.0 * (i + 1) / pieces);
    length += std::hypot(a.y_m - b.y_m, a.z_m - b.z_m);
  }
  // Chords for an arc of 0.8 rad: (0.8/2000)^2/24 short.
  EXPECT_NEAR(length / surface.sheet_width_m(0.09), 1, 1e-8);
}

TEST(FundamentalForms, OfTheHelicoidAreTheTextbooks) {
  const Surface surface = helix(0);
  const double p = helix_pitch_m / (2 * pi);
  for (const double r : {0.05, 0.11, 0.17}) {
    for (const double s : {-0.01, 0.0, 0.008}) {
      const Fundamental f = fundamental_forms(surface, r, s);
      const double k = helicoid_curvature_per_m2(helix_pitch_m, r);
      // Two differentiations by steps of 1e-3 r: 1e-12 of truncation, 1e-16/1e-6 of rounding.
      EXPECT_NEAR(f.gaussian_curvature_per_m2() / k, 1, 1e-6) << r << " " << s;
      // A minimal surface: no mean curvature, against sqrt(-K), its principal curvature.
      EXPECT_NEAR(f.mean_curvature_per_m() / std::sqrt(-k), 0, 1e-6) << r << " " << s;
      EXPECT_NEAR(f.G, 1, 1e-9);
    }
    const Fundamental spar = fundamental_forms(surface, r, 0);
    EXPECT_NEAR(spar.E, 1, 1e-9);
    EXPECT_NEAR(spar.F, 0, 1e-9);
    EXPECT_NEAR(std::abs(spar.M), p / (r * r + p * p), 1e-6 * p / (r * r + p * p));
  }
}

TEST(Surface, RefusesWhatIsNoForm) {
  const auto field_of = [](std::vector<SurfaceRow> rows) {
    const auto made = Surface::make(rows, Hand::clockwise, Lay::helical);
    return made ? std::string{"taken"} : made.error().front().field;
  };
  auto rows = helix_rows(0.06);
  rows[1].pitch_m = 0;
  EXPECT_EQ(field_of(rows), "form.pitch");
  rows = helix_rows(0.06);
  rows[2].radius_m = 0.09;
  EXPECT_EQ(field_of(rows), "form.radius");
  rows = helix_rows(0.06);
  rows[1].lead_m = -0.04;
  EXPECT_EQ(field_of(rows), "form.outline");
  rows = helix_rows(0.06);
  rows[0].camber = 0.31;
  EXPECT_EQ(field_of(rows), "form.camber");
  rows[0].camber = std::nan("");
  EXPECT_EQ(field_of(rows), "form.camber");
}

TEST(SurfaceRows, TakeTheOverbendOfTheForm) {
  const Form form{.pitch_m = 0.76, .camber = 0.06, .angle_overbend = 1.1, .camber_overbend = 1.5};
  const auto rows = surface_rows(form, {{0.1, 0.045, 0.018, 0.027}, {0.15, 0.035, 0.014, 0.021}});
  EXPECT_NEAR(blade_angle_rad(rows[0].pitch_m, 0.1), 1.1 * blade_angle_rad(0.76, 0.1), 1e-15);
  EXPECT_DOUBLE_EQ(rows[0].camber, 0.09);
}

TEST(SurfaceRows, FadeTheCamberOfARoundedTip) {
  const Form form{.pitch_m = 0.76, .camber = 0.06};
  const auto rows = surface_rows(
      form, {{0.05, 0.01, 0.004, 0.006}, {0.1, 0.04, 0.016, 0.024}, {0.19, 0.01, 0.004, 0.006}});
  EXPECT_DOUBLE_EQ(rows[0].camber, 0.06);  // narrow at the root: as wanted
  EXPECT_DOUBLE_EQ(rows[1].camber, 0.06);
  // Half of the half of the widest chord: half the camber keeps the same bend, 8 k/c.
  EXPECT_DOUBLE_EQ(rows[2].camber, 0.03);
}

}  // namespace
}  // namespace propwright::form
