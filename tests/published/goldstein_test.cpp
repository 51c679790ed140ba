// S. Goldstein, "On the vortex theory of screw propellers", Proc. R. Soc. A 123 (1929) 440-465: the
// circulation function of a helical wake. The published tables could not be opened; ours were
// computed once outside this program (data/goldstein_circulation.csv, kappa_computed.csv).
//
// Reached through public results: a blade without chord leaves the flow undisturbed, so that its
// wake's lambda is V/(Omega R) at every station and the factor reported is that of (x, lambda).
#include <gtest/gtest.h>

#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/base/monotone_curve.h"
#include "propwright/data/data.h"
#include "propwright/rotor/fine.h"
#include "propwright/rotor/rotor.h"
#include "simple_polars.h"
#include "test_data.h"

namespace propwright::rotor {
namespace {

using base::pi;

/// Stations of a chordless blade from `hub` to 1 at wake parameter `lambda`.
std::vector<StationResult> stations(int blades, double hub, double lambda, const Options& options) {
  static const section::Family polar = test::linear_family(6, 0, 0.02);
  Blade blade;
  blade.rows = {{hub, 0, 0.5, 0}, {1, 0, 0.5, 0}};
  blade.blades = blades;
  const auto rotor = Rotor::make(blade, polar, options);
  return rotor->solve({lambda * 2 * pi, 1}, {}).value().stations;
}

/// The factor at exactly x: the first station's place depends linearly on the hub's.
double factor_at(int blades, double x, double lambda, const Options& options) {
  const double share = (1 - stations(blades, 0.5, lambda, options).front().radius_m) / 0.5;
  const StationResult station = stations(blades, 1 - (1 - x) / share, lambda, options).front();
  EXPECT_NEAR(station.radius_m, x, 1e-12);
  EXPECT_NEAR(x * std::tan(station.inflow_rad), lambda, 1e-9);
  return station.factor;
}

TEST(Goldstein, FactorGivesTheTablesCirculation) {
  const auto table = test::table_of(data::file("goldstein_circulation.csv"),
                                    {"B", "lambda", "x", "G", "ratio_G_over_Prandtl"},
                                    "goldstein_circulation.csv");
  ASSERT_GT(table.rows(), 500u);
  const Options coarse{.stations = 8};
  double worst = 0;
  for (std::size_t i = 0; i < table.rows(); ++i) {
    const double x = table.column("x")[i], lambda = table.column("lambda")[i];
    const double factor = factor_at(static_cast<int>(table.column("B")[i]), x, lambda, coarse);
    const double g = factor * x * x / (x * x + lambda * lambda);
    const double error = g / table.column("G")[i] - 1;
    worst = std::max(worst, std::abs(error));
    // The table is printed to four digits after the point. A station keeps its factor in 48 cubic
    // pieces; at the table's edge, lambda 0.05, the slope jumps and costs up to 0.25 %. Beyond
    // x = 0.95 the table itself is no better than 1 %.
    const double allowed = (x > 0.95 ? 1e-2 : 2.5e-3) + 1e-4 / table.column("G")[i];
    EXPECT_NEAR(error, 0, allowed) << "line " << table.line(i);
  }
  RecordProperty("worst_relative_error", std::to_string(worst));
}

/// The places of one (B, lambda) in the table and the circulation there.
struct Sheet {
  int blades = 2;
  double lambda = 0;
  std::vector<double> x, g;
};

std::vector<Sheet> sheets() {
  const auto table = test::table_of(data::file("goldstein_circulation.csv"),
                                    {"B", "lambda", "x", "G"}, "goldstein_circulation.csv");
  std::vector<Sheet> all;
  for (std::size_t i = 0; i < table.rows(); ++i) {
    const int blades = static_cast<int>(table.column("B")[i]);
    const double lambda = table.column("lambda")[i];
    if (all.empty() || all.back().blades != blades || all.back().lambda != lambda) {
      all.push_back({blades, lambda, {}, {}});
    }
    all.back().x.push_back(table.column("x")[i]);
    all.back().g.push_back(table.column("G")[i]);
  }
  return all;
}

// The optimum of the fine mode, a lifting line with the wake of Betz's condition, against the
// table, which was computed by another method (matching modes of the potential).
TEST(Goldstein, OptimumOfTheFineModeIsTheTablesCirculation) {
  ASSERT_EQ(sheets().size(), 30u);
  double worst = 0, worst_at_tip = 0;
  for (const Sheet& sheet : sheets()) {
    const std::vector<double> g =
        rotor::least_loss_circulation(sheet.blades, sheet.lambda, sheet.x, 48);
    for (std::size_t i = 0; i < g.size(); ++i) {
      const double x = sheet.x[i], error = g[i] / sheet.g[i] - 1;
      double& most = x > 0.95 ? worst_at_tip : worst;
      most = std::max(most, std::abs(error));
      // The table's own accuracy, 0.2 % and 1 % beyond x = 0.95, and its four printed decimals. Its
      // outermost entries for two blades at lambda 0.75 and 1 are 1.3 and 2.3 % low: G/sqrt(1 -
      // x^2) has a kink there in the table, where it must run smoothly into the tip.
      const bool kinked = sheet.blades == 2 && sheet.lambda > 0.7 && x > 0.98;
      const double allowed = (kinked ? 2.5e-2 : x > 0.95 ? 1e-2 : 2e-3) + 5e-5 / sheet.g[i];
      EXPECT_NEAR(error, 0, allowed) << sheet.blades << ' ' << sheet.lambda << ' ' << x;
    }
  }
  RecordProperty("worst_relative_error", std::to_string(worst));
  RecordProperty("worst_relative_error_at_tip", std::to_string(worst_at_tip));
}

TEST(Goldstein, OptimumOfTheFineModeConvergesToAThousandth) {
  for (const Sheet& sheet : sheets()) {
    const auto with = [&](int stations) {
      return rotor::least_loss_circulation(sheet.blades, sheet.lambda, sheet.x, stations);
    };
    const auto coarse = with(12), middle = with(24), fine = with(48), finest = with(96);
    for (std::size_t i = 0; i < sheet.x.size(); ++i) {
      SCOPED_TRACE(testing::Message() << sheet.blades << ' ' << sheet.lambda << ' ' << sheet.x[i]);
      EXPECT_NEAR(coarse[i], finest[i], 5e-3);
      EXPECT_NEAR(middle[i], finest[i], 1e-3);
      EXPECT_NEAR(fine[i], finest[i], 5e-5);
    }
  }
}

double kappa(int blades, double lambda, const Options& options) {
  // 2 int G x dx, exact for a monotone cubic through the stations, which crowd towards the tip.
  std::vector<double> x{0}, loading{0};
  for (const StationResult& s : stations(blades, 1e-6, lambda, options)) {
    const double r = s.radius_m;
    x.push_back(r);
    loading.push_back(2 * s.factor * r * r * r / (r * r + lambda * lambda));
  }
  x.push_back(1);
  loading.push_back(0);
  return base::MonotoneCurve::through(x, loading)->integral(0, 1);
}

TEST(Goldstein, MassCoefficientsOfTwoThreeAndFourBlades) {
  const auto table = test::published_table(
      "kappa_computed.csv",
      {"B", "lambda", "kappa_goldstein", "kappa_prandtl", "kappa_infinite_blades"});
  ASSERT_EQ(table.rows(), 30u);
  double worst = 0;
  for (std::size_t i = 0; i < table.rows(); ++i) {
    const int blades = static_cast<int>(table.column("B")[i]);
    const double lambda = table.column("lambda")[i];
    const double exact = kappa(blades, lambda, {.stations = 100});
    worst = std::max(worst, std::abs(exact / table.column("kappa_goldstein")[i] - 1));
    // 0.5 %: the table's circulation is good to 0.2 %, 1 % near the tip.
    EXPECT_NEAR(exact / table.column("kappa_goldstein")[i], 1, 5e-3) << blades << ' ' << lambda;
    // Prandtl's factor in the tip's form is a formula; 0.1 % for the curve through the stations.
    const Options prandtl{TipFactor::prandtl, WakeHelix::tip, 100};
    EXPECT_NEAR(kappa(blades, lambda, prandtl) / table.column("kappa_prandtl")[i], 1, 1e-3)
        << blades << ' ' << lambda;
    const Options none{.tip_factor = TipFactor::none, .stations = 100};
    EXPECT_NEAR(kappa(blades, lambda, none) / table.column("kappa_infinite_blades")[i], 1, 1e-3);
  }
  RecordProperty("worst_kappa_error", std::to_string(worst));
}

}  // namespace
}  // namespace propwright::rotor
