// The bent spar against an integration of its own, and the two ways of reading and of zero.
#include "propwright/spar/deflection.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <array>
#include <cmath>

#include "test_spars.h"

namespace propwright::spar {
namespace {

/// A square spar with one linear taper, integrated from the clamp by the classical Runge-Kutta
/// method with the clamp's moment found by bisection: shares nothing with the module but the
/// differential equation.
struct Shooting {
  double root_m, tip_m, length_m, modulus_Pa, mass_kg;
  Rig rig;
  bool loaded = true;

  using State = std::array<double, 4>;  // theta, moment, x, y
  double size(double s) const { return root_m + (tip_m - root_m) * s / length_m; }
  double volume(double s) const {
    const double b = size(s);
    return s * (root_m * root_m + root_m * b + b * b) / 3;
  }
  State change(double s, const State& z, bool before_load) const {
    const double ei = modulus_Pa * std::pow(size(s), 4) / 12;
    double shear = mass_kg * rig.gravity_m_s2 * (1 - volume(s) / volume(length_m));
    if (loaded && before_load) shear += rig.load_kg * rig.gravity_m_s2;
    return {z[1] / ei, -shear * std::cos(z[0]), std::cos(z[0]), std::sin(z[0])};
  }
  State step(double s, const State& z, double h, bool before) const {
    const auto plus = [](const State& a, const State& b, double f) {
      State c = a;
      for (int i = 0; i < 4; ++i) c[i] += f * b[i];
      return c;
    };
    const State k1 = change(s, z, before), k2 = change(s + h / 2, plus(z, k1, h / 2), before);
    const State k3 = change(s + h / 2, plus(z, k2, h / 2), before);
    const State k4 = change(s + h, plus(z, k3, h), before);
    State next = z;
    for (int i = 0; i < 4; ++i) next[i] += h / 6 * (k1[i] + 2 * k2[i] + 2 * k3[i] + k4[i]);
    return next;
  }
  /// y where the reading is taken, and the moment left at the tip.
  std::pair<double, double> shoot(double root_moment) const {
    const int n = 400;
    State z{0, root_moment, 0, 0};
    double shown = std::nan("");
    const std::array<double, 3> ends{0, rig.load_at_m, length_m};
    for (int part = 0; part < 2; ++part) {
      const double h = (ends[part + 1] - ends[part]) / n;
      for (int i = 0; i < n && h > 0; ++i) {
        const State next = step(ends[part] + i * h, z, h, part == 0);
        const bool point = rig.follows == Follows::point_of_the_spar;
        const double at = point ? ends[part] + (i + 1) * h : next[2];
        const double was = point ? ends[part] + i * h : z[2];
        if (std::isnan(shown) && at >= rig.read_at_m * (1 - 1e-12)) {
          // A part of a step, once more by Runge-Kutta; for a distance the slope's own length.
          double piece = rig.read_at_m - was;
          if (!point) piece /= std::cos((z[0] + next[0]) / 2);
          shown = step(ends[part] + i * h, z, piece, part == 0)[3];
        }
        z = next;
      }
    }
    return {shown, z[1]};
  }
  double droop() const {
    double low = 0, high = 2 * (rig.load_kg + mass_kg) * rig.gravity_m_s2 * length_m;
    for (int k = 0; k < 60; ++k) {
      const double middle = (low + high) / 2;
      (shoot(middle).second > 0 ? high : low) = middle;
    }
    return shoot(low).first;
  }
  double reading() {
    const double with_load = droop();
    if (rig.zero == Zero::straight_line) return with_load;
    loaded = false;
    return with_load - droop();
  }
};

TEST(BentSpar, AgreesWithShootingForTaperWeightOverhangAndEveryRig) {
  for (const double modulus : {4e9, 1.5e9, 0.5e9}) {
    for (const Follows follows : {Follows::point_of_the_spar, Follows::fixed_distance}) {
      for (const Zero zero : {Zero::straight_line, Zero::unloaded_spar}) {
        Rig rig = test::usual_rig();
        rig.follows = follows, rig.zero = zero;
        rig.read_at_m = follows == Follows::fixed_distance ? 0.12 : 0.1524;
        Shooting shooting{1.5e-3, 0.6e-3, 0.19, modulus, 60e-6, rig};
        const Section root{Shape::square, 1.5e-3, 1.5e-3, 0}, tip{Shape::square, 0.6e-3, 0.6e-3, 0};
        const Beam beam{taper(root, {}, tip, 0.19), 60e-6, Bending::depth};
        const double shown = reading_m(beam, rig, modulus * std::pow(1.5e-3, 4) / 12).value();
        // The shooting's own errors: 400 steps of fourth order, 1e-9; the middle angle of the last
        // piece of a step for a fixed distance, 1e-7 of the length.
        EXPECT_NEAR(shown / 0.19, shooting.reading() / 0.19, 2e-7);
      }
    }
  }
}

RC_GTEST_PROP(BentSpar, ReadingAndStiffnessAreEachOthersInverse, ()) {
  Rig rig = test::usual_rig();
  rig.follows = *rc::gen::element(Follows::point_of_the_spar, Follows::fixed_distance);
  rig.zero = *rc::gen::element(Zero::straight_line, Zero::unloaded_spar);
  rig.load_at_m = test::drawn(0.05, 0.178), rig.read_at_m = test::drawn(0.05, 0.15);
  rig.zero_reading_m = test::drawn(-0.01, 0.01);
  const Spar spar = test::usual_spar("1", test::drawn(0.7, 1.3), test::drawn(0.7, 1.3),
                                     *rc::gen::element(Shape::square, Shape::round));
  const Beam beam{spar.taper, spar.mass_kg,
                  *rc::gen::element(Bending::depth, Bending::width, Bending::uniform)};
  const double ei = test::drawn(1.5e-4, 2e-3);
  const auto shown = reading_m(beam, rig, ei);
  RC_PRE(shown.has_value() && *shown - rig.zero_reading_m < 0.9 * rig.read_at_m);
  // The turns stop where what is still to come is 1e-9.
  RC_ASSERT(std::abs(ei_root_Nm2(beam, rig, *shown).value() / ei - 1) < 2e-8);
}

TEST(BentSpar, AFixedDistanceReadsThePointThatHangsThere) {
  const Spar spar = test::usual_spar("1");
  const Beam beam{spar.taper, spar.mass_kg, Bending::depth};
  const auto points = bent_spar(beam, test::usual_rig(), 3e-4, true).value();
  const BentPoint point = points[points.size() / 2];
  Rig rig = test::usual_rig();
  rig.follows = Follows::fixed_distance, rig.read_at_m = point.x_m;
  EXPECT_NEAR(reading_m(beam, rig, 3e-4).value(), point.y_m, 1e-9);
  rig.follows = Follows::point_of_the_spar, rig.read_at_m = point.s_m;
  EXPECT_NEAR(reading_m(beam, rig, 3e-4).value(), point.y_m, 1e-9);
}

TEST(BentSpar, TheTwoZerosDifferByTheSparsOwnDroop) {
  const Spar spar = test::usual_spar("1");
  const Beam beam{spar.taper, spar.mass_kg, Bending::depth};
  Rig rig = test::usual_rig();
  const double from_line = reading_m(beam, rig, 3e-4).value();
  rig.zero = Zero::unloaded_spar;
  const double from_droop = reading_m(beam, rig, 3e-4).value();
  Rig only_wood = test::usual_rig();
  only_wood.load_kg = 1e-15;
  EXPECT_NEAR(from_line - from_droop, reading_m(beam, only_wood, 3e-4).value(), 1e-9);
  EXPECT_GT(from_line - from_droop, 0.2e-3);
}

TEST(BentSpar, PointsLieOnASparThatDoesNotStretch) {
  const Spar spar = test::usual_spar("1");
  const auto points =
      bent_spar({spar.taper, spar.mass_kg, Bending::depth}, test::usual_rig(), 2e-4, true).value();
  double length = 0;
  for (std::size_t i = 1; i < points.size(); ++i) {
    EXPECT_GT(points[i].s_m, points[i - 1].s_m);
    length += std::hypot(points[i].x_m - points[i - 1].x_m, points[i].y_m - points[i - 1].y_m);
  }
  // Chords are shorter than the arc by (angle between points)^2/24 of it: a few 1e-6 here.
  EXPECT_NEAR(length / 0.178, 1, 2e-5);
  EXPECT_DOUBLE_EQ(points.back().s_m, 0.178);
  EXPECT_DOUBLE_EQ(points.front().y_m, 0);
}

TEST(BentSpar, NamesAReadingThatCannotBe) {
  const Spar spar = test::usual_spar("1");
  const Beam beam{spar.taper, spar.mass_kg, Bending::depth};
  Rig rig = test::usual_rig();
  rig.zero_reading_m = 0.001;
  for (const double reading : {0.001, 0.0, -0.01, 0.2, std::nan("")}) {
    const auto ei = ei_root_Nm2(beam, rig, reading);
    ASSERT_FALSE(ei.has_value()) << reading;
    EXPECT_EQ(ei.error().front().field, "reading");
  }
  rig.follows = Follows::fixed_distance, rig.read_at_m = 0.17;
  // To drop 120 mm within 170 mm takes 208 mm of spar.
  EXPECT_FALSE(ei_root_Nm2(beam, rig, 0.121).has_value());
}

TEST(BentSpar, SaysWhenASparIsTooSoftToBeRead) {
  const Spar spar = test::usual_spar("1");
  Rig rig = test::usual_rig();
  rig.follows = Follows::fixed_distance;
  const auto shown = reading_m({spar.taper, spar.mass_kg, Bending::depth}, rig, 1e-5);
  ASSERT_FALSE(shown.has_value());
  EXPECT_EQ(shown.error().front().field, "ei");
}

TEST(Rig, NamesAPlaceBeyondTheSparAndEveryNegativeSize) {
  Rig rig = test::usual_rig();
  rig.load_at_m = 0.2, rig.read_at_m = 0, rig.load_kg = -1, rig.resolution_m = -1;
  const auto found = problems(rig, 0.178);
  ASSERT_EQ(found.size(), 4u);
  EXPECT_EQ(found[0].field, "load_kg");
  EXPECT_EQ(found[1].field, "load_at_m");
  EXPECT_EQ(found[2].field, "read_at_m");
  EXPECT_EQ(found[3].field, "resolution_m");
  EXPECT_TRUE(problems(test::usual_rig(), 0.178).empty());
  EXPECT_TRUE(problems(test::usual_rig(), 0.1524).empty());
}

}  // namespace
}  // namespace propwright::spar
