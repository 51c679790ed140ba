// The sheet of a fair test, read back with poppler's tools.
#include "propwright/sheet/fair_test.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <limits>

#include "reading.h"

namespace propwright::sheet {
namespace {

using testing::HasSubstr;

FairTest two_propellers(int flights) {
  FairTest test{
      .model = "Lantern 46",
      .hall = "Millbrook",
      .motor = "box 7, 2 strands, loop 368 mm, 1.49 g",
      .wind_turns = 1821,
      .launch_turns = 1608,
      .hook_up_torque_Nm = 1.57e-3,
      .sentence = "A is ahead by 18 ± 14 s.",
      .propellers = {{"A", "P14", "flat", 1.020e-3, 41e-6}, {"B", "P12", "", 1.061e-3, 0.0}},
      .order = {}};
  for (int i = 0; i < flights; ++i) test.order.push_back(i % 4 == 1 || i % 4 == 2 ? "B" : "A");
  return test;
}

PacketOptions on(Paper paper) {
  PacketOptions options;
  options.paper = paper;
  options.date = "2026-11-26";
  return options;
}

std::string words_of(const std::string& bytes) {
  const reading::Folder folder;
  return reading::run("pdftotext -layout '" + folder.file("fair.pdf", bytes) + "' -");
}

TEST(FairTestSheet, TellsMassesBallastAndWhatIsHeldTheSame) {
  const auto pdf = fair_test_pdf(two_propellers(8), on(Paper::a4));
  ASSERT_TRUE(pdf);
  EXPECT_EQ(pdf->pages.size(), 1u);
  const std::string words = words_of(pdf->bytes);
  for (const char* part :
       {"A is ahead by 18", "P14", "1020", "41", "none", "wind 1821, back off 213",
        "eye protection", "turns left", "hall\u2019s rules"}) {
    EXPECT_THAT(words, HasSubstr(part));
  }
}

TEST(FairTestSheet, ManyFlightsGoOnFurtherPagesAndNoneIsLost) {
  for (const Paper paper : {Paper::a4, Paper::letter}) {
    const auto pdf = fair_test_pdf(two_propellers(70), on(paper));
    ASSERT_TRUE(pdf);
    EXPECT_GE(pdf->pages.size(), 3u);
    const std::string words = words_of(pdf->bytes);
    std::size_t rows = 0;
    for (const char* name : {"P14", "P12"}) {
      for (auto at = words.find(name); at != std::string::npos; at = words.find(name, at + 1))
        ++rows;
    }
    // Each flight names its propeller, the table of masses and the title block of each page both.
    EXPECT_EQ(rows, 70 + 2 + 2 * pdf->pages.size());
  }
}

TEST(FairTestSheet, SaysWhoseWindingItIsAndCountsTheWinderToo) {
  FairTest test = two_propellers(8);
  const std::string planned = words_of(fair_test_pdf(test, on(Paper::a4))->bytes);
  EXPECT_THAT(planned, HasSubstr("as the sheet plans them"));
  for (const char* part : {"flat", "________", "day, hall", "temperature, °C", "pressure, hPa"}) {
    EXPECT_THAT(planned, HasSubstr(part));
  }
  test.learned = true;
  test.winder_ratio = 10;
  test.wind_turns = 1820;
  test.launch_turns = 1600;
  const std::string learned = words_of(fair_test_pdf(test, on(Paper::a4))->bytes);
  for (const char* part : {"as learned from the flights", "1820 (182 of the winder)",
                           "220 (22 of the winder)", "1600 (160 of the winder)"}) {
    EXPECT_THAT(learned, HasSubstr(part));
  }
}

TEST(FairTestSheet, UnknownTurnsAndMassesAreBlanks) {
  FairTest test = two_propellers(4);
  test.wind_turns = test.launch_turns = std::nullopt;
  test.propellers[0].mass_kg = test.propellers[0].ballast_kg = std::nullopt;
  const auto pdf = fair_test_pdf(test, on(Paper::a4));
  ASSERT_TRUE(pdf);
  EXPECT_THAT(words_of(pdf->bytes), HasSubstr("wind ________"));
}

TEST(FairTestSheet, WhatIsNoTestIsRefused) {
  FairTest one = two_propellers(4);
  one.propellers.pop_back();
  EXPECT_EQ(fair_test_pdf(one, on(Paper::a4)).error().front().field, "propellers");
  EXPECT_EQ(fair_test_pdf(two_propellers(0), on(Paper::a4)).error().front().field, "order");
  FairTest strange = two_propellers(4);
  strange.order[2] = "C";
  EXPECT_EQ(fair_test_pdf(strange, on(Paper::a4)).error().front().field, "order");
  FairTest infinite = two_propellers(4);
  infinite.propellers[1].mass_kg = std::numeric_limits<double>::infinity();
  EXPECT_EQ(fair_test_pdf(infinite, on(Paper::a4)).error().front().field, "propellers");
}

}  // namespace
}  // namespace propwright::sheet
