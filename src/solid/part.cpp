#include "part.h"

#include <algorithm>
#include <cmath>

#include "builder.h"
#include "propwright/base/constants.h"

namespace propwright::solid {
namespace {

/// Points of an end face with one y, left to right.
struct Upright {
  Index base = 0;
  std::vector<Index> above;         ///< holes' squares, bottom to top
  std::size_t first = 0, last = 0;  ///< columns of the top
};

class PartMaker {
 public:
  PartMaker(const Grid& grid, const PartRange& range, const std::vector<Pin>& pins,
            const std::vector<Dowel>& dowels, const FormOptions& options)
      : grid_(grid), range_(range), pins_(pins), dowels_(dowels), options_(options) {}

  Mesh make(bool mirrored) {
    number_the_top();
    top();
    sides();
    const auto first = end_face(range_.first_row, range_.split_at_first, true);
    const auto last = end_face(range_.last_row, range_.split_at_last, false);
    base(first, last);
    for (const Pin& pin : pins_) drill(pin);
    return build_.take(mirrored);
  }

 private:
  std::size_t columns() const { return grid_.rows[0].size(); }
  Index top_at(std::size_t row, std::size_t column) const {
    return top_[row - range_.first_row][column];
  }

  void number_the_top() {
    for (std::size_t i = range_.first_row; i <= range_.last_row; ++i) {
      const auto& row = grid_.rows[i];
      std::vector<Index> ids;
      for (std::size_t j = 0; j < row.size(); ++j) {
        const bool same = j > 0 && row[j].y_m == row[j - 1].y_m && row[j].z_m == row[j - 1].z_m;
        ids.push_back(same ? ids.back() : build_.point(grid_.x_m[i], row[j].y_m, row[j].z_m));
      }
      top_.push_back(std::move(ids));
      left_.push_back(build_.point(grid_.x_m[i], row.front().y_m, 0));
      right_.push_back(build_.point(grid_.x_m[i], row.back().y_m, 0));
    }
  }

  bool drilled(std::size_t row, std::size_t column) const {
    return std::any_of(pins_.begin(), pins_.end(), [&](const Pin& pin) {
      return row >= pin.first_row && row < pin.last_row && column >= pin.first_column &&
             column < pin.last_column;
    });
  }

  void top() {
    for (std::size_t i = range_.first_row; i < range_.last_row; ++i) {
      for (std::size_t j = 0; j + 1 < columns(); ++j) {
        if (drilled(i, j)) continue;
        const Index a = top_at(i, j), b = top_at(i + 1, j), c = top_at(i + 1, j + 1),
                    d = top_at(i, j + 1);
        build_.triangle(a, b, c);
        build_.triangle(a, c, d);
      }
    }
  }

  void sides() {
    for (std::size_t i = range_.first_row; i < range_.last_row; ++i) {
      const std::size_t n = i - range_.first_row, last = columns() - 1;
      build_.triangle(left_[n], left_[n + 1], top_at(i + 1, 0));
      build_.triangle(left_[n], top_at(i + 1, 0), top_at(i, 0));
      build_.triangle(right_[n + 1], right_[n], top_at(i, last));
      build_.triangle(right_[n + 1], top_at(i, last), top_at(i + 1, last));
    }
  }

  /// The uprights of an end face; the outermost share the base's corners.
  std::vector<Upright> uprights(std::size_t row) {
    const auto& points = grid_.rows[row];
    std::vector<Upright> out;
    for (std::size_t j = 0; j < points.size(); ++j) {
      if (!out.empty() && points[j].y_m == points[out.back().first].y_m) {
        out.back().last = j;
      } else {
        out.push_back({.base = 0, .above = {}, .first = j, .last = j});
      }
    }
    for (Upright& each : out) {
      const std::size_t n = row - range_.first_row;
      if (&each == &out.front()) {
        each.base = left_[n];
      } else if (&each == &out.back()) {
        each.base = right_[n];
      } else {
        each.base = build_.point(grid_.x_m[row], points[each.first].y_m, 0);
      }
    }
    return out;
  }

  /// The upright's points below the top as it is on one side of it, bottom to top.
  Loop tops(std::size_t row, const Upright& upright, bool right_side) const {
    const double height = grid_.rows[row][right_side ? upright.last : upright.first].z_m;
    std::vector<std::pair<double, Index>> points;
    for (std::size_t j = upright.first; j <= upright.last; ++j) {
      const double z = grid_.rows[row][j].z_m;
      if (z <= height) points.emplace_back(z, top_at(row, j));
    }
    std::sort(points.begin(), points.end());
    Loop out;
    for (const auto& each : points) {
      if (out.empty() || out.back() != each.second) out.push_back(each.second);
    }
    return out;
  }

  std::vector<Upright> end_face(std::size_t row, bool split, bool turned) {
    std::vector<Upright> all = uprights(row);
    std::vector<int> hole_of(all.size(), -1);  // the strip right of the upright
    if (split) {
      for (std::size_t h = 0; h < dowels_.size(); ++h) cut_square(row, h, all, hole_of, turned);
    }
    for (std::size_t g = 0; g + 1 < all.size(); ++g) {
      Loop left = tops(row, all[g], true), right = tops(row, all[g + 1], false);
      if (hole_of[g] >= 0) {
        build_.strip({all[g].base, all[g].above[0]}, {all[g + 1].base, all[g + 1].above[0]},
                     turned);
        left.insert(left.begin(), all[g].above[1]);
        right.insert(right.begin(), all[g + 1].above[1]);
      } else {
        left.insert(left.begin(), all[g].above.begin(), all[g].above.end());
        right.insert(right.begin(), all[g + 1].above.begin(), all[g + 1].above.end());
        left.insert(left.begin(), all[g].base);
        right.insert(right.begin(), all[g + 1].base);
      }
      build_.strip(left, right, turned);
    }
    return all;
  }

