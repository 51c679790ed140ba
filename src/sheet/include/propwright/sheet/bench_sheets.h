/// The bench on paper: a deflection card for the rig, a V-groove sanding block and taper gauge for
/// the spars, the bench sheet of a batch, tags and target cards. Plain page data in SI, printed in
/// the user's units; as in packet.h nothing about wood or flight is worked out here. What is empty
/// is left out and the pages renumber. What is drawn at true scale follows the measured bar.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "propwright/sheet/form_sheets.h"
#include "propwright/sheet/packet.h"

namespace propwright::sheet {

/// A card that stands behind the tip of a spar in the rig.
struct DeflectionCard {
  std::string rig = {};  ///< "Rig 2"
  double load_kg = 0;
  /// From the clamp, along the spar; > 0. No distance beyond 0.6 m is drawn.
  double load_at_m = 0, read_at_m = 0;
  bool follows_spar = true;       ///< read at a mark on the spar; else at a fixed distance
  bool zero_is_straight = false;  ///< zero is the straight line; else the spar without its weight
  double zero_reading_m = 0;      ///< what it reads without the weight
  double resolution_m = 0, repeatability_m = 0;  ///< of one reading, 1 sigma; 0 = not known
  double deepest_m = 0.02;  ///< the scale goes at least so far down; 5 to 60 mm
  /// The spar's shape under its weight, x from the clamp and y down; may be empty.
  std::vector<std::pair<double, double>> curve_m = {};
  std::string curve_words = {};  ///< "spar 11, 414 thou"
  std::string notes = {};        ///< of the clamp; may be empty
};

/// What a spar is to measure at a place along it.
struct SizeStation {
  double along_m = 0;  ///< from the root, rising from station to station
  double size_m = 0;   ///< diameter, or width across flats
};

/// A V across the top of a block in which a round tapered spar lies flush when it is to size.
struct SandingBlock {
  std::string title = {};                  ///< "1.60 to 0.70 mm over 190 mm"
  std::vector<SizeStation> stations = {};  ///< at least two; straight between them
  double angle_rad = 1.5707963267948966;   ///< between the walls of the V; 60 to 120 degrees
  double block_width_m = 0.020, block_height_m = 0.015;
};

/// The V at a place along the block.
struct Groove {
  double depth_m = 0;  ///< of the bottom of the V below the surface
  double width_m = 0;  ///< between the edges at the surface
};

/// A round bar of diameter d touches both walls of a V of the angle a between them with its middle
/// d / (2 sin(a/2)) above the bottom; its top is flush with the surface where the bottom lies d/2
/// more below, so depth = d/2 (1 + 1/sin(a/2)) and width = 2 depth tan(a/2). For a V of 90 degrees:
/// depth = d/2 (1 + sqrt 2), width = 2 depth. Own derivation. The slope of the groove, below 1 in
/// 100, is left out: less than 1 in 10 000 of the depth.
Groove groove(double diameter_m, double angle_rad);

/// Limits of size along a spar: it goes into the wide notch of its station and not into the narrow
/// one, and stops in the long wedge between the two marks.
struct TaperGauge {
  std::string title = {};  ///< "width, both ways"
  struct Station {
    double along_m = 0;
    double least_m = 0, most_m = 0;  ///< 0 < least < most
  };
  std::vector<Station> stations = {};  ///< one to 12
};

enum class EndShape { square, rectangular, round, rounded_square };

/// A spar of the batch as measured. Numbers that are not there are left blank to write on.
struct BenchSpar {
  std::string id = {};
  EndShape shape = EndShape::square;
  std::optional<double> root_width_m = {}, root_depth_m = {}, tip_width_m = {}, tip_depth_m = {},
                        mass_kg = {};
  /// Mark up, mark at the side, half-way between.
  std::optional<double> reading_0_m = {}, reading_90_m = {}, reading_45_m = {};
  std::optional<double> modulus_0_Pa = {}, modulus_90_Pa = {};
  std::optional<double> ei_0_Nm2 = {}, ei_90_Nm2 = {};  ///< of the uniform spar that reads the same
  double ei_0_sigma_Nm2 = 0, ei_90_sigma_Nm2 = 0;
  /// EI as mounted, across the blade and along the chord, for the scatter; empty: as measured.
  std::optional<double> mounted_0_Nm2 = {}, mounted_90_Nm2 = {};
  std::string with = {};     ///< id of its partner; may be empty
  bool turned = false;       ///< mounted otherwise than mark to the front
  std::string verdict = {};  ///< "matched"
};

/// Both spars of a pair as they are mounted.
struct BenchPair {
  std::string a = {}, b = {};  ///< ids
  bool matched = false;        ///< joined by a solid line; else a broken one
  std::string verdict = {};    ///< "matched", "sand 10"
  std::string words = {};      ///< what to do, one or two sentences
  /// Of the mark, from the front towards the trailing edge, which is drawn at the right.
  double turn_a_rad = 0, turn_b_rad = 0;
};

/// A spar to be sanded: what to take off and what it should read then.
struct SandingAdvice {
  std::string id = {}, partner = {};
  std::string step = {};                       ///< "round 3"; may be empty
  double off_each_0_m = 0, off_each_90_m = 0;  ///< the marked face and its opposite; the two others
  bool all_round = false;                      ///< a round spar: off_each_0_m all round
  std::string where = {};                      ///< "From 1.5 in to the tip"
  /// Blank where that direction stays as it is.
  std::optional<double> target_0_m = {}, target_0_least_m = {}, target_0_most_m = {};
  std::optional<double> target_90_m = {}, target_90_least_m = {}, target_90_most_m = {};
};

/// A batch of spars.
struct BenchBatch {
  std::string sentence = {};   ///< the one sentence over the sheet
  std::string rig_words = {};  ///< "0.270 g at 6.00 in, read at 6.00 in, zero ..."
  double tolerance = 0.05;     ///< share of EI drawn as a band
  std::vector<BenchSpar> spars = {};
  std::vector<BenchPair> pairs = {};
  std::vector<SandingAdvice> sanding = {};
  int blank_rows = 4;  ///< for spars still to come
};

/// One line of a target card.
struct TargetRow {
  std::string what = {};  ///< "mass", "angle at 120 mm"
  Measure measure = Measure::word;
  double target = 0, tolerance = 0;  ///< SI; tolerance 0 = none is told
  std::string words = {};            ///< instead of the numbers
};
/// What a blade is to come out as, with room for what it did.
struct TargetCard {
  std::string title = {};  ///< "Replacement for blade A of P14"
  std::string words = {};
  std::vector<std::string> blanks = {"first", "second", "done"};  ///< heads of the columns to write
  std::vector<TargetRow> rows = {};
  std::vector<Hazard> hazards = {};
};

/// Everything that goes into bench.pdf.
struct BenchSheets {
  std::string subject = "batch";  ///< what the title block names: "batch", "propeller"
  std::string batch;              ///< "7": in the title block and on the tags
  std::vector<DeflectionCard> cards;
  std::vector<SandingBlock> blocks;
  std::vector<TaperGauge> gauges;
  std::optional<BenchBatch> spars;
  bool tags = true;  ///< one for each spar
  std::vector<TargetCard> targets;
};

/// The PDF; the same data and options give the same bytes. Problems: bad_input (a number that is
/// not finite, a length out of its range, options as packet_pdf), resource_failed.
base::Expected<PacketPdf> bench_pdf(const BenchSheets& sheets, const PacketOptions& options);

/// A drawing of its own with both scale bars: "deflection-card-1", "sanding-block-1",
/// "taper-gauge-1", "tags-1".
struct BenchDrawing {
  std::string name, svg;
};
/// Every true-scale drawing as SVG in mm, 1:1; text as paths. Problems as bench_pdf.
base::Expected<std::vector<BenchDrawing>> bench_svgs(const BenchSheets& sheets,
                                                     const PacketOptions& options);

/// Writes bench.pdf and svg/<name>.svg, making the directory where needed; each file whole or not
/// at all. Problems as write_packet.
base::Expected<PacketFiles> write_bench(const BenchSheets& sheets, const PacketOptions& options,
                                        const std::string& directory);

}  // namespace propwright::sheet
