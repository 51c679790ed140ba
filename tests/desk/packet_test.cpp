#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cctype>
#include <cstdio>
#include <sstream>
#include <vector>

#include "program.h"

namespace propwright::desk::test {
namespace {

namespace fs = std::filesystem;

const std::string packet_job = "packet examples/lantern46.toml --date 2026-11-25 --samples 60 ";

/// "Pages: 13" of pdfinfo.
int pages_of(const fs::path& pdf) {
  FILE* pipe = popen(("pdfinfo '" + pdf.string() + "'").c_str(), "r");
  int pages = 0;
  char line[512];
  while (pipe != nullptr && fgets(line, sizeof line, pipe) != nullptr) {
    const std::string text = line;
    if (text.starts_with("Pages:")) pages = std::stoi(text.substr(6));
  }
  return pipe != nullptr && pclose(pipe) == 0 ? pages : -1;
}

TEST(Packet, WritesTheFilesItNames) {
  const Folder folder;
  const fs::path out = folder.path() / "new" / "packet";
  const Outcome packet = run(packet_job + "-o '" + out.string() + "' --json");
  ASSERT_EQ(packet.status, 0) << packet.out << packet.err;
  int svgs = 0;
  const auto files = packet.json().at("files");
  for (const auto& file : files) {
    const fs::path path = file.at("path").get<std::string>();
    EXPECT_TRUE(fs::file_size(path) > 0) << path;
    if (file.at("kind") == "svg") ++svgs;
    if (file.at("kind") == "pdf") {
      EXPECT_EQ(file.at("pages"), pages_of(path));
      EXPECT_GE(pages_of(path), 8);
    }
  }
  EXPECT_GT(svgs, 10);  // outline, stations, ribs
  for (const char* name : {"packet.pdf", "stations.csv", "prediction.json", "svg/outline.svg"}) {
    EXPECT_TRUE(fs::exists(out / name)) << name;
  }
}

TEST(Packet, KeepsThePredictionAsPredictGivesIt) {
  const Folder folder;
  ASSERT_EQ(run(packet_job + "-o '" + folder.path().string() + "'").status, 0);
  EXPECT_EQ(read(folder.path() / "prediction.json"),
            run("predict examples/lantern46.toml --samples 60 --json").out);
}

TEST(Packet, IsTheSameToTheByteOnTheSameDate) {
  const Folder one, two;
  ASSERT_EQ(run(packet_job + "-o '" + one.path().string() + "'").status, 0);
  ASSERT_EQ(run(packet_job + "--output '" + two.path().string() + "'").status, 0);
  EXPECT_EQ(read(one.path() / "packet.pdf"), read(two.path() / "packet.pdf"));
}

TEST(Packet, LeavesOtherFilesAlone) {
  const Folder folder;
  folder.file("mine.txt", "mine");
  ASSERT_EQ(run(packet_job + "-o '" + folder.path().string() + "'").status, 0);
  EXPECT_EQ(read(folder.path() / "mine.txt"), "mine");
  for (const auto& entry : fs::recursive_directory_iterator(folder.path())) {
    EXPECT_NE(entry.path().extension(), ".part");
  }
}

TEST(Packet, AFolderThatCannotBeMadeIsStatus5) {
  const Folder folder;
  const std::string file = folder.file("in-the-way", "a file");
  const Outcome packet = run(packet_job + "-o '" + file + "/packet' --json");
  EXPECT_EQ(packet.status, 5);
  EXPECT_EQ(read(file), "a file");
}

TEST(Packet, ReportsEveryWrongOption) {
  const Folder folder;
  const std::string out = "-o '" + (folder.path() / "packet").string() + "' --json ";
  const Outcome wrong =
      run("packet examples/lantern46.toml " + out + "--paper a5 --bar-measured '80 mm'");
  EXPECT_EQ(wrong.status, 3);
  EXPECT_EQ(problem_of(wrong, "--paper").at("allowed"), "a4, letter");
  EXPECT_EQ(problem_of(wrong, "--bar-measured").at("value"), "80 mm");
  const Outcome date =
      run("packet examples/lantern46.toml --no-interval " + out + "--date 25.11.2026");
  EXPECT_EQ(date.status, 3);
  problem_of(date, "--date");
  EXPECT_FALSE(fs::exists(folder.path() / "packet"));
}

TEST(Packet, TakesABladeStatedByStations) {
  const Folder folder;
  fs::copy(PROPWRIGHT_SOURCE_DIR "/examples",
           folder.path());  // with the tables a job may name
  std::string text = read(PROPWRIGHT_SOURCE_DIR "/examples/sparrow16.toml");
  const auto from = text.find("[propeller.outline]"), to = text.find("[propeller.blade]");
  ASSERT_TRUE(from != std::string::npos && to != std::string::npos);
  text.erase(from, to - from);
  const auto pitch = text.find("\npitch = ");
  ASSERT_NE(pitch, std::string::npos);
  text.erase(pitch, text.find('\n', pitch + 1) - pitch);
  const auto diameter = text.find("\ndiameter = ");
  text.replace(diameter, text.find('\n', diameter + 1) - diameter, "\ndiameter = \"8 in\"");
  for (const char* row : {"0.6 in\"\nchord = \"0.5 in\"\nangle = \"72 deg",
                          "2 in\"\nchord = \"1.4 in\"\nangle = \"46 deg",
                          "3 in\"\nchord = \"1.3 in\"\nangle = \"34 deg",
                          "4 in\"\nchord = \"0.3 in\"\nangle = \"26 deg"}) {
    text += "\n[[propeller.station]]\nradius = \"" + std::string(row) + "\"\n";
  }
  const std::string path = folder.file("job.toml", text);
  const Outcome packet =
      run("packet '" + path + "' -o '" + folder.path().string() + "' --no-interval --json");
  ASSERT_EQ(packet.status, 0) << packet.out;
  // No helix and no over-bend: the form has the blade's own angles, so both columns agree.
  std::istringstream lines(read(folder.path() / "stations.csv"));
  int rows = 0;
  for (std::string line; std::getline(lines, line);) {
    if (line.empty() || !std::isdigit(static_cast<unsigned char>(line.front()))) continue;
    std::istringstream cells(line);
    std::vector<double> numbers;
    for (std::string cell; std::getline(cells, cell, ',');) numbers.push_back(std::stod(cell));
    ASSERT_GE(numbers.size(), 6);
    EXPECT_NEAR(numbers[2], numbers[5], 1e-6);  // angle_deg, form_angle_deg as printed
    ++rows;
  }
  EXPECT_GE(rows, 8);
}

}  // namespace
}  // namespace propwright::desk::test
