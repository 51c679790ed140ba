// The command shape: what scripts rely on, and the job it writes.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>

#include "program.h"

namespace propwright::desk::test {
namespace {

using testing::HasSubstr;

const std::string shape_job = "shape examples/heron55.toml --no-flight ";

TEST(ShapeCommand, AnswersWithTheKeysOfTheContract) {
  const Outcome shape =
      run("shape examples/lantern46.toml --form '760 mm' --cylinder '4 in' --json");
  ASSERT_EQ(shape.status, 0) << shape.err;
  const auto json = shape.json();
  EXPECT_GT(json.at("ideal").at("efficiency").get<double>(), 0.6);
  EXPECT_GE(json.at("ideal").at("stations").size(), 12u);
  const auto& makeable = json.at("makeable");
  ASSERT_EQ(makeable.size(), 3u);
  EXPECT_EQ(makeable[0].at("kind"), "helical");
  EXPECT_EQ(makeable[1].at("kind"), "form");
  EXPECT_EQ(makeable[2].at("kind"), "cylinder");
  EXPECT_DOUBLE_EQ(makeable[1].at("form_pitch_m").get<double>(), 0.76);
  EXPECT_DOUBLE_EQ(makeable[2].at("cylinder_diameter_m").get<double>(), 0.1016);
  for (const auto& blade : makeable) {
    EXPECT_DOUBLE_EQ(
        blade.at("seconds_lost").get<double>(),
        json.at("ideal").at("duration_s").get<double>() - blade.at("duration_s").get<double>());
  }
}

const char* const shelf_export = R"({"format":"propwright workshop","format_version":1,
"forms":[{"id":"f1","name":"Old block","revision":1,"created_at":"2026-11-25T15:00:00.000Z",
"updated_at":"2026-11-25T15:00:00.000Z","section":{"form":{"kind":"block","pitch":"30 in"}}}],
"cylinders":[{"id":"c1","name":"Tea tin","revision":1,"created_at":"2026-11-25T15:00:00.000Z",
"updated_at":"2026-11-25T15:00:00.000Z","section":{"cylinder":{"diameter":"98.5 mm"}}}]})";

TEST(ShapeCommand, TakesFormsAndCylindersOfTheShelf) {
  const Folder folder;
  const std::string workshop = "--workshop '" + (folder.path() / "w.sqlite").string() + "' ";
  ASSERT_EQ(
      run("workshop import '" + folder.file("shelf.json", shelf_export) + "' " + workshop).status,
      0);
  const Outcome shape = run(shape_job + workshop + "--shelf --json");
  ASSERT_EQ(shape.status, 0) << shape.out << shape.err;
  const auto makeable = shape.json().at("makeable");
  ASSERT_EQ(makeable.size(), 3u);
  EXPECT_EQ(makeable[1].at("name"), "Old block");
  EXPECT_DOUBLE_EQ(makeable[1].at("form_pitch_m").get<double>(), 0.762);
  EXPECT_EQ(makeable[2].at("name"), "Tea tin");
  const Outcome named =
      run(shape_job + workshop + "--cylinder 'tea tin' --cylinder 'tube 4 in' " + "--json");
  ASSERT_EQ(named.status, 0) << named.out;
  EXPECT_DOUBLE_EQ(named.json()["makeable"][1]["cylinder_diameter_m"].get<double>(), 0.0985);
  EXPECT_DOUBLE_EQ(named.json()["makeable"][2]["cylinder_diameter_m"].get<double>(), 0.1016);
}

TEST(ShapeCommand, AShelfThatIsNotThereIsToldSo) {
  const Folder folder;
  const std::string absent = "--workshop '" + (folder.path() / "none.sqlite").string() + "' ";
  EXPECT_EQ(run(shape_job + absent + "--shelf").status, 5);
  EXPECT_FALSE(std::filesystem::exists(folder.path() / "none.sqlite"));
  const Outcome misspelt = run(shape_job + "--cylinder 'tub 4 in' --json");
  EXPECT_EQ(misspelt.status, 3);
  EXPECT_EQ(problem_of(misspelt, "--cylinder").at("remedy"), "did you mean tube 4 in?");
}

TEST(ShapeCommand, WritesAJobThatPredictTakes) {
  const Folder folder;
  const std::string path = (folder.path() / "helical.toml").string();
  const Outcome shape = run("shape examples/heron55.toml --json -o '" + path + "'");
  ASSERT_EQ(shape.status, 0) << shape.err;
  const Outcome predicted = run("predict '" + path + "' --no-interval --json");
  ASSERT_EQ(predicted.status, 0) << predicted.out;
  // The job file holds every digit: the same flight.
  EXPECT_EQ(predicted.json().at("duration_s").get<double>(),
            shape.json().at("makeable")[0].at("duration_s").get<double>());
}

TEST(ShapeCommand, JobInAnotherFolderStillFindsItsTables) {
  const Folder folder;
  const std::string path = (folder.path() / "lantern.toml").string();
  ASSERT_EQ(run("shape examples/lantern46.toml --no-flight -o '" + path + "'").status, 0);
  const Outcome predicted = run("predict '" + path + "' --no-interval --json");
  EXPECT_EQ(predicted.status, 0) << predicted.out;
}

TEST(ShapeCommand, RefusesToWriteABladeThatIsNotThere) {
  const Folder folder;
  const std::string path = (folder.path() / "can.toml").string();
  const Outcome shape = run(shape_job + "--take cylinder -o '" + path + "'");
  EXPECT_EQ(shape.status, 3);
  EXPECT_THAT(shape.err, HasSubstr("--take"));
  EXPECT_FALSE(std::filesystem::exists(path));
}

TEST(ShapeCommand, AsksForOneShaftSpeed) {
  const Outcome shape = run(shape_job + "--free-revs --rev '60 rpm'");
  EXPECT_EQ(shape.status, 2);
  EXPECT_THAT(shape.err, HasSubstr("--free-revs"));
}

TEST(ShapeCommand, ThrustNoBladeGivesIsStatus4) {
  const Outcome shape = run(shape_job + "--thrust '2 N'");
  EXPECT_EQ(shape.status, 4);
  EXPECT_THAT(shape.err, HasSubstr("ask for less thrust"));
}

TEST(ShapeCommand, SpeaksInchesWhereTheJobDoes) {
  const Outcome shape = run("shape examples/sparrow16.toml --no-flight --form '15 in'");
  ASSERT_EQ(shape.status, 0) << shape.err;
  EXPECT_THAT(shape.out, HasSubstr("form of 15.00 in"));
  EXPECT_THAT(shape.out, HasSubstr("chord in"));
}

}  // namespace
}  // namespace propwright::desk::test
