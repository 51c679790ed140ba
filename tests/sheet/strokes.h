/// The lines of a bench drawing, read from its SVG.
#pragma once

#include <gtest/gtest.h>

#include <cctype>
#include <cmath>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "propwright/sheet/bench_sheets.h"

namespace propwright::sheet::reading {

/// A line of the SVG in mm.
struct Stroked {
  double width = 0;
  std::vector<std::pair<double, double>> points;
  bool upright() const { return points.size() == 2 && points[0].first == points[1].first; }
  bool level() const { return points.size() == 2 && points[0].second == points[1].second; }
  double length() const {
    return std::hypot(points[1].first - points[0].first, points[1].second - points[0].second);
  }
};

inline std::vector<std::pair<double, double>> points_of(const std::string& data) {
  std::istringstream words(data);
  std::vector<double> numbers;
  for (std::string word; words >> word;) {
    if (std::isalpha(static_cast<unsigned char>(word.front())) == 0) {
      numbers.push_back(std::stod(word));
    }
  }
  std::vector<std::pair<double, double>> points;
  for (std::size_t i = 0; i + 1 < numbers.size(); i += 2) {
    points.emplace_back(numbers[i], numbers[i + 1]);
  }
  return points;
}

/// Every stroked path that is not turned, in the order drawn.
inline std::vector<Stroked> strokes_of(const std::string& svg) {
  const std::string width_name = "stroke-width:";
  std::vector<Stroked> strokes;
  for (std::size_t at = svg.find("<path "); at != std::string::npos;
       at = svg.find("<path ", at + 1)) {
    const std::string tag = svg.substr(at, svg.find('>', at) - at);
    const std::size_t width = tag.find(width_name), data = tag.find(" d=\"");
    if (width == std::string::npos || data == std::string::npos) continue;
    if (tag.find("transform=") != std::string::npos) continue;
    strokes.push_back({std::stod(tag.substr(width + width_name.size())),
                       points_of(tag.substr(data + 4, tag.find('"', data + 4) - data - 4))});
  }
  return strokes;
}

inline std::string svg_named(const BenchSheets& sheets, const PacketOptions& options,
                             const std::string& name) {
  const auto drawings = bench_svgs(sheets, options);
  EXPECT_TRUE(drawings.has_value());
  for (const BenchDrawing& drawing : *drawings) {
    if (drawing.name == name) return drawing.svg;
  }
  ADD_FAILURE() << "no drawing is named " << name;
  return {};
}

// Cairo writes coordinates with six decimals and lays them on a grid of 1/256 mm.
inline constexpr double laid_mm = 0.005;

}  // namespace propwright::sheet::reading
