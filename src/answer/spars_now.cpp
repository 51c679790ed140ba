// The one thing to do next.
#include <fmt/format.h>

#include <algorithm>

#include "spars_parts.h"

namespace propwright::answer {
namespace {

constexpr const char* dust_caution =
    "Sanding: a dust mask; brush the dust off, do not blow. The product\u2019s safety sheet and "
    "the rules of the place go before this page.";

SparNow sand_now(const SparSanding& sanding, const SparsAnswer& answer) {
  const SparWords words(answer.batch.profile);
  const spar::Cut& cut = sanding.cut;
  const bool round = answer.find(sanding.id)->shape == spar::Shape::round;
  const bool up = round || cut.remove_0_per_face_m >= cut.remove_90_per_face_m;
  const double first_m = up ? cut.remove_0_per_face_m : cut.remove_90_per_face_m;
  const double second_m = up ? cut.remove_90_per_face_m : cut.remove_0_per_face_m;
  const double target_m = up ? cut.target_reading_0_m : cut.target_reading_90_m;
  const char* const how = up ? "up" : "at side";
  SparNow now{.what = "sand", .id = sanding.id, .partner = sanding.partner};
  now.headline = round ? fmt::format("Sand spar {} all round", sanding.id)
                       : fmt::format("Sand spar {}, mark {}: top and bottom", sanding.id, how);
  now.number = words.thickness(first_m);
  now.unit = words.thickness_unit() + (round ? " off all round" : " off each face");
  now.direction = up ? 0 : 90;
  now.per_face_m = first_m;
  now.from_m = cut.from_m;
  now.to_m = cut.to_m;
  now.target_reading_m = target_m;
  now.band = up ? sanding.band_0 : sanding.band_90;
  std::string part = words.part(cut, *answer.find(sanding.id)->length_m);
  part.front() = 'F';
  now.sentence = fmt::format("{}. It should then read {} with the mark {}.", part,
                             words.reading(target_m), how);
  if (!round && second_m > 0) {
    now.sentence +=
        fmt::format(" Then, mark {}: {} {} off each face, to read {}.", up ? "at side" : "up",
                    words.thickness(second_m), words.thickness_unit(),
                    words.reading(up ? cut.target_reading_90_m : cut.target_reading_0_m));
  }
  if (cut.is_first_step) now.sentence += " It is a first step: read it, then go on.";
  now.caution = dust_caution;
  return now;
}

/// What a spar still wants before it can be paired; nothing where it is measured.
std::optional<SparNow> wanting(const SparAnswer& spar, const SparsAnswer& answer) {
  const auto last = std::find_if(spar.history.rbegin(), spar.history.rend(),
                                 [](const SparState& state) { return !state.to_come; });
  const bool measured = last != spar.history.rend() && last->measured.has_value();
  if (spar.set_aside || measured) return std::nullopt;
  SparNow now{.what = "measure", .id = spar.id};
  const auto problem = std::find_if(answer.problems.begin(), answer.problems.end(),
                                    [&](const SparProblem& each) { return each.id == spar.id; });
  const bool half_read = last != spar.history.rend() &&
                         (last->reading_0_m.has_value() != last->reading_90_m.has_value());
  if (half_read && last->taper && last->mass_kg) {
    now.headline =
        fmt::format("Read spar {}, mark {}", spar.id, last->reading_0_m ? "at side" : "up");
    now.sentence = "A spar is read in two directions.";
    now.direction = last->reading_0_m ? 90 : 0;
  } else if (problem != answer.problems.end()) {
    now.what = "check";
    now.headline = fmt::format("Check spar {}", spar.id);
    now.sentence = problem->problem.message + "; " + problem->problem.remedy + ".";
  } else {
    now.headline = fmt::format("Measure spar {}", spar.id);
    const auto still = std::count_if(
        answer.spars.begin(), answer.spars.end(),
        [](const SparAnswer& each) { return !each.set_aside && each.measured() == nullptr; });
    if (still > 0) {
      now.sentence = fmt::format("{} of {} {} still to be measured.", still, answer.spars.size(),
                                 still == 1 ? "is" : "are");
    }
  }
  return now;
}

SparNow read_again(const SparPair& pair) {
  SparNow now{.what = "read", .id = pair.pair.a, .partner = pair.pair.b};
  const auto more = pair.pair.more_readings;
  now.headline =
      more ? fmt::format("Read spars {} and {} again", pair.pair.a, pair.pair.b)
           : fmt::format("Read spars {} and {} on a finer scale", pair.pair.a, pair.pair.b);
  if (more) {
    now.number = std::to_string(*more);
    now.unit = *more == 1 ? "reading more of each, both ways" : "readings more of each, both ways";
  }
  now.sentence = pair.sentence;
  return now;
}

SparNow make_now(const SparPair& pair, const SparsAnswer& answer) {
  const std::string old = pair.pair.make_new.empty() ? pair.stiffer : pair.pair.make_new;
  const std::string stays = old == pair.pair.a ? pair.pair.b : pair.pair.a;
  const SparWords words(answer.batch.profile);
  SparNow now{.what = "make", .id = old, .partner = stays};
  now.headline = fmt::format("Make a new spar in place of {}", old);
  const SparAnswer& model = *answer.find(stays);
  const SparState& state = model.history[static_cast<std::size_t>(model.latest)];
  now.number = words.reading(*state.reading_0_m);
  now.unit = words.reading_unit() + " with the mark up";
  now.target_reading_m = state.reading_0_m;
  now.sentence =
      fmt::format("To match {} it is to read so, and {} {} at the side. {}", stays,
                  words.reading(*state.reading_90_m), words.reading_unit(), pair.sentence);
  return now;
}

SparNow mount_now(const SparsAnswer& answer) {
  const SparPair& pair = answer.pairs.front();
  SparNow now{.what = "mount", .id = pair.pair.a, .partner = pair.pair.b};
  now.headline = fmt::format("Mount {} and {}", pair.pair.a, pair.pair.b);
  now.number = std::to_string(answer.pairs.size());
  now.unit = answer.pairs.size() == 1 ? "pair matched" : "pairs matched";
  now.sentence = pair.mount_sentence;
  return now;
}

/// The sanding in hand: of the spar asked for, else of the one that has been sanded most often,
/// else of the pair that is nearest.
const SparSanding* sanding_in_hand(const SparsAnswer& answer) {
  const SparSanding* best = nullptr;
  for (const SparSanding& sanding : answer.sanding) {
    if (sanding.id == answer.batch.next) return &sanding;
    const int rounds = answer.find(sanding.id)->rounds;
    if (best == nullptr || rounds > answer.find(best->id)->rounds) best = &sanding;
  }
  return best;
}

const SparPair* first_of(const SparsAnswer& answer, spar::Verdict verdict) {
  const auto found =
      std::find_if(answer.pairs.begin(), answer.pairs.end(),
                   [&](const SparPair& pair) { return pair.pair.verdict == verdict; });
  return found == answer.pairs.end() ? nullptr : &*found;
}

}  // namespace

std::optional<SparNow> now_of(const SparsAnswer& answer) {
  if (answer.spars.empty()) return std::nullopt;
  if (!answer.batch.rig) {
    return SparNow{.what = "check",
                   .headline = "Check the rig",
                   .sentence = "No reading says anything without what was hung where."};
  }
  const SparSanding* const in_hand = sanding_in_hand(answer);
  if (in_hand != nullptr && in_hand->id == answer.batch.next) return sand_now(*in_hand, answer);
  for (const SparAnswer& spar : answer.spars) {
    if (auto now = wanting(spar, answer)) return now;
  }
  if (in_hand != nullptr) return sand_now(*in_hand, answer);
  if (const SparPair* pair = first_of(answer, spar::Verdict::cannot_tell)) return read_again(*pair);
  if (const SparPair* pair = first_of(answer, spar::Verdict::make_new))
    return make_now(*pair, answer);
  if (!answer.pairs.empty()) return mount_now(answer);
  return SparNow{
      .what = "measure", .headline = "Measure another spar", .sentence = "A pair takes two."};
}

}  // namespace propwright::answer
