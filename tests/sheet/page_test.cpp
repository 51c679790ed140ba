/// Paper, fonts, page count and words of the PDF.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <limits>

#include "demo_packet.h"
#include "reading.h"

namespace propwright::sheet {
namespace {

using testing::HasSubstr;
using testing::Not;

struct Drawn {
  reading::Folder folder;
  std::string path;
  std::vector<std::string> pages;
};

std::unique_ptr<Drawn> draw(const PacketData& data, const PacketOptions& options) {
  auto drawn = std::make_unique<Drawn>();
  const auto pdf = packet_pdf(data, options);
  EXPECT_TRUE(pdf.has_value());
  drawn->path = drawn->folder.file("packet.pdf", pdf->bytes);
  drawn->pages = pdf->pages;
  return drawn;
}

std::string words_of(const Drawn& drawn, int page) {
  const std::string number = std::to_string(page);
  return reading::run("pdftotext -layout -f " + number + " -l " + number + " '" + drawn.path +
                      "' -");
}

void expect_page_size(const Drawn& drawn, double width_mm, double height_mm) {
  double width_pt = 0, height_pt = 0;
  ASSERT_EQ(
      sscanf(reading::info(drawn.path, "Page size").c_str(), "%lf x %lf", &width_pt, &height_pt),
      2);
  EXPECT_NEAR(width_pt * 25.4 / 72, width_mm, 0.1);
  EXPECT_NEAR(height_pt * 25.4 / 72, height_mm, 0.1);
}

TEST(Paper, IsA4) {
  expect_page_size(*draw(demo::packet(), demo::options()), 210, 297);
}

TEST(Paper, IsLetter) {
  PacketOptions options = demo::options();
  options.paper = Paper::letter;
  expect_page_size(*draw(demo::packet(), options), 215.9, 279.4);
}

TEST(Pages, AreAsManyAsListed) {
  const auto drawn = draw(demo::packet(), demo::options());
  EXPECT_EQ(reading::info(drawn->path, "Pages"), std::to_string(drawn->pages.size()));
  EXPECT_EQ(drawn->pages.front(), "summary");
  EXPECT_EQ(drawn->pages.back(), "winding card");
}

TEST(Pages, WithoutDataAreLeftOut) {
  PacketData data = demo::packet();
  data.ribs.clear();
  data.spar.rows.clear();
  const auto drawn = draw(data, demo::options());
  EXPECT_THAT(drawn->pages, Not(testing::Contains(HasSubstr("rib"))));
  EXPECT_THAT(drawn->pages, Not(testing::Contains(HasSubstr("spar"))));
  EXPECT_EQ(reading::info(drawn->path, "Pages"), std::to_string(drawn->pages.size()));
}

TEST(Pages, OfABarePacketAreStillDrawn) {
  PacketData data;
  data.job = {"bare", 1, "model", "hall", 8};
  data.headline.duration_s = 41;
  const auto drawn = draw(data, demo::options());
  EXPECT_EQ(drawn->pages, std::vector<std::string>{"summary"});
  EXPECT_THAT(words_of(*drawn, 1), HasSubstr("41"));
}

TEST(Pages, EachNameDesignDateAndNumber) {
  const auto drawn = draw(demo::packet(), demo::options());
  const int count = static_cast<int>(drawn->pages.size());
  for (int page = 1; page <= count; ++page) {
    SCOPED_TRACE(page);
    const std::string words = words_of(*drawn, page);
    EXPECT_THAT(words, HasSubstr("P14, version 3"));
    EXPECT_THAT(words, HasSubstr("25 Nov 2026"));
    EXPECT_THAT(words, HasSubstr(std::to_string(page) + " of " + std::to_string(count)));
  }
}

TEST(Fonts, AreAllEmbeddedAsSubsetsAndOurOwn) {
  const auto drawn = draw(demo::packet(), demo::options());
  std::istringstream lines(reading::run("pdffonts '" + drawn->path + "'"));
  std::string line;
  std::getline(lines, line);
  std::getline(lines, line);
  int fonts = 0;
  while (std::getline(lines, line)) {
    ++fonts;
    EXPECT_THAT(line, testing::ContainsRegex("^[A-Z]+\\+Source(Sans3|Serif4)-"));
    EXPECT_THAT(line, testing::ContainsRegex(" yes +yes "));
  }
  EXPECT_GE(fonts, 3);
}

TEST(Cover, SaysTheHeadline) {
  const auto drawn = draw(demo::packet(), demo::options());
  const std::string words = words_of(*drawn, 1);
  EXPECT_THAT(words, HasSubstr("Lantern 46 in the tram shed"));
  EXPECT_THAT(words, HasSubstr("± 31 s"));
  EXPECT_THAT(words, HasSubstr("12:10 to 13:58"));
  EXPECT_THAT(words, HasSubstr("Tops out 0.4 m under the roof, lands with 275 turns left."));
  EXPECT_THAT(words, HasSubstr("83 % of what"));
}

TEST(Cover, SendsManyNotesToASecondPageAndLosesNone) {
  PacketData data = demo::packet();
  for (int i = 0; i < 90; ++i)
    data.notes.push_back("Remark number " + std::to_string(1000 + i) + ".");
  const auto drawn = draw(data, demo::options());
  ASSERT_EQ(drawn->pages[1], "notes");
  const std::string all = reading::run("pdftotext '" + drawn->path + "' -");
  for (int i = 0; i < 90; ++i) {
    EXPECT_THAT(all, HasSubstr("Remark number " + std::to_string(1000 + i) + "."));
  }
}

TEST(InchProfile, PrintsInchesAndFeetFirst) {
  PacketOptions options = demo::options();
  options.profile = units::Profile::inch;
  const auto drawn = draw(demo::packet(), options);
  // 8.5 m are 27.887 ft; 0.36 m are 14.173 in.
  EXPECT_THAT(words_of(*drawn, 1), HasSubstr("27.9 ft"));
  EXPECT_THAT(words_of(*drawn, 1), HasSubstr("14.173"));
  const std::string stations = words_of(*drawn, reading::page_named(drawn->pages, "stations"));
  // 120 mm is 4.724 in, printed first, with millimetres after it.
  EXPECT_THAT(stations, testing::ContainsRegex("4\\.72 +120\\.0 "));
}

TEST(Cautions, StandOnEveryPageWhereAStepCanHurt) {
  const auto drawn = draw(demo::packet(), demo::options());
  for (const char* sheet : {"summary", "blade outline", "form stations", "rib blanks", "spar taper",
                            "pitch setting", "winding card"}) {
    SCOPED_TRACE(sheet);
    EXPECT_THAT(words_of(*drawn, reading::page_named(drawn->pages, sheet)),
                HasSubstr("safety sheet"));
  }
}

TEST(Packet, IsTheSameBytesTwice) {
  const auto first = packet_pdf(demo::packet(), demo::options());
  const auto second = packet_pdf(demo::packet(), demo::options());
  ASSERT_TRUE(first.has_value() && second.has_value());
  EXPECT_TRUE(first->bytes == second->bytes);
}

base::Problem only_problem(const PacketData& data, const PacketOptions& options) {
  const auto pdf = packet_pdf(data, options);
  if (pdf.has_value() || pdf.error().size() != 1) {
    ADD_FAILURE() << "one problem was expected";
    return {};
  }
  return pdf.error().front();
}

TEST(Options, RefuseABarThatIsFarOut) {
  for (const double bar_m : {0.0949, 0.1051, std::numeric_limits<double>::quiet_NaN()}) {
    PacketOptions options = demo::options();
    options.bar_measured_m = bar_m;
    const base::Problem problem = only_problem(demo::packet(), options);
    EXPECT_EQ(problem.kind, base::Kind::bad_input);
    EXPECT_EQ(problem.field, "bar_measured");
    EXPECT_EQ(problem.allowed, "95 to 105 mm");
  }
}

TEST(Options, RefuseADateThatIsNone) {
  for (const char* date : {"", "25 Nov 2026", "2026-02-30", "2026-13-01"}) {
    PacketOptions options = demo::options();
    options.date = date;
    EXPECT_EQ(only_problem(demo::packet(), options).field, "date");
  }
}

TEST(Data, ThatIsNotFiniteIsNamed) {
  PacketData data = demo::packet();
  data.stations[2].pitch_m = std::numeric_limits<double>::infinity();
  EXPECT_EQ(only_problem(data, demo::options()).field, "stations");
}

TEST(Data, WithUnequalCurvesIsNamed) {
  PacketData data = demo::packet();
  data.flight.height_m.y.pop_back();
  EXPECT_EQ(only_problem(data, demo::options()).field, "flight.height");
}

}  // namespace
}  // namespace propwright::sheet