  /// Opens a square in the face for a dowel, and drills it.
  void cut_square(std::size_t row, std::size_t which, std::vector<Upright>& all,
                  std::vector<int>& hole_of, bool turned) {
    const Dowel& dowel = dowels_[which];
    const double half = hole_block * options_.dowel_diameter_m / 2;
    Loop low, high;
    for (std::size_t g = 0; g < all.size(); ++g) {
      if (all[g].last < dowel.first_column || all[g].first > dowel.last_column) continue;
      const double y = grid_.rows[row][all[g].first].y_m;
      low.push_back(build_.point(grid_.x_m[row], y, dowel.z_m - half));
      high.push_back(build_.point(grid_.x_m[row], y, dowel.z_m + half));
      all[g].above = {low.back(), high.back()};
      if (all[g].last < dowel.last_column) hole_of[g] = static_cast<int>(which);
    }
    low.insert(low.end(), high.rbegin(), high.rend());
    drill_end(row, dowel, low, turned);
  }

  void drill_end(std::size_t row, const Dowel& dowel, const Loop& square, bool turned) {
    const double radius = options_.dowel_diameter_m / 2, x = grid_.x_m[row];
    const double floor_x = x + (turned ? 1 : -1) * options_.dowel_depth_m;
    std::vector<FlatPlace> outer, inner;
    for (const Index i : square) {
      outer.emplace_back(build_.at(i)[1] - dowel.y_m, build_.at(i)[2] - dowel.z_m);
    }
    Loop rim, floor;
    const int corners = circle_corners(radius, options_.tolerance_m);
    for (int k = 0; k < corners; ++k) {
      const double angle = 2 * base::pi * k / corners;
      inner.emplace_back(radius * std::cos(angle), radius * std::sin(angle));
      const double y = dowel.y_m + inner.back().first, z = dowel.z_m + inner.back().second;
      rim.push_back(build_.point(x, y, z));
      floor.push_back(build_.point(floor_x, y, z));
    }
    build_.ring(square, outer, rim, inner, turned);
    build_.hole(rim, floor, build_.point(floor_x, dowel.y_m, dowel.z_m), turned);
  }

  void base(const std::vector<Upright>& first, const std::vector<Upright>& last) {
    const std::size_t n = left_.size() - 1;
    for (std::size_t g = 0; g + 1 < first.size(); ++g) {
      build_.triangle(first[g].base, first[g + 1].base, left_[1]);
    }
    build_.triangle(right_[0], right_[1], left_[1]);
    for (std::size_t i = 1; i + 1 < n; ++i) {
      build_.triangle(left_[i], right_[i], right_[i + 1]);
      build_.triangle(left_[i], right_[i + 1], left_[i + 1]);
    }
    for (std::size_t g = 0; g + 1 < last.size(); ++g) {
      build_.triangle(last[g + 1].base, last[g].base, left_[n - 1]);
    }
    build_.triangle(left_[n - 1], right_[n - 1], right_[n]);
  }

  void drill(const Pin& pin) {
    if (pin.first_row < range_.first_row || pin.last_row > range_.last_row) return;
    Loop square;
    const auto add = [&](std::size_t i, std::size_t j) {
      const Index index = top_at(i, j);
      if (square.empty() || square.back() != index) square.push_back(index);
    };
    for (std::size_t i = pin.first_row; i < pin.last_row; ++i) add(i, pin.first_column);
    for (std::size_t j = pin.first_column; j < pin.last_column; ++j) add(pin.last_row, j);
    for (std::size_t i = pin.last_row; i > pin.first_row; --i) add(i, pin.last_column);
    for (std::size_t j = pin.last_column; j > pin.first_column; --j) add(pin.first_row, j);
    std::vector<FlatPlace> outer, inner;
    for (const Index i : square) outer.emplace_back(build_.at(i)[0] - pin.x_m, build_.at(i)[1]);
    Loop rim, floor;
    for (const MeshPoint& p : pin.rim) {
      inner.emplace_back(p[0] - pin.x_m, p[1]);
      rim.push_back(build_.point(p[0], p[1], p[2]));
      floor.push_back(build_.point(p[0], p[1], pin.floor_z_m));
    }
    build_.ring(square, outer, rim, inner, false);
    build_.hole(rim, floor, build_.point(pin.x_m, 0, pin.floor_z_m), false);
  }

  const Grid& grid_;
  const PartRange& range_;
  const std::vector<Pin>& pins_;
  const std::vector<Dowel>& dowels_;
  const FormOptions& options_;
  Builder build_;
  std::vector<std::vector<Index>> top_;
  Loop left_, right_;
};

}  // namespace

Mesh make_part(const Grid& grid, const PartRange& range, const std::vector<Pin>& pins,
               const std::vector<Dowel>& dowels, const FormOptions& options, bool mirrored) {
  return PartMaker(grid, range, pins, dowels, options).make(mirrored);
}

}  // namespace propwright::solid
