/// Lengths as they come out of the printer, measured on the rendered page.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "demo_packet.h"
#include "reading.h"

namespace propwright::sheet {
namespace {

/// Runs of dark pixels along a row: begin and end.
std::vector<std::pair<int, int>> runs_of_row(const reading::Raster& page, int y) {
  std::vector<std::pair<int, int>> runs;
  for (int x = 0; x < page.width; ++x) {
    if (!page.dark(x, y)) continue;
    if (runs.empty() || runs.back().second != x) runs.push_back({x, x});
    runs.back().second = x + 1;
  }
  return runs;
}

/// Centre of a vertical line near column x, weighted by blackness, in pixels.
double centre_near(const reading::Raster& page, int x, int y) {
  double sum = 0, moment = 0;
  for (int i = x - 4; i <= x + 4; ++i) {
    const double black = 255 - page.value(i, y);
    sum += black;
    moment += black * (i + 0.5);
  }
  return moment / sum;
}

/// Lengths in mm between the outermost long ticks of every scale bar of the page, from the top.
std::vector<double> bar_lengths_mm(const reading::Raster& page) {
  std::vector<double> lengths;
  int last_row = -100;
  for (int y = 0; y < page.height; ++y) {
    for (const auto& [begin, end] : runs_of_row(page, y)) {
      // A base line is 100 or 101.6 mm long, give or take the printer's correction.
      if (end - begin < 950 || end - begin > 1080 || y - last_row < 20) continue;
      last_row = y;
      const int above = y - 25;  // only the numbered ticks reach 2.5 mm up
      lengths.push_back((centre_near(page, end - 1, above) - centre_near(page, begin, above)) / 10);
    }
  }
  return lengths;
}

std::vector<double> bars_on(const PacketOptions& options, const std::string& sheet) {
  const auto pdf = packet_pdf(demo::packet(), options);
  EXPECT_TRUE(pdf.has_value());
  const reading::Folder folder;
  const std::string path = folder.file("packet.pdf", pdf->bytes);
  return bar_lengths_mm(reading::render(path, reading::page_named(pdf->pages, sheet)));
}

// A pixel is 0.1 mm and the ticks' centres are found to a fraction of it.
constexpr double tolerance_mm = 0.05;

TEST(ScaleBars, Are100MmAnd4InOnEveryTemplatePage) {
  for (const char* sheet : {"blade outline", "form stations", "rib blanks", "pitch setting"}) {
    SCOPED_TRACE(sheet);
    const std::vector<double> lengths = bars_on(demo::options(), sheet);
    ASSERT_EQ(lengths.size(), 2u);
    EXPECT_NEAR(lengths[0], 100.0, tolerance_mm);
    EXPECT_NEAR(lengths[1], 101.6, tolerance_mm);
  }
}

TEST(ScaleBars, AreStretchedWhereThePrinterShrinks) {
  PacketOptions options = demo::options();
  options.bar_measured_m = 0.0992;
  const std::vector<double> lengths = bars_on(options, "rib blanks");
  ASSERT_EQ(lengths.size(), 2u);
  EXPECT_NEAR(lengths[0], 100.0 / 0.992, tolerance_mm);
  EXPECT_NEAR(lengths[1], 101.6 / 0.992, tolerance_mm);
}

TEST(ScaleBars, AreTrueOnLetterPaper) {
  PacketOptions options = demo::options();
  options.paper = Paper::letter;
  options.profile = units::Profile::inch;
  const std::vector<double> lengths = bars_on(options, "rib blanks");
  ASSERT_EQ(lengths.size(), 2u);
  EXPECT_NEAR(lengths[0], 100.0, tolerance_mm);
  EXPECT_NEAR(lengths[1], 101.6, tolerance_mm);
}

/// Longest vertical run of dark pixels on the page, mm.
double longest_upright_mm(const reading::Raster& page) {
  int longest = 0;
  for (int x = 0; x < page.width; ++x) {
    int length = 0;
    for (int y = 0; y < page.height; ++y) {
      length = page.dark(x, y) ? length + 1 : 0;
      longest = std::max(longest, length);
    }
  }
  return longest / 10.0;
}

TEST(PitchGauge, StandsAsHighAsItsAngleAsksAtTrueScale) {
  PacketData data = demo::packet();
  for (const double angle_deg : {30.0, 45.0, 62.5}) {
    SCOPED_TRACE(angle_deg);
    data.propeller.gauge_angle_rad = angle_deg * base::degree_rad;
    const auto pdf = packet_pdf(data, demo::options());
    ASSERT_TRUE(pdf.has_value());
    const reading::Folder folder;
    const std::string path = folder.file("packet.pdf", pdf->bytes);
    const auto page = reading::render(path, reading::page_named(pdf->pages, "pitch setting"));
    // 80 mm of sloping edge; the line's 0.35 mm width adds half of it at either end, and a steep
    // corner's round join up to as much again.
    EXPECT_NEAR(longest_upright_mm(page), 80 * std::sin(angle_deg * base::degree_rad) + 0.35, 0.4);
  }
}

PacketData packet_with_long_blade() {
  PacketData data = demo::packet();
  data.outline = form::outline_template(demo::rows_of(0.32, 0.09, 60), 0.14, demo::hand);
  return data;
}

/// How many pixels of the strip [y, y + rows) of `a` differ plainly from those at `other_y` of `b`.
long difference(const reading::Raster& a, int y, const reading::Raster& b, int other_y, int rows) {
  long count = 0;
  for (int i = 0; i < rows; ++i) {
    for (int x = 150; x < a.width - 150; ++x) {
      count += std::abs(a.value(x, y + i) - b.value(x, other_y + i)) > 100;
    }
  }
  return count;
}

long dark_count(const reading::Raster& page, int y, int rows) {
  long count = 0;
  for (int i = 0; i < rows; ++i) {
    for (int x = 150; x < page.width - 150; ++x) count += page.dark(x, y + i);
  }
  return count;
}

TEST(Tiles, ShowTheSameLinesAndCrossesWhereTheyOverlap) {
  const auto pdf = packet_pdf(packet_with_long_blade(), demo::options());
  ASSERT_TRUE(pdf.has_value());
  const reading::Folder folder;
  const std::string path = folder.file("packet.pdf", pdf->bytes);
  const int first = reading::page_named(pdf->pages, "blade outline A1");
  const auto upper = reading::render(path, first), lower = reading::render(path, first + 1);
  // The lower tile begins 45 mm down the page; 10 mm of its 12 mm overlap are compared, and where
  // they lie on the upper tile is searched for, not assumed.
  constexpr int strip_y = 460, rows = 100;
  long least = -1;
  for (int y = 1500; y < 2450; ++y) {
    const long differs = difference(lower, strip_y, upper, y, rows);
    if (least < 0 || differs < least) least = differs;
  }
  const long dark = dark_count(lower, strip_y, rows);
  // Two crosses with circles and the blade's lines are in the strip.
  EXPECT_GT(dark, 500);
  // The two pages round their coordinates on their own, which may move an edge's grey a little.
  EXPECT_LT(least, dark / 100);
}

TEST(Tiles, AreNotUsedForABladeOf250MmOnA4) {
  PacketData data = demo::packet();
  data.outline = form::outline_template(demo::rows_of(0.25, 0.066, 60), 0.14, demo::hand);
  const auto pdf = packet_pdf(data, demo::options());
  ASSERT_TRUE(pdf.has_value());
  const auto outlines = std::count_if(pdf->pages.begin(), pdf->pages.end(), [](const auto& name) {
    return name.rfind("blade outline", 0) == 0;
  });
  EXPECT_EQ(outlines, 1);
}

}  // namespace
}  // namespace propwright::sheet
