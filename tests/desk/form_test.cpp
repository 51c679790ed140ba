// The command form: what scripts rely on, its drawings, and re-setting.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>

#include "program.h"

namespace propwright::desk::test {
namespace {

using testing::HasSubstr;

TEST(FormCommand, AnswersWithTheKeysOfTheContract) {
  const Outcome form = run("form examples/lantern46.toml --json");
  ASSERT_EQ(form.status, 0) << form.err;
  const auto json = form.json();
  // Made on 760 mm: 45 degrees at P/2 pi (common practice).
  EXPECT_NEAR(json.at("radius_45deg_m").get<double>(), 0.76 / (2 * 3.14159265358979), 1e-12);
  for (const auto& station : json.at("stations")) {
    const double r = station.at("radius_m"), angle = station.at("angle_deg");
    EXPECT_NEAR(std::tan(angle * 3.14159265358979 / 180) * 2 * 3.14159265358979 * r, 0.76, 1e-9);
    const double width = station.at("block_width_m"), height = station.at("block_height_m");
    EXPECT_NEAR(std::hypot(width, height), station.at("chord_m").get<double>(), 1e-12);
  }
  const auto& pattern = json.at("flat_pattern");
  ASSERT_GT(pattern.size(), 20u);
  double last = 0;
  for (const auto& row : pattern) {
    EXPECT_GT(row.at("along_m").get<double>(), last);
    last = row.at("along_m");
    EXPECT_GE(row.at("lead_m").get<double>(), 0);
    EXPECT_GE(row.at("trail_m").get<double>(), 0);
    EXPECT_LT(row.at("strain").get<double>(), 0.02);
  }
  EXPECT_TRUE(json.at("flat_pattern_strain").at("within_limit"));
  EXPECT_TRUE(json.at("cylinder").is_null());
  EXPECT_TRUE(json.at("files").empty());
}

TEST(FormCommand, WritesEachDrawingAsSvgAndDxf) {
  const Folder folder;
  const std::filesystem::path out = folder.path() / "form";
  const Outcome form =
      run("form examples/lantern46.toml --cylinder '4 in' --json -o '" + out.string() + "'");
  ASSERT_EQ(form.status, 0) << form.out << form.err;
  int svg = 0, dxf = 0;
  const auto json = form.json();
  for (const auto& file : json.at("files")) {
    EXPECT_GT(std::filesystem::file_size(file.at("path").get<std::string>()), 100u);
    svg += file.at("kind") == "svg";
    dxf += file.at("kind") == "dxf";
  }
  EXPECT_EQ(svg, dxf);
  for (const char* name : {"svg/flat-pattern.svg", "dxf/flat-pattern.dxf", "dxf/outline.dxf",
                           "dxf/layout-line-102mm.dxf"}) {
    EXPECT_TRUE(std::filesystem::exists(out / name)) << name;
  }
}

TEST(FormCommand, TakesACylinderByItsName) {
  const Outcome by_name = run("form examples/lantern46.toml --cylinder 'tube 4 in' --json");
  ASSERT_EQ(by_name.status, 0) << by_name.out;
  const Outcome by_size = run("form examples/lantern46.toml --cylinder '4 in' --json");
  EXPECT_EQ(by_name.json().at("cylinder"), by_size.json().at("cylinder"));
  EXPECT_EQ(run("form examples/lantern46.toml --cylinder '4 m'").status, 3);
  EXPECT_EQ(run("form examples/lantern46.toml --cylinder '4'").status, 3);
}

// A trade example: a blade of a 22.5 in form set to 26 in at 5 in is turned 4 degrees (common
// practice; the figure follows from the tangents).
TEST(FormCommand, ResetTurnsEveryStationAlike) {
  const Outcome reset =
      run("form --reset --made-on '22.5 in' --at '5 in' --pitch '26 in' --radius '5 in' --json");
  ASSERT_EQ(reset.status, 0) << reset.err;
  const auto json = reset.json();
  EXPECT_NEAR(json.at("turn_deg").get<double>(), 4.0, 0.05);
  EXPECT_NEAR(json.at("stations")[0].at("pitch_m").get<double>(), 26 * 0.0254, 1e-12);
  const Outcome by_angle =
      run("form --reset --made-on '580 mm' --at '90 mm' --angle '47 deg' --radius '90 mm' --json");
  EXPECT_NEAR(by_angle.json().at("stations")[0].at("angle_deg").get<double>(), 47, 1e-9);
}

TEST(FormCommand, RefusesHalfAReset) {
  EXPECT_EQ(run("form --reset --made-on '580 mm'").status, 2);
  EXPECT_EQ(run("form --reset --made-on '580 mm' --at '90 mm'").status, 2);
  EXPECT_EQ(run("form examples/lantern46.toml --angle '47 deg'").status, 2);
  EXPECT_EQ(run("form").status, 2);
  const Outcome bad = run("form --reset --made-on '0 mm' --at '90 mm' --angle '47 deg'");
  EXPECT_EQ(bad.status, 3);
  EXPECT_THAT(bad.err, HasSubstr("--made-on"));
}

TEST(FormCommand, CylinderThatCannotTwistIsStatus4AndWritesNothing) {
  const Folder folder;
  const std::filesystem::path out = folder.path() / "form";
  const Outcome form =
      run("form examples/lantern46.toml --cylinder '0.9 m' -o '" + out.string() + "'");
  EXPECT_EQ(form.status, 4);
  EXPECT_THAT(form.err, HasSubstr("thinner cylinder"));
  EXPECT_FALSE(std::filesystem::exists(out));
}

TEST(FormCommand, StrainBeyondTheLimitIsSaid) {
  const Outcome form = run("form examples/lantern46.toml --strain-limit '0.2 %'");
  ASSERT_EQ(form.status, 0) << form.err;
  EXPECT_THAT(form.out, HasSubstr("more than the 0.2 %"));
}

}  // namespace
}  // namespace propwright::desk::test
