/// Two blades against each other.
#pragma once

#include "bench_parts.h"

namespace propwright::answer {

/// Both blades must be read and worked out. `pair` may be null.
Json bench_pair(const Json& pair, BenchContext& context);

/// What the pair's parts need in common.
struct PairView {
  const bench::PairFigures& pair;
  const bench::BladeTolerances& tolerances;
  std::string a, b;  ///< ids
  const BenchContext& context;

  const std::string& id(bench::Blade blade) const { return blade == bench::Blade::a ? a : b; }
  const bench::Finding* finding(bench::Finding::Subject subject) const {
    for (const bench::Finding& f : pair.findings) {
      if (f.subject == subject) return &f;
    }
    return nullptr;
  }
  /// The finding's sentence with the blades' own names.
  std::string words(const bench::Finding& finding) const;
};

/// The one thing to do, with its number where there is one.
struct PairHeadline {
  std::string text, number, unit;
};
/// What is done at the bench, in that order: to length first, since it changes mass and balance;
/// form before angle; balance last.
PairHeadline pair_headline(const PairView& view);
std::string pair_reset_sentence(const PairView& view);
/// Of a pair that has a trim.
std::string pair_trim_sentence(const PairView& view);
bench::Blade pair_heavy_side(const bench::TrimAdvice& trim);

/// "matched", "re_set" ...
std::string blade_verdict_word(bench::Verdict verdict);

}  // namespace propwright::answer
