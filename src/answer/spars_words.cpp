// What the figures of the spars mean, in words.
#include <fmt/format.h>

#include <cmath>
#include <regex>

#include "propwright/units/units.h"
#include "spars_parts.h"

namespace propwright::answer {
namespace {

using D = units::Dimension;

std::string times_word(int times) {
  return times == 1 ? "once" : times == 2 ? "twice" : fmt::format("{} times", times);
}

/// 0 <= turn < 180: half a turn is the same to the stiffness.
double half_turn(double turn_deg) {
  const double turn = std::fmod(turn_deg, 180);
  return turn < 0 ? turn + 180 : turn;
}

std::string mark_place(double turn_deg) {
  const double turn = std::round(half_turn(turn_deg));
  if (turn == 0 || turn == 180) return "to the front";
  if (turn == 90) return "to the trailing edge";
  return fmt::format("{:.0f}° from the front, towards the trailing edge", turn);
}

spar::Comparison larger_of(const spar::Pair& pair) {
  return std::abs(pair.flap.log_ratio) >= std::abs(pair.edge.log_ratio) ? pair.flap : pair.edge;
}

std::string mount_words(const spar::Pair& pair) {
  const std::string a = mark_place(pair.turn_a_deg), b = mark_place(pair.turn_b_deg);
  if (a == b) return "Marks " + a + " in both blades.";
  return fmt::format("{}: mark {}. {}: mark {}.", pair.a, a, pair.b, b);
}

std::string pair_words(const SparPair& judged, const SparBatch& batch) {
  const spar::Pair& pair = judged.pair;
  const std::string by = SparWords::percent(pair.mismatch, pair.sigma);
  const bool turned = mark_place(pair.turn_a_deg) != mark_place(pair.turn_b_deg);
  switch (pair.verdict) {
    case spar::Verdict::matched:
      return fmt::format("Alike to {} both ways{}.", by, turned ? " once turned" : "");
    case spar::Verdict::sand:
      if (pair.cuts.size() > 1) {
        return fmt::format("{} is stiffer one way, {} the other, by up to {}: sand both.",
                           pair.cuts[0].id, pair.cuts[1].id, by);
      }
      return fmt::format("{} is {} stiffer{}.", judged.stiffer, by, turned ? " once turned" : "");
    case spar::Verdict::cannot_tell:
      if (!pair.more_readings) {
        return fmt::format("{}. More readings would not settle it: a finer scale is needed.", by);
      }
      return fmt::format("{}. Read each {} more.", by, times_word(*pair.more_readings));
    case spar::Verdict::make_new:
      break;
  }
  return fmt::format("{} is {} stiffer; sanding cannot bring them together and leave {}.",
                     judged.stiffer, by, SparWords(batch.profile).size(batch.limits.smallest_m));
}

std::string verdict_words(const spar::Pair& pair) {
  switch (pair.verdict) {
    case spar::Verdict::matched:
      return "matched";
    case spar::Verdict::sand:
      return pair.cuts.size() > 1 ? fmt::format("sand {} and {}", pair.cuts[0].id, pair.cuts[1].id)
                                  : "sand " + (pair.cuts.empty() ? pair.a : pair.cuts[0].id);
    case spar::Verdict::cannot_tell:
      return "cannot tell";
    case spar::Verdict::make_new:
      break;
  }
  return "make a new one";
}

}  // namespace

std::string SparWords::thickness(double si) const {
  return units::print_in(si, D::length, thickness_unit(), inch_ ? 1 : 3).number;
}
std::string SparWords::reading(double si) const {
  return units::print_in(si, D::length, reading_unit(), inch_ ? 0 : 2).number;
}
std::string SparWords::place(double si) const {
  const auto printed = units::print_in(si, D::length, inch_ ? "in" : "mm", inch_ ? 2 : 0);
  return printed.number + " " + printed.unit;
}
std::string SparWords::part(const spar::Cut& cut, double length_m) const {
  const bool whole = cut.to_m > length_m - 0.001;
  return "from " + place(cut.from_m) + " to " + (whole ? "the tip" : place(cut.to_m));
}
std::string SparWords::size(double si) const {
  const auto printed = units::print_in(si, D::length, thickness_unit(), inch_ ? 1 : 2);
  return printed.number + " " + printed.unit;
}

std::string SparWords::worded(const std::string& text, bool place) const {
  static const std::regex length("(-?[0-9]+(?:\\.[0-9]+)?(?:e[-+]?[0-9]+)?) (mm|m)(?![a-z0-9/])");
  std::string out;
  auto from = text.cbegin();
  for (std::sregex_iterator at(text.begin(), text.end(), length), end; at != end; ++at) {
    const double value = std::stod((*at)[1]);
    const double si = (*at)[2] == "mm" ? 1e-3 * value : value;
    out.append(from, (*at)[0].first);
    out += place || std::abs(si) >= 0.0254 ? this->place(si) : size(si);
    from = (*at)[0].second;
  }
  return out.append(from, text.cend());
}

std::string SparWords::percent(double relative, double sigma) {
  const double doubt = 100 * sigma;
  const int digits = doubt < 0.95 ? 1 : 0;
  return fmt::format("{:.{}f} ± {:.{}f} %", 100 * relative, digits, doubt, digits);
}

std::string rig_sentence(const spar::Rig& rig, units::Profile profile) {
  const SparWords words(profile);
  const auto load = units::print_in(rig.load_kg, D::mass, "g", 3);
  const bool inch = profile == units::Profile::inch;
  const auto doubt =
      units::print_in(spar::mean_sigma_m(rig, 1), D::length, inch ? "thou" : "mm", inch ? 0 : 2);
  std::string text =
      fmt::format("{} {} at {}, read at {}, ± {} {}", load.number, load.unit,
                  words.place(rig.load_at_m), words.place(rig.read_at_m), doubt.number, doubt.unit);
  return rig.name.empty() ? text : rig.name + ": " + text;
}

std::string verdict_word(spar::Verdict verdict) {
  switch (verdict) {
    case spar::Verdict::matched:
      return "matched";
    case spar::Verdict::sand:
      return "sand";
    case spar::Verdict::cannot_tell:
      return "cannot_tell";
    case spar::Verdict::make_new:
      break;
  }
  return "make_new";
}

std::string mark_sentence(const spar::Measured& measured) {
  const spar::Axes& axes = measured.axes;
  const std::string by = SparWords::percent(axes.softer_by_relative, axes.softer_by_sigma);
  if (!axes.has_direction) {
    return fmt::format("Alike both ways within the doubt of the readings, {}.", by);
  }
  if (axes.from_third_reading) {
    return fmt::format("Softest turned {:.0f} ± {:.0f}° from mark up, there by {}.",
                       axes.soft_axis_deg, axes.soft_axis_sigma_deg, by);
  }
  return fmt::format("Softer with the mark {} by {}.",
                     std::abs(axes.soft_axis_deg) < 45 ? "up" : "at the side", by);
}

void word_pair(SparPair& pair, const SparBatch& batch) {
  const bool a_is = larger_of(pair.pair).log_ratio > 0;
  if (pair.pair.verdict != spar::Verdict::matched) pair.stiffer = a_is ? pair.pair.a : pair.pair.b;
  pair.pair.turn_a_deg = half_turn(pair.pair.turn_a_deg);
  pair.pair.turn_b_deg = half_turn(pair.pair.turn_b_deg);
  pair.verdict_word = verdict_words(pair.pair);
  pair.sentence = pair_words(pair, batch);
  pair.mount_sentence = mount_words(pair.pair);
}

void word_sanding(SparSanding& sanding, const SparAnswer& spar, const SparBatch& batch) {
  const SparWords words(batch.profile);
  const spar::Cut& cut = sanding.cut;
  const SparState& now = spar.history[static_cast<std::size_t>(spar.latest)];
  const std::string unit = words.thickness_unit();
  const std::string where = words.part(cut, *spar.length_m);
  std::string expected;
  const auto direction = [&](const char* how, double off_m, double target_m, const SparRange& band,
                             double last_m) {
    if (!(off_m > 0)) return;
    sanding.sentences.push_back(fmt::format(
        "Mark {}: {} {} off top and bottom each, {}. It should then read {} {}.", how,
        words.thickness(off_m), unit, where, words.reading(target_m), words.reading_unit()));
    expected += fmt::format("{}{} to {} with the mark {}; it read {}", expected.empty() ? "" : ", ",
                            words.reading(band.low_m), words.reading(band.high_m), how,
                            words.reading(last_m));
  };
  if (spar.shape == spar::Shape::round) {
    sanding.sentences.push_back(fmt::format(
        "{} {} off all round, so the diameter less {}, {}. It should then read {} {} with the mark "
        "up.",
        words.thickness(cut.remove_0_per_face_m), unit,
        words.thickness(2 * cut.remove_0_per_face_m), where, words.reading(cut.target_reading_0_m),
        words.reading_unit()));
    expected =
        fmt::format("{} to {} with the mark up; it read {}", words.reading(sanding.band_0.low_m),
                    words.reading(sanding.band_0.high_m), words.reading(*now.reading_0_m));
  } else {
    direction("up", cut.remove_0_per_face_m, cut.target_reading_0_m, sanding.band_0,
              *now.reading_0_m);
    direction("at side", cut.remove_90_per_face_m, cut.target_reading_90_m, sanding.band_90,
              *now.reading_90_m);
  }
  if (cut.is_first_step) {
    sanding.sentences.emplace_back("Less than the whole on purpose: read it, then go on.");
  }
  std::string step = sanding.step;
  step.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(step.front())));
  sanding.sentences.push_back(fmt::format("{}: sand, then read. Expect {}.", step, expected));
}

}  // namespace propwright::answer
