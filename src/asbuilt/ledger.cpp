#include "propwright/asbuilt/ledger.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "propeller.h"
#include "propwright/asbuilt/comparison.h"
#include "propwright/base/constants.h"
#include "words.h"

namespace propwright::asbuilt {

namespace {

constexpr double normal_95 = 1.645;  // one-sided 95 % point of the normal distribution

Wording wording_of(const Design& design) {
  return {(1 - reference_station) * design.blade.rows.back().radius_m, design.profile};
}

AngleCurve curve_left(const BladeDeviation& d) {
  return {d.left_over_radius_m, d.left_over_rad};
}

void set_interval(Flaw& flaw) {
  flaw.low_s = flaw.seconds - normal_95 * flaw.sigma_s;
  flaw.high_s = flaw.seconds + normal_95 * flaw.sigma_s;
}

/// What both blades have in common. The parabola's doubt over the readings keeps its second order,
/// so that a perfect reading with a doubt is not taken as harmless (GUM, JCGM 100:2008, 5.1.2,
/// note).
Flaw both_flaw(const Seconds& s, Aspect aspect, double value, double sigma) {
  Flaw flaw;
  flaw.aspect = aspect;
  flaw.value = value;
  flaw.sigma = sigma;
  flaw.seconds = 0.0 - s.both(value);  // no minus zero
  const double first = (s.slope + 2 * s.curvature * value) * sigma;
  const double second = std::sqrt(2.0) * s.curvature * sigma * sigma;
  const double model = s.slope_sigma * value;
  flaw.sigma_s = std::sqrt(first * first + second * second + model * model);
  return flaw;
}

/// What sets them apart. How the blades share the induction moves the cost of it by about as much
/// as the cost itself (half-discs carry it in the induced loss, a shared annulus in the section
/// drag), hence half of it as doubt.
Flaw apart_flaw(const Seconds& s, Aspect aspect, double half, double sigma) {
  Flaw flaw;
  flaw.aspect = aspect;
  flaw.apart = true;
  flaw.value = half;
  flaw.sigma = sigma;
  flaw.seconds = 0.0 - s.pulled_apart(half);
  const double first = 2 * s.apart * half * sigma;
  const double second = std::sqrt(2.0) * s.apart * sigma * sigma;
  const double model = 0.5 * flaw.seconds;
  flaw.sigma_s = std::sqrt(first * first + second * second + model * model);
  return flaw;
}

Flaw imbalance_flaw(const Measured& moment) {
  Flaw flaw;
  flaw.key = "imbalance";
  flaw.aspect = Aspect::mass;
  flaw.apart = true;
  flaw.computed = false;
  flaw.value = moment.value;
  flaw.sigma = moment.sigma;
  flaw.label = fmt::format("blade {} heavy about the shaft by {:.0f} mg·mm",
                           moment.value >= 0 ? "A" : "B", std::abs(moment.value) * 1e9);
  flaw.advice =
      std::abs(moment.value) <= normal_95 * moment.sigma
          ? "Imbalance is within the doubt of the weighing: leave it."
          : fmt::format(
                "Balance it at the light blade {}: it shakes the model, and no seconds are "
                "computed for that.",
                moment.value >= 0 ? "B" : "A");
  return flaw;
}

class LedgerMaker {
 public:
  LedgerMaker(const Design& design, const Sensitivities& sensitivities, const BladeDeviation& a,
              const BladeDeviation& b)
      : design_(design), s_(sensitivities), a_(a), b_(b) {}

  base::Expected<Ledger> make() {
    made_.perfect_s = s_.perfect_s;
    const auto duration = together();
    if (!duration) return base::fail(duration.error());
    made_.duration_s = *duration;
    for (std::size_t i = 0; i < aspect_count; ++i) add(static_cast<Aspect>(i));
    const Imbalance imbalance = imbalance_of(design_, a_, b_);
    if (imbalance.moment_kgm) made_.flaws.push_back(imbalance_flaw(*imbalance.moment_kgm));
    for (const Flaw& flaw : made_.flaws) made_.sum_s += flaw.seconds;
    made_.cross_s = made_.perfect_s - made_.duration_s - made_.sum_s;
    std::stable_sort(made_.flaws.begin(), made_.flaws.end(), [](const Flaw& p, const Flaw& q) {
      return std::abs(p.seconds) > std::abs(q.seconds);
    });
    return made_;
  }

