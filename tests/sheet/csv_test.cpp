#include <gtest/gtest.h>

#include <sstream>

#include "demo_packet.h"

namespace propwright::sheet {
namespace {

std::vector<std::string> split(const std::string& line) {
  std::vector<std::string> cells;
  std::istringstream in(line);
  for (std::string cell; std::getline(in, cell, ',');) cells.push_back(cell);
  return cells;
}

std::vector<std::string> lines_of(const std::string& csv) {
  std::vector<std::string> lines;
  std::istringstream in(csv);
  for (std::string line; std::getline(in, line);) {
    if (line.front() != '#') lines.push_back(line);
  }
  return lines;
}

TEST(StationsCsv, HasTheColumnsOfItsHeader) {
  const auto lines = lines_of(stations_csv(demo::packet()));
  EXPECT_EQ(lines.front(),
            "radius_m,chord_m,angle_deg,pitch_m,gauge_angle_deg,form_angle_deg,block_height_m,"
            "block_width_m,camber_height_m,sheet_width_m,lead_m,trail_m");
}

TEST(StationsCsv, HoldsEveryStationInSiAndDegrees) {
  const PacketData data = demo::packet();
  const auto lines = lines_of(stations_csv(data));
  ASSERT_EQ(lines.size(), data.stations.size() + 1);
  for (std::size_t i = 0; i < data.stations.size(); ++i) {
    const auto cells = split(lines[i + 1]);
    ASSERT_EQ(cells.size(), 12u);
    const StationRow& row = data.stations[i];
    const double want[] = {row.radius_m,
                           row.chord_m,
                           row.angle_rad / base::degree_rad,
                           row.pitch_m,
                           row.gauge_angle_rad / base::degree_rad,
                           row.form_angle_rad / base::degree_rad,
                           row.block_height_m,
                           row.block_width_m,
                           row.camber_height_m,
                           row.sheet_width_m,
                           row.lead_m,
                           row.trail_m};
    for (std::size_t k = 0; k < 12; ++k) {
      // Lengths have eight decimals of a metre, angles five of a degree.
      const bool angle = k == 2 || k == 4 || k == 5;
      EXPECT_NEAR(std::stod(cells[k]), want[k], angle ? 6e-6 : 6e-9);
    }
  }
}

}  // namespace
}  // namespace propwright::sheet
