// Cards and blocks to set the blades by.
#include <algorithm>
#include <cmath>

#include "form_parts.h"
#include "propwright/base/constants.h"

namespace propwright::answer {
namespace {

using sheet::Hazard;

constexpr double card_foot_m = 0.015;  // of a card under its slope
constexpr double least_edge_m = 0.030, spare_edge_m = 0.010;

base::Expected<void> add_card(const FormWork& work, double radius_m, sheet::FormGroup& group,
                              FormAnswer& answer) {
  if (radius_m < work.law.root_m() || radius_m > work.law.tip_m()) {
    return base::fail(
        {.field = "gauge_radius",
         .value = units::to_text(radius_m, units::Dimension::length, answer.profile),
         .allowed = units::to_text(work.law.root_m(), units::Dimension::length, answer.profile) +
                    " to " +
                    units::to_text(work.law.tip_m(), units::Dimension::length, answer.profile),
         .remedy = "give a radius on the blade",
         .message = "the radius of the gauge is off the blade"});
  }
  const form::GaugePoint point{radius_m, work.law.angle_rad(radius_m)};
  const double edge = std::max(least_edge_m, work.law.outline(radius_m).chord_m + spare_edge_m);
  auto card = form::gauge_card(point, answer.hand, edge, card_foot_m);
  if (!card) return tl::unexpected(card.error());
  const std::string at =
      " at " + units::to_text(radius_m, units::Dimension::length, answer.profile);
  card->title += at;
  group.drawings.push_back(std::move(*card));
  auto block = form::angle_block(point, edge);
  if (!block) return tl::unexpected(block.error());
  block->title += at;
  group.drawings.push_back(std::move(*block));
  return {};
}

}  // namespace

base::Expected<void> add_gauges(const FormWork& work, FormAnswer& answer) {
  auto& group = form_group(
      answer, "gauge", "Gauge cards and angle blocks",
      "Stand the card across the blade at its radius, foot on the disc plane, and turn the blade "
      "until its flat lies along the slope. The 45° station is where an error of angle matters "
      "least.",
      {Hazard::knife});
  std::vector<double> radii;
  const auto add = [&](double radius_m) {
    const bool there = std::any_of(radii.begin(), radii.end(),
                                   [&](double r) { return std::abs(r - radius_m) < 1e-4; });
    if (!there) radii.push_back(radius_m);
  };
  // The one asked for comes first.
  if (work.options.gauge_radius_m) add(*work.options.gauge_radius_m);
  add(answer.gauge_radius_m);
  if (answer.set_radius_45_m > 0) add(answer.set_radius_45_m);
  for (const double radius_m : radii) {
    if (auto added = add_card(work, radius_m, group, answer); !added) return added;
  }
  return {};
}

}  // namespace propwright::answer
