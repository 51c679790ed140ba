// The one sentence a builder wants, and the words the ledger is told in.
#include <fmt/format.h>

#include <cctype>
#include <cmath>

#include "propwright/answer/prediction.h"

namespace propwright::answer {

std::string height_text(double height_m, units::Profile profile) {
  const bool inch = profile == units::Profile::inch;
  const auto printed = units::print_in(height_m, units::Dimension::length, inch ? "ft" : "m", 1);
  return printed.number + " " + printed.unit;
}

namespace {

std::string top_of(const flight::Flight& flight, double roof_m, units::Profile profile) {
  const double under_m = roof_m - flight.top_height_m;
  if (flight.end == flight::End::roof) return "ends at the roof, which must not be touched";
  if (flight.touches == 1) return "touches the roof once";
  if (flight.touches > 1) return fmt::format("touches the roof {} times", flight.touches);
  return fmt::format("tops out {} under the roof", height_text(under_m, profile));
}

std::string landing_of(const flight::Flight& flight) {
  const auto turns = std::lround(flight.turns_left);
  const std::string left = turns > 0 ? fmt::format("{} turn{} left", turns, turns == 1 ? "" : "s")
                                     : std::string("no turns left");
  return (flight.end == flight::End::roof ? "with " : "lands with ") + left;
}

}  // namespace

std::string headline(const Prediction& prediction) {
  const flight::Flight& flight = prediction.nominal.flight;
  std::string text = units::duration_text(flight.duration_s);
  if (prediction.spread) text += fmt::format(" ± {:.0f} s", prediction.spread->sigma_s);
  const double roof_m = prediction.loaded.job.hall.roof_height_m;
  return fmt::format("{}, {}, {}{}", text, top_of(flight, roof_m, prediction.loaded.profile()),
                     landing_of(flight), prediction.nominal.flexing ? ", blade flexing" : "");
}

std::string after_duration(const Prediction& prediction) {
  return after_duration(prediction.nominal.flight, prediction.loaded.job.hall.roof_height_m,
                        prediction.loaded.profile());
}

std::string after_duration(const flight::Flight& flight, double roof_m, units::Profile profile) {
  std::string text = top_of(flight, roof_m, profile) + ", " + landing_of(flight) + ".";
  text.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(text.front())));
  return text;
}

std::vector<LedgerLine> ledger(const flight::Energy& e) {
  return {{"not_wound", "not wound", e.not_wound},
          {"backed_off", "backed off", e.backed_off},
          {"left_in_motor", "left in the motor", e.left_in_motor},
          {"motor_loss", "lost while waiting", e.motor_loss},
          {"shaft_friction", "shaft friction", e.shaft_friction},
          {"induced", "propeller, induced", e.induced},
          {"profile", "propeller, profile", e.profile},
          {"airframe", "airframe drag", e.airframe},
          {"height", "height at launch", e.height},
          {"kinetic", "speed gained or lost", e.kinetic},
          {"ceiling", "lost at the roof", e.ceiling}};
}

bool worth_telling(const LedgerLine& line, const flight::Energy& energy) {
  constexpr double least_share = 0.0005;  // prints as 0.1 %
  return std::abs(line.energy_J) >= least_share * std::abs(energy.at_break);
}

}  // namespace propwright::answer
