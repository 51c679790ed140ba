#include "words.h"

#include <fmt/format.h>

#include <cmath>

#include "propwright/base/constants.h"

namespace propwright::asbuilt {

namespace {

/// What a positive and a negative difference of both blades is called, and the work that undoes it.
struct AspectWords {
  const char *high, *low;     ///< "set high"
  const char *lower, *raise;  ///< "setting {} {} lower": work that undoes a high, a low value
  const char* match;          ///< "bringing the angles of the blades together"
};

AspectWords words_of(Aspect aspect) {
  switch (aspect) {
    case Aspect::angle:
      return {"set high", "set low", "setting both blades {} lower",
              "setting both blades {} higher", "setting both blades to the same angle"};
    case Aspect::twist:
      return {"washed in at the tip", "washed out at the tip",
              "taking {} of wash-in out of both tips", "taking {} of wash-out out of both tips",
              "giving both blades the same twist"};
    case Aspect::length:
      return {"long", "short", "cutting both blades {} shorter", "making the blades {} longer",
              "bringing both blades to the same length"};
    case Aspect::camber:
      return {"over-cambered", "flat", "taking {} of camber out of both blades",
              "forming both blades with {} more camber", "forming both blades to the same camber"};
    case Aspect::mass:
      return {"heavy", "light", "taking {} off each blade", "adding {} to each blade",
              "bringing both blades to the same weight"};
    case Aspect::flapwise:
      return {"stiff flapwise", "soft flapwise", "sanding both spars {} softer flapwise",
              "spars {} stiffer flapwise", "sanding the stiffer spar to match flapwise"};
    case Aspect::chordwise:
      return {"stiff chordwise", "soft chordwise", "sanding both spars {} softer chordwise",
              "spars {} stiffer chordwise", "sanding the stiffer spar to match chordwise"};
    case Aspect::torsion:
      return {"stiff in torsion", "soft in torsion", "making both blades {} softer in torsion",
              "making both blades {} stiffer in torsion",
              "bringing both blades to the same stiffness in torsion"};
    case Aspect::spar_turn:
      return {"with the spar's axes turned nose-up", "with the spar's axes turned nose-down",
              "mounting both spars turned back by {}", "mounting both spars turned up by {}",
              "mounting both spars at the same turn"};
  }
  return {};
}

constexpr double surely = 1.645;  // one-sided 95 % point of the normal distribution

bool is_ratio(Aspect aspect) {
  return aspect == Aspect::flapwise || aspect == Aspect::chordwise || aspect == Aspect::torsion;
}

std::string capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 32);
  return text;
}

}  // namespace

std::string amount_text(Aspect aspect, double amount, const Wording& wording) {
  const double x = std::abs(amount);
  switch (aspect) {
    case Aspect::angle:
    case Aspect::spar_turn:
      return fmt::format("{:.1f}°", x / base::degree_rad);
    case Aspect::twist:
      return fmt::format("{:.1f}°", x * wording.outer_m / base::degree_rad);
    case Aspect::length:
      return units::to_text(x, units::Dimension::length, wording.profile);
    case Aspect::camber:
      return fmt::format("{:.1f} % of the chord", x * 100);
    case Aspect::mass:
      return fmt::format("{:.1f} mg", x * 1e6);
    default:
      return fmt::format("{:.0f} %", std::expm1(x) * 100);
  }
}

bool reads_nothing(const std::string& amount) {
  return amount.find_first_of("123456789") == std::string::npos;
}

std::string subject_of(Aspect aspect) {
  switch (aspect) {
    case Aspect::angle:
      return "blade angle";
    case Aspect::twist:
      return "twist of the outer blade";
    case Aspect::length:
      return "blade length";
    case Aspect::camber:
      return "camber";
    case Aspect::mass:
      return "mass of each blade";
    case Aspect::flapwise:
      return "stiffness flapwise";
    case Aspect::chordwise:
      return "stiffness chordwise";
    case Aspect::torsion:
      return "stiffness in torsion";
    case Aspect::spar_turn:
      return "turn of the spar's axes";
  }
  return {};
}

std::string label_of(Aspect aspect, bool apart, double value, const Wording& wording) {
  const AspectWords words = words_of(aspect);
  if (reads_nothing(amount_text(aspect, apart ? 2 * value : value, wording))) {
    return (apart ? "both blades alike in " : "both blades as designed in ") + subject_of(aspect);
  }
  if (!apart) {
    return fmt::format("both blades {} by {}", value >= 0 ? words.high : words.low,
                       amount_text(aspect, value, wording));
  }
  return fmt::format("blade {} over blade {} by {} in {}", value >= 0 ? "A" : "B",
                     value >= 0 ? "B" : "A", amount_text(aspect, 2 * value, wording),
                     subject_of(aspect));
}

std::string advice_for(const Flaw& flaw, const Wording& wording) {
  const AspectWords words = words_of(flaw.aspect);
  const std::string amount = amount_text(flaw.aspect, flaw.value, wording);
  const std::string work =
      flaw.apart ? words.match
                 : fmt::format(fmt::runtime(flaw.value >= 0 ? words.lower : words.raise), amount);
  if (reads_nothing(amount_text(flaw.aspect, flaw.apart ? 2 * flaw.value : flaw.value, wording))) {
    return fmt::format("Leave {} as it is.", subject_of(flaw.aspect));
  }
  const double least_s = 1.0;  // a flight is timed to a second, and no two agree to less
  const double sigma_s = std::ceil(flaw.sigma_s);
  const bool new_spars = !flaw.apart && is_ratio(flaw.aspect) && flaw.value < 0;
  const std::string begin = new_spars ? "New spars would be needed: " + work : capital(work);
  if (std::abs(flaw.seconds) + flaw.sigma_s < least_s) {
    return capital(work) + " gains nothing you could measure.";
  }
  if (flaw.seconds <= -least_s && flaw.seconds < -surely * flaw.sigma_s) {
    return fmt::format("Leave it: this helps by {:.0f} ± {:.0f} s.", -flaw.seconds, sigma_s);
  }
  if (flaw.seconds > surely * flaw.sigma_s) {
    return fmt::format("{} gains {:.0f} ± {:.0f} s.", begin, flaw.seconds, sigma_s);
  }
  if (std::abs(flaw.seconds) < 0.5) {
    return fmt::format("{} may gain or cost {:.0f} s: not to be told beforehand.", begin, sigma_s);
  }
  return fmt::format("{} {} {:.0f} ± {:.0f} s: not to be told beforehand.", begin,
                     flaw.seconds > 0 ? "gains" : "costs", std::abs(flaw.seconds), sigma_s);
}

}  // namespace propwright::asbuilt
