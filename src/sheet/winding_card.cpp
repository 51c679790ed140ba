/// The winding card of the day.
#include "propwright/sheet/winding_card.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "axes.h"
#include "cautions.h"
#include "check.h"
#include "pages.h"
#include "render.h"
#include "table.h"

namespace propwright::sheet {
namespace {

constexpr double card_label_room_mm = 22;

/// Hand winders count their crank; nothing to tell where it is the motor itself.
bool by_crank(const WindingCard& card) {
  return card.winder_ratio != 1;
}

std::string signed_number(double value, int decimals) {
  const std::string text = fixed(value, decimals);
  return value > 0 ? "+" + text : text;
}

void draw_card_numbers(Canvas& canvas, const Setting& setting, const WindingCard& card, Point at,
                       double width) {
  const PrintUnits& units = setting.units;
  const MotorFacts& motor = card.motor;
  const std::string crank = fmt::format("crank, {:g} : 1", card.winder_ratio);
  const struct {
    std::string name, number, unit;
  } cells[] = {
      {"wind to, then stop", whole_number(card.winder_turns), by_crank(card) ? crank : "turns"},
      {"back off", whole_number(card.back_off_winder_turns), by_crank(card) ? "crank" : "turns"},
      {"hook up at", units.torque.number(motor.launch_torque_Nm), units.torque.symbol()},
      {"turns in the motor then", whole_number(motor.launch_turns), "turns"}};
  double x = at.x;
  for (const auto& cell : cells) {
    canvas.text({x, at.y + 4}, cell.name, {Face::sans, text_type_mm, black});
    const TextStyle big{Face::serif, unit_type_mm, black};
    canvas.text({x, at.y + 15}, cell.number, big);
    canvas.text({x + canvas.text_width(cell.number, big) + 1.6, at.y + 15}, cell.unit,
                {Face::sans, text_type_mm, ink2});
    x += width / static_cast<double>(std::size(cells));
  }
}

double draw_steps(Canvas& canvas, const WindingCard& card, Point at, double width) {
  std::vector<Column> columns{{.head = "on the way", .unit = "", .width_mm = 0, .is_number = false},
                              {.head = "motor", .unit = "turns"},
                              {.head = "torque", .unit = "mN·m"},
                              {.head = "", .unit = "g·cm"},
                              {.head = "", .unit = "in-oz"}};
  if (by_crank(card)) columns.insert(columns.begin() + 1, {.head = "crank", .unit = "turns"});
  if (!card.meter_unit.empty()) columns.push_back({.head = "meter", .unit = card.meter_unit});
  for (Column& column : columns)
    column.width_mm = 0.7 * width / (static_cast<double>(columns.size()) - 1);
  columns.front().width_mm = 0.3 * width;
  const auto in = [](double torque_Nm, const char* unit, int decimals) {
    return units::print_in(torque_Nm, units::Dimension::torque, unit, decimals).number;
  };
  std::vector<Row> rows;
  rows.reserve(card.steps.size());
  for (const WindingStep& step : card.steps) {
    Row row{{step.words}, step.strong};
    if (by_crank(card)) row.cells.push_back(whole_number(step.winder_turns));
    row.cells.push_back(whole_number(step.turns));
    row.cells.push_back(in(step.torque_Nm, "mN.m", 2));
    row.cells.push_back(in(step.torque_Nm, "g-cm", 1));
    row.cells.push_back(in(step.torque_Nm, "in-oz", 3));
    if (!card.meter_unit.empty()) {
      row.cells.push_back(step.reading ? fixed(*step.reading, 1) + (step.beyond ? " *" : "") : "");
    }
    rows.push_back(std::move(row));
  }
  const double y = draw_heading(canvas, at, width, "What the meter says on the way");
  const double below = draw_table(canvas, {at.x, y + 1}, columns, rows, 6);
  if (card.beyond.empty()) return below;
  return below + 4 + canvas.paragraph({at.x, below + 4}, width, "* " + card.beyond, {}, 4.6);
}

double draw_changes(Canvas& canvas, const Setting& setting, const WindingCard& card, Point at,
                    double width) {
  if (card.changes.empty()) return at.y;
  const PrintUnit& torque = setting.units.torque;
  std::vector<Column> columns{
      {.head = "what differs", .unit = "", .width_mm = 0.22 * width, .is_number = false},
      {.head = "on the sheet", .unit = "", .width_mm = 0.17 * width, .is_number = false},
      {.head = "today", .unit = "", .width_mm = 0.17 * width, .is_number = false},
      {.head = "back off", .unit = "turns", .width_mm = 0.14 * width},
      {.head = "launch", .unit = torque.symbol(), .width_mm = 0.15 * width},
      {.head = "flight", .unit = "s", .width_mm = 0.15 * width}};
  std::vector<Row> rows;
  rows.reserve(card.changes.size());
  for (const DayChange& change : card.changes) {
    const double in_unit = change.launch_torque_change_Nm / torque.si_per_unit();
    rows.push_back({{change.what, change.from, change.to,
                     signed_number(std::round(change.back_off_change_turns), 0),
                     signed_number(in_unit, torque.decimals),
                     signed_number(std::round(change.duration_change_s), 0)},
                    change.strong});
  }
  const double y = draw_heading(canvas, at, width, "Against the sheet");
  return draw_table(canvas, {at.x, y + 1}, columns, rows, 6);
}

double draw_card_curve(Canvas& canvas, const Setting& setting, const WindingCard& card,
                       const Box& plot) {
  const PrintUnit count{units::Dimension::ratio, "", 0};
  Range x, y;
  x.include(0.0);
  x.include(card.winding_Nm.x);
  x.include(card.motor.breaking_turns);
  y.include(0.0);
  y.include(card.winding_Nm.y);
  y.include(card.unwinding_Nm.y);
  Chart chart(canvas, plot, exact_axis("turns in the motor", count, x, 8),
              round_axis("Torque", setting.units.torque, y, 5), card_label_room_mm);
  chart.axes();
  chart.upright(card.motor.breaking_turns, score_line());
  chart.line(card.winding_Nm, {curve_mm, motor_hue, {}}, "winding", motor_text);
  chart.line(card.unwinding_Nm, {0.3, motor_hue, {4, 1.4}}, "unwinding", motor_text);
  chart.point(card.motor.wind_turns, card.motor.wind_torque_Nm,
              "stop " + whole_number(card.motor.wind_turns), motor_hue, Marker::square, black);
  chart.point(card.motor.launch_turns, card.motor.launch_torque_Nm,
              "hook up " + whole_number(card.motor.launch_turns), motor_hue, Marker::round, black);
  chart.finish();
  return plot.bottom() + 14;
}

void draw_card(Canvas& canvas, const Setting& setting, const WindingCard& card) {
  const Box& body = setting.body;
  double y = draw_title(canvas, setting, "Winding card of the day", card.sentence) + 1;
  y = draw_cautions(canvas, {body.x, y}, body.width, {cautions::wound_rubber}) + 3;
  draw_card_numbers(canvas, setting, card, {body.x, y}, body.width);
  y = draw_steps(canvas, card, {body.x, y + 24}, body.width) + 5;
  y = draw_changes(canvas, setting, card, {body.x, y}, body.width) + 9;
  const Box plot{body.x + chart_left_mm, y + 2, body.width - chart_left_mm - card_label_room_mm,
                 0.17 * body.height};
  y = draw_card_curve(canvas, setting, card, plot);
  for (const std::string& note : card.notes) {
    const double height = canvas.paragraph_height(body.width, note, {}, 4.6);
    if (y + height > body.bottom()) break;
    y += canvas.paragraph({body.x, y}, body.width, note, {}, 4.6) + 1;
  }
}

base::Problems card_problems(const WindingCard& card, const PacketOptions& options) {
  base::Problems problems = check(options);
  const auto need = [&](bool sound, const char* field, const char* remedy) {
    if (sound) return;
    problems.push_back({.field = field, .remedy = remedy, .message = "the card cannot be drawn"});
  };
  const bool even = card.winding_Nm.x.size() == card.winding_Nm.y.size() &&
                    card.unwinding_Nm.x.size() == card.unwinding_Nm.y.size();
  need(even && card.winding_Nm.x.size() > 1, "winding_Nm", "give the motor's curve");
  need(card.winder_ratio > 0 && std::isfinite(card.winder_ratio), "winder_ratio",
       "give a ratio above 0");
  const MotorFacts& m = card.motor;
  bool finite = true;
  for (const double value : {m.wind_turns, m.wind_torque_Nm, m.backed_off_turns, m.launch_turns,
                             m.launch_torque_Nm, m.breaking_turns}) {
    finite = finite && std::isfinite(value);
  }
  for (const WindingStep& step : card.steps) {
    finite = finite && std::isfinite(step.turns) && std::isfinite(step.torque_Nm) &&
             std::isfinite(step.reading.value_or(0));
  }
  need(finite, "motor", "give finite numbers");
  return problems;
}

}  // namespace

base::Expected<PacketPdf> winding_card_pdf(const WindingCard& card, const PacketOptions& options) {
  if (base::Problems problems = card_problems(card, options); !problems.empty()) {
    return base::fail(std::move(problems));
  }
  const auto fonts = Fonts::load();
  if (!fonts) return base::fail(fonts.error());
  PacketData data;
  data.job = card.job;
  const Setting setting(data, options);
  Document document(Document::Format::pdf, setting.width_mm, setting.height_mm, *fonts,
                    "Winding card, " + card.job.design, options.date);
  const Pages pages{{"winding card", [&](Canvas& canvas) { draw_card(canvas, setting, card); }}};
  PacketPdf pdf;
  draw_pages(setting, document.canvas(), pages, pdf);
  pdf.bytes = document.finish();
  return pdf;
}

}  // namespace propwright::sheet
