/// The winding card: how far to wind, how much to back off, the motor's curve, and the flight log.
#include <fmt/format.h>

#include <algorithm>

#include "axes.h"
#include "cautions.h"
#include "pages.h"
#include "table.h"

namespace propwright::sheet {
namespace {

constexpr double winding_label_room_mm = 22;

double torque_at(const Series& curve, double turns) {
  for (std::size_t i = 1; i < curve.x.size(); ++i) {
    if (turns > curve.x[i]) continue;
    const double share = (turns - curve.x[i - 1]) / (curve.x[i] - curve.x[i - 1]);
    return curve.y[i - 1] + std::max(0.0, share) * (curve.y[i] - curve.y[i - 1]);
  }
  return curve.y.empty() ? 0 : curve.y.back();
}

/// The figures read at arm's length, one big number each.
void draw_big_numbers(Canvas& canvas, const Setting& setting, Point at, double width) {
  const MotorFacts& motor = setting.data.motor;
  const PrintUnits& units = setting.units;
  const struct {
    std::string name, number, unit;
  } cells[] = {
      {"wind to", whole_number(motor.wind_turns), "turns"},
      {"back off", whole_number(motor.backed_off_turns), "turns"},
      {"launch at", whole_number(motor.launch_turns), "turns"},
      {"torque at launch", units.torque.number(motor.launch_torque_Nm), units.torque.symbol()}};
  const double column = width / static_cast<double>(std::size(cells));
  double x = at.x;
  for (const auto& cell : cells) {
    canvas.text({x, at.y + 4}, cell.name, {Face::sans, text_type_mm, black});
    const TextStyle big{Face::serif, unit_type_mm, black};
    canvas.text({x, at.y + 15}, cell.number, big);
    canvas.text({x + canvas.text_width(cell.number, big) + 1.6, at.y + 15}, cell.unit,
                {Face::sans, text_type_mm, ink2});
    x += column;
  }
}

void draw_curve(Canvas& canvas, const Setting& setting, const Box& plot) {
  const WindingData& winding = setting.data.winding;
  const MotorFacts& motor = setting.data.motor;
  const PrintUnit count{units::Dimension::ratio, "", 0};
  Range x, y;
  x.include(0.0);
  x.include(winding.unwinding_Nm.x);
  x.include(motor.breaking_turns);
  y.include(0.0);
  y.include(winding.unwinding_Nm.y);
  y.include(winding.winding_Nm.y);
  Axis turns = exact_axis("turns in the motor", count, x, 8);
  Chart chart(canvas, plot, turns, round_axis("Torque", setting.units.torque, y, 5),
              winding_label_room_mm);
  chart.axes();
  chart.upright(motor.breaking_turns, score_line());
  chart.line(winding.winding_Nm, {0.3, motor_hue, {4, 1.4}}, "winding", motor_text);
  chart.line(winding.unwinding_Nm, {curve_mm, motor_hue, {}}, "unwinding", motor_text);
  const auto mark = [&](double at, const std::string& words, Marker marker) {
    chart.point(at, torque_at(winding.unwinding_Nm, at), words, motor_hue, marker, black);
  };
  mark(motor.breaking_turns, "breaks about " + whole_number(motor.breaking_turns), Marker::diamond);
  mark(motor.wind_turns, "wind to " + whole_number(motor.wind_turns), Marker::square);
  // The launch point carries what the wait has cost, so it may lie a little under the curve.
  chart.point(motor.launch_turns, motor.launch_torque_Nm,
              "launch " + whole_number(motor.launch_turns), motor_hue, Marker::round, black);
  if (setting.data.headline.turns_left > 0) {
    mark(setting.data.headline.turns_left,
         "landing " + whole_number(setting.data.headline.turns_left), Marker::round);
  }
  chart.finish();
}

double draw_back_off(Canvas& canvas, const Setting& setting, Point at, double width) {
  const auto& choices = setting.data.winding.back_off;
  const PrintUnits& units = setting.units;
  double y = draw_heading(canvas, at, width, "Turns backed off");
  std::vector<Row> rows;
  bool heights = false, durations = false;
  for (const BackOffRow& choice : choices) {
    heights = heights || choice.top_height_m.has_value();
    durations = durations || choice.duration_s.has_value();
  }
  for (const BackOffRow& choice : choices) {
    const bool chosen =
        std::abs(choice.backed_off_turns - setting.data.motor.backed_off_turns) < 0.5;
    Row row{{whole_number(choice.backed_off_turns), whole_number(choice.launch_turns),
             units.torque.number(choice.launch_torque_Nm)},
            chosen};
    if (heights) {
      row.cells.push_back(choice.top_height_m ? units.height.number(*choice.top_height_m) : "");
    }
    if (durations) row.cells.push_back(choice.duration_s ? clock_text(*choice.duration_s) : "");
    rows.push_back(std::move(row));
  }
  std::vector<Column> columns{
      {"back off", "turns"}, {"launch", "turns"}, {"torque", units.torque.symbol()}};
  if (heights) columns.push_back({"top", units.height.symbol()});
  if (durations) columns.push_back({"flight", "min:s"});
  for (Column& column : columns) column.width_mm = width / static_cast<double>(columns.size());
  return draw_table(canvas, {at.x, y + 1}, columns, rows, 5.6);
}

double draw_motor(Canvas& canvas, const Setting& setting, Point at, double width) {
  const MotorFacts& motor = setting.data.motor;
  const PrintUnits& units = setting.units;
  std::vector<Fact> facts;
  if (motor.strip_width_m > 0) {
    facts.push_back({"Strip", units.stock.number(motor.strip_width_m), units.stock.symbol()});
  }
  facts.push_back({"Strands", fmt::format("{}", motor.strands), ""});
  facts.push_back({"Loop", units.length.number(motor.loop_length_m), units.length.symbol()});
  facts.push_back({"Mass", units.rubber_mass.number(motor.mass_kg), units.rubber_mass.symbol()});
  facts.push_back({"Breaks at about", whole_number(motor.breaking_turns), "turns"});
  if (motor.wind_torque_Nm > 0) {
    facts.push_back(
        {"Torque fully wound", units.torque.number(motor.wind_torque_Nm), units.torque.symbol()});
  }
  facts.push_back({"Wait before launch", whole_number(motor.wait_s), "s"});
  return draw_facts(canvas, at, width, motor.rubber.empty() ? "Motor" : "Motor, " + motor.rubber,
                    facts);
}

void draw_log(Canvas& canvas, Point at, double width, double bottom) {
  double y = draw_heading(canvas, at, width, "Flight log");
  const char* heads[] = {"flight", "°C",   "wound", "backed off",   "torque",
                         "top",    "time", "left",  "steers, notes"};
  const double shares[] = {10, 10, 14, 17, 15, 12, 14, 12, 40};
  double sum = 0;
  for (const double share : shares) sum += share;
  double x = at.x;
  for (std::size_t i = 0; i < std::size(heads); ++i) {
    canvas.text({x + 0.8, y + 4.4}, heads[i], {Face::sans, small_type_mm, ink2});
    x += width * shares[i] / sum;
  }
  const double top = y + 6;
  constexpr double line_mm = 7;
  const int lines = std::max(1, static_cast<int>((bottom - top) / line_mm));
  for (int i = 0; i <= lines; ++i) {
    canvas.line({at.x, top + i * line_mm}, {at.x + width, top + i * line_mm}, hairline());
  }
  x = at.x;
  for (std::size_t i = 0; i + 1 < std::size(heads); ++i) {
    x += width * shares[i] / sum;
    canvas.line({x, top}, {x, top + lines * line_mm}, grid_line());
  }
}

void draw_winding(Canvas& canvas, const Setting& setting) {
  const Box& body = setting.body;
  double y = draw_title(canvas, setting, "Winding card", "") + 1;
  y = draw_cautions(canvas, {body.x, y}, body.width, {cautions::wound_rubber}) + 3;
  draw_big_numbers(canvas, setting, {body.x, y}, body.width);
  y += 29;
  const Box plot{body.x + chart_left_mm, y, body.width - chart_left_mm - winding_label_room_mm,
                 0.2 * body.height};
  draw_curve(canvas, setting, plot);
  y = draw_reading(canvas, {body.x, plot.bottom() + 14}, body.width,
                   "The steep end is short: a few turns backed off take much torque with them. "
                   "Landing with many turns left asks for a shorter, thicker motor.") +
      3;
  const double column = (body.width - 14) / 2;
  const bool table = !setting.data.winding.back_off.empty();
  const double left = draw_motor(canvas, setting, {body.x, y}, column);
  const double right =
      table ? draw_back_off(canvas, setting, {body.x + column + 14, y}, column) : left;
  y = std::max(left, right) + 5;
  draw_log(canvas, {body.x, y}, body.width, body.bottom());
}

}  // namespace

void add_winding_page(const Setting& setting, Pages& pages) {
  if (setting.data.winding.unwinding_Nm.x.size() < 2) return;
  pages.push_back({"winding card", [&setting](Canvas& canvas) { draw_winding(canvas, setting); }});
}

}  // namespace propwright::sheet
