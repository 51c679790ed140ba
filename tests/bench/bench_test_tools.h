/// What the tests of the bench share: the seeded noise of instruments.
#pragma once

#include <cmath>
#include <random>

#include "propwright/base/constants.h"
#include "propwright/bench/figure.h"

namespace propwright::bench {

inline constexpr double mg = 1e-6, degree = base::degree_rad;

/// What an instrument with steps of `resolution` and normal scatter shows.
class Noise {
 public:
  explicit Noise(unsigned seed) : engine_(seed) {}
  double read(double truth, double resolution, double scatter = 0) {
    const double shaken = truth + (scatter > 0 ? scatter * normal_(engine_) : 0);
    // A scale's zero lies anywhere within a step, so the steps do too.
    const double offset = resolution * uniform_(engine_);
    return resolution * std::round((shaken - offset) / resolution) + offset;
  }

 private:
  std::mt19937 engine_;
  std::normal_distribution<double> normal_;
  std::uniform_real_distribution<double> uniform_{-0.5, 0.5};
};

/// Mean and scatter of many results against the sigma stated.
class Scatter {
 public:
  void add(double value) {
    ++count_;
    const double step = value - mean_;
    mean_ += step / count_;
    square_sum_ += step * (value - mean_);
  }
  double mean() const { return mean_; }
  double sigma() const { return std::sqrt(square_sum_ / (count_ - 1)); }

 private:
  int count_ = 0;
  double mean_ = 0, square_sum_ = 0;
};

}  // namespace propwright::bench
