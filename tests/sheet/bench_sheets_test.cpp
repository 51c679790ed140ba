/// The bench's pages and true-scale drawings, as they come out of the printer.
#include "propwright/sheet/bench_sheets.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <limits>
#include <sstream>

#include "demo_bench.h"
#include "demo_packet.h"
#include "reading.h"

namespace propwright::sheet {
namespace {

using testing::Contains;
using testing::Each;
using testing::HasSubstr;
using testing::Not;

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

std::vector<std::pair<double, double>> points_of(const std::string& data) {
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
std::vector<Stroked> strokes_of(const std::string& svg) {
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

std::string svg_named(const BenchSheets& sheets, const PacketOptions& options,
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
constexpr double laid_mm = 0.005;

// --- the V ---

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

// --- true scale ---

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

// --- pages ---

struct Word {
  double left, top, right, bottom;  // mm
  std::string text;
};

/// Every word of the PDF with its box and page, from 1.
std::vector<std::pair<int, Word>> words_with_boxes(const std::string& path) {
  constexpr double mm_per_point = 25.4 / 72;
  std::istringstream lines(reading::run("pdftotext -bbox '" + path + "' -"));
  std::vector<std::pair<int, Word>> words;
  int page = 0;
  for (std::string line; std::getline(lines, line);) {
    if (line.find("<page ") != std::string::npos) ++page;
    Word word{};
    char text[400] = "";
    if (sscanf(line.c_str(), " <word xMin=\"%lf\" yMin=\"%lf\" xMax=\"%lf\" yMax=\"%lf\">%399[^<]",
               &word.left, &word.top, &word.right, &word.bottom, text) != 5) {
      continue;
    }
    for (double* side : {&word.left, &word.top, &word.right, &word.bottom}) *side *= mm_per_point;
    word.text = text;
    words.emplace_back(page, word);
  }
  return words;
}

/// A batch that strains the layout: many spars of all shapes with long names, long cards.
BenchSheets strained() {
  BenchSheets sheets = demo::bench_sheets();
  sheets.batch = "seven of the long winter, second strip";
  BenchBatch& batch = *sheets.spars;
  for (int i = 13; i < 70; ++i) {
    BenchSpar spar = demo::bench_spar("b" + std::to_string(i), 1395, 1402, 1263, 1279);
    spar.shape = i % 3 == 0   ? EndShape::round
                 : i % 3 == 1 ? EndShape::square
                              : EndShape::rectangular;
    batch.spars.push_back(spar);
  }
  batch.spars.back().reading_0_m.reset();
  batch.spars.back().ei_0_Nm2.reset();
  for (int i = 0; i < 9; ++i) {
    batch.pairs.push_back(batch.pairs[2]);
    batch.sanding.push_back(batch.sanding[1]);
  }
  sheets.cards.push_back(demo::deflection_card());
  sheets.cards.back().read_at_m = sheets.cards.back().load_at_m = 0.25;
  sheets.cards.push_back(demo::deflection_card());
  sheets.cards.back().deepest_m = 0.06;
  sheets.cards.back().load_at_m = 5 * demo::inch_m;
  sheets.blocks[0].stations = {{0, 0.0022}, {0.12, 0.0016}, {0.30, 0.0007}};
  for (int i = 0; i < 6; ++i) {
    sheets.gauges[0].stations.push_back({0.2 + 0.01 * i, 0.00066, 0.00070});
  }
  return sheets;
}

void expect_words_inside(const BenchSheets& sheets, const PacketOptions& options) {
  const auto pdf = bench_pdf(sheets, options);
  ASSERT_TRUE(pdf.has_value());
  const reading::Folder folder;
  const bool a4 = options.paper == Paper::a4;
  const double width = a4 ? 210 : 215.9, height = a4 ? 297 : 279.4;
  for (const auto& [page, word] : words_with_boxes(folder.file("bench.pdf", pdf->bytes))) {
    SCOPED_TRACE(pdf->pages[static_cast<std::size_t>(page - 1)] + ": " + word.text);
    // Margins of 15 mm at the sides and 10 at head and foot. A word's box stands over its letters:
    // by 1.9 mm over a title.
    EXPECT_GE(word.left, 14.5);
    EXPECT_LE(word.right, width - 14.5);
    EXPECT_GE(word.top, 8);
    EXPECT_LE(word.bottom, height - 9.5);
  }
}

TEST(BenchPages, KeepAllWordsInsideTheMargins) {
  for (const Paper paper : {Paper::a4, Paper::letter}) {
    for (const units::Profile profile : {units::Profile::metric, units::Profile::inch}) {
      PacketOptions options = demo::options();
      options.paper = paper;
      options.profile = profile;
      expect_words_inside(demo::bench_sheets(), options);
      expect_words_inside(strained(), options);
    }
  }
}

/// Words of one page that lie on each other. A box is the whole line's height; letters fill the
/// middle half of it.
std::vector<std::string> collisions(const std::vector<std::pair<int, Word>>& words) {
  std::vector<std::string> found;
  for (std::size_t i = 0; i < words.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      if (words[i].first != words[j].first) continue;
      const Word &a = words[i].second, &b = words[j].second;
      const double across = std::min(a.right, b.right) - std::max(a.left, b.left);
      const double down = std::min(a.bottom, b.bottom) - std::max(a.top, b.top);
      if (across > 0.3 && down > 0.6 * std::min(a.bottom - a.top, b.bottom - b.top)) {
        found.push_back(a.text + " on " + b.text);
      }
    }
  }
  return found;
}

TEST(BenchPages, SetNoWordOnAnother) {
  for (const units::Profile profile : {units::Profile::metric, units::Profile::inch}) {
    for (const BenchSheets& sheets : {demo::bench_sheets(), strained()}) {
      PacketOptions options = demo::options();
      options.profile = profile;
      BenchSheets without_chart = sheets;
      // Dots of one place have their names where room is left; the chart has its own tests.
      for (BenchSpar& spar : without_chart.spars->spars) spar.ei_0_Nm2.reset();
      const auto pdf = bench_pdf(without_chart, options);
      ASSERT_TRUE(pdf.has_value());
      const reading::Folder folder;
      EXPECT_THAT(collisions(words_with_boxes(folder.file("bench.pdf", pdf->bytes))),
                  testing::IsEmpty());
    }
  }
}

std::string text_of(const BenchSheets& sheets, const PacketOptions& options) {
  const auto pdf = bench_pdf(sheets, options);
  EXPECT_TRUE(pdf.has_value());
  const reading::Folder folder;
  return reading::run("pdftotext -layout '" + folder.file("bench.pdf", pdf->bytes) + "' -");
}

TEST(BenchPages, TellRigSparsPairsSandingAndTargets) {
  const std::string text = text_of(demo::bench_sheets(), demo::options());
  for (const char* words :
       {"Spars, batch 7", "Load 0.270 g at 152.4 mm", "Zero line: on the spar without its weight",
        "cannot tell", "5 + 11", "Sand 11, mark up: top and bottom", "0.015",
        "10.52 (10.41 to 10.62) mm with the mark up, like 5", "From 1.5 in to the tip",
        "Replacement for blade A of P14", "210.0 to 218.0", "Sanding: a dust mask",
        "Knife: cut away"}) {
    EXPECT_THAT(text, HasSubstr(words));
  }
}

TEST(BenchPages, TellThousandthsInTheInchProfile) {
  PacketOptions options = demo::options();
  options.profile = units::Profile::inch;
  const std::string text = text_of(demo::bench_sheets(), options);
  EXPECT_THAT(text, HasSubstr("414 (410 to 418) thou"));
  EXPECT_THAT(text, HasSubstr("0.270 g at 6.00 in"));
  EXPECT_THAT(text, HasSubstr("thou off each face"));
}

TEST(BenchPages, NameBatchDateAndNumberOnEach) {
  const auto pdf = bench_pdf(demo::bench_sheets(), demo::options());
  ASSERT_TRUE(pdf.has_value());
  const reading::Folder folder;
  const std::string path = folder.file("bench.pdf", pdf->bytes);
  const std::string count = std::to_string(pdf->pages.size());
  EXPECT_EQ(reading::info(path, "Pages"), count);
  for (std::size_t i = 1; i <= pdf->pages.size(); ++i) {
    SCOPED_TRACE(i);
    const std::string page = std::to_string(i);
    const std::string words =
        reading::run("pdftotext -layout -f " + page + " -l " + page + " '" + path + "' -");
    EXPECT_THAT(words, HasSubstr("batch"));
    EXPECT_THAT(words, HasSubstr("25 Nov 2026"));
    EXPECT_THAT(words, HasSubstr(page + " of " + count));
  }
}

TEST(BenchPages, WithoutDataAreLeftOut) {
  BenchSheets sheets;
  sheets.batch = "8";
  sheets.gauges = {demo::taper_gauge()};
  const auto pdf = bench_pdf(sheets, demo::options());
  ASSERT_TRUE(pdf.has_value());
  EXPECT_EQ(pdf->pages, std::vector<std::string>{"taper gauge, 1 : 1"});
  sheets.spars = demo::bench_batch();
  sheets.tags = false;
  EXPECT_THAT(bench_pdf(sheets, demo::options())->pages, Not(Contains(HasSubstr("tags"))));
}

TEST(BenchPages, OfABatchNotYetMeasuredAreATableToWriteIn) {
  BenchSheets sheets;
  sheets.batch = "9";
  sheets.spars = BenchBatch{};
  sheets.spars->sentence = "Nothing is measured yet.";
  sheets.spars->spars.push_back({.id = "1"});
  const auto pdf = bench_pdf(sheets, demo::options());
  ASSERT_TRUE(pdf.has_value());
  EXPECT_EQ(pdf->pages.front(), "bench sheet");
  EXPECT_THAT(pdf->pages, Not(Contains(HasSubstr("pairs"))));
}

TEST(BenchPages, ListAllOfALargeBatch) {
  const BenchSheets sheets = strained();
  const std::string text = text_of(sheets, demo::options());
  for (const BenchSpar& spar : sheets.spars->spars) EXPECT_THAT(text, HasSubstr(spar.id));
}

TEST(BenchPages, AreTheSameToTheByte) {
  EXPECT_TRUE(bench_pdf(demo::bench_sheets(), demo::options())->bytes ==
              bench_pdf(demo::bench_sheets(), demo::options())->bytes);
  EXPECT_TRUE(bench_svgs(demo::bench_sheets(), demo::options())->front().svg ==
              bench_svgs(demo::bench_sheets(), demo::options())->front().svg);
}

TEST(BenchFiles, AreWrittenWholeWithTheirDrawings) {
  const reading::Folder folder;
  const auto files = write_bench(demo::bench_sheets(), demo::options(), folder.path() / "out");
  ASSERT_TRUE(files.has_value());
  EXPECT_EQ(files->front().kind, "pdf");
  for (const PacketFile& file : *files) EXPECT_TRUE(std::filesystem::exists(file.path));
  EXPECT_TRUE(std::filesystem::exists(folder.path() / "out/svg/deflection-card-1.svg"));
}

// --- what cannot be drawn ---

std::string field_of(const BenchSheets& sheets) {
  const auto pdf = bench_pdf(sheets, demo::options());
  if (pdf || pdf.error().empty()) return "drawn";
  return pdf.error().front().field;
}

TEST(BenchCheck, NamesWhatIsNotFiniteOrOutOfRange) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  BenchSheets sheets = demo::bench_sheets();
  sheets.cards[0].read_at_m = nan;
  EXPECT_EQ(field_of(sheets), "cards[0].read_at_m");
  sheets = demo::bench_sheets();
  sheets.spars->spars[4].ei_90_Nm2 = nan;
  EXPECT_EQ(field_of(sheets), "spars.5");
  sheets = demo::bench_sheets();
  sheets.blocks[0].stations[1].along_m = 0;
  EXPECT_EQ(field_of(sheets), "blocks[0].along_m");
  sheets = demo::bench_sheets();
  sheets.blocks[0].stations[0].size_m = 0.009;
  EXPECT_EQ(field_of(sheets), "blocks[0].size_m");
  sheets = demo::bench_sheets();
  sheets.blocks[0].angle_rad = base::pi;
  EXPECT_EQ(field_of(sheets), "blocks[0].angle_rad");
  sheets = demo::bench_sheets();
  std::swap(sheets.gauges[0].stations[0].least_m, sheets.gauges[0].stations[0].most_m);
  EXPECT_EQ(field_of(sheets), "gauges[0].most_m");
  sheets = demo::bench_sheets();
  sheets.targets[0].rows[0].target = nan;
  EXPECT_EQ(field_of(sheets), "Replacement for blade A of P14");
}

}  // namespace
}  // namespace propwright::sheet
