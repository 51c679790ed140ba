/// The pitch-setting card: where and to what angle the blade is set, with a paper gauge at 1:1.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cautions.h"
#include "pages.h"
#include "propwright/base/constants.h"
#include "table.h"

namespace propwright::sheet {
namespace {

constexpr double gauge_edge_mm = 80;  ///< sloping edge of the gauge, true length
const TextStyle grey{Face::sans, small_type_mm, ink2};

/// The gauge: a right triangle whose base lies in the disc plane. Seen from the tip, front of the
/// model up, the leading edge of a clockwise propeller (seen from behind) is on the right, so the
/// slope rises to the right; mirrored for the other hand.
struct Gauge {
  double base_mm, height_mm, side;  ///< side +1: rises to the right

  Gauge(double angle_rad, double scale, form::Hand hand)
      : base_mm(gauge_edge_mm * scale * std::cos(angle_rad)),
        height_mm(gauge_edge_mm * scale * std::sin(angle_rad)),
        side(hand == form::Hand::clockwise ? 1 : -1) {}
};

void draw_gauge(Canvas& canvas, const Setting& setting, const Box& room) {
  const PropellerFacts& propeller = setting.data.propeller;
  const Gauge gauge(propeller.gauge_angle_rad, setting.scale, propeller.hand);
  const double middle = room.x + room.width / 2;
  const Point corner{middle - gauge.side * gauge.base_mm / 2, room.bottom() - 12};
  const Point foot{corner.x + gauge.side * gauge.base_mm, corner.y};
  const Point top{foot.x, foot.y - gauge.height_mm};
  canvas.polyline({corner, foot, top}, cut_line(), true);
  canvas.line({corner.x - gauge.side * 12, corner.y}, {foot.x + gauge.side * 12, foot.y},
              centre_line());
  // The angle itself, drawn where it is measured.
  const double radius = 14, angle = propeller.gauge_angle_rad;
  if (gauge.side > 0) {
    canvas.arc(corner, radius, -angle, 0, hairline());
  } else {
    canvas.arc(corner, radius, base::pi, base::pi + angle, hairline());
  }
  const double half = angle / 2, reach = radius + 7;
  canvas.text(
      {corner.x + gauge.side * reach * std::cos(half), corner.y - reach * std::sin(half) + 1.3},
      setting.units.angle.text(angle), {Face::semibold, text_type_mm, black}, Align::centre);
  canvas.text({middle, corner.y + 5.5}, "disc plane: this edge square to the shaft", small_text,
              Align::centre);
  const double slope = gauge.side > 0 ? angle : -angle;
  const Point halfway{(corner.x + top.x) / 2, (corner.y + top.y) / 2};
  const Point above{halfway.x - gauge.side * 2.2 * std::sin(angle),
                    halfway.y - 2.2 * std::cos(angle)};
  canvas.turned_text(above, slope, "both edges of the blade touch here", small_text, Align::centre);
  canvas.text({top.x, top.y - 2.5}, "leading edge", small_strong_text, Align::centre);
  canvas.text({corner.x - gauge.side * 3, corner.y - 3}, "trailing edge", small_strong_text,
              gauge.side > 0 ? Align::right : Align::left);
}

/// A disc seen from behind with the way it turns.
void draw_hand(Canvas& canvas, const Setting& setting, Point centre) {
  const bool clockwise = setting.data.propeller.hand == form::Hand::clockwise;
  constexpr double radius = 11, from_deg = 205, to_deg = 335;
  canvas.circle(centre, 0.7, hairline());
  canvas.line({centre.x, centre.y - radius + 2.5}, {centre.x, centre.y + radius - 2.5},
              {1.1, rgb(0x8a877c), {}});
  canvas.arc(centre, radius, from_deg * base::degree_rad, to_deg * base::degree_rad, rule());
  const auto on_arc = [&](double degrees) {
    return Point{centre.x + radius * std::cos(degrees * base::degree_rad),
                 centre.y + radius * std::sin(degrees * base::degree_rad)};
  };
  const Point tip = clockwise ? on_arc(to_deg + 6) : on_arc(from_deg - 6);
  canvas.arrow_head(tip, clockwise ? on_arc(to_deg - 6) : on_arc(from_deg + 6), 3.2, black);
  canvas.text({centre.x, centre.y + radius + 4.5}, "seen from behind:", small_text, Align::centre);
  canvas.text({centre.x, centre.y + radius + 8.4}, hand_text(setting.data.propeller.hand),
              small_strong_text, Align::centre);
}

std::vector<Fact> setting_facts(const Setting& setting) {
  const PropellerFacts& propeller = setting.data.propeller;
  const PrintUnits& units = setting.units;
  const double error = 2 * base::degree_rad / std::sin(2 * propeller.gauge_angle_rad);
  std::vector<Fact> facts{
      {"Gauge at radius", units.radius.number(propeller.gauge_radius_m), units.radius.symbol()},
      {"Set to angle", units.angle.number(propeller.gauge_angle_rad), "°"},
      {"Pitch there", units.pitch.number(propeller.set_pitch_m), units.pitch.symbol()}};
  if (propeller.form_pitch_m > 0) {
    facts.push_back(
        {"Made on form", units.pitch.number(propeller.form_pitch_m), units.pitch.symbol()});
    facts.push_back({"Turned from the form", units.angle.number(propeller.turn_rad), "°"});
  }
  if (propeller.radius_45_m > 0) {
    facts.push_back(
        {"Stands at 45° at", units.radius.number(propeller.radius_45_m), units.radius.symbol()});
  }
  facts.push_back({"Pitch error per degree", fixed(100 * error, 1), "%"});
  return facts;
}

/// Lines for what each blade measured, in the order of the shop: set, next day, before the flight.
double draw_log(Canvas& canvas, const Setting& setting, Point at, double width) {
  double y = draw_heading(canvas, at, width, "As set") + 8;
  const int blades = setting.data.propeller.blades;
  const double column = (width - 34) / blades;
  for (int i = 0; i < blades; ++i) {
    canvas.text({at.x + 36 + i * column, y - 2},
                fmt::format("blade {}, °", static_cast<char>('A' + i)), grey);
  }
  for (const char* when : {"set", "glue dry", "next day", "at the hall"}) {
    y += 8;
    canvas.text({at.x, y}, when, {});
    for (int i = 0; i < blades; ++i) {
      canvas.line({at.x + 36 + i * column, y + 0.8}, {at.x + 32 + (i + 1) * column, y + 0.8},
                  hairline());
    }
  }
  return y;
}

void draw_pitch(Canvas& canvas, const Setting& setting) {
  const Box& body = setting.body;
  const PropellerFacts& propeller = setting.data.propeller;
  double y =
      draw_title(canvas, setting, "Pitch setting",
                 "Shaft in its jig, blade at the gauge radius, gauge behind the blade; cement "
                 "when both blades touch alike. Gauge seen from the tip, front of the model up.");
  const double bottom = body.bottom() - scale_bars_height_mm - 4;
  const double gauge_height =
      gauge_edge_mm * setting.scale * std::sin(propeller.gauge_angle_rad) + 20;
  const Box room{body.x, y, body.width - 46, std::max(gauge_height, 60.0)};
  draw_gauge(canvas, setting, room);
  draw_hand(canvas, setting, {body.right() - 22, room.y + room.height / 2});
  y = room.bottom() + 5;
  const double column = (body.width - 14) / 2;
  const double facts_end =
      draw_facts(canvas, {body.x, y}, column, "Setting", setting_facts(setting));
  const double right = body.x + column + 14;
  const double log_end = draw_log(canvas, setting, {right, y}, column);
  y = std::max(facts_end, log_end) + 7;
  const double error = 2 * base::degree_rad / std::sin(2 * propeller.gauge_angle_rad);
  y = draw_reading(canvas, {body.x, y}, body.width,
                   fmt::format("One degree off here is {} % of pitch; 3.5 % is the least, where a "
                               "blade stands at 45°.",
                               fixed(100 * error, 1)));
  draw_cautions(canvas, {body.x, std::min(y, bottom - 18)}, body.width,
                {cautions::knife, cautions::solvent, cautions::wire});
  draw_scale_bars(canvas, {body.x, bottom + 4}, setting.scale);
  const double x = body.x + scale_bars_width_mm + 4;
  draw_bar_words(canvas, {x, bottom + 12}, body.right() - x, setting.options);
}

}  // namespace

void add_pitch_page(const Setting& setting, Pages& pages) {
  const double angle = setting.data.propeller.gauge_angle_rad;
  if (!(angle > 0 && angle < base::pi / 2)) return;
  pages.push_back(
      {"pitch setting, 1 : 1", [&setting](Canvas& canvas) { draw_pitch(canvas, setting); }});
}

}  // namespace propwright::sheet
