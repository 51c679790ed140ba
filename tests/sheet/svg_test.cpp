/// The SVG of a template: size in mm and the cut line's extent, read from the file's text.
#include <gtest/gtest.h>

#include <algorithm>
#include <cctype>
#include <regex>
#include <sstream>
#include <string>
#include <vector>

#include "demo_packet.h"

namespace propwright::sheet {
namespace {

/// A rectangle of 80 mm by 50 mm with a spar line.
form::Template rectangle() {
  form::Template drawing;
  drawing.name = "rectangle";
  drawing.title = "Rectangle";
  drawing.lines.push_back({.kind = form::TemplateLine::Kind::cut,
                           .points_m = {{-0.03, 0.01}, {0.05, 0.01}, {0.05, 0.06}, {-0.03, 0.06}},
                           .closed = true});
  drawing.lines.push_back(
      {.kind = form::TemplateLine::Kind::centre, .points_m = {{0, 0.01}, {0, 0.06}}});
  return drawing;
}

struct Extent {
  double left = 1e9, top = 1e9, right = -1e9, bottom = -1e9;
};

/// Widens the extent by the points of a path's data, "M x y L x y ..."; the letters are skipped.
void include_points(const std::string& data, Extent& extent) {
  std::istringstream words(data);
  std::vector<double> numbers;
  for (std::string word; words >> word;) {
    if (std::isalpha(static_cast<unsigned char>(word.front())) == 0) {
      numbers.push_back(std::stod(word));
    }
  }
  for (std::size_t i = 0; i + 1 < numbers.size(); i += 2) {
    extent.left = std::min(extent.left, numbers[i]);
    extent.right = std::max(extent.right, numbers[i]);
    extent.top = std::min(extent.top, numbers[i + 1]);
    extent.bottom = std::max(extent.bottom, numbers[i + 1]);
  }
}

/// Extent of all paths stroked with the cut line's width, in the file's unit. By hand: std::regex
/// goes one call deeper for each character, and a path has thousands.
Extent cut_extent(const std::string& svg) {
  Extent extent;
  for (std::size_t at = svg.find("<path "); at != std::string::npos;) {
    const std::size_t next = svg.find("<path ", at + 1);
    const std::string tag = svg.substr(at, svg.find('>', at) - at);
    const std::size_t data = tag.find(" d=\"");
    if (tag.find("stroke-width:0.35;") != std::string::npos && data != std::string::npos) {
      const std::size_t begin = data + 4;
      include_points(tag.substr(begin, tag.find('"', begin) - begin), extent);
    }
    at = next;
  }
  return extent;
}

std::pair<double, double> size_mm(const std::string& svg) {
  const std::regex head(
      "<svg [^>]*width=\"([0-9.]+)mm\" height=\"([0-9.]+)mm\" viewBox=\"0 0 ([0-9.]+) ([0-9.]+)\"");
  std::smatch match;
  if (!std::regex_search(svg, match, head)) {
    ADD_FAILURE() << "no size in mm";
    return {};
  }
  EXPECT_EQ(match[1], match[3]) << "the unit of the drawing must be the millimetre";
  EXPECT_EQ(match[2], match[4]);
  return {std::stod(match[1]), std::stod(match[2])};
}

// Cairo keeps coordinates in 1/256 of the drawing's unit, here the millimetre: either end of a
// length is off by up to half of that.
constexpr double grid_mm = 1.0 / 256;

TEST(Svg, ShowsTheCutLineAtTrueScaleInMillimetres) {
  const auto svg = template_svg(rectangle(), demo::options());
  ASSERT_TRUE(svg.has_value());
  const Extent extent = cut_extent(*svg);
  EXPECT_NEAR(extent.right - extent.left, 80, grid_mm);
  EXPECT_NEAR(extent.bottom - extent.top, 50, grid_mm);
  const auto [width, height] = size_mm(*svg);
  EXPECT_GT(extent.left, 5);
  EXPECT_LT(extent.right, width - 5);
  EXPECT_LT(extent.bottom, height - 25) << "the scale bars stand below";
}

TEST(Svg, IsScaledByTheMeasuredBar) {
  PacketOptions options = demo::options();
  options.bar_measured_m = 0.0992;
  const auto svg = template_svg(rectangle(), options);
  ASSERT_TRUE(svg.has_value());
  const Extent extent = cut_extent(*svg);
  EXPECT_NEAR(extent.right - extent.left, 80 / 0.992, grid_mm);
  EXPECT_NEAR(extent.bottom - extent.top, 50 / 0.992, grid_mm);
}

TEST(Svg, OfTheOutlineIsAsLongAsTheBlade) {
  const auto rows = demo::rows_of(0.18, 0.056, 60);
  const auto svg = template_svg(form::outline_template(rows, 0.1117, demo::hand), demo::options());
  ASSERT_TRUE(svg.has_value());
  const Extent extent = cut_extent(*svg);
  EXPECT_NEAR(extent.bottom - extent.top, 1000 * (0.18 - rows.front().radius_m), grid_mm);
  // The outline is smooth and its widest chord lies between two rows: within 0.1 mm of 56 mm.
  EXPECT_NEAR(extent.right - extent.left, 56, 0.1);
}

TEST(Svg, IsTheSameBytesTwice) {
  EXPECT_EQ(template_svg(rectangle(), demo::options()).value(),
            template_svg(rectangle(), demo::options()).value());
}

TEST(Svg, RefusesATemplateWhoseNameWouldLeaveTheFolder) {
  form::Template drawing = rectangle();
  for (const char* name : {"../rectangle", "", ".hidden", "a/b"}) {
    drawing.name = name;
    const auto svg = template_svg(drawing, demo::options());
    ASSERT_FALSE(svg.has_value());
    EXPECT_EQ(svg.error().front().field, "template");
  }
}

}  // namespace
}  // namespace propwright::sheet
