// What is said of two blades: the one thing to do, and how.
#include <fmt/format.h>

#include <cmath>
#include <regex>

#include "bench_pair.h"

namespace propwright::answer {
namespace {

using bench::Finding;
using bench::Verdict;
using D = units::Dimension;

PairHeadline length_headline(const PairView& view) {
  const double longer_m = view.pair.length_difference_m.value;
  const bool inch = view.context.profile == units::Profile::inch;
  const auto printed =
      units::print_in(std::abs(longer_m), D::length, inch ? "in" : "mm", inch ? 3 : 1);
  return {fmt::format("Take {} {} off {} at the root", printed.number, printed.unit,
                      longer_m > 0 ? view.a : view.b),
          printed.number, printed.unit};
}

PairHeadline angle_headline(const PairView& view) {
  const bench::ResetAdvice& r = view.pair.reset;
  const std::string turn = fmt::format("{:.1f}", bench_degrees(std::abs(r.turn_rad.value)));
  return {
      fmt::format("Turn {} {}° {} at {}", view.b, turn, r.turn_rad.value >= 0 ? "coarser" : "finer",
                  view.context.length(r.gauge_radius_m)),
      turn, "°"};
}

PairHeadline trim_headline(const PairView& view) {
  const bench::TrimAdvice& t = *view.pair.trim;
  const std::string mass = units::print_in(t.add_mass_kg.value, D::mass, "mg", 1).number;
  return {
      fmt::format("Add {} mg to {} at {}", mass, view.id(t.light), view.context.length(t.radius_m)),
      mass, "mg"};
}

}  // namespace

std::string PairView::words(const bench::Finding& finding) const {
  static const std::regex blade("\\b[AB]\\b");
  std::string out;
  auto from = finding.sentence.cbegin();
  for (std::sregex_iterator at(finding.sentence.begin(), finding.sentence.end(), blade), end;
       at != end; ++at) {
    out.append(from, (*at)[0].first).append(at->str() == "A" ? a : b);
    from = (*at)[0].second;
  }
  return context.worded(out.append(from, finding.sentence.cend()));
}

std::string pair_reset_sentence(const PairView& view) {
  const bench::ResetAdvice& r = view.pair.reset;
  return fmt::format(
      "Turn {} {} {} in its socket: it should stand at {} at {} from the shaft.", view.b,
      view.context.angle(std::abs(r.turn_rad.value)), r.turn_rad.value >= 0 ? "coarser" : "finer",
      view.context.angle(r.set_angle_rad.value), view.context.length(r.gauge_radius_m));
}

bench::Blade pair_heavy_side(const bench::TrimAdvice& trim) {
  return trim.light == bench::Blade::a ? bench::Blade::b : bench::Blade::a;
}

std::string pair_trim_sentence(const PairView& view) {
  const bench::TrimAdvice& t = *view.pair.trim;
  return fmt::format(
      "{} is {:.0f} ± {:.0f} mg·mm heavy: add {} to {} at {} from the shaft, or sand {} off {} "
      "there.",
      view.id(pair_heavy_side(t)), 1e9 * t.imbalance_kgm.value, 1e9 * t.imbalance_kgm.sigma,
      view.context.doubtful_mass(t.add_mass_kg), view.id(t.light), view.context.length(t.radius_m),
      view.context.doubtful_mass(t.sand_off_mass_kg), view.id(pair_heavy_side(t)));
}

PairHeadline pair_headline(const PairView& view) {
  using S = Finding::Subject;
  const auto off = [&](S subject) {
    const Finding* f = view.finding(subject);
    return f != nullptr && f->verdict != Verdict::matched && f->verdict != Verdict::cannot_tell &&
           f->verdict != Verdict::not_measured;
  };
  if (off(S::length)) return length_headline(view);
  if (off(S::twist) || off(S::camber)) {
    return {
        fmt::format("Form {} again: its {} differs", view.b, off(S::twist) ? "twist" : "camber"),
        "", ""};
  }
  if (off(S::angle)) return angle_headline(view);
  if (off(S::balance) && view.pair.trim) return trim_headline(view);
  if (off(S::mass)) {
    const double share = std::abs(view.pair.mass_difference_share.value);
    const std::string number = fmt::format("{:.1f}", 100 * share);
    return {fmt::format("{} is {} % heavier",
                        view.pair.mass_difference_share.value > 0 ? view.a : view.b, number),
            number, "%"};
  }
  if (view.pair.verdict == Verdict::matched) return {"Matched: leave them alone", "", ""};
  return {"Cannot tell yet", "", ""};
}

}  // namespace propwright::answer
