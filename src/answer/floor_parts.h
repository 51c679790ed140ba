/// The tables of a question about rubber. Private.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "bench_reader.h"
#include "propwright/rubber/batch_tests.h"
#include "propwright/rubber/breaking.h"
#include "propwright/rubber/torque_meter.h"
#include "propwright/rubber/usual_strip.h"

namespace propwright::answer {

/// What the tables share: the batch's turns constant serves breaking turns and history.
struct FloorContext {
  units::Profile profile = units::Profile::metric;
  std::optional<double> turns_constant;
  /// Of the batch, where its tests measured them: its other motors are cut from the same strip.
  std::optional<double> thickness_m, density_kg_m3;
  base::Problems problems;

  void add(const base::Problems& more);
};

// Ranges on the floor.
inline constexpr BenchRange floor_section_m2{1e-8, 1e-4}, floor_loop_m{0.01, 5},
    floor_rubber_kg{1e-6, 0.1}, floor_turns{1, 1e6}, floor_torque_Nm{0, 1},
    floor_temperature_K{253.15, 323.15}, floor_time_s{0, 1e9};

Json floor_batch(const Json& table, const Json& other, FloorContext& context);
Json floor_breaking(const Json& table, FloorContext& context);
Json floor_history(const Json& table, FloorContext& context);
Json floor_strip(const Json& table, FloorContext& context);
Json floor_partial(const Json& table, FloorContext& context);
Json floor_meter(const Json& table, FloorContext& context);
Json floor_winder(const Json& table, FloorContext& context);

/// A torque in N m and in the trade's units: torque_Nm, torque_g_cm, torque_oz_in.
Json floor_torque(double torque_Nm);
/// "1.42 mN·m (14.5 g·cm, 0.201 in-oz)".
std::string torque_words(double torque_Nm);
/// The section of a motor, from "section" or from width, thickness and strands. 0 where it is not
/// given, with the problem in the reader. `thickness_m`: of strip whose thickness is not told.
double read_floor_section(BenchReader& reader,
                          double thickness_m = rubber::usual_strip_thickness_m);

/// A motor as its bench table gives it, where its winds do not say otherwise.
struct LoopSize {
  double section_m2 = 0, length_m = 0;
  double thickness_m = rubber::usual_strip_thickness_m;  ///< of strip whose thickness is not told
};
/// The winds of a table; a wind may name a motor of its own, else it is of the table's motor.
std::vector<rubber::Wind> read_floor_winds(BenchReader& reader, const LoopSize& own);
inline const std::vector<std::string> floor_section_members{"section", "width", "thickness",
                                                            "strands"};
/// A scale: "wire" with diameter, length and material, or "weights". Empty with problems.
struct FloorMeter {
  rubber::ScaleFit fit;  ///< reading in degrees for a wire
  std::optional<rubber::WireRate> wire;
  std::vector<rubber::HungWeight> weights;
  std::string unit;  ///< of the reading: "deg", or what the builder calls it
  double step = 1;   ///< the reading is rounded to, in that unit
  /// With the heaviest weight hung, or where the wire may stay bent: beyond it nothing is known.
  std::optional<double> greatest_reading;
};
/// A reading past the heaviest weight hung (half a step is rounding), or past what the wire bears.
bool beyond_calibration(const FloorMeter& meter, double reading);
/// "beyond the heaviest weight hung, 83 division: ...".
std::string beyond_words(const FloorMeter& meter);
std::optional<FloorMeter> read_floor_meter(const Json& table, const std::string& place,
                                           base::Problems& problems);

}  // namespace propwright::answer
