// A motor told of by hand and by the log counts once.
#include <cmath>
#include <optional>

#include "breaking_range.h"

namespace propwright::rubber {
namespace {

constexpr double same_turns = 0.5;  // counted turns are whole

/// One hand-entered wind looking for the logged wind of the same motor.
class Doubles {
 public:
  Doubles(const std::vector<Wind>& winds, std::vector<Counted>& counted)
      : winds_(winds), counted_(counted), paired_(winds.size(), false) {
    keys_.reserve(winds.size());
    for (const Wind& wind : winds) keys_.push_back(name_key(wind.motor));
  }

  /// `fits` of an entry by hand and a logged wind, by their places.
  template <class F>
  void pair(F fits) {
    for (std::size_t hand = 0; hand < winds_.size(); ++hand) {
      if (winds_[hand].logged || paired_[hand]) continue;
      for (std::size_t log = 0; log < winds_.size(); ++log) {
        if (!winds_[log].logged || paired_[log] || !fits(hand, log)) continue;
        paired_[hand] = paired_[log] = true;
        counted_[hand_counts(winds_[hand], winds_[log]) ? log : hand] = Counted::told_twice;
        break;
      }
    }
  }

  bool named(std::size_t hand, std::size_t log) const {
    return !keys_[hand].empty() && keys_[hand] == keys_[log];
  }
  bool either_unnamed(std::size_t hand, std::size_t log) const {
    return keys_[hand].empty() || keys_[log].empty();
  }
  bool ended_alike(std::size_t hand, std::size_t log) const {
    return winds_[hand].broke == winds_[log].broke;
  }
  bool at_one(std::size_t hand, std::size_t log) const {
    return std::abs(winds_[hand].turns - winds_[log].turns) <= same_turns;
  }

 private:
  static bool hand_counts(const Wind& hand, const Wind& log) {
    if (hand.broke != log.broke) return hand.broke;
    return hand.broke || hand.turns >= log.turns;
  }

  const std::vector<Wind>& winds_;
  std::vector<Counted>& counted_;
  std::vector<bool> paired_;
  std::vector<std::string> keys_;
};

}  // namespace

std::string name_key(const std::string& name) {
  std::string key;
  for (const char letter : name) {
    const bool capital = letter >= 'A' && letter <= 'Z';
    const bool kept = (letter >= 'a' && letter <= 'z') || (letter >= '0' && letter <= '9') ||
                      static_cast<unsigned char>(letter) >= 0x80;
    if (capital) key += static_cast<char>(letter - 'A' + 'a');
    if (kept) key += letter;
  }
  return key;
}

std::vector<Counted> counted_winds(const std::vector<Wind>& winds, const BreakingPrior& prior) {
  std::vector<Counted> counted(winds.size(), Counted::yes);
  Doubles doubles(winds, counted);
  // The surest first: a motor's name may have been given to another one after it broke.
  doubles.pair([&](std::size_t hand, std::size_t log) {
    return doubles.named(hand, log) && doubles.ended_alike(hand, log) && doubles.at_one(hand, log);
  });
  doubles.pair([&](std::size_t hand, std::size_t log) {
    return doubles.named(hand, log) && doubles.ended_alike(hand, log);
  });
  doubles.pair([&](std::size_t hand, std::size_t log) { return doubles.named(hand, log); });
  doubles.pair([&](std::size_t hand, std::size_t log) {
    return doubles.either_unnamed(hand, log) && doubles.ended_alike(hand, log) &&
           doubles.at_one(hand, log);
  });
  for (std::size_t i = 0; i < winds.size(); ++i) {
    if (!winds[i].logged || counted[i] != Counted::yes) continue;
    const double kappa = kappa_of(winds[i]);
    const auto [low, high] = believed_kappa(winds[i], prior);
    if (!(kappa >= low && kappa <= high)) counted[i] = Counted::unbelievable;
  }
  return counted;
}

}  // namespace propwright::rubber
