// Form stations: projections, sheet width, over-bend.
#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "random_blades.h"

namespace propwright::form {
namespace {

RC_GTEST_PROP(FormStations, BlockIsTheChordAsDiagonalAndHeightOverWidthIsTheHelix, ()) {
  Form form;
  form.pitch_m = *between(0.1, 1.2);
  form.camber = *between(0, 0.15);
  const auto shape = random_shape();
  auto rows = outline(shape, 20).value();
  rows.erase(rows.begin());  // the root may lie on the shaft axis
  for (const auto& station : form_stations(form, rows)) {
    RC_ASSERT(std::abs(std::hypot(station.block_width_m, station.block_height_m) -
                       station.chord_m) < 1e-16);
    // Block rule: height/width = P/(2 pi r); both sides cross-multiplied.
    RC_ASSERT(std::abs(station.block_height_m * 2 * base::pi * station.radius_m -
                       station.block_width_m * form.pitch_m) < 1e-15);
    RC_ASSERT(std::abs(station.pitch_m - form.pitch_m) < 1e-12);
    RC_ASSERT(station.sheet_width_m >= station.chord_m);
  }
}

TEST(FormStations, OverbendScalesAngleAndCamber) {
  Form form{.pitch_m = 0.7, .camber = 0.05, .angle_overbend = 1.1, .camber_overbend = 1.4};
  const auto rows = outline_from_chords({0.1}, {0.05}, 0.4);
  const auto station = form_stations(form, rows).front();
  EXPECT_DOUBLE_EQ(station.angle_rad, 1.1 * blade_angle_rad(0.7, 0.1));
  EXPECT_DOUBLE_EQ(station.camber_height_m, 0.07 * 0.05);
  EXPECT_DOUBLE_EQ(station.sheet_width_m, arc_length_m(0.05, 0.07));
  EXPECT_DOUBLE_EQ(station.pitch_m, local_pitch_m(station.angle_rad, 0.1));
}

TEST(FormStations, GivenAnglesReplaceTheHelix) {
  Form form{.pitch_m = 0.7};
  form.angles_rad = {0.9, 0.5};
  const auto rows = outline_from_chords({0.1, 0.2}, {0.05, 0.03}, 0.4);
  const auto stations = form_stations(form, rows);
  EXPECT_EQ(stations[0].angle_rad, 0.9);
  EXPECT_EQ(stations[1].angle_rad, 0.5);
  EXPECT_DOUBLE_EQ(stations[1].pitch_m, 2 * base::pi * 0.2 * std::tan(0.5));
  form.angles_rad = {0.9};
  EXPECT_THROW(form_stations(form, rows), std::invalid_argument);
}

TEST(FormStations, ReversedFormHasPositiveBlockHeight) {
  const auto rows = outline_from_chords({0.1}, {0.05}, 0.4);
  const auto station = form_stations({.pitch_m = -0.7}, rows).front();
  EXPECT_LT(station.angle_rad, 0);
  EXPECT_GT(station.block_height_m, 0);
}

}  // namespace
}  // namespace propwright::form
