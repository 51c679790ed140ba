/// A batch of spars: from what was measured to stiffness, pairs, sanding, and the one thing to do
/// now. Shared by the command and the pages; its documents are in docs/openapi.yaml.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "propwright/answer/json_text.h"
#include "propwright/base/problem.h"
#include "propwright/spar/pairs.h"
#include "propwright/spar/reduce.h"
#include "propwright/spar/rig.h"
#include "propwright/spar/sanding.h"
#include "propwright/units/units.h"

namespace propwright::answer {

/// One time that a spar was measured, in SI. What is left out stands as in the state before.
struct SparStateInput {
  std::string field;  ///< where it stands, "spars[4].states[2]", counted from 1
  std::string step, measured_at;
  std::optional<double> root_width_m, root_depth_m, middle_width_m, middle_depth_m, tip_width_m,
      tip_depth_m, corner_radius_m, mass_kg;
  spar::Readings readings;
  std::optional<spar::Rig> rig;                ///< the one of these readings; empty: the batch's
  double sanded_from_m = 0;                    ///< sanded since the state before: from here
  std::optional<double> sanded_to_m;           ///< to here; empty: to the tip
  double off_0_m = 0, off_90_m = 0;            ///< off each of two faces
  std::map<std::string, std::string> written;  ///< text of each quantity by its name, for problems
  bool sound = true;                           ///< all of it could be read
};

struct SparInput {
  std::string field, id;
  spar::Shape shape = spar::Shape::square;
  double length_m = 0;
  std::vector<SparStateInput> states;  ///< oldest first
  bool set_aside = false;              ///< not to be paired
  bool sound = true;
};

/// A problem, and the spar it belongs to; "" for none.
struct SparProblem {
  std::string id;
  base::Problem problem;
};

/// A batch as it was handed in.
struct SparBatch {
  std::optional<spar::Rig> rig;  ///< empty where it is not sound
  std::optional<spar::Calibration> calibration;
  int calibration_readings = 0;
  units::Profile profile = units::Profile::metric;
  double size_sigma_m = 0;
  spar::Limits limits;
  std::vector<std::pair<std::string, std::string>> keep_pairs;
  std::string next;  ///< id of the spar in the builder's hand, or ""
  std::vector<SparInput> spars;
  std::vector<SparProblem> problems;
};

/// Reads the request of POST /api/bench/spars. What is wrong is in SparBatch::problems; the rest is
/// there.
SparBatch read_spars(const Json& request);

/// A row of a spar's history.
struct SparState {
  std::string step, measured_at;
  bool to_come = false;  ///< expected after sanding as advised, not measured
  std::optional<spar::Taper> taper;
  std::optional<double> mass_kg, density_kg_m3;
  double off_0_m = 0, off_90_m = 0;
  std::optional<double> reading_0_m, reading_90_m, reading_45_m;  ///< means
  int repeats = 0;
  std::optional<spar::Measured> measured;
  /// How much stiffer than its partner stands now, where they differ most, both as mounted.
  std::optional<spar::Comparison> stiffer;
};

/// Low and high end of what a reading should be.
struct SparRange {
  double low_m = 0, high_m = 0;
};

struct SparSanding {
  std::string id, partner, step;
  spar::Cut cut;
  SparRange band_0, band_90;
  double goal_ei_0_Nm2 = 0, goal_ei_90_Nm2 = 0;
  double expected_mismatch = 0;
  std::vector<std::string> sentences;
};

struct SparPair {
  spar::Pair pair;
  bool kept = false;  ///< asked for by the builder
  std::string stiffer, verdict_word, sentence, mount_sentence;
};

/// A spar with its history.
struct SparAnswer {
  std::string id;
  spar::Shape shape = spar::Shape::square;
  std::optional<double> length_m;
  bool set_aside = false;
  int rounds = 0;  ///< states after the first
  std::vector<SparState> history;
  int latest = -1;  ///< the last state that was read in both directions, in `history`
  std::string mark_sentence, partner;
  std::string expect_sentence;  ///< "" where nothing is to be sanded

  const spar::Measured* measured() const {
    return latest < 0 ? nullptr : &*history[static_cast<std::size_t>(latest)].measured;
  }
};

struct SparQuestion {
  std::string id, field, message;
};

/// The one thing to do next.
struct SparNow {
  std::string what;  ///< measure, check, sand, read, make, mount
  std::string id = {}, partner = {}, headline = {}, number = {}, unit = {}, sentence = {},
              caution = {};
  std::optional<int> direction = {};
  std::optional<double> per_face_m = {}, from_m = {}, to_m = {}, target_reading_m = {};
  std::optional<SparRange> band = {};
};

struct SparsAnswer {
  SparBatch batch;
  std::vector<SparAnswer> spars;  ///< in the order given
  std::vector<SparPair> pairs;    ///< matched, sand, cannot tell, make new; nearest first
  std::vector<std::string> unpaired;
  std::vector<SparSanding> sanding;
  std::optional<SparNow> now;
  std::vector<std::string> notes;
  std::vector<SparProblem> problems;  ///< those of the batch, and what the readings cannot be
  std::vector<SparQuestion> questions;

  const SparAnswer* find(const std::string& id) const;
};

SparsAnswer spars_answer(SparBatch batch);

Json spars_json(const SparsAnswer& answer);

/// "0.270 g at 6.00 in, read at 6.00 in, ± 2 thou", with the rig's name before it.
std::string rig_sentence(const spar::Rig& rig, units::Profile profile);
std::string shape_word(spar::Shape shape);        ///< "rounded square"
std::string verdict_word(spar::Verdict verdict);  ///< "cannot_tell"

}  // namespace propwright::answer
