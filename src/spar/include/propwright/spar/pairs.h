/// The best pairs of a batch, how to mount them and what to do about each.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/spar/sanding.h"

namespace propwright::spar {

enum class Verdict {
  matched,      ///< alike in both directions: |mismatch| + 2 sigma within the tolerance
  sand,         ///< one or both are to be sanded; see cuts
  cannot_tell,  ///< the readings are too coarse; see more_readings
  make_new,     ///< sanding cannot bring them together
};

/// EI of the two spars in one direction of the propeller.
struct Comparison {
  double log_ratio = 0;  ///< ln(EI of a / EI of b); positive: a is stiffer
  double sigma = 0;      ///< 1-sigma of it, from the readings
};

/// Two spars side by side. "Flap" is the direction across the blade, "edge" the one along the
/// chord. A turn is from "mark in the flap direction", in the sense of the readings.
struct Pair {
  std::string a = {}, b = {};
  double turn_a_deg = 0, turn_b_deg = 0;  ///< how each is mounted
  Comparison flap = {}, edge = {};
  double mismatch = 0;  ///< the larger of the two |log ratio|
  double sigma = 0;     ///< of that one
  Verdict verdict = Verdict::cannot_tell;
  std::vector<Cut> cuts = {};  ///< verdict sand: one, or one for each spar
  /// Verdict cannot_tell: so many more readings of each spar in each direction would settle it.
  /// Empty: no number up to 50 would; a finer scale is needed.
  std::optional<int> more_readings = {};
  std::string make_new = {};  ///< verdict make_new: the id of the spar to be replaced
  std::string reason = {};    ///< one sentence, plain words
};

/// The best pairs.
struct Pairing {
  std::vector<Pair> pairs = {};
  std::vector<std::string> unpaired = {};  ///< of an odd batch, the one that is left
  double cost = 0;                         ///< sum of squared log ratios over all pairs
};

/// Compares two spars, mounted as they are most alike, and says what to do.
///
/// Mounting: a as marked, b as marked or turned by a quarter. A round spar whose soft axis is known
/// from a 45 reading is mounted with that axis in the flap direction (or, for b, a quarter from
/// it).
///
/// Verdict, with m = |log ratio|, s its 1-sigma, T the tolerance, in each direction: alike when
/// m + 2 s <= T; different when m > T and m > 2 s. Both alike: matched. One different: sand, or
/// make_new where sanding cannot do it. Otherwise cannot_tell: below the readings' noise there is
/// nothing to be gained by sanding.
///
/// Sanding: the fewest cuts that would make a match if they come out as computed: one pair of faces
/// of one spar, else one pair of faces in each direction, on whichever spar is the stiffer in it.
Pair judge(const Measured& a, const Measured& b, const Rig& rig, const Limits& limits);

/// The pairs with the least sum of squared log ratios over both directions and all pairs: exact
/// (weighted perfect matching, Edmonds). Every spar gets a partner, however unlike; `make_new`
/// tells of a hopeless one. Of an odd batch the one is left whose leaving makes the rest most
/// alike. Each pair is judged. Ids must differ.
Pairing pair(const std::vector<Measured>& batch, const Rig& rig, const Limits& limits);

}  // namespace propwright::spar
