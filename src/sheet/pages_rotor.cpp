/// The rotor: efficiency over advance ratio, torque over revs, angle of attack along the blade.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "axes.h"
#include "pages.h"

namespace propwright::sheet {
namespace {

constexpr double rotor_label_room_mm = 30;

/// Conditions are told apart by marker and dash as well as by words.
struct Look {
  Marker marker;
  std::vector<double> dash_mm;
};

const Look& look_of(std::size_t index) {
  static const Look looks[] = {{Marker::round, {}},
                               {Marker::square, {4, 1.4}},
                               {Marker::diamond, {1.2, 1.2}},
                               {Marker::round, {4, 1.2, 0.8, 1.2}}};
  return looks[index % std::size(looks)];
}

void draw_efficiency(Canvas& canvas, const Setting& setting, const Box& plot) {
  const RotorCurves& rotor = setting.data.rotor;
  const PrintUnit number{units::Dimension::ratio, "", 2}, percent{units::Dimension::ratio, "%", 0};
  Range x, y;
  x.include(rotor.efficiency.x);
  y.include(0.0);
  for (const double value : rotor.efficiency.y) {
    if (value > 0) y.include(value);
  }
  Chart chart(canvas, plot, exact_axis("advance ratio V/nD", number, x, 8),
              round_axis("Efficiency", percent, y, 5), rotor_label_room_mm);
  if (rotor.flown_high > rotor.flown_low) {
    chart.shade_x(rotor.flown_low, rotor.flown_high, "flown");
  }
  chart.axes();
  Series positive;
  for (std::size_t i = 0; i < rotor.efficiency.x.size(); ++i) {
    if (rotor.efficiency.y[i] < 0) continue;
    positive.x.push_back(rotor.efficiency.x[i]);
    positive.y.push_back(rotor.efficiency.y[i]);
  }
  chart.line(positive, {curve_mm, blade_hue, {}});
  for (std::size_t i = 0; i < rotor.conditions.size(); ++i) {
    const Condition& at = rotor.conditions[i];
    chart.point(at.advance_ratio, at.efficiency,
                fmt::format("{} {} %", at.name, fixed(100 * at.efficiency, 0)), blade_hue,
                look_of(i).marker, black);
  }
  chart.finish();
}

void draw_torque(Canvas& canvas, const Setting& setting, const Box& plot) {
  const RotorCurves& rotor = setting.data.rotor;
  Range x, y;
  x.include(rotor.torque_Nm.x);
  y.include(0.0);
  y.include(rotor.torque_Nm.y);
  for (const Condition& at : rotor.conditions) y.include(at.motor_torque_Nm);
  Chart chart(canvas, plot, exact_axis("propeller revs", setting.units.rotation, x, 8),
              round_axis("Torque", setting.units.torque, y, 5), rotor_label_room_mm);
  chart.axes();
  chart.line(rotor.torque_Nm, {curve_mm, blade_hue, {}},
             "rotor at " + setting.units.speed.text(rotor.speed_m_s), blade_hue);
  for (std::size_t i = 0; i < rotor.conditions.size(); ++i) {
    const Condition& at = rotor.conditions[i];
    chart.level(at.motor_torque_Nm, {0.3, motor_hue, look_of(i).dash_mm}, "motor, " + at.name,
                motor_text);
  }
  chart.finish();
}

void draw_attack(Canvas& canvas, const Setting& setting, const Box& plot) {
  const RotorCurves& rotor = setting.data.rotor;
  Range x, y;
  for (const Condition& at : rotor.conditions) {
    x.include(at.alpha_rad.x);
    y.include(at.alpha_rad.y);
  }
  y.include(0.0);
  Chart chart(canvas, plot, exact_axis("radius", setting.units.radius, x, 8),
              round_axis("Angle of attack", setting.units.angle, y, 5), rotor_label_room_mm);
  chart.axes();
  if (y.low < 0) chart.line({{x.low, x.high}, {0, 0}}, hairline());
  for (std::size_t i = 0; i < rotor.conditions.size(); ++i) {
    chart.line(rotor.conditions[i].alpha_rad, {curve_mm, blade_hue, look_of(i).dash_mm},
               rotor.conditions[i].name, blade_hue);
  }
  chart.finish();
}

void draw_rotor(Canvas& canvas, const Setting& setting) {
  const Box& body = setting.body;
  const RotorCurves& rotor = setting.data.rotor;
  const double width = body.width - chart_left_mm - rotor_label_room_mm;
  const double height = (body.height - 91) / 3;
  double y = draw_title(canvas, setting, "Rotor", "") + 10;
  const auto place = [&](auto draw, const std::string& reading) {
    draw(canvas, setting, Box{body.x + chart_left_mm, y, width, height});
    y = draw_reading(canvas, {body.x, y + height + 14}, body.width, reading) + 8;
  };
  if (rotor.efficiency.x.size() > 1) {
    place(
        draw_efficiency,
        "The flight moves along the line inside the shaded range; a peak well outside it says that "
        "the pitch suits another speed.");
  }
  if (rotor.torque_Nm.x.size() > 1) {
    place(draw_torque,
          "Where a motor line meets the rotor line, the propeller runs: read the revs below. It "
          "holds "
          "for the one flight speed named.");
  }
  const bool any_attack =
      std::any_of(rotor.conditions.begin(), rotor.conditions.end(),
                  [](const Condition& at) { return at.alpha_rad.x.size() > 1; });
  if (any_attack) {
    place(draw_attack,
          "Measured to the chord. A blade that works evenly shows level lines; a rise towards the "
          "root or the tip is where it stalls first.");
  }
}

}  // namespace

void add_rotor_page(const Setting& setting, Pages& pages) {
  const RotorCurves& rotor = setting.data.rotor;
  if (rotor.efficiency.x.size() < 2 && rotor.torque_Nm.x.size() < 2) return;
  pages.push_back({"rotor", [&setting](Canvas& canvas) { draw_rotor(canvas, setting); }});
}

}  // namespace propwright::sheet
