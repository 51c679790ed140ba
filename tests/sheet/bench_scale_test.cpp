/// The bench's drawings at true scale: the deflection card, the V, the gauge and the tags.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <cmath>

#include "demo_bench.h"
#include "demo_packet.h"
#include "reading.h"
#include "strokes.h"

namespace propwright::sheet {
namespace {

using reading::laid_mm;
using reading::Stroked;
using reading::strokes_of;
using reading::svg_named;
using testing::Each;
using testing::HasSubstr;

TEST(Groove, OfNinetyDegreesIsTwiceAsWideAsDeep) {
  const Groove v = groove(0.002, base::pi / 2);
  EXPECT_NEAR(v.depth_m, 0.001 * (1 + std::sqrt(2.0)), 1e-15);
  EXPECT_NEAR(v.width_m, 2 * v.depth_m, 1e-15);
}

// A circle whose top is in the surface and that is as far from both walls as its radius.
TEST(Groove, HoldsTheSparFlushAgainstBothWalls) {
  rc::check([] {
    const double diameter = *rc::gen::inRange(100, 5000) * 1e-6;
    const double angle = *rc::gen::inRange(60, 121) * base::degree_rad;
    const Groove v = groove(diameter, angle);
    // The wall from the bottom (0, -depth) to the edge (width / 2, 0); the middle at (0, -d/2).
    const double along_x = v.width_m / 2, along_y = v.depth_m;
    const double distance =
        std::abs(along_x * (v.depth_m - diameter / 2)) / std::hypot(along_x, along_y);
    // Rounding of a few operations on millimetres.
    RC_ASSERT(std::abs(distance - diameter / 2) < 1e-15);
  });
}

struct CardLines {
  double clamp_x = 0, scale_x = 0;
  std::vector<double> left_y, right_y;  ///< of the ticks, from the top
};

CardLines card_lines(const std::string& svg) {
  CardLines lines;
  const std::vector<Stroked> strokes = strokes_of(svg);
  // The scale's upright is the one most ticks begin at.
  std::vector<double> starts;
  for (const Stroked& stroke : strokes) {
    if (stroke.width == 0.09 && stroke.level()) starts.push_back(stroke.points[0].first);
  }
  EXPECT_FALSE(starts.empty());
  lines.scale_x = starts.empty() ? 0 : starts.front();
  EXPECT_THAT(starts, Each(testing::DoubleNear(lines.scale_x, laid_mm)));
  for (const Stroked& stroke : strokes) {
    if (stroke.width == 0.35 && stroke.upright() && lines.clamp_x == 0) {
      lines.clamp_x = stroke.points[0].first;
    }
    const bool tick = stroke.level() && stroke.length() < 6 &&
                      std::abs(stroke.points[0].first - lines.scale_x) < laid_mm;
    if (!tick) continue;
    auto& side = stroke.points[1].first < lines.scale_x ? lines.left_y : lines.right_y;
    side.push_back(stroke.points[0].second);
  }
  return lines;
}

void expect_even(const std::vector<double>& y, double step) {
  ASSERT_GT(y.size(), 20u);
  for (std::size_t i = 0; i < y.size(); ++i) {
    EXPECT_NEAR(y[i] - y[0], step * static_cast<double>(i), 2 * laid_mm);
  }
}

TEST(DeflectionCard, HangsHalfMillimetresAndTenThouAtSixInchesFromTheClamp) {
  const CardLines lines =
      card_lines(svg_named(demo::bench_sheets(), demo::options(), "deflection-card-1"));
  EXPECT_NEAR(lines.scale_x - lines.clamp_x, 152.4, 2 * laid_mm);
  expect_even(lines.left_y, 0.5);
  expect_even(lines.right_y, 0.254);
}

TEST(DeflectionCard, PutsThousandthsFirstForInches) {
  PacketOptions options = demo::options();
  options.profile = units::Profile::inch;
  const CardLines lines = card_lines(svg_named(demo::bench_sheets(), options, "deflection-card-1"));
  expect_even(lines.left_y, 0.254);
  expect_even(lines.right_y, 0.5);
}

TEST(DeflectionCard, IsStretchedWhereThePrinterShrinks) {
  PacketOptions options = demo::options();
  options.bar_measured_m = 0.0980;
  const CardLines lines = card_lines(svg_named(demo::bench_sheets(), options, "deflection-card-1"));
  EXPECT_NEAR(lines.scale_x - lines.clamp_x, 152.4 / 0.98, 2 * laid_mm);
  expect_even(lines.left_y, 0.5 / 0.98);
}

/// Middle of the upright line of `dark` pixels nearest column x, in pixels.
double middle_near(const reading::Raster& page, int x, int y) {
  double sum = 0, moment = 0;
  for (int i = x - 5; i <= x + 5; ++i) {
    const double black = 255 - page.value(i, y);
    sum += black;
    moment += black * (i + 0.5);
  }
  return moment / sum;
}

// The PDF itself, as a printer would draw it: clamp line and scale line on a row between the
// card's top edge and its words, at 10 pixels to the millimetre.
TEST(DeflectionCard, IsTrueOnThePrintedPage) {
  const auto pdf = bench_pdf(demo::bench_sheets(), demo::options());
  ASSERT_TRUE(pdf.has_value());
  const reading::Folder folder;
  const std::string path = folder.file("bench.pdf", pdf->bytes);
  const auto page = reading::render(path, reading::page_named(pdf->pages, "deflection card"));
  // The row where exactly four uprights are crossed: two edges, clamp and scale.
  for (int y = 500; y < 1000; ++y) {
    std::vector<int> lines;
    for (int x = 0; x < page.width; ++x) {
      if (page.dark(x, y) && (lines.empty() || x - lines.back() > 8)) lines.push_back(x);
    }
    if (lines.size() != 4) continue;
    const double clamp = middle_near(page, lines[1], y), scale = middle_near(page, lines[2], y);
    if (std::abs(scale - clamp - 1524) > 100) continue;
    // A tenth of a pixel by its greys, and the page's own rounding of 0.01 mm.
    EXPECT_NEAR((scale - clamp) / 10, 152.4, 0.03);
    return;
  }
  ADD_FAILURE() << "clamp line and scale line were not found on the page";
}

TEST(DeflectionCard, OfALongRigKeepsTheScaleAndALineToSetItBy) {
  BenchSheets sheets = demo::bench_sheets();
  sheets.cards[0].load_at_m = sheets.cards[0].read_at_m = 0.250;
  const std::string svg = svg_named(sheets, demo::options(), "deflection-card-1");
  const std::vector<Stroked> strokes = strokes_of(svg);
  std::vector<double> uprights;
  for (const Stroked& stroke : strokes) {
    if (stroke.width == 0.18 && stroke.upright() && stroke.length() > 15) {
      uprights.push_back(stroke.points[0].first);
    }
  }
  // The line 200 mm from the clamp, then the scale at 250 mm.
  ASSERT_GE(uprights.size(), 2u);
  EXPECT_NEAR(uprights[1] - uprights[0], 50, 2 * laid_mm);
  const auto pdf = bench_pdf(sheets, demo::options());
  ASSERT_TRUE(pdf.has_value());
  const reading::Folder folder;
  EXPECT_THAT(reading::run("pdftotext '" + folder.file("bench.pdf", pdf->bytes) + "' -"),
              HasSubstr("200.0 mm from the clamp edge"));
}

TEST(SandingBlock, HasItsEdgesAsFarApartAsTheVIsWide) {
  const std::string svg = svg_named(demo::bench_sheets(), demo::options(), "sanding-block-1");
  std::vector<Stroked> edges;
  for (const Stroked& stroke : strokes_of(svg)) {
    if (stroke.width == 0.25 && stroke.points.size() == 2 && stroke.length() > 180 &&
        !stroke.level()) {
      edges.push_back(stroke);
    }
  }
  // Both edges in the plan, then the bottom of the V in the side view.
  ASSERT_EQ(edges.size(), 3u);
  const double root = 1.6 * (1 + std::sqrt(2.0)), tip = 0.7 * (1 + std::sqrt(2.0));
  EXPECT_NEAR(edges[1].points[0].first - edges[0].points[0].first, root, 2 * laid_mm);
  EXPECT_NEAR(edges[1].points[1].first - edges[0].points[1].first, tip, 2 * laid_mm);
  EXPECT_NEAR(edges[0].points[0].second - edges[0].points[1].second, 190, 2 * laid_mm);
  EXPECT_NEAR(edges[2].points[0].first - edges[2].points[1].first, (root - tip) / 2, 2 * laid_mm);
}

TEST(SandingBlock, LongerThanThePaperIsMadeInPartsThatAddUp) {
  BenchSheets sheets = demo::bench_sheets();
  sheets.blocks[0].stations = {{0, 0.0022}, {0.12, 0.0016}, {0.40, 0.0007}};
  double length = 0;
  int parts = 0;
  const auto drawings = bench_svgs(sheets, demo::options());
  ASSERT_TRUE(drawings.has_value());
  for (const BenchDrawing& drawing : *drawings) {
    if (drawing.name.rfind("sanding-block", 0) != 0) continue;
    double longest = 0;
    for (const Stroked& stroke : strokes_of(drawing.svg)) {
      if (stroke.width != 0.35) continue;
      for (const auto& a : stroke.points) {
        for (const auto& b : stroke.points) longest = std::max(longest, b.second - a.second);
      }
    }
    if (longest < 50) continue;  // the ends
    length += longest;
    ++parts;
  }
  EXPECT_EQ(parts, 2);
  EXPECT_NEAR(length, 400, 4 * laid_mm);
}

// The white is the true width: from the middle of one line to the other less one line's width.
TEST(TaperGauge, HasNotchesWhoseWhiteIsTheTrueWidth) {
  const TaperGauge gauge = demo::taper_gauge();
  std::vector<double> whites;
  for (const Stroked& stroke :
       strokes_of(svg_named(demo::bench_sheets(), demo::options(), "taper-gauge-2"))) {
    if (stroke.width != 0.35 || stroke.points.size() != 4) continue;
    const double across = stroke.points[2].first - stroke.points[1].first;
    if (across < 5) whites.push_back(across - stroke.width);
  }
  ASSERT_EQ(whites.size(), 2 * gauge.stations.size());
  for (std::size_t i = 0; i < gauge.stations.size(); ++i) {
    EXPECT_NEAR(whites[2 * i], 1e3 * gauge.stations[i].most_m, 2 * laid_mm);
    EXPECT_NEAR(whites[2 * i + 1], 1e3 * gauge.stations[i].least_m, 2 * laid_mm);
  }
}

/// Both long edges of the wedge's slot: the straight one, then the sloping one.
std::vector<Stroked> slot_edges(const std::vector<Stroked>& strokes) {
  std::vector<Stroked> edges;
  for (const Stroked& stroke : strokes) {
    const bool edge = stroke.width == 0.35 && stroke.points.size() == 2 && stroke.length() > 150 &&
                      stroke.length() < 160;
    if (edge) edges.push_back(stroke);
  }
  return edges;
}

TEST(TaperGauge, HasAWedgeAsWideAsItsBarsTell) {
  const TaperGauge gauge = demo::taper_gauge();
  const std::vector<Stroked> strokes =
      strokes_of(svg_named(demo::bench_sheets(), demo::options(), "taper-gauge-1"));
  const std::vector<Stroked> edges = slot_edges(strokes);
  ASSERT_EQ(edges.size(), 2u);
  const auto white_at = [&](double x) {
    const auto& [a, b] = std::pair(edges[1].points[0], edges[1].points[1]);
    const double low = a.second + (x - a.first) / (b.first - a.first) * (b.second - a.second);
    return low - edges[0].points[0].second - 0.35;
  };
  std::vector<double> marks;  // uprights down to the slot: most and least of each station
  for (const Stroked& stroke : strokes) {
    const bool mark = stroke.width == 0.18 && stroke.upright() &&
                      stroke.points[1].second > stroke.points[0].second &&
                      std::abs(stroke.points[1].second - edges[0].points[0].second) < 0.3;
    if (mark) marks.push_back(stroke.points[0].first);
  }
  ASSERT_EQ(marks.size(), 2 * gauge.stations.size());
  for (std::size_t i = 0; i < gauge.stations.size(); ++i) {
    EXPECT_NEAR(white_at(marks[2 * i]), 1e3 * gauge.stations[i].most_m, 2 * laid_mm);
    EXPECT_NEAR(white_at(marks[2 * i + 1]), 1e3 * gauge.stations[i].least_m, 2 * laid_mm);
  }
}

TEST(Tags, AreOneForEachSparAndOfTrueSize) {
  int tags = 0;
  for (const Stroked& stroke :
       strokes_of(svg_named(demo::bench_sheets(), demo::options(), "tags-1"))) {
    if (stroke.width != 0.35 || stroke.points.size() < 4) continue;
    EXPECT_NEAR(stroke.points[1].first - stroke.points[0].first, 59, 2 * laid_mm);
    EXPECT_NEAR(stroke.points[2].second - stroke.points[1].second, 10, 2 * laid_mm);
    ++tags;
  }
  EXPECT_EQ(tags, 12);
}

}  // namespace
}  // namespace propwright::sheet
