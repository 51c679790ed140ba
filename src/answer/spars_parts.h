/// What the files of the spars' answer share.
#pragma once

#include "propwright/answer/spars.h"

namespace propwright::answer {

/// In the order of spar::Shape.
const std::vector<std::string>& shape_words();
std::optional<spar::Shape> shape_of(const std::string& word);
/// "as stripped", "round 1", "round 2", ...
std::string round_name(int number);

/// Prints what the sentences say in the units of the batch.
class SparWords {
 public:
  explicit SparWords(units::Profile profile) : inch_(profile == units::Profile::inch) {}
  /// "0.6" and "thou"; the digits that a step of sanding needs.
  std::string thickness(double si) const;
  std::string thickness_unit() const { return inch_ ? "thou" : "mm"; }
  /// "414" or "10.52", without a unit.
  std::string reading(double si) const;
  std::string reading_unit() const { return thickness_unit(); }
  /// "from 1.5 in to the tip", "from 1.5 in to 4.2 in"
  std::string part(const spar::Cut& cut, double length_m) const;
  /// "1.5 in", "38 mm"
  std::string place(double si) const;
  /// "28.0 thou", "0.71 mm"
  std::string size(double si) const;
  /// A text of the module `spar`, which tells "0.0015 m" and "1.5 mm", in these units. `place`: of
  /// lengths and places along the spar; else of sizes and readings, where an inch and more is told
  /// as a place.
  std::string worded(const std::string& text, bool place) const;
  /// "6 ± 2 %"
  static std::string percent(double relative, double sigma);

 private:
  bool inch_;
};

/// History of one spar, with what is wrong in it and what is to be asked.
SparAnswer spar_history(const SparInput& spar, const SparBatch& batch,
                        std::vector<SparProblem>& problems, std::vector<SparQuestion>& questions);

/// ln(EI of a, turned, over EI of b, turned).
spar::Comparison compare_turned(const spar::Measured& a, double turn_a_deg, const spar::Measured& b,
                                double turn_b_deg);

/// Fills pairs, unpaired, sanding, and what they mean for each spar's history.
void add_pairs(SparsAnswer& answer);

/// Sentences of a pair that has been judged.
void word_pair(SparPair& pair, const SparBatch& batch);
void word_sanding(SparSanding& sanding, const SparAnswer& spar, const SparBatch& batch);
std::string mark_sentence(const spar::Measured& measured);

std::optional<SparNow> now_of(const SparsAnswer& answer);

}  // namespace propwright::answer
