#include "propwright/rubber/partial.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "range_check.h"

namespace propwright::rubber {
namespace {

constexpr double doubt_per_halving = 0.02;
// How much of the time and of the rise a share of the torque lost on average costs: between 1 and
// 3, and 1.5 and 6, in flights of the program's own with full, half and quarter motors.
constexpr double time_per_loss = 2, time_per_loss_sigma = 1.5;
constexpr double rise_per_loss = 3.5, rise_per_loss_sigma = 2.5;
// Indoor models fly for up to an hour; a log believes two (logbook: duration_s).
constexpr double longest_s = 7200;

/// More than half of the time taken back, or hours: no scaling, a slip of the time or its unit.
void question_time(const PartialFlight& flight, double scaled_s, double loss, FullEstimate& e) {
  if (scaled_s <= longest_s && time_per_loss * loss < 0.5) return;
  e.sound = false;
  e.notes.push_back(fmt::format(
      "{:.0f}\u00a0s on {:g} of a motor would be {:.0f}\u00a0s on the full one, longer than can be "
      "believed, and the doubt says so: look at the time, its unit and the share.",
      flight.duration_s, flight.share, scaled_s));
}

}  // namespace

base::Expected<PartialSetup> partial_setup(const FullMotor& full, double share) {
  RangeChecks checks("out of range for a partial motor");
  checks.within("section_m2", full.section_m2, 1e-8, 1e-4, "give all strands together");
  checks.within("length_m", full.length_m, 0.01, 5, "give the loop of the full motor");
  checks.within("mass_kg", full.mass_kg, 1e-6, 0.1, "give the mass of the full motor");
  checks.within("breaking_turns", full.breaking_turns, 1, 1e6, "give those of the full motor");
  checks.within("share", share, 0.1, 1, "give 0.5 for a half motor, 0.25 for a quarter");
  auto problems = checks.take();
  if (!problems.empty()) return base::fail(std::move(problems));
  PartialSetup setup{.share = share,
                     .length_m = share * full.length_m,
                     .mass_kg = share * full.mass_kg,
                     .breaking_turns = share * full.breaking_turns,
                     .spacer_mass_kg = (1 - share) * full.mass_kg,
                     .spacer_length_m = (1 - share) * full.length_m};
  if (share == 1) return setup;
  setup.notes.push_back(
      "Cut it from the same strip, wind it to the same torque, and put the spacer "
      "where the missing rubber's weight would lie, so that the balance stays.");
  setup.notes.push_back(
      "The knot weighs as much as on the full motor: weigh the finished loop and "
      "take what it has too much off the spacer.");
  return setup;
}

base::Expected<FullEstimate> full_from_partial(const PartialFlight& flight) {
  RangeChecks checks("out of range for a partial flight");
  checks.within("share", flight.share, 0.1, 1, "give 0.5 for a half motor, 0.25 for a quarter");
  checks.within("duration_s", flight.duration_s, 1, 7200, "give the time flown");
  checks.within("duration_sigma_s", flight.duration_sigma_s, 0.1, 600, "give the scatter of times");
  checks.within("launch_height_m", flight.launch_height_m, 0, 5, "give the height of the launch");
  checks.within("top_height_m", flight.top_height_m, flight.launch_height_m, 200,
                "give the top above the floor, not below the launch");
  checks.within("top_sigma_m", flight.top_sigma_m, 0, 10, "give the doubt of the top");
  if (flight.sink_m_s) {
    checks.within("sink_m_s", *flight.sink_m_s, 0.01, 3, "give the sink rate before landing");
  }
  checks.within("relaxation_per_s", flight.relaxation_per_s, 0, 0.005, "give the torque lost");
  checks.within("sink_sigma_relative", flight.sink_sigma_relative, 0, 1, "give its doubt");
  checks.within("roof_m", flight.roof_m, 0, 200, "give the roof, or 0");
  auto problems = checks.take();
  if (!problems.empty()) return base::fail(std::move(problems));
  const double more = 1 / flight.share - 1;
  const double sink_m_s = flight.sink_m_s.value_or(4 * flight.top_height_m / flight.duration_s);
  const double once = flight.launch_height_m / std::max(sink_m_s, 0.01);
  const double scaled_s =
      std::max(flight.duration_s, flight.duration_s / flight.share - more * once);
  // The torque lost on average over the longer flight beyond that over the shorter one.
  const double loss = flight.relaxation_per_s * (scaled_s - flight.duration_s) / 2;
  FullEstimate e;
  e.duration_s = scaled_s * (1 - std::min(0.5, time_per_loss * loss));
  e.reads_high_s = flight.duration_s / flight.share - e.duration_s;
  e.model_sigma_relative =
      std::hypot(doubt_per_halving * std::log2(1 / flight.share), time_per_loss_sigma * loss);
  e.duration_sigma_s =
      std::hypot(flight.duration_sigma_s / flight.share, more * once * flight.sink_sigma_relative,
                 e.model_sigma_relative * e.duration_s);
  const double rise_m = (flight.top_height_m - flight.launch_height_m) / flight.share;
  e.top_height_m = flight.launch_height_m + rise_m * (1 - std::min(0.5, rise_per_loss * loss));
  e.top_sigma_m = std::hypot(flight.top_sigma_m / flight.share,
                             rise_m * std::hypot(doubt_per_halving * std::log2(1 / flight.share),
                                                 rise_per_loss_sigma * loss));
  question_time(flight, scaled_s, loss, e);
  if (flight.touched) {
    e.sound = false;
    e.notes.push_back(
        "It touched the roof: time along the roof does not scale, so this says little.");
  }
  if (flight.roof_m > 0 && e.top_height_m > flight.roof_m) {
    e.sound = false;
    e.notes.push_back(
        fmt::format("With the full motor from the same torque it would top out at {:.1f} m, over "
                    "the roof: back "
                    "off, and take the time for what it would be without a roof.",
                    e.top_height_m));
  }
  if (flight.share < 0.4) {
    e.notes.push_back(
        "Quarters mislead more than halves: full torque lasts too short on them to show "
        "a small fault of the trim.");
  }
  return e;
}

}  // namespace propwright::rubber
