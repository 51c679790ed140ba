#include "propwright/rubber/batch_tests.h"

#include <fmt/format.h>

#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>

#include "energy_balance.h"

namespace propwright::rubber {
namespace {

constexpr int told_points = 41;
constexpr double interval = 0.90;  // of every interval told here

double t_quantile(double freedom) {
  return boost::math::quantile(boost::math::students_t(freedom), (1 + interval) / 2);
}

/// The points that any of the curves turns at, so that nothing of a steep end is lost.
std::vector<double> all_nodes(const std::vector<Batch>& tests) {
  std::vector<double> nodes;
  for (const Batch& test : tests) {
    nodes.insert(nodes.end(), test.unwinding.x().begin(), test.unwinding.x().end());
  }
  std::sort(nodes.begin(), nodes.end());
  std::vector<double> kept;
  for (const double x : nodes) {
    if (kept.empty() || x - kept.back() > 1e-6) kept.push_back(x);
  }
  return kept;
}

/// What brings a test at its own temperature to that of the first.
double to_common_temperature(const Batch& test, const Batch& first) {
  return 1 +
         first.temperature_coefficient_per_K * (first.test_temperature_K - test.test_temperature_K);
}

Spread of_figure(const std::vector<Batch>& tests, double Batch::*member, bool warm) {
  std::vector<double> values;
  values.reserve(tests.size());
  for (const Batch& test : tests) {
    values.push_back(test.*member * (warm ? to_common_temperature(test, tests.front()) : 1));
  }
  return spread_of(values);
}

/// Torque of every test at x over the batch's mean torque constant.
Spread torque_at(const std::vector<Batch>& tests, double x, bool winding, double mean_Pa) {
  std::vector<double> values;
  values.reserve(tests.size());
  for (const Batch& test : tests) {
    const base::MonotoneCurve& curve = winding ? test.winding : test.unwinding;
    values.push_back(curve.value(x) * test.torque_constant_Pa / mean_Pa *
                     to_common_temperature(test, tests.front()));
  }
  return spread_of(values);
}

base::Expected<void> mean_curves(const std::vector<Batch>& tests, double mean_Pa, Batch& mean) {
  const std::vector<double> nodes = all_nodes(tests);
  std::vector<double> unwinding, winding;
  unwinding.reserve(nodes.size());
  winding.reserve(nodes.size());
  for (const double x : nodes) {
    unwinding.push_back(torque_at(tests, x, false, mean_Pa).mean);
    winding.push_back(torque_at(tests, x, true, mean_Pa).mean);
  }
  const double peak = unwinding.back();
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    unwinding[i] /= peak;
    winding[i] /= peak;
  }
  auto back = base::MonotoneCurve::through(nodes, unwinding);
  if (!back) return base::fail(back.error());
  auto taken = base::MonotoneCurve::through(nodes, winding);
  if (!taken) return base::fail(taken.error());
  mean.unwinding = std::move(*back);
  mean.winding = std::move(*taken);
  return {};
}

/// One motor at the rows of its test, over the batch's mean torque.
std::vector<CurvePoint> own_curve(const Batch& test, const Batch& first, double mean_Pa) {
  const double scale = test.torque_constant_Pa / mean_Pa * to_common_temperature(test, first);
  std::vector<CurvePoint> points;
  points.reserve(test.unwinding.x().size());
  for (const double x : test.unwinding.x()) {
    points.push_back(
        {.x = x, .q = scale * test.unwinding.value(x), .q_winding = scale * test.winding.value(x)});
  }
  return points;
}

void batch_notes(BatchOfTests& batch, const std::vector<Batch>& tests) {
  const auto& e = batch.energy_J_per_kg;
  if (tests.size() == 1) {
    batch.notes.push_back("One motor only: how far motors of this batch differ is not known.");
  } else if (e.scatter > 0.05 * e.mean) {
    batch.notes.push_back(fmt::format(
        "The motors differ by {:.0f} % in energy, where 1 to 2 % is usual within a box: "
        "look at winding, knots and lubricant first.",
        100 * e.scatter / e.mean));
  }
  const bool warmer = std::any_of(tests.begin(), tests.end(), [&](const Batch& test) {
    return test.test_temperature_K != tests.front().test_temperature_K;
  });
  if (warmer) {
    batch.notes.push_back(fmt::format(
        "Tests at other temperatures are brought to {:.1f}\u00a0°C by {:.2f}\u00a0% per degree.",
        tests.front().test_temperature_K - base::celsius_0_K,
        100 * tests.front().temperature_coefficient_per_K));
  }
}

Spread times(Spread s, double factor) {
  s.mean *= factor;
  s.scatter *= factor;
  s.low *= factor;
  s.high *= factor;
  return s;
}

FigureComparison compare(const char* name, const Spread& a, const Spread& b) {
  FigureComparison c{.name = name, .ratio = b.mean / a.mean};
  c.low = c.high = c.ratio;
  if (a.motors < 2 || b.motors < 2) return c;
  // Relative variances of the two means; the ratio's by the delta method, its freedom by Welch and
  // Satterthwaite (Satterthwaite, Biometrics Bull. 2 (1946) 110-114).
  const auto share = [](const Spread& s) {
    const double relative = s.scatter / s.mean;
    return relative * relative / s.motors;
  };
  const double va = share(a), vb = share(b);
  if (va + vb <= 0) {
    c.difference = c.ratio == 1 ? Difference::not_seen : Difference::clear;
    return c;
  }
  const double freedom =
      (va + vb) * (va + vb) / (va * va / (a.motors - 1) + vb * vb / (b.motors - 1));
  const double half = t_quantile(freedom) * std::sqrt(va + vb) * c.ratio;
  c.low = c.ratio - half;
  c.high = c.ratio + half;
  c.difference = c.low > 1 || c.high < 1 ? Difference::clear : Difference::not_seen;
  return c;
}

}  // namespace

