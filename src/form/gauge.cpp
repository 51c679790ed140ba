#include "propwright/form/gauge.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "propwright/base/constants.h"
#include "template_tools.h"

namespace propwright::form {
namespace {

constexpr double least_card_angle_rad = 3 * base::degree_rad;
constexpr double least_edge_m = 0.010, most_edge_m = 0.300;
constexpr double least_card_width_m = 0.034;  // room for the words

std::string gauge_degrees(double angle_rad) {
  return fmt::format("{:.1f}°", angle_rad / base::degree_rad);
}

base::Problem radius_problem(double radius_m) {
  return {.field = "gauge.radius",
          .value = fmt::format("{:.1f} mm", 1e3 * radius_m),
          .allowed = "above 0",
          .remedy = "give a radius on the blade",
          .message = "there is no angle to be read on the shaft axis"};
}

base::Problem angle_problem(double angle_rad, const std::string& allowed) {
  return {.field = "gauge.angle",
          .value = gauge_degrees(angle_rad),
          .allowed = allowed,
          .remedy = "choose a radius where the blade stands less steep or less flat",
          .message = "the blade angle cannot be used for a pitch"};
}

base::Expected<void> check_card(const GaugePoint& point, double edge_m) {
  if (!(point.radius_m > 0)) return base::fail(radius_problem(point.radius_m));
  if (!(point.angle_rad >= least_card_angle_rad &&
        point.angle_rad <= base::pi / 2 - least_card_angle_rad)) {
    return base::fail(angle_problem(point.angle_rad, "3 to 87 degrees"));
  }
  if (!(edge_m >= least_edge_m && edge_m <= most_edge_m)) {
    return base::fail({.field = "gauge.edge",
                       .value = fmt::format("{:.1f} mm", 1e3 * edge_m),
                       .allowed = "10 to 300 mm",
                       .remedy = "take about the chord and a little more",
                       .message = "the card's edge is too short or too long"});
  }
  return {};
}

std::string millimetre_name(double radius_m) {
  return fmt::format("{:g}", std::round(1e4 * radius_m) / 10);
}

}  // namespace

double pitch_error_per_degree(double angle_rad) {
  return 2 * base::degree_rad / std::sin(2 * angle_rad);
}

base::Expected<std::vector<AngleRow>> angle_table(const std::vector<StationAngles>& stations) {
  std::vector<AngleRow> rows;
  base::Problems problems;
  for (const StationAngles& s : stations) {
    if (!(s.radius_m > 0)) problems.push_back(radius_problem(s.radius_m));
    for (const double angle :
         {s.form_angle_rad, s.set_angle_rad, s.flying_angle_rad.value_or(s.set_angle_rad)}) {
      if (!(angle > 0 && angle < base::pi / 2)) {
        problems.push_back(angle_problem(angle, "between 0 and 90 degrees"));
        break;
      }
    }
    AngleRow row{.radius_m = s.radius_m,
                 .form_angle_rad = s.form_angle_rad,
                 .form_pitch_m = local_pitch_m(s.form_angle_rad, s.radius_m),
                 .set_angle_rad = s.set_angle_rad,
                 .set_pitch_m = local_pitch_m(s.set_angle_rad, s.radius_m),
                 .flying_angle_rad = s.flying_angle_rad,
                 .pitch_error_per_degree = pitch_error_per_degree(s.set_angle_rad)};
    if (s.flying_angle_rad) row.flying_pitch_m = local_pitch_m(*s.flying_angle_rad, s.radius_m);
    rows.push_back(row);
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  const auto least = std::min_element(rows.begin(), rows.end(), [](const auto& a, const auto& b) {
    return a.pitch_error_per_degree < b.pitch_error_per_degree;
  });
  if (least != rows.end()) least->is_least_error = true;
  return rows;
}

base::Expected<Template> gauge_card(const GaugePoint& point, Hand hand, double edge_m,
                                    double foot_m) {
  if (auto checked = check_card(point, edge_m); !checked) return base::fail(checked.error());
  const double pitch_m = local_pitch_m(point.angle_rad, point.radius_m);
  const double x = edge_m * std::cos(point.angle_rad),
               top = foot_m + edge_m * std::sin(point.angle_rad);
  const double width = std::max(x, least_card_width_m);
  Template card;
  card.name = fmt::format("gauge-card-{}mm", millimetre_name(point.radius_m));
  card.title = "Gauge card";
  card.hand = hand;
  card.lines.push_back({.kind = TemplateLine::Kind::cut,
                        .points_m = {{0, 0}, {width, 0}, {width, top}, {x, top}, {0, foot_m}},
                        .closed = true});
  // On a slope steeper than 45 degrees the 45-degree line lies on the card.
  if (point.angle_rad > base::pi / 4 + 0.5 * base::degree_rad) {
    const double reach = std::min(width, top - foot_m);
    card.lines.push_back({.kind = TemplateLine::Kind::score,
                          .points_m = {{0, foot_m}, {reach, foot_m + reach}},
                          .dashed = true});
  }
  const double middle = width / 2;
  card.texts = {{middle, foot_m * 0.75, "radius", 0, point.radius_m},
                {middle, foot_m * 0.45, gauge_degrees(point.angle_rad) + ", pitch", 0, pitch_m},
                {middle, foot_m * 0.15, "45° at", 0, radius_45deg_m(pitch_m)},
                {middle, -0.003, std::string("foot on the bench; ") + hand_words(hand), 0, 0},
                {width, top + 0.003, "leading edge", 0, 0}};
  give_hand(card);
  return card;
}

base::Expected<Template> angle_block(const GaugePoint& point, double edge_m) {
  if (auto checked = check_card(point, edge_m); !checked) return base::fail(checked.error());
  const double base_m = edge_m * std::cos(point.angle_rad),
               height_m = edge_m * std::sin(point.angle_rad);
  Template block;
  block.name = fmt::format("angle-block-{}mm", millimetre_name(point.radius_m));
  block.title = "Angle block";
  block.hand = Hand::clockwise;
  block.lines.push_back({.kind = TemplateLine::Kind::cut,
                         .points_m = {{0, 0}, {base_m, 0}, {base_m, height_m}},
                         .closed = true});
  // The right angle, marked as draughtsmen do.
  const double mark = std::min({0.003, base_m / 3, height_m / 3});
  block.lines.push_back({.kind = TemplateLine::Kind::score,
                         .points_m = {{base_m - mark, 0}, {base_m - mark, mark}, {base_m, mark}}});
  block.texts = {
      {base_m / 2, -0.0030, gauge_degrees(point.angle_rad) + ", radius", 0, point.radius_m},
      {base_m / 2, -0.0065, "pitch", 0, local_pitch_m(point.angle_rad, point.radius_m)}};
  return block;
}

}  // namespace propwright::form
