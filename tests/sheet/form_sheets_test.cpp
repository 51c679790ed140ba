/// The pages of a form, as they come out of the printer.
#include "propwright/sheet/form_sheets.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <limits>

#include "demo_packet.h"
#include "propwright/base/constants.h"
#include "reading.h"

namespace propwright::sheet {
namespace {

/// A frame with an upright line in its middle.
form::Template upright(const std::string& name, double width_m, double height_m) {
  form::Template drawing;
  drawing.name = name;
  drawing.title = name;
  drawing.lines.push_back({.kind = form::TemplateLine::Kind::cut,
                           .points_m = {{0, 0}, {width_m, 0}, {width_m, height_m}, {0, height_m}},
                           .closed = true});
  return drawing;
}

FormSheets demo_sheets() {
  FormSheets sheets{.job = {.design = "Demo", .version = 2, .model = "", .hall = "", .roof_m = 8},
                    .hand = form::Hand::anticlockwise,
                    .blades = 2,
                    .sentence = "Set both blades to 45.0° at 120 mm.",
                    .outline = std::nullopt,
                    .tables = {},
                    .maps = {},
                    .groups = {},
                    .notes = {"A note to be read."}};
  sheets.tables.push_back(
      {.title = "Stations",
       .columns = {{"radius", Measure::radius}, {"angle", Measure::angle}, {"what", Measure::word}},
       .rows = {{{0.1}, {45 * base::degree_rad}, {0, "as cut"}}}});
  sheets.groups.push_back({"Parts", "Cut them.", {Hazard::knife}, {upright("small", 0.04, 0.12)}});
  return sheets;
}

double longest_dark_column_mm(const reading::Raster& page) {
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

reading::Raster page_of(const FormSheets& sheets, const PacketOptions& options,
                        const std::string& name) {
  const auto pdf = form_pdf(sheets, options);
  EXPECT_TRUE(pdf.has_value());
  const reading::Folder folder;
  const std::string path = folder.file("form.pdf", pdf->bytes);
  return reading::render(path, reading::page_named(pdf->pages, name));
}

// A pixel is 0.1 mm, and the line's own width of 0.35 mm stands over both ends.
TEST(FormPdf, DrawsAtTrueScaleOnBothPapers) {
  for (const Paper paper : {Paper::a4, Paper::letter}) {
    PacketOptions options = demo::options();
    options.paper = paper;
    EXPECT_NEAR(longest_dark_column_mm(page_of(demo_sheets(), options, "parts")), 120.35, 0.3);
  }
}

TEST(FormPdf, StretchesWhereThePrinterShrinks) {
  PacketOptions options = demo::options();
  options.bar_measured_m = 0.0970;
  EXPECT_NEAR(longest_dark_column_mm(page_of(demo_sheets(), options, "parts")), 120 / 0.97 + 0.35,
              0.3);
}

TEST(FormPdf, CutsWhatIsLargerThanThePaperIntoTiles) {
  FormSheets sheets = demo_sheets();
  sheets.groups[0].drawings = {upright("large", 0.30, 0.42)};
  const auto pdf = form_pdf(sheets, demo::options());
  ASSERT_TRUE(pdf.has_value());
  const auto tiles = std::count_if(pdf->pages.begin(), pdf->pages.end(),
                                   [](const auto& page) { return page.rfind("large", 0) == 0; });
  // 300 by 420 mm on tiles of about 180 by 195 mm that overlap by 12.
  EXPECT_EQ(tiles, 6);
}

TEST(FormPdf, TellsTablesNotesHandAndCautions) {
  const auto pdf = form_pdf(demo_sheets(), demo::options());
  ASSERT_TRUE(pdf.has_value());
  const reading::Folder folder;
  const std::string text =
      reading::run("pdftotext -layout '" + folder.file("form.pdf", pdf->bytes) + "' -");
  for (const char* words : {"Form of Demo", "Turns anticlockwise", "A note to be read.", "100.0",
                            "45.0", "as cut", "Knife: cut away", "Demo, version 2"}) {
    EXPECT_NE(text.find(words), std::string::npos) << words;
  }
}

TEST(FormPdf, IsTheSameToTheByte) {
  EXPECT_TRUE(form_pdf(demo_sheets(), demo::options())->bytes ==
              form_pdf(demo_sheets(), demo::options())->bytes);
}

TEST(FormPdf, RefusesADrawingThatIsNotFinite) {
  FormSheets sheets = demo_sheets();
  sheets.groups[0].drawings[0].lines[0].points_m[0].first = std::numeric_limits<double>::infinity();
  EXPECT_FALSE(form_pdf(sheets, demo::options()));
}

TEST(CellText, PrintsInEitherProfile) {
  EXPECT_EQ(cell_text({0.0254}, Measure::length, units::Profile::metric), "25.4");
  EXPECT_EQ(cell_text({0.0254}, Measure::length, units::Profile::inch), "1.000");
  EXPECT_EQ(cell_text({0.0123}, Measure::percent, units::Profile::metric), "1.23");
  EXPECT_EQ(cell_text({0, "–"}, Measure::length, units::Profile::metric), "–");
  EXPECT_EQ(measure_unit(Measure::area, units::Profile::inch), "in²");
}

// What a machine cuts keeps its size and nothing lies on anything else.
TEST(Gathered, KeepsEachDrawingsSizeAndKeepsThemApart) {
  const std::vector<form::Template> parts{upright("one", 0.3, 0.1), upright("two", 0.25, 0.2),
                                          upright("three", 0.4, 0.05)};
  const form::Template all = gathered(parts, "all", 0.6);
  ASSERT_EQ(all.lines.size(), 3u);
  struct Extent {
    double left = 1e9, right = -1e9, low = 1e9, high = -1e9;
  };
  std::vector<Extent> extents;
  for (const form::TemplateLine& line : all.lines) {
    Extent& extent = extents.emplace_back();
    for (const auto& [x, y] : line.points_m) {
      extent.left = std::min(extent.left, x);
      extent.right = std::max(extent.right, x);
      extent.low = std::min(extent.low, y);
      extent.high = std::max(extent.high, y);
    }
  }
  EXPECT_NEAR(extents[1].right - extents[1].left, 0.25, 1e-12);
  EXPECT_NEAR(extents[1].high - extents[1].low, 0.2, 1e-12);
  for (std::size_t i = 0; i < 3; ++i) {
    EXPECT_LE(extents[i].right - extents[0].left, 0.6 + 1e-9);
    for (std::size_t j = 0; j < i; ++j) {
      const Extent &a = extents[i], &b = extents[j];
      EXPECT_TRUE(a.right < b.left || b.right < a.left || a.high < b.low || b.high < a.low);
    }
  }
}

}  // namespace
}  // namespace propwright::sheet
