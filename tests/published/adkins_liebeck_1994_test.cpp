// C. N. Adkins and R. H. Liebeck, "Design of optimum propellers", J. Propulsion and Power 10
// (1994) 676-682 (equations from memory): propellers of minimum induced loss, designed here by
// their equations and analysed by the rotor with the factor they use, Prandtl's with the tip's
// helix. Their worked example (from memory): 2 blades, 5.75 ft, hub 1 ft, 110 mph, 2,400 rpm, 70
// hp, cl 0.7 gives 207.61 lb and an efficiency of 0.86996. The lift-to-drag ratio is not
// remembered; 0.0138 reproduces it. Three designs computed outside this program stand in
// minimum_loss_*.csv.
#include <gtest/gtest.h>

#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/rotor/minimum_loss.h"
#include "propwright/rotor/rotor.h"
#include "simple_polars.h"
#include "test_data.h"

namespace propwright::rotor {
namespace {

using base::degree_rad;
using base::pi;

struct ClassicDesign {
  double radius_m, hub, speed_m_s, omega, density, cl, drag_ratio, zeta;
  double tip_angle() const { return std::atan(speed_m_s / (omega * radius_m) * (1 + zeta / 2)); }
  double inflow(double x) const { return std::atan(std::tan(tip_angle()) / x); }
  /// c/R = 4 pi lambda G V zeta/(cl B W), G = F x cos sin of the inflow angle.
  double chord(double x) const {
    const double phi = inflow(x), lambda = speed_m_s / (omega * radius_m);
    const double f = (1 - x) / std::sin(tip_angle());
    const double factor = 2 / pi * std::acos(std::exp(-f));
    const double g = factor * omega * radius_m * x / speed_m_s * std::cos(phi) * std::sin(phi);
    const double a = zeta / 2 * std::pow(std::cos(phi), 2) * (1 - drag_ratio * std::tan(phi));
    const double w = speed_m_s * (1 + a) / std::sin(phi);
    return 4 * pi * lambda * g * speed_m_s * zeta / (cl * 2 * w);
  }
};

constexpr double design_angle = 4 * degree_rad;

/// The designed blade on a polar that has the design's cl and cd at 4 degrees.
Result analysed(const ClassicDesign& d, const Options& options) {
  Blade blade;
  constexpr int rows = 400;
  for (int i = 0; i <= rows; ++i) {
    const double s = static_cast<double>(i) / rows;  // rows crowd at the tip like the loading
    const double x = 1 - (1 - d.hub) * (1 - s) * (1 - s);
    blade.rows.push_back({x * d.radius_m, d.chord(x) * d.radius_m, d.inflow(x) + design_angle, 0});
  }
  const double slope = 5.7;
  const auto polar =
      test::linear_family(slope, design_angle - d.cl / slope, std::max(d.drag_ratio * d.cl, 1e-5));
  const Flow flow{d.density, 1.789e-5};
  return Rotor::make(blade, polar, options)->solve({d.speed_m_s, d.omega / (2 * pi)}, flow).value();
}

const Options classical{TipFactor::prandtl, WakeHelix::tip, 100};

ClassicDesign design_of(const base::Table& t, std::size_t i) {
  return {t.column("R_m")[i], t.column("xi_hub")[i], t.column("V")[i],   t.column("omega")[i],
          t.column("rho")[i], t.column("cl")[i],     t.column("eps")[i], t.column("zeta")[i]};
}

base::Table cases() {
  return test::published_table(
      "minimum_loss_cases.csv",
      {"R_m", "xi_hub", "V", "omega", "rho", "cl", "eps", "zeta", "eta", "T_N", "P_W"});
}

TEST(AdkinsLiebeck, DesignEquationsGiveTheTabulatedStations) {
  const auto t = cases();
  const auto stations =
      test::published_table("minimum_loss_stations.csv", {"xi", "phi_deg", "c_over_R"});
  ASSERT_EQ(t.rows(), 3u);
  ASSERT_EQ(stations.rows(), 33u);
  for (std::size_t i = 0; i < stations.rows(); ++i) {
    const ClassicDesign d = design_of(t, i / 11);
    const double x = stations.column("xi")[i];
    EXPECT_NEAR(d.inflow(x) / degree_rad, stations.column("phi_deg")[i], 1e-3);  // zeta's 6 digits
    EXPECT_NEAR(d.chord(x), stations.column("c_over_R")[i], 1e-5);
  }
}

// Design and analysis solve the same equations from opposite ends, so the analysis of a design
// returns its lift, thrust, power and efficiency: to the six digits of zeta, the cubics through 400
// rows, and 1e-5 of drag coefficient where the design has none.
TEST(AdkinsLiebeck, AnalysisOfTheDesignsReturnsWhatWasAskedFor) {
  const auto t = cases();
  for (std::size_t i = 0; i < t.rows(); ++i) {
    const Result result = analysed(design_of(t, i), classical);
    const Coefficients c =
        coefficients(result.loads, result.condition, 2 * t.column("R_m")[i], t.column("rho")[i]);
    const double power = result.loads.torque_Nm * t.column("omega")[i];
    EXPECT_NEAR(result.loads.thrust_N / t.column("T_N")[i], 1, 5e-5) << i;
    EXPECT_NEAR(power / t.column("P_W")[i], 1, 5e-5) << i;
    EXPECT_NEAR(c.efficiency, t.column("eta")[i], 5e-5) << i;
    const ClassicDesign d = design_of(t, i);
    for (const StationResult& s : result.stations) {
      if (s.radius_m > 0.97 * d.radius_m) continue;
      EXPECT_NEAR(s.cl, d.cl, 1e-3 * d.cl) << i << ' ' << s.radius_m;
    }
    RecordProperty("thrust_error_" + std::to_string(i),
                   std::to_string(result.loads.thrust_N / t.column("T_N")[i] - 1));
    RecordProperty("power_error_" + std::to_string(i),
                   std::to_string(power / t.column("P_W")[i] - 1));
    RecordProperty("eta_error_" + std::to_string(i),
                   std::to_string(c.efficiency - t.column("eta")[i]));
  }
}

// zeta of the published example follows from its power by the design's own integrals; between the
// tabulated 0.0125 and 0.015 it hardly moves, so the tabulated one is used with eps 0.0138.
TEST(AdkinsLiebeck, PublishedExampleWithinHalfAPerCent) {
  ClassicDesign d = design_of(cases(), 0);
  d.drag_ratio = 0.0138;
  const Result result = analysed(d, classical);
  const double power = result.loads.torque_Nm * d.omega;
  const double thrust_lb = result.loads.thrust_N / 4.4482216;
  // Loads at 70 hp: scaled by the power, which a fixed zeta leaves 0.2 % off.
  EXPECT_NEAR(power / (70 * 745.69987), 1, 5e-3);
  EXPECT_NEAR(thrust_lb / 207.61, 1, 5e-3);
  EXPECT_NEAR(result.loads.thrust_N * d.speed_m_s / power, 0.86996, 5e-3 * 0.86996);
  RecordProperty("thrust_lb", std::to_string(thrust_lb));
  RecordProperty("efficiency", std::to_string(result.loads.thrust_N * d.speed_m_s / power));
}

// The station's own helix instead of the tip's changes the thrust of the indoor design by some two
// per cent. The exact factor carries 21 % less mass than Prandtl's at its lambda of 0.59; a fixed
// blade answers with more incidence, so its thrust falls by less.
TEST(AdkinsLiebeck, OwnHelixAndExactFactorMoveTheIndoorDesign) {
  const ClassicDesign d = design_of(cases(), 1);
  const double tip = analysed(d, classical).loads.thrust_N;
  const double local = analysed(d, {TipFactor::prandtl, WakeHelix::local, 100}).loads.thrust_N;
  const double exact = analysed(d, {TipFactor::exact, WakeHelix::local, 100}).loads.thrust_N;
  EXPECT_GT(local / tip, 1.005);
  EXPECT_LT(local / tip, 1.03);
  EXPECT_GT(exact / tip, 1 - 0.21);
  EXPECT_LT(exact / tip, 0.97);
  RecordProperty("local_over_tip", std::to_string(local / tip));
  RecordProperty("exact_over_tip", std::to_string(exact / tip));
}

/// What is asked for in a row of the table, with the factor it was computed with.
DesignRequest request_of(const base::Table& t, std::size_t i) {
  DesignRequest request{
      .condition = {t.column("V")[i], t.column("omega")[i] / (2 * pi)},
      .flow = {t.column("rho")[i], 1.789e-5},
      .thrust_N = {},
      .power_W = {},
      .tip_radius_m = t.column("R_m")[i],
      .hub_radius_m = t.column("xi_hub")[i] * t.column("R_m")[i],
      .camber = 0,
      .lift = t.column("cl")[i],
      .largest_chord_m = {},
      .tip_factor = TipFactor::prandtl,
      .wake_helix = WakeHelix::tip,
      .stations = 100,
  };
  if (t.text(i, "given").front() == 'P') {
    request.power_W = t.column("P_W")[i];
  } else {
    request.thrust_N = t.column("T_N")[i];
  }
  return request;
}

// The design mode against the three designs computed outside this program: their six digits, and
// the midpoint rule they were summed by. The third has no drag; the least that a polar may have,
// 1e-5, takes 2e-5 of its efficiency.
TEST(AdkinsLiebeck, DesignModeFindsTheTabulatedDesigns) {
  const auto t = cases();
  const auto stations =
      test::published_table("minimum_loss_stations.csv", {"xi", "phi_deg", "c_over_R"});
  for (std::size_t i = 0; i < t.rows(); ++i) {
    const double cl = t.column("cl")[i], slope = 5.7;
    const auto polar = test::linear_family(slope, design_angle - cl / slope,
                                           std::max(t.column("eps")[i] * cl, 1e-5));
    const auto design = minimum_loss(request_of(t, i), polar);
    ASSERT_TRUE(design) << i;
    const double drag = t.column("eps")[i] > 0 ? 0 : 4e-5;
    EXPECT_NEAR(design->zeta, t.column("zeta")[i], 2e-6 + drag) << i;
    EXPECT_NEAR(design->efficiency, t.column("eta")[i], 2e-6 + drag) << i;
    EXPECT_NEAR(design->thrust_N / t.column("T_N")[i], 1, 5e-6 + drag) << i;
    EXPECT_NEAR(design->power_W / t.column("P_W")[i], 1, 5e-6 + drag) << i;
    for (const DesignStation& s : design->stations) {
      EXPECT_NEAR(s.alpha_rad, design_angle, 1e-9);
      EXPECT_NEAR(s.cl, cl, 1e-9);
    }
    // The tabulated root station, with five digits of its place, is the first row.
    EXPECT_NEAR(design->stations.front().inflow_rad / degree_rad,
                stations.column("phi_deg")[11 * i], 1e-3);
    EXPECT_NEAR(design->stations.front().chord_m / t.column("R_m")[i],
                stations.column("c_over_R")[11 * i], 2e-6);
  }
}

// 207.61 lb and 0.86996 for 70 hp, at the lift-to-drag ratio that reproduces the efficiency.
TEST(AdkinsLiebeck, DesignModeGivesThePublishedExampleWithinHalfAPerCent) {
  const double cl = 0.7, slope = 5.7;
  const auto design = minimum_loss(
      request_of(cases(), 0), test::linear_family(slope, design_angle - cl / slope, 0.0138 * cl));
  ASSERT_TRUE(design);
  EXPECT_NEAR(design->thrust_N / 4.4482216 / 207.61, 1, 5e-3);
  EXPECT_NEAR(design->efficiency / 0.86996, 1, 5e-3);
}

}  // namespace
}  // namespace propwright::rotor
