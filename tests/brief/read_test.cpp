// Reading single fields: what is accepted, and the text of every kind of problem.
#include <fmt/format.h>
#include <gmock/gmock.h>

#include "sample_job.h"

namespace propwright::brief {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::StartsWith;

TEST(ReadJob, SampleIsReadInSI) {
  const Job job = read_sample();
  EXPECT_EQ(job.info.name, "Sample");
  EXPECT_DOUBLE_EQ(job.hall.roof_height_m, 8);
  EXPECT_DOUBLE_EQ(job.model.mass_kg, 0.003);
  EXPECT_DOUBLE_EQ(job.motor.strip_width_m.value(), 0.0023);
  EXPECT_DOUBLE_EQ(job.propeller.diameter_m, 0.38);
  EXPECT_EQ(job.propeller.source, BladeSource::pitch);
}

TEST(ReadJob, FieldsLeftOutKeepTheirDefaults) {
  const Job job = read_sample();
  EXPECT_EQ(job.air, Air{});
  EXPECT_EQ(job.rubber, Rubber{});
  EXPECT_EQ(job.doubts, Doubts{});
  EXPECT_FALSE(job.launch.margin_m);
}

TEST(ReadJob, UnitsMayBeMixed) {
  const Job job = read_sample(sample_with("\"380 mm\"", "\"15 in\""));
  EXPECT_DOUBLE_EQ(job.propeller.diameter_m, 0.381);
}

TEST(ReadJob, PureNumbersTakeNumberOrPercent) {
  EXPECT_DOUBLE_EQ(read_sample(sample_after("air.humidity = 0.4")).air.relative_humidity, 0.4);
  EXPECT_DOUBLE_EQ(read_sample(sample_after("air.humidity = \"40 %\"")).air.relative_humidity, 0.4);
}

TEST(ReadJob, TemperatureDoubtIsADifference) {
  const auto kelvin = [](const std::string& text) {
    return read_sample(std::string(sample) + "[doubts]\ntemperature = \"" + text + "\"\n")
        .doubts.temperature_K;
  };
  EXPECT_EQ(kelvin("2 K"), 2);
  // 2 degC is (273.15 + 2) - 273.15 in floating point: a few 1e-14 off.
  EXPECT_NEAR(kelvin("2 degC"), 2, 1e-12);
  EXPECT_NEAR(kelvin("1.8 degF"), 1, 1e-12);
}

TEST(ReadJob, WordsChooseHandContactAndKind) {
  const Job job = read_sample(sample_with("pitch = ", "hand = \"clockwise\"\npitch = ") +
                              "[propeller.blade]\nkind = \"built-up\"\ncovering = \"0.6 g/m2\"\n");
  EXPECT_EQ(job.propeller.hand, form::Hand::clockwise);
  EXPECT_EQ(job.propeller.build.kind, BladeKind::built_up);
  EXPECT_FALSE(
      read_sample(sample_with("\"8 m\"", "\"8 m\"\ncontact = \"none\"")).hall.touching_allowed);
}

TEST(ReadJob, BareNumberIsRefusedWithTheAcceptedUnits) {
  EXPECT_EQ(only_line(sample_with("\"380 mm\"", "380")),
            "sample.toml:17: propeller.diameter: the unit is missing (given: 380); allowed: mm, "
            "cm, m, in, thou, ft, um; write the unit with it, in quotes: diameter = \"380 mm\"");
}

TEST(ReadJob, BareNumberInQuotesIsRefusedToo) {
  EXPECT_THAT(only_line(sample_with("\"380 mm\"", "\"380\"")),
              HasSubstr("propeller.diameter: the unit is missing (given: 380)"));
}

TEST(ReadJob, UnknownUnitListsThoseThatAreKnown) {
  EXPECT_THAT(only_line(sample_with("\"380 mm\"", "\"380 furlong\"")),
              HasSubstr("allowed: mm, cm, m, in, thou, ft, um"));
}

TEST(ReadJob, MillimetresForCentimetresGetsDidYouMean) {
  EXPECT_EQ(only_line(sample_with("\"380 mm\"", "\"52 mm\"")),
            "sample.toml:17: propeller.diameter: the value is too small (given: 52 mm); allowed: "
            "60 mm to 700 mm; did you mean \"52 cm\"?");
}

TEST(ReadJob, MillimetresForInchesGetsDidYouMean) {
  EXPECT_THAT(only_line(sample_with("\"380 mm\"", "\"15 mm\"")),
              HasSubstr("did you mean \"15 cm\" or \"15 in\"?"));
}

TEST(ReadJob, DecimalPointOffGetsDidYouMean) {
  // No other unit of pressure brings 10130 hPa into range; a tenth of it does.
  EXPECT_THAT(only_line(sample_after("air.pressure = \"10130 hPa\"")),
              HasSubstr("did you mean \"1013 hPa\"?"));
}

TEST(ReadJob, PercentForNumberGetsDidYouMean) {
  EXPECT_THAT(only_line(sample_with("pitch = ", "camber = 6\npitch = ")),
              HasSubstr("did you mean \"6 %\"?"));
}

TEST(ReadJob, RangeIsShownInTheUnitsOfTheJob) {
  std::string text = sample_with("\"380 mm\"", "\"2 in\"");
  text.replace(text.find("\"Sample\""), 8, "\"Sample\"\nunits = \"inch\"");
  // 60 mm and 700 mm to the thousandth of an inch.
  EXPECT_THAT(only_line(text), HasSubstr("allowed: 2.362 in to 27.56 in"));
}

TEST(ReadJob, WrongKindsAreNamed) {
  EXPECT_THAT(only_line(sample_with("\"380 mm\"", "true")),
              HasSubstr("a quantity is wanted, but true or false stands here"));
  EXPECT_THAT(only_line(sample_with("\"380 mm\"", "[1, 2]")),
              HasSubstr("a quantity is wanted, but a list stands here"));
  EXPECT_THAT(only_line(sample_with("\"Sample\"", "7")),
              HasSubstr("text in quotes is wanted, but a number stands here"));
  EXPECT_THAT(only_line(sample_with("\"Sample\"", "\"Sample\"\nversion = \"2\"")),
              HasSubstr("a whole number, without quotes, is wanted, but text stands here"));
  EXPECT_THAT(only_line(sample_with("\"Sample\"", "2026-01-02")),
              HasSubstr("but a date or time stands here"));
  EXPECT_THAT(only_line(sample_after("air.pressure_is_reduced = \"yes\"")),
              HasSubstr("true or false, without quotes, is wanted"));
}

TEST(ReadJob, WholeNumbersHaveARange) {
  EXPECT_EQ(only_line(sample_with("pitch = ", "blades = 5\npitch = ")),
            "sample.toml:18: propeller.blades: the number is too large (given: 5); allowed: 2 to "
            "4; give a whole number in this range");
}

TEST(ReadJob, NumbersThatAreNotFiniteAreRefused) {
  for (const char* bad : {"nan", "inf", "-inf"}) {
    EXPECT_THAT(only_line(sample_with("pitch = ", fmt::format("camber = {}\npitch = ", bad))),
                HasSubstr("propeller.camber: this is not a finite number"));
  }
}

TEST(ReadJob, UnknownWordGetsTheNearest) {
  EXPECT_EQ(only_line(sample_with("pitch = ", "hand = \"clokwise\"\npitch = ")),
            "sample.toml:18: propeller.hand: this word is not known here (given: clokwise); "
            "allowed: clockwise, anticlockwise; did you mean \"clockwise\"?");
}

TEST(ReadJob, UnknownFieldGetsTheNearestName) {
  EXPECT_EQ(only_line(sample_with("pitch = ", "spar_positon = 0.4\npitch = ")),
            "sample.toml:18: propeller.spar_positon: no field or section has this name; did you "
            "mean \"propeller.spar_position\"?");
}

TEST(ReadJob, FieldInTheWrongSectionGetsItsPlace) {
  EXPECT_THAT(only_line(sample_with("roof_height", "wing_camber = 0.05\nroof_height")),
              HasSubstr("did you mean \"model.wing_camber\"?"));
}

TEST(ReadJob, UnknownSectionGetsTheNearestName) {
  EXPECT_EQ(only_line(std::string(sample) + "[lanch]\nheight = \"1 m\"\n"),
            "sample.toml:24: lanch: no field or section has this name; did you mean \"launch\"?");
}

TEST(ReadJob, ValueInPlaceOfASectionIsRefused) {
  EXPECT_THAT(only_line(sample_after("launch = 3")),
              StartsWith("sample.toml:1: launch: this is a section, but a number stands here"));
}

TEST(ReadJob, NeededFieldLeftOutIsReportedAtItsSection) {
  EXPECT_EQ(only_line(sample_with("roof_height = \"8 m\"\n", "")),
            "sample.toml:4: hall.roof_height: this field is needed and is not given; allowed: 2 m "
            "to 120 m; add it");
}

TEST(ReadJob, MissingSectionIsReportedWithoutALine) {
  const auto problems = problems_of(sample_with("[hall]\nroof_height = \"8 m\"\n", ""));
  ASSERT_EQ(problems.size(), 1u);
  EXPECT_EQ(problems[0].line, 0);
  EXPECT_EQ(problems[0].field, "hall.roof_height");
}

TEST(ReadJob, EmptyFileNamesEverythingNeeded) {
  std::vector<std::string> fields;
  for (const auto& problem : problems_of("")) fields.push_back(problem.field);
  EXPECT_THAT(fields, ElementsAre("job.name", "hall.roof_height", "model.mass", "model.wing_span",
                                  "motor.loop_length", "propeller.diameter", "model.wing_chord",
                                  "motor.strip_width", "propeller.pitch"));
}

TEST(ReadJob, AllProblemsAtOnceInFileOrder) {
  std::string text = sample_with("\"8 m\"", "\"800 m\"");
  text.replace(text.find("\"3 g\""), 5, "3");
  text.replace(text.find("pitch = \"660 mm\""), 16, "pitsch = \"660 mm\"");
  std::vector<int> lines;
  std::vector<std::string> fields;
  for (const auto& problem : problems_of(text)) {
    EXPECT_EQ(problem.file, "sample.toml");
    lines.push_back(problem.line);
    fields.push_back(problem.field);
  }
  EXPECT_THAT(lines, ElementsAre(5, 8, 16, 18));
  EXPECT_THAT(fields,
              ElementsAre("hall.roof_height", "model.mass", "propeller.pitch", "propeller.pitsch"));
}

TEST(ReadJob, SyntaxErrorIsOneProblemWithItsLine) {
  const auto problems = problems_of(sample_with("\"8 m\"", "8 m"));
  ASSERT_EQ(problems.size(), 1u);
  EXPECT_EQ(problems[0].line, 5);
  EXPECT_THAT(problems[0].message, StartsWith("the file cannot be read as TOML: "));
  EXPECT_FALSE(problems[0].remedy.empty());
}

TEST(ReadJob, FieldGivenTwiceIsRefused) {
  const auto problems = problems_of(sample_with("pitch = \"660 mm\"",
                                                "pitch = \"660 mm\"\n"
                                                "pitch = \"640 mm\""));
  ASSERT_EQ(problems.size(), 1u);
  EXPECT_EQ(problems[0].line, 19);
}

TEST(ReadJob, ControlCharactersInTextAreRefused) {
  EXPECT_THAT(only_line(sample_with("\"Sample\"", "\"Sam\\u001bple\"")),
              HasSubstr("the text holds a control character"));
  EXPECT_EQ(read_sample(sample_with("\"Sample\"", "\"Sample\"\nnote = \"two\\nlines\"")).info.note,
            "two\nlines");
}

TEST(ReadJob, EmptyNameIsRefused) {
  EXPECT_THAT(only_line(sample_with("\"Sample\"", "\"\"")), HasSubstr("the text is empty"));
}

TEST(ReadJob, TooLongTextIsRefusedAndShownShortened) {
  const auto problems = problems_of(sample_with("Sample", std::string(500, 'x')));
  ASSERT_EQ(problems.size(), 1u);
  EXPECT_EQ(problems[0].value.size(), 83u);  // 80 characters and three dots
}

TEST(ReadJob, RowsAreReadAndTheirProblemsNumbered) {
  std::string text = sample_with("pitch = \"660 mm\"\n", "");
  text.erase(text.find("[propeller.outline]"));
  const std::string good = text +
                           "[[propeller.station]]\nradius = \"30 mm\"\nchord = \"20 mm\"\n"
                           "angle = \"70 deg\"\n"
                           "[[propeller.station]]\nradius = \"100 mm\"\nchord = \"50 mm\"\n"
                           "angle = \"45 deg\"\ncamber = 0.05\n"
                           "[[propeller.station]]\nradius = \"190 mm\"\nchord = \"0 mm\"\n"
                           "angle = \"29 deg\"\n";
  const Job job = read_sample(good);
  ASSERT_EQ(job.propeller.stations.size(), 3u);
  EXPECT_EQ(job.propeller.source, BladeSource::stations);
  EXPECT_DOUBLE_EQ(job.propeller.stations[1].camber.value(), 0.05);
  EXPECT_FALSE(job.propeller.stations[0].camber);

  std::string bad = good;
  bad.replace(bad.find("chord = \"50 mm\""), 15, "cord = \"50 mm\"");
  std::vector<std::string> fields;
  for (const auto& problem : problems_of(bad)) fields.push_back(problem.field);
  EXPECT_THAT(fields, ElementsAre("propeller.station[2].chord", "propeller.station[2].cord"));
}

TEST(ReadJob, DirectionsOfWhatWasLearned) {
  const std::string table = std::string(sample) +
                            "\n[learned]\nairframe_drag = 1.05\n"
                            "[[learned.direction]]\nleft = 0.05\n"
                            "airframe_drag = 0.6\nrubber_energy = -0.8\n";
  const Job job = read_sample(table);
  ASSERT_EQ(job.learned.directions.size(), 1u);
  EXPECT_DOUBLE_EQ(job.learned.directions[0].rubber_energy, -0.8);
  const auto problems = problems_of(table + "trim_lift = 0.5\n");
  ASSERT_EQ(problems.size(), 1u);
  EXPECT_EQ(problems[0].field, "learned.direction[1]");
  EXPECT_THAT(problems[0].message, HasSubstr("1.118"));
}

TEST(ReadJob, TableOfRowsWrittenAsASectionIsRefused) {
  const auto problems =
      problems_of(std::string(sample) + "[propeller.measured_chord]\nradius = \"30 mm\"\n");
  ASSERT_FALSE(problems.empty());
  EXPECT_THAT(problems[0].remedy, HasSubstr("write [[propeller.measured_chord]]"));
}

}  // namespace
}  // namespace propwright::brief