 private:
  /// Both blades as built, everything at once.
  base::Expected<double> together() const {
    const auto a = map_of(design_, a_.value, curve_left(a_));
    if (!a) return base::fail(a.error());
    const double more = a_.at(Aspect::mass) + b_.at(Aspect::mass);
    const AngleCurve left_a = curve_left(a_), left_b = curve_left(b_);
    if (a_.value == b_.value && left_a.radius_m == left_b.radius_m &&
        left_a.turn_rad == left_b.turn_rad) {
      return duration_s(design_.setup, *a, more);
    }
    const auto b = map_of(design_, b_.value, left_b);
    if (!b) return base::fail(b.error());
    return duration_s(design_.setup, weighted_map(design_, {{0.5, &*a}, {0.5, &*b}}), more);
  }

  void add(Aspect aspect) {
    const auto i = static_cast<std::size_t>(aspect);
    if (!s_.of[i].known || (!a_.measured[i] && !b_.measured[i])) return;
    const double sigma = std::hypot(a_.sigma[i], b_.sigma[i]) / 2;
    push(both_flaw(s_.of[i], aspect, (a_.value[i] + b_.value[i]) / 2, sigma));
    // A difference of mass is the imbalance's.
    if (aspect == Aspect::mass) return;
    push(apart_flaw(s_.of[i], aspect, (a_.value[i] - b_.value[i]) / 2, sigma));
  }

  void push(Flaw flaw) {
    flaw.key = key_of(flaw.aspect) + (flaw.apart ? "_apart" : "_both");
    flaw.label = label_of(flaw.aspect, flaw.apart, flaw.value, wording_of(design_));
    flaw.advice = advice_for(flaw, wording_of(design_));
    set_interval(flaw);
    made_.flaws.push_back(std::move(flaw));
  }

  const Design& design_;
  const Sensitivities& s_;
  const BladeDeviation &a_, &b_;
  Ledger made_;
};

double card_amount(Aspect aspect, const Wording& wording) {
  switch (aspect) {
    case Aspect::angle:
      return 0.5 * base::degree_rad;
    case Aspect::twist:
      return 0.5 * base::degree_rad / wording.outer_m;
    case Aspect::length:
      return wording.profile == units::Profile::inch ? 0.04 * 0.0254 : 1e-3;
    case Aspect::camber:
      return 0.01;
    case Aspect::mass:
      return 3e-6;
    case Aspect::spar_turn:
      return 5 * base::degree_rad;
    default:
      return std::log(1.1);
  }
}

Tolerance tolerance_of(const Seconds& s, Aspect aspect, const Wording& wording) {
  Tolerance t;
  t.aspect = aspect;
  t.amount = card_amount(aspect, wording);
  t.label = fmt::format("{} of {}", amount_text(aspect, t.amount, wording),
                        aspect == Aspect::camber ? "camber" : subject_of(aspect));
  t.both_s = std::max({0.0, -s.both(t.amount), -s.both(-t.amount)});
  t.apart_s = std::max(0.0, -s.pulled_apart(t.amount));
  t.sigma_s = s.slope_sigma * t.amount;
  t.sentence = fmt::format(
      "{} on both blades costs up to {:.1f} ± {:.1f} s; on one up, on the "
      "other down, {:.1f} s.",
      t.label, t.both_s, t.sigma_s, t.apart_s);
  return t;
}

}  // namespace

base::Expected<Ledger> ledger(const Design& design, const Sensitivities& sensitivities,
                              const BladeDeviation& a, const BladeDeviation& b) {
  return LedgerMaker(design, sensitivities, a, b).make();
}

std::vector<Tolerance> tolerance_card(const Design& design, const Sensitivities& sensitivities) {
  std::vector<Tolerance> card;
  for (std::size_t i = 0; i < aspect_count; ++i) {
    if (!sensitivities.of[i].known) continue;
    card.push_back(tolerance_of(sensitivities.of[i], static_cast<Aspect>(i), wording_of(design)));
  }
  std::stable_sort(card.begin(), card.end(), [](const Tolerance& p, const Tolerance& q) {
    return std::max(p.both_s, p.apart_s) > std::max(q.both_s, q.apart_s);
  });
  return card;
}

}  // namespace propwright::asbuilt
