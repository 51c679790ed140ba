#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "propwright/units/units.h"

namespace propwright::units {
namespace {

using D = Dimension;
using testing::HasSubstr;

/// The one problem of a text that must be refused.
base::Problem refused(const std::string& text, Dimension dimension) {
  const auto read = parse(text, dimension, "propeller.diameter");
  if (read) {
    ADD_FAILURE() << "\"" << text << "\" was read as " << *read;
    return {};
  }
  EXPECT_EQ(read.error().size(), 1u);
  return read.error().front();
}

TEST(Refusal, NamesFieldValueUnitsAndRemedy) {
  const base::Problem problem = refused("12", D::length);
  EXPECT_EQ(problem.kind, base::Kind::bad_input);
  EXPECT_EQ(problem.field, "propeller.diameter");
  EXPECT_EQ(problem.value, "12");
  EXPECT_EQ(problem.allowed, accepted_units(D::length));
  EXPECT_EQ(problem.message, "the unit is missing");
  EXPECT_THAT(problem.remedy, HasSubstr("\"12 mm\""));
}

TEST(Refusal, BareNumberInEveryDimensionButRatio) {
  for (int i = 0; i < static_cast<int>(D::ratio); ++i) {
    EXPECT_THAT(refused("3", static_cast<D>(i)).message, HasSubstr("unit is missing"));
  }
}

TEST(Refusal, UnitOfAnotherDimensionSaysWhatItMeasures) {
  EXPECT_EQ(refused("12 kg", D::length).message, "\"kg\" measures mass, not length");
  EXPECT_EQ(refused("12 hPa", D::modulus).message,
            "\"hPa\" measures pressure, not elastic modulus");
  EXPECT_EQ(refused("12 kPa", D::mass).message,
            "\"kPa\" measures pressure or elastic modulus, not mass");
  EXPECT_EQ(refused("21 deg", D::temperature).message, "\"deg\" measures angle, not temperature");
  EXPECT_EQ(refused("5 lb", D::density).message, "\"lb\" measures mass, not density");
  EXPECT_EQ(refused("12 in", D::ratio).message, "\"in\" measures length, not a pure ratio");
  EXPECT_EQ(refused("0.4 oz", D::torque).message, "\"oz\" measures mass, not torque");
}

TEST(Refusal, MisspeltUnitIsAnsweredWithTheNearest) {
  EXPECT_EQ(refused("12 inchs", D::length).remedy, "did you mean \"inch\"?");
  EXPECT_EQ(refused("3 mpa", D::modulus).remedy, "did you mean \"MPa\"?");
  EXPECT_THAT(refused("3 furlong", D::length).message, HasSubstr("not a unit of length"));
}

TEST(Refusal, LettersOfPrefixesAreNotTakenForEachOther) {
  // mPa for MPa would be wrong by 1e9.
  EXPECT_FALSE(parse("3 mPa", D::modulus));
  EXPECT_FALSE(parse("3 Mg", D::mass));
  EXPECT_FALSE(parse("3 MN.m", D::torque));
}

TEST(Refusal, DecimalCommaIsAnsweredWithThePoint) {
  EXPECT_THAT(refused("1,5 mm", D::length).remedy, HasSubstr("write 1.5, not 1,5"));
  EXPECT_THAT(refused("12,25 g", D::mass).remedy, HasSubstr("write 12.25, not 12,25"));
  EXPECT_THAT(refused("0,5", D::ratio).remedy, HasSubstr("write 0.5, not 0,5"));
  EXPECT_THAT(refused("1,000 hPa", D::pressure).remedy, HasSubstr("no mark between thousands"));
  EXPECT_THAT(refused(", mm", D::length).remedy, HasSubstr("write 1.5, not 1,5"));
}

TEST(Refusal, QuoteMarksAreAnsweredWithTheWord) {
  for (const char* text : {"12\"", "12''", "1' 6\"", "12”", "12″", "12’"}) {
    EXPECT_EQ(refused(text, D::length).remedy, "write in or ft") << text;
  }
  EXPECT_EQ(refused("12'", D::angle).remedy, "write deg");
}

TEST(Refusal, TextThatIsNoNumber) {
  for (const char* text :
       {"",           "   ",      "\u00a0", "mm",     "nan mm",  "inf mm",   "-inf mm",  "infinity",
        "NaN",        "0x10 mm",  "--5 mm", "+-5 mm", ". mm",    "e5 mm",    "1..5 mm",  "1/0 in",
        "1 1/0 in",   "1 3/2 in", "/2 in",  "5 5 mm", "12 in 3", "1e5e5 mm", "1/2/3 in", "5 mm mm",
        "1.5 1/2 in", "12:41 mm", "12 -mm", "12 mm-", "12 *mm",  "12 mm)",   "12 ^mm"}) {
    EXPECT_FALSE(parse(text, D::length)) << text;
  }
  for (const char* text : {"nan", "inf", "0x10", "1e", "half", "5 %%", "1/0"}) {
    EXPECT_FALSE(parse(text, D::ratio)) << text;
  }
}

TEST(Refusal, NumbersBeyondADouble) {
  EXPECT_THAT(refused("1e999 m", D::length).message, HasSubstr("too large"));
  EXPECT_THAT(refused("1e308 GPa", D::modulus).message, HasSubstr("too large"));
  EXPECT_THAT(refused(std::string(400, '9') + " m", D::length).message, HasSubstr("too large"));
}

TEST(Refusal, TemperatureBelowAbsoluteZero) {
  EXPECT_THAT(refused("-273.16 degC", D::temperature).message, HasSubstr("absolute zero"));
  EXPECT_THAT(refused("-1 K", D::temperature).message, HasSubstr("absolute zero"));
  EXPECT_THAT(refused("-460 degF", D::temperature).message, HasSubstr("absolute zero"));
  EXPECT_EQ(*parse("-273.15 degC", D::temperature), 0.0);
}

TEST(Refusal, PartsOfATimeThatDoNotFit) {
  for (const char* text : {"12 min 90 s", "41 s 12 min", "1.5 min 10 s", "12 min 4 min",
                           "12 min 41", "12:4", "12:60", "12:415", "1.5:30", "-1:30",
                           "12:", "1:2:3", "12 min -4 s", "-1 min 30 s", "12 min 41 kg"}) {
    EXPECT_FALSE(parse(text, D::time)) << text;
  }
}

TEST(Refusal, EchoIsShortAndFitForAnyTerminal) {
  EXPECT_EQ(refused("5 \x1b[31m\xff", D::length).value, "5 ?[31m?");
  EXPECT_EQ(refused("5 é\xc3", D::length).value, "5 é?");
  const std::string echo = refused("5 " + std::string(5000, 'x'), D::length).value;
  EXPECT_EQ(echo.size(), 63u);  // 60 characters and three points
}

}  // namespace
}  // namespace propwright::units
