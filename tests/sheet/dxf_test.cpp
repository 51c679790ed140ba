// DXF files, read back by an independent reader (ezdxf) and measured.
#include "propwright/sheet/dxf.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <fstream>
#include <nlohmann/json.hpp>

#include "demo_packet.h"
#include "reading.h"

namespace propwright::sheet {
namespace {

using nlohmann::json;

json read_back(const std::string& bytes) {
  const reading::Folder folder;
  const std::string path = (folder.path() / "drawing.dxf").string();
  std::ofstream(path, std::ios::binary) << bytes;
  const std::string command =
      "/usr/bin/python3 '" PROPWRIGHT_SOURCE_DIR "/tests/sheet/dxf_reading.py' '" + path + "'";
  FILE* pipe = popen(command.c_str(), "r");
  std::string text;
  char buffer[4096];
  while (const std::size_t got = fread(buffer, 1, sizeof buffer, pipe)) text.append(buffer, got);
  EXPECT_EQ(pclose(pipe), 0);
  return json::parse(text);
}

form::Template outline_drawing() {
  return *demo::packet().outline;
}

TEST(Dxf, IsReadWithoutAnErrorOrARepair) {
  for (const auto unit : {DxfUnit::millimetre, DxfUnit::inch}) {
    const json file = read_back(dxf(outline_drawing(), unit));
    EXPECT_EQ(file["version"], "AC1009");
    EXPECT_EQ(file["errors"], 0);
    EXPECT_EQ(file["fixes"], 0);
    EXPECT_EQ(file["unit"], unit == DxfUnit::inch ? 1 : 4);
    for (const char* layer : {"CUT", "SCORE", "MARK"}) {
      EXPECT_THAT(file["layers"].get<std::vector<std::string>>(), testing::Contains(layer));
    }
  }
}

TEST(Dxf, HasEveryPointAtTrueScale) {
  const form::Template drawing = outline_drawing();
  for (const auto& [unit, per_m] :
       {std::pair{DxfUnit::millimetre, 1000.0}, std::pair{DxfUnit::inch, 1 / 0.0254}}) {
    const json lines = read_back(dxf(drawing, unit))["lines"];
    ASSERT_EQ(lines.size(), drawing.lines.size());
    for (std::size_t i = 0; i < lines.size(); ++i) {
      const auto& points = drawing.lines[i].points_m;
      ASSERT_EQ(lines[i]["points"].size(), points.size());
      EXPECT_EQ(lines[i]["closed"], drawing.lines[i].closed);
      for (std::size_t j = 0; j < points.size(); ++j) {
        // A millionth of the unit, rounded.
        EXPECT_NEAR(lines[i]["points"][j][0].get<double>(), points[j].first * per_m, 6e-7);
        EXPECT_NEAR(lines[i]["points"][j][1].get<double>(), points[j].second * per_m, 6e-7);
      }
    }
  }
}

TEST(Dxf, PutsEachKindOnItsLayer) {
  form::Template drawing;
  const auto add = [&](form::TemplateLine::Kind kind) {
    drawing.lines.push_back({.kind = kind, .points_m = {{0, 0}, {0.01, 0}}});
  };
  add(form::TemplateLine::Kind::cut);
  add(form::TemplateLine::Kind::score);
  add(form::TemplateLine::Kind::centre);
  add(form::TemplateLine::Kind::station);
  std::vector<std::string> layers;
  const json file = read_back(dxf(drawing, DxfUnit::millimetre));
  for (const json& line : file["lines"]) {
    layers.push_back(line["layer"]);
  }
  EXPECT_THAT(layers, testing::ElementsAre("CUT", "SCORE", "MARK", "MARK"));
}

TEST(Dxf, TellsLengthsInItsUnitAndDegreesByTheirName) {
  form::Template drawing;
  drawing.texts = {{0, 0, "station", 0, 0.0762}, {0, 0, "45.0° × 2", 0, 0}};
  const std::string mm = dxf(drawing, DxfUnit::millimetre), inch = dxf(drawing, DxfUnit::inch);
  EXPECT_THAT(mm, testing::HasSubstr("\nstation 76.2 mm\n"));
  EXPECT_THAT(inch, testing::HasSubstr("\nstation 3.000 in\n"));
  EXPECT_THAT(mm, testing::HasSubstr("\n45.0%%d x 2\n"));
  for (const char letter : mm) EXPECT_LT(static_cast<unsigned char>(letter), 0x80);
}

TEST(Dxf, IsTheSameBytesTwice) {
  EXPECT_EQ(dxf(outline_drawing(), DxfUnit::inch), dxf(outline_drawing(), DxfUnit::inch));
}

}  // namespace
}  // namespace propwright::sheet
