/// Labels of propellers: what they say, how many fit, what cannot be drawn.
#include "propwright/sheet/propeller_labels.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <limits>

#include "reading.h"

namespace propwright::sheet {
namespace {

using testing::HasSubstr;

/// An invented code: its squares mean nothing.
LabelCode squares(int across = 33) {
  LabelCode code{across, {}};
  for (int i = 0; i < across * across; ++i) code.dark.push_back(i % 3 == 0);
  return code;
}

PropellerLabel label(const std::string& name) {
  return {name,    "q3x7m2k9h5t8w1pz", "2026-10-30", 0.00042,  0.381,
          0.61214, 0.418879,           0.1,          squares()};
}

PacketOptions labels_on(Paper paper, units::Profile profile = units::Profile::metric) {
  PacketOptions options;
  options.paper = paper;
  options.profile = profile;
  options.date = "2026-11-25";
  return options;
}

std::string text_of(const PacketPdf& pdf) {
  const reading::Folder folder;
  return reading::run("pdftotext -layout '" + folder.file("labels.pdf", pdf.bytes) + "' -");
}

TEST(PropellerLabels, TellNameIdAndWhatItMeasures) {
  const auto pdf = propeller_labels_pdf({label("P14")}, labels_on(Paper::a4));
  ASSERT_TRUE(pdf.has_value());
  const std::string text = text_of(*pdf);
  for (const char* const words :
       {"P14", "q3x7m2k9h5t8w1pz", "420", "381.0", "612", "24.0", "100.0", "30 Oct 2026"}) {
    EXPECT_THAT(text, HasSubstr(words));
  }
  const auto inches =
      propeller_labels_pdf({label("P14")}, labels_on(Paper::letter, units::Profile::inch));
  ASSERT_TRUE(inches.has_value());
  EXPECT_THAT(text_of(*inches), HasSubstr("15.000"));
  EXPECT_THAT(text_of(*inches), HasSubstr("24.1"));
}

TEST(PropellerLabels, WhatIsNotKnownIsADash) {
  PropellerLabel bare{"P15", "p15", "2026-11-01", {}, {}, {}, {}, {}, squares()};
  const auto pdf = propeller_labels_pdf({bare}, labels_on(Paper::a4));
  ASSERT_TRUE(pdf.has_value());
  EXPECT_THAT(text_of(*pdf), HasSubstr("\u2013"));
}

TEST(PropellerLabels, SeveralStandOnAPageAndTheRestOnTheNext) {
  for (const Paper paper : {Paper::a4, Paper::letter}) {
    std::vector<PropellerLabel> many;
    for (int i = 0; i < 14; ++i) many.push_back(label("P" + std::to_string(i + 1)));
    many[3].name = "the long winter's second propeller, rebuilt twice and covered anew";
    const auto pdf = propeller_labels_pdf(many, labels_on(paper));
    ASSERT_TRUE(pdf.has_value());
    EXPECT_EQ(pdf->pages.size(), 2);
    EXPECT_THAT(text_of(*pdf), HasSubstr("P14"));
  }
}

TEST(PropellerLabels, TheSameLabelsGiveTheSameBytes) {
  const auto once = propeller_labels_pdf({label("P14")}, labels_on(Paper::a4));
  const auto again = propeller_labels_pdf({label("P14")}, labels_on(Paper::a4));
  ASSERT_TRUE(once.has_value() && again.has_value());
  EXPECT_EQ(once->bytes, again->bytes);
}

TEST(PropellerLabels, WhatCannotBeDrawnIsTold) {
  EXPECT_EQ(propeller_labels_pdf({}, labels_on(Paper::a4)).error()[0].field, "labels");
  PropellerLabel torn = label("P14");
  torn.code.dark.pop_back();
  EXPECT_EQ(propeller_labels_pdf({torn}, labels_on(Paper::a4)).error()[0].field, "labels[1].code");
  PropellerLabel endless = label("P14");
  endless.mass_kg = std::numeric_limits<double>::infinity();
  EXPECT_EQ(propeller_labels_pdf({endless}, labels_on(Paper::a4)).error()[0].field, "labels[1]");
  PacketOptions dateless = labels_on(Paper::a4);
  dateless.date = "25 Nov";
  EXPECT_EQ(propeller_labels_pdf({label("P14")}, dateless).error()[0].field, "date");
}

}  // namespace
}  // namespace propwright::sheet
