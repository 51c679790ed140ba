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

bool is_ratio(Aspect aspect) {
  return aspect == Aspect::flapwise || aspect == Aspect::chordwise || aspect == Aspect::torsion;
}

std::string capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 32);
  return text;
}

}  // namespace

std::string amount_text(Aspect aspect, double amount, double outer_m) {
  const double x = std::abs(amount);
  switch (aspect) {
    case Aspect::angle:
    case Aspect::spar_turn:
      return fmt::format("{:.1f}°", x / base::degree_rad);
    case Aspect::twist:
      return fmt::format("{:.1f}°", x * outer_m / base::degree_rad);
    case Aspect::length:
      return fmt::format("{:.1f} mm", x * 1e3);
    case Aspect::camber:
      return fmt::format("{:.1f} % of the chord", x * 100);
    case Aspect::mass:
      return fmt::format("{:.1f} mg", x * 1e6);
    default:
      return fmt::format("{:.0f} %", std::expm1(x) * 100);
  }
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

std::string label_of(Aspect aspect, bool apart, double value, double outer_m) {
  const AspectWords words = words_of(aspect);
  if (!apart) {
    return fmt::format("both blades {} by {}", value >= 0 ? words.high : words.low,
                       amount_text(aspect, value, outer_m));
  }
  return fmt::format("blade {} over blade {} by {} in {}", value >= 0 ? "A" : "B",
                     value >= 0 ? "B" : "A", amount_text(aspect, 2 * value, outer_m),
                     subject_of(aspect));
}

std::string advice_for(const Flaw& flaw, double outer_m) {
  const AspectWords words = words_of(flaw.aspect);
  const std::string amount = amount_text(flaw.aspect, flaw.value, outer_m);
  const std::string work =
      flaw.apart ? words.match
                 : fmt::format(fmt::runtime(flaw.value >= 0 ? words.lower : words.raise), amount);
  const double least_s = 1.0;  // a flight is timed to a second, and no two agree to less
  const bool ratio = is_ratio(flaw.aspect);
  const std::string doubt =
      !flaw.apart && ratio && flaw.value < 0 ? "New spars would be needed: " : "";
  if (std::abs(flaw.seconds) + flaw.sigma_s < least_s) {
    return fmt::format("{} gains nothing you could measure.", capital(work));
  }
  if (flaw.seconds <= -least_s && flaw.seconds < -1.645 * flaw.sigma_s) {
    return fmt::format("Leave it: this helps by {:.0f} ± {:.0f} s.", -flaw.seconds,
                       std::ceil(flaw.sigma_s));
  }
  if (flaw.seconds > 1.645 * flaw.sigma_s) {
    return doubt + fmt::format("{} gains {:.0f} ± {:.0f} s.", doubt.empty() ? capital(work) : work,
                               flaw.seconds, std::ceil(flaw.sigma_s));
  }
  return fmt::format("{} changes the flight by {:+.0f} ± {:.0f} s: not to be told beforehand.",
                     capital(work), flaw.seconds, std::ceil(flaw.sigma_s));
}

}  // namespace propwright::asbuilt
