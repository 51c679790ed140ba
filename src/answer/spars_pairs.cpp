// Pairs of a batch, and what follows for each spar: the partner, the sanding, the state to come.
#include <algorithm>
#include <cmath>
#include <set>

#include "propwright/spar/deflection.h"
#include "spars_parts.h"

namespace propwright::answer {
namespace {

constexpr double band_sigmas = 2;  ///< of one reading about its target

SparAnswer& spar_of(SparsAnswer& answer, const std::string& id) {
  return *std::find_if(answer.spars.begin(), answer.spars.end(),
                       [&](const SparAnswer& spar) { return spar.id == id; });
}

/// EI of the uniform spar that would show the target reading once the cut is made.
double goal_ei_Nm2(const spar::Measured& now, const spar::Cut& cut, const spar::Rig& rig,
                   double reading_m, double otherwise_Nm2) {
  const double mass_kg = now.density_kg_m3 * spar::volume_m3(cut.after);
  const auto ei = spar::ei_root_Nm2({cut.after, mass_kg, spar::Bending::uniform}, rig, reading_m);
  return ei ? *ei : otherwise_Nm2;
}

SparSanding sanding_of(const spar::Cut& cut, const spar::Pair& pair, SparsAnswer& answer) {
  const SparAnswer& spar = spar_of(answer, cut.id);
  const spar::Rig& rig = *answer.batch.rig;
  SparSanding sanding;
  sanding.id = cut.id;
  sanding.partner = cut.id == pair.a ? pair.b : pair.a;
  sanding.step = round_name(spar.rounds + 1);
  sanding.cut = cut;
  const auto band = [](double target_m, double sigma_m) {
    return SparRange{target_m - band_sigmas * sigma_m, target_m + band_sigmas * sigma_m};
  };
  sanding.band_0 = band(cut.target_reading_0_m, cut.target_sigma_0_m);
  sanding.band_90 = band(cut.target_reading_90_m, cut.target_sigma_90_m);
  const spar::Measured& now = *spar.measured();
  sanding.goal_ei_0_Nm2 = goal_ei_Nm2(now, cut, rig, cut.target_reading_0_m, now.at_0.ei_Nm2);
  sanding.goal_ei_90_Nm2 = goal_ei_Nm2(now, cut, rig, cut.target_reading_90_m, now.at_90.ei_Nm2);
  return sanding;
}

/// The spar as its sanding should leave it: the stiffness in both directions is the goal's.
spar::Measured as_sanded(const spar::Measured& now, const SparSanding& sanding) {
  spar::Measured after = now;
  const double share_0 = sanding.goal_ei_0_Nm2 / now.at_0.ei_Nm2;
  const double share_90 = sanding.goal_ei_90_Nm2 / now.at_90.ei_Nm2;
  after.spar.taper = sanding.cut.after;
  after.at_0.ei_Nm2 *= share_0;
  after.at_90.ei_Nm2 *= share_90;
  after.at_0.ei_root_Nm2 *= share_0;
  after.at_90.ei_root_Nm2 *= share_90;
  const double both = std::sqrt(share_0 * share_90);
  if (after.at_45) after.at_45->ei_Nm2 *= both;
  after.axes.ei_soft_Nm2 *= both;
  after.axes.ei_stiff_Nm2 *= both;
  return after;
}

/// The two spars of a pair and how they are mounted.
struct Mounted {
  double own_turn_deg = 0, other_turn_deg = 0;
};
Mounted mounted(const spar::Pair& pair, const std::string& id) {
  if (id == pair.a) return {pair.turn_a_deg, pair.turn_b_deg};
  return {pair.turn_b_deg, pair.turn_a_deg};
}

/// The larger difference of the two directions, with its sign.
spar::Comparison larger_difference(const spar::Measured& own, const spar::Measured& other,
                                   const Mounted& how) {
  const auto flap = compare_turned(own, how.own_turn_deg, other, how.other_turn_deg);
  const auto edge = compare_turned(own, how.own_turn_deg + 90, other, how.other_turn_deg + 90);
  return std::abs(flap.log_ratio) >= std::abs(edge.log_ratio) ? flap : edge;
}

SparState state_to_come(const SparAnswer& spar, const SparSanding& sanding) {
  const SparState& now = spar.history[static_cast<std::size_t>(spar.latest)];
  SparState state;
  state.step = sanding.step;
  state.to_come = true;
  state.taper = sanding.cut.after;
  state.density_kg_m3 = now.density_kg_m3;
  state.mass_kg = *now.density_kg_m3 * spar::volume_m3(sanding.cut.after);
  state.off_0_m = sanding.cut.remove_0_per_face_m;
  state.off_90_m = sanding.cut.remove_90_per_face_m;
  state.reading_0_m = sanding.cut.target_reading_0_m;
  state.reading_90_m = sanding.cut.target_reading_90_m;
  return state;
}

void compare_history(SparAnswer& spar, const spar::Measured& partner, const spar::Pair& pair) {
  const Mounted how = mounted(pair, spar.id);
  for (SparState& state : spar.history) {
    if (state.measured) state.stiffer = larger_difference(*state.measured, partner, how);
  }
}

void add_sanding(const spar::Pair& pair, SparsAnswer& answer) {
  std::vector<SparSanding> cuts;
  for (const spar::Cut& cut : pair.cuts) cuts.push_back(sanding_of(cut, pair, answer));
  const auto after = [&](const std::string& id) {
    const spar::Measured& now = *spar_of(answer, id).measured();
    for (const SparSanding& sanding : cuts) {
      if (sanding.id == id) return as_sanded(now, sanding);
    }
    return now;
  };
  for (SparSanding& sanding : cuts) {
    SparAnswer& spar = spar_of(answer, sanding.id);
    const auto left =
        larger_difference(after(sanding.id), after(sanding.partner), mounted(pair, sanding.id));
    sanding.expected_mismatch = std::abs(left.log_ratio);
    SparState to_come = state_to_come(spar, sanding);
    to_come.stiffer = left;
    spar.history.push_back(std::move(to_come));
    word_sanding(sanding, spar, answer.batch);
    spar.expect_sentence = sanding.sentences.back();
    sanding.sentences.pop_back();
    answer.sanding.push_back(std::move(sanding));
  }
}

/// Nearest to a match first, within the verdicts' own order: matched, sand, cannot tell, make new.
void sort_pairs(std::vector<SparPair>& pairs) {
  std::stable_sort(pairs.begin(), pairs.end(), [](const SparPair& a, const SparPair& b) {
    if (a.pair.verdict != b.pair.verdict) return a.pair.verdict < b.pair.verdict;
    return a.pair.mismatch < b.pair.mismatch;
  });
}

void judge_all(SparsAnswer& answer) {
  const SparBatch& batch = answer.batch;
  std::set<std::string> kept;
  for (const auto& [a, b] : batch.keep_pairs) {
    const SparAnswer* const one = answer.find(a);
    const SparAnswer* const other = answer.find(b);
    if (one->measured() == nullptr || other->measured() == nullptr) continue;
    kept.insert({a, b});
    SparPair pair;
    pair.kept = true;
    pair.pair = spar::judge(*one->measured(), *other->measured(), *batch.rig, batch.limits);
    answer.pairs.push_back(std::move(pair));
  }
  std::vector<spar::Measured> free;
  for (const SparAnswer& spar : answer.spars) {
    if (spar.measured() == nullptr || spar.set_aside || kept.contains(spar.id)) continue;
    free.push_back(*spar.measured());
  }
  const spar::Pairing best = spar::pair(free, *batch.rig, batch.limits);
  for (const spar::Pair& pair : best.pairs) {
    answer.pairs.emplace_back();
    answer.pairs.back().pair = pair;
  }
  answer.unpaired = best.unpaired;
}

}  // namespace

spar::Comparison compare_turned(const spar::Measured& a, double turn_a_deg, const spar::Measured& b,
                                double turn_b_deg) {
  const spar::Stiffness one = spar::turned(a, turn_a_deg), other = spar::turned(b, turn_b_deg);
  return {std::log(one.ei_Nm2 / other.ei_Nm2),
          std::hypot(one.sigma_relative, other.sigma_relative)};
}

void add_pairs(SparsAnswer& answer) {
  if (!answer.batch.rig) return;
  judge_all(answer);
  sort_pairs(answer.pairs);
  for (SparPair& pair : answer.pairs) {
    SparAnswer& a = spar_of(answer, pair.pair.a);
    SparAnswer& b = spar_of(answer, pair.pair.b);
    a.partner = b.id;
    b.partner = a.id;
    compare_history(a, *b.measured(), pair.pair);
    compare_history(b, *a.measured(), pair.pair);
    word_pair(pair, answer.batch);
    if (pair.pair.verdict == spar::Verdict::sand) add_sanding(pair.pair, answer);
  }
}

}  // namespace propwright::answer
