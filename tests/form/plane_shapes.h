/// Plain geometry of closed lines for the tests, independent of what draws them.
#pragma once

#include <algorithm>
#include <cstddef>
#include <utility>
#include <vector>

namespace propwright::form {

using PlaneShape = std::vector<std::pair<double, double>>;

/// Whether a closed line goes round the point (even and odd crossings of a ray).
inline bool holds(const PlaneShape& shape, double x, double y) {
  bool inside = false;
  for (std::size_t i = 0, k = shape.size() - 1; i < shape.size(); k = i++) {
    const auto &a = shape[i], &b = shape[k];
    if ((a.second > y) == (b.second > y)) continue;
    if (x < a.first + (b.first - a.first) * (y - a.second) / (b.second - a.second)) {
      inside = !inside;
    }
  }
  return inside;
}

/// With its sign: positive anticlockwise.
inline double area_m2(const PlaneShape& shape) {
  double sum = 0;
  for (std::size_t i = 0, k = shape.size() - 1; i < shape.size(); k = i++) {
    sum += shape[k].first * shape[i].second - shape[i].first * shape[k].second;
  }
  return sum / 2;
}

inline double turn_of(const std::pair<double, double>& a, const std::pair<double, double>& b,
                      const std::pair<double, double>& c) {
  return (b.first - a.first) * (c.second - a.second) - (b.second - a.second) * (c.first - a.first);
}

/// Whether any two sides of closed lines, other than neighbours, cross. Ends nearer to the other
/// side's line than rounding (a micron of side by a nanometre) lie on it and do not cross.
inline bool any_crossing(const std::vector<PlaneShape>& shapes) {
  struct Side {
    std::pair<double, double> a, b;
    std::size_t shape, index, count;
  };
  std::vector<Side> sides;
  for (std::size_t s = 0; s < shapes.size(); ++s) {
    const std::size_t n = shapes[s].size();
    for (std::size_t i = 0; i < n; ++i) {
      sides.push_back({shapes[s][i], shapes[s][(i + 1) % n], s, i, n});
    }
  }
  for (std::size_t i = 0; i < sides.size(); ++i) {
    for (std::size_t k = i + 1; k < sides.size(); ++k) {
      const Side &p = sides[i], &q = sides[k];
      const bool beside = p.shape == q.shape &&
                          (q.index == p.index + 1 || (p.index == 0 && q.index + 1 == q.count));
      if (beside) continue;
      const auto apart = [](const Side& line, const Side& other) {
        const double a = turn_of(line.a, line.b, other.a), b = turn_of(line.a, line.b, other.b);
        return std::min(a, b) < -1e-15 && std::max(a, b) > 1e-15;
      };
      if (apart(p, q) && apart(q, p)) return true;
    }
  }
  return false;
}

}  // namespace propwright::form
