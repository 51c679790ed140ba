#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "program.h"

namespace propwright::desk::test {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

const char* const all_commands[] = {"packet", "predict", "shape", "form",
                                    "rotor",  "rubber",  "air",   "workshop"};

TEST(Help, ListsTheCommandsAndExitStatuses) {
  const Outcome help = run("--help");
  EXPECT_EQ(help.status, 0);
  EXPECT_THAT(help.err, IsEmpty());
  for (const std::string command : all_commands) EXPECT_THAT(help.out, HasSubstr("\n  " + command));
  EXPECT_THAT(help.out, HasSubstr("Exit status: 0 done"));
}

TEST(Help, OfEveryCommandShowsAnExampleOfItself) {
  for (const std::string command : all_commands) {
    const Outcome help = run(command + " --help");
    EXPECT_EQ(help.status, 0);
    EXPECT_THAT(help.out, HasSubstr("Example:\n  propwright " + command + " "));
    EXPECT_THAT(help.out, HasSubstr("--json"));
  }
}

TEST(Version, IsOneLine) {
  const Outcome version = run("--version");
  EXPECT_EQ(version.status, 0);
  EXPECT_THAT(version.out, testing::MatchesRegex("propwright [0-9.]+\n"));
}

TEST(Usage, UnknownCommandIsStatus2WithTheNearestName) {
  const Outcome wrong = run("predct examples/lantern46.toml");
  EXPECT_EQ(wrong.status, 2);
  EXPECT_THAT(wrong.out, IsEmpty());
  EXPECT_THAT(wrong.err, HasSubstr("did you mean predict?"));
}

TEST(Usage, NoCommandIsStatus2) {
  const Outcome wrong = run("");
  EXPECT_EQ(wrong.status, 2);
  EXPECT_THAT(wrong.err, HasSubstr("packet, predict"));
}

TEST(Usage, EveryMistakeIsListedWithTheNearestOption) {
  const Outcome wrong = run("air --temprature '15 degC' --reducd --json");
  EXPECT_EQ(wrong.status, 2);
  EXPECT_EQ(problem_of(wrong, "--temprature").at("remedy"), "did you mean --temperature?");
  EXPECT_EQ(problem_of(wrong, "--reducd").at("remedy"), "did you mean --reduced?");
  EXPECT_EQ(problem_of(wrong, "--temperature").at("message"), "this option is needed");
}

TEST(Usage, AnOptionWithoutItsValueIsSaidSo) {
  for (const std::string words : {"air --temperature", "air --temperature --reduced"}) {
    const Outcome wrong = run(words);
    EXPECT_EQ(wrong.status, 2) << words;
    EXPECT_THAT(wrong.err, HasSubstr("--temperature: this option lacks its value")) << words;
  }
}

TEST(Usage, AnOptionGivenTwiceIsRefused) {
  const Outcome wrong = run("air --temperature '15 degC' --temperature '16 degC' --json");
  EXPECT_EQ(wrong.status, 2);
  EXPECT_EQ(problem_of(wrong, "--temperature").at("remedy"), "give it once");
}

TEST(Usage, AMissingInputIsStatus2) {
  EXPECT_EQ(run("predict").status, 2);
  EXPECT_EQ(run("packet examples/lantern46.toml").status, 2);  // no --output
  EXPECT_EQ(run("rotor --speed '1 m/s' --rev '1 rev/s'").status, 2);
}

TEST(Usage, AWordTooManyIsStatus2) {
  const Outcome wrong = run("air --temperature '15 degC' 16");
  EXPECT_EQ(wrong.status, 2);
  EXPECT_THAT(wrong.err, HasSubstr("one word too many (given: 16)"));
}

TEST(Problems, WithJsonAreOneDocumentWithEveryKey) {
  const Outcome wrong = run("air --temperature 15 --humidity '140 %' --json");
  EXPECT_EQ(wrong.status, 3);
  const auto problems = wrong.json().at("problems");
  EXPECT_EQ(problems.size(), 2);
  for (const auto& problem : problems) {
    for (const char* key : {"file", "line", "field", "value", "allowed", "remedy", "message"}) {
      EXPECT_TRUE(problem.contains(key)) << key;
    }
  }
}

TEST(Problems, BareNumbersAreRefusedAllAtOnce) {
  const Outcome wrong =
      run("rotor examples/lantern46.toml --speed 0.9 --rev 1.5 --stations 9m --json");
  EXPECT_EQ(wrong.status, 3);
  EXPECT_THAT(problem_of(wrong, "--speed").at("message"), HasSubstr("unit is missing"));
  EXPECT_THAT(problem_of(wrong, "--rev").at("message"), HasSubstr("unit is missing"));
  EXPECT_EQ(problem_of(wrong, "--stations").at("value"), "9m");
}

TEST(Problems, OfAJobNameFileLineAndField) {
  const Folder folder;
  std::string job = read(PROPWRIGHT_SOURCE_DIR "/examples/lantern46.toml");
  const auto at = job.find("roof_height = ");
  ASSERT_NE(at, std::string::npos);
  job.replace(at, std::string("roof_height").size(), "roof_heigth");
  const std::string path = folder.file("job.toml", job);
  const Outcome wrong = run("predict '" + path + "' --json");
  EXPECT_EQ(wrong.status, 3);
  const auto problem = problem_of(wrong, "hall.roof_heigth");
  EXPECT_EQ(problem.at("file"), path);
  const auto line = 1 + std::count(job.begin(), job.begin() + static_cast<long>(at), '\n');
  EXPECT_EQ(problem.at("line"), line);
  const Outcome plain = run("predict '" + path + "'");
  EXPECT_THAT(plain.err, HasSubstr(path + ":" + std::to_string(line) + ": hall.roof_heigth: "));
  EXPECT_THAT(plain.out, IsEmpty());
}

TEST(Problems, AFileThatIsNotThereIsStatus5) {
  const Outcome wrong = run("predict examples/none.toml --json");
  EXPECT_EQ(wrong.status, 5);
  EXPECT_EQ(wrong.json().at("problems").at(0).at("file"), "examples/none.toml");
  EXPECT_EQ(run("predict examples").status, 5);
}

TEST(Problems, ACertificateGoesWithItsKey) {
  const Folder folder;
  const std::string open =
      "open --port 0 --json --workshop '" + (folder.path() / "w.sqlite").string();
  const Outcome alone = run(open + "' --certificate '" + folder.file("c.pem", "no PEM") + "'");
  EXPECT_EQ(alone.status, 3);
  problem_of(alone, "--key");
  const Outcome none = run(open + "' --certificate '" + folder.file("c.pem", "no PEM") +
                           "' --key '" + folder.file("k.pem", "no PEM") + "'");
  EXPECT_EQ(none.status, 3);
  problem_of(none, "--certificate");
  problem_of(none, "--key");
}

TEST(Problems, AttachedFilesAreLookedForBesideTheJob) {
  const Folder folder;
  std::filesystem::copy(PROPWRIGHT_SOURCE_DIR "/examples", folder.path());
  std::string job = read(PROPWRIGHT_SOURCE_DIR "/examples/lantern46.toml");
  const auto at = job.find("[propeller]\n");
  ASSERT_NE(at, std::string::npos);
  job.insert(at + std::string("[propeller]\n").size(), "polar_file = \"arc.csv\"\n");
  const std::string path = folder.file("job.toml", job);
  const std::string words = "rotor '" + path + "' --speed '1 m/s' --rev '1.5 rev/s' --json";
  const Outcome wrong = run(words);
  EXPECT_EQ(wrong.status, 5);
  EXPECT_EQ(problem_of(wrong, "propeller.polar_file").at("file"),
            (folder.path() / "arc.csv").string());
  folder.file("arc.csv", "alpha_deg,cl,cd\n-5,-0.5,0.06\n0,0,0.05\n5,0.5,0.06\n");
  const Outcome right = run(words);
  EXPECT_EQ(right.status, 0) << right.err;
}

}  // namespace
}  // namespace propwright::desk::test
