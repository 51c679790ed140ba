/// The bench's pages: what they say, where it stands, and what cannot be drawn.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <limits>
#include <sstream>

#include "demo_bench.h"
#include "demo_packet.h"
#include "reading.h"

namespace propwright::sheet {
namespace {

using testing::Contains;
using testing::HasSubstr;
using testing::Not;

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
    if (i % 5 == 0) spar.shape = EndShape::rounded_square;
    batch.spars.push_back(spar);
  }
  batch.spars.back().reading_0_m.reset();
  batch.spars[5].reading_45_m = 0.01234;
  batch.spars.back().ei_0_Nm2.reset();
  for (int i = 0; i < 9; ++i) {
    batch.pairs.push_back(batch.pairs[2]);
    batch.sanding.push_back(batch.sanding[1]);
  }
  batch.sanding[3].off_each_0_m = 0.5 * demo::thou_m;
  batch.sanding[3].target_0_m = batch.sanding[3].target_90_m;
  batch.sanding[4].all_round = true;
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
        "cannot tell", "5 + 11", "Sand 11, round 3", "off top and off bottom, mark up", "0.015",
        "10.52 (10.41 to 10.62) mm with the mark up, like 5", "From 1.5 in to the tip",
        "Replacement for blade A of P14", "210.0 to 218.0", "Sanding: a dust mask",
        "Knife: cut away"}) {
    EXPECT_THAT(text, HasSubstr(words));
  }
}

TEST(BenchPages, HaveAColumnForTheThirdReadingWhereASparHasOne) {
  BenchSheets sheets = demo::bench_sheets();
  sheets.tags = false;
  EXPECT_THAT(text_of(sheets, demo::options()), Not(HasSubstr("at 45°")));
  sheets.spars->spars[2].reading_45_m = 0.01234;
  const std::string text = text_of(sheets, demo::options());
  EXPECT_THAT(text, HasSubstr("at 45°"));
  EXPECT_THAT(text, HasSubstr("12.34"));
}

TEST(BenchPages, TellThousandthsInTheInchProfile) {
  PacketOptions options = demo::options();
  options.profile = units::Profile::inch;
  const std::string text = text_of(demo::bench_sheets(), options);
  EXPECT_THAT(text, HasSubstr("414 (410 to 418) thou"));
  EXPECT_THAT(text, HasSubstr("0.270 g at 6.00 in"));
  EXPECT_THAT(text, HasSubstr("thou off top and off bottom"));
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