Spread spread_of(const std::vector<double>& values) {
  Spread s{.motors = static_cast<int>(values.size())};
  const double n = static_cast<double>(values.size());
  for (const double value : values) s.mean += value / n;
  s.low = s.high = s.mean;
  if (values.size() < 2) return s;
  double square = 0;
  for (const double value : values) square += (value - s.mean) * (value - s.mean);
  s.scatter = std::sqrt(square / (n - 1));
  const double half = t_quantile(n - 1) * s.scatter / std::sqrt(n);
  s.low = s.mean - half;
  s.high = s.mean + half;
  return s;
}

base::Expected<BatchOfTests> batch_of_tests(const std::vector<Batch>& tests) {
  if (tests.empty() || tests.size() > 100) {
    return base::fail({.field = "tests",
                       .value = fmt::format("{}", tests.size()),
                       .allowed = "1 to 100 tests",
                       .remedy = "give the bench test of at least one motor",
                       .message = "this makes no batch"});
  }
  BatchOfTests batch;
  batch.energy_J_per_kg = of_figure(tests, &Batch::energy_J_per_kg, true);
  batch.torque_constant_Pa = of_figure(tests, &Batch::torque_constant_Pa, true);
  batch.turns_constant = of_figure(tests, &Batch::turns_constant, false);
  batch.density_kg_m3 = of_figure(tests, &Batch::density_kg_m3, false);
  batch.returned_over_stored = of_figure(tests, &Batch::returned_over_stored, false);
  const double mean_Pa = batch.torque_constant_Pa.mean;
  if (auto made = mean_curves(tests, mean_Pa, batch.mean); !made) return base::fail(made.error());
  Batch& mean = batch.mean;
  mean.measured = true;
  mean.turns_constant = batch.turns_constant.mean;
  mean.density_kg_m3 = batch.density_kg_m3.mean;
  mean.energy_J_per_kg = batch.energy_J_per_kg.mean;
  mean.returned_over_stored = batch.returned_over_stored.mean;
  mean.test_temperature_K = tests.front().test_temperature_K;
  mean.temperature_coefficient_per_K = tests.front().temperature_coefficient_per_K;
  set_torque_constant(mean, mean.unwinding.integral(0, 1));
  for (int i = 0; i < told_points; ++i) {
    const double x = static_cast<double>(i) / (told_points - 1);
    const Spread out = torque_at(tests, x, false, mean_Pa), in = torque_at(tests, x, true, mean_Pa);
    batch.curve.push_back({x, out.mean, out.scatter, in.mean, in.scatter});
  }
  batch.motors.reserve(tests.size());
  for (const Batch& test : tests) {
    batch.motors.push_back(own_curve(test, tests.front(), mean_Pa));
  }
  batch_notes(batch, tests);
  return batch;
}

MeanTest mean_test(const Batch& mean, double section_m2, double length_m) {
  MeanTest test{.motor = {.section_m2 = section_m2,
                          .length_m = length_m,
                          .mass_kg = mean.density_kg_m3 * section_m2 * length_m},
                .csv = "turns,torque_winding_Nm,torque_unwinding_Nm\n"};
  const double turns = mean.turns_constant * length_m / std::sqrt(section_m2);
  const double torque_Nm = mean.torque_constant_Pa * section_m2 * std::sqrt(section_m2);
  for (const double x : mean.unwinding.x()) {
    test.csv += fmt::format("{:.12g},{:.12g},{:.12g}\n", x * turns,
                            torque_Nm * mean.winding.value(x), torque_Nm * mean.unwinding.value(x));
  }
  return test;
}

std::vector<FigureComparison> compare_batches(const BatchOfTests& first,
                                              const BatchOfTests& second) {
  const double warm = to_common_temperature(second.mean, first.mean);
  return {compare("energy_J_per_kg", first.energy_J_per_kg, times(second.energy_J_per_kg, warm)),
          compare("turns_constant", first.turns_constant, second.turns_constant),
          compare("torque_constant_Pa", first.torque_constant_Pa,
                  times(second.torque_constant_Pa, warm))};
}

}  // namespace propwright::rubber
