/// The sheet of a fair test.
#include "propwright/sheet/fair_test.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cautions.h"
#include "check.h"
#include "render.h"
#include "table.h"

namespace propwright::sheet {
namespace {

constexpr double fair_row_mm = 11, fair_head_mm = 10;
constexpr std::size_t most_fair_flights = 400;

/// What is written down of each flight.
struct FairColumn {
  const char *head, *unit;
  double share;  ///< of the width
};
constexpr FairColumn fair_columns[] = {
    {"flight", "", 0.07},     {"propeller", "", 0.19},   {"turns in", "", 0.09},
    {"backed off", "", 0.10}, {"torque", "launch", 0.1}, {"time", "min : s", 0.13},
    {"top height", "", 0.11}, {"turns left", "", 0.09},  {"what happened", "", 0.12}};

const FairPropeller* of_letter(const FairTest& test, const std::string& letter) {
  const auto found = std::find_if(test.propellers.begin(), test.propellers.end(),
                                  [&](const FairPropeller& p) { return p.letter == letter; });
  return found == test.propellers.end() ? nullptr : &*found;
}

/// The first stands in a circle, the second in a square, the others in a double square: told apart
/// without colour.
void draw_letter(Canvas& canvas, const FairTest& test, const std::string& letter, Point centre,
                 double size_mm) {
  const Stroke stroke = cut_line();
  const bool first = letter == test.propellers[0].letter;
  const bool second = !first && letter == test.propellers[1].letter;
  const double half = size_mm / 2;
  if (first) {
    canvas.circle(centre, half, stroke);
  } else {
    canvas.frame({centre.x - half, centre.y - half, size_mm, size_mm}, stroke);
    const double in = half - 0.7;
    if (!second) canvas.frame({centre.x - in, centre.y - in, 2 * in, 2 * in}, hairline());
  }
  canvas.text({centre.x, centre.y + 0.36 * strong_type_mm}, letter,
              {Face::semibold, strong_type_mm, black}, Align::centre);
}

std::string milligrams(const std::optional<double>& mass_kg) {
  return mass_kg ? fmt::format("{:.0f}", *mass_kg * 1e6) : "";
}

double draw_fair_propellers(Canvas& canvas, const Setting& setting, const FairTest& test,
                            Point at) {
  const double width = setting.body.width;
  const std::vector<Column> columns{
      {.head = "", .unit = "", .width_mm = 0.08 * width, .is_number = false},
      {.head = "propeller", .unit = "", .width_mm = 0.24 * width, .is_number = false},
      {.head = "blades set", .unit = "", .width_mm = 0.18 * width, .is_number = false},
      {.head = "mass",
       .unit = setting.options.profile == units::Profile::inch ? "mg (oz)" : "mg",
       .width_mm = 0.14 * width},
      {.head = "ballast to add", .unit = "mg", .width_mm = 0.17 * width},
      {.head = "as weighed today", .unit = "mg", .width_mm = 0.19 * width}};
  std::vector<Row> rows;
  rows.reserve(test.propellers.size());
  for (const FairPropeller& p : test.propellers) {
    std::string mass = milligrams(p.mass_kg);
    if (p.mass_kg && setting.options.profile == units::Profile::inch) {
      mass += fmt::format(" ({:.4f})", *p.mass_kg / 0.028349523125);
    }
    const std::string ballast =
        p.ballast_kg && *p.ballast_kg < 5e-7 ? "none" : milligrams(p.ballast_kg);
    const std::string set = p.setting.empty() ? "________" : p.setting.substr(0, 24);
    rows.push_back({{p.letter, p.name, set, mass, ballast, "________"}, false});
  }
  const double y = draw_heading(canvas, at, width, "Equally heavy");
  return draw_table(canvas, {at.x, y + 1}, columns, rows);
}

/// "The same turns for all, as flights taught it: wind 890 (89 of the winder, 10 : 1), ...".
std::string winding_rule(const Setting& setting, const FairTest& test) {
  const auto turns = [&](double motor) {
    const std::string number = whole_number(motor);
    if (test.winder_ratio == 1) return number;
    return fmt::format("{} ({} of the winder)", number, whole_number(motor / test.winder_ratio));
  };
  std::string words =
      fmt::format("The same turns for all, {}{}: wind {}, back off {}, hook up at {}",
                  test.learned ? "as learned from the flights" : "as the sheet plans them",
                  test.winder_ratio == 1 ? "" : fmt::format(", winder {:g} : 1", test.winder_ratio),
                  turns(*test.wind_turns), turns(*test.wind_turns - *test.launch_turns),
                  turns(*test.launch_turns));
  if (test.hook_up_torque_Nm) {
    words += fmt::format(" and about {} on the hook",
                         setting.units.torque.text(*test.hook_up_torque_Nm));
  }
  words += ".";
  return test.learned ? words +
                            " The winding card of the day may say otherwise: write down which "
                            "you keep to, and keep to one."
                      : words;
}

std::vector<std::string> fair_rules(const Setting& setting, const FairTest& test) {
  std::vector<std::string> rules{
      "Ballast sits at the hub, so that the model balances where it did; weigh each propeller with "
      "it.",
      "One motor for all" + (test.motor.empty() ? std::string(".") : ": " + test.motor + ".") +
          " Wind it the same way each time, and let it rest as long between flights."};
  if (test.wind_turns && test.launch_turns) {
    rules.push_back(winding_rule(setting, test));
  } else {
    rules.push_back(
        "The same turns for all: wind ________, back off ________, launch at ________.");
  }
  rules.push_back(
      "Keep to the order, also after a bad flight: what drifts during the session then falls on "
      "all "
      "alike. Write every flight down. Aborted, steered or hung up: say so, and fly it again at "
      "the "
      "end.");
  return rules;
}

double draw_fair_rules(Canvas& canvas, const Setting& setting, const FairTest& test, Point at) {
  const double width = setting.body.width;
  double y = draw_heading(canvas, at, width, "The same for all") + 5;
  for (const std::string& line : fair_rules(setting, test)) {
    canvas.text({at.x, y}, "\u2013", {});
    y += canvas.paragraph({at.x + 4, y}, width - 4, line, {}, 4.6) + 1;
  }
  return y;
}

/// Boxes for the day and its air, which every flight of the sheet shares.
double draw_fair_day(Canvas& canvas, const Setting& setting, Point at) {
  const bool inch = setting.options.profile == units::Profile::inch;
  const struct {
    const char* head;
    double share;
  } boxes[] = {{"day, hall", 0.36},
               {inch ? "temperature, °F" : "temperature, °C", 0.17},
               {"humidity, %", 0.14},
               {inch ? "pressure, inHg" : "pressure, hPa", 0.17},
               {inch ? "roof, ft" : "roof, m", 0.16}};
  double x = at.x;
  for (const auto& box : boxes) {
    const double wide = box.share * setting.body.width;
    canvas.frame({x, at.y, wide, fair_row_mm}, hairline());
    canvas.text({x + 1, at.y + 3.6}, box.head, {Face::sans, small_type_mm, ink2});
    x += wide;
  }
  return at.y + fair_row_mm;
}

void draw_fair_head(Canvas& canvas, Point at, double width) {
  double x = at.x;
  for (const FairColumn& column : fair_columns) {
    canvas.text({x + 1, at.y + 4}, column.head, small_strong_text);
    canvas.text({x + 1, at.y + 8}, column.unit, {Face::sans, small_type_mm, ink2});
    x += column.share * width;
  }
}

void draw_fair_row(Canvas& canvas, const FairTest& test, std::size_t flight, Point at,
                   double width) {
  const std::string& letter = test.order[flight];
  double x = at.x;
  std::size_t place = 0;
  for (const FairColumn& column : fair_columns) {
    const double wide = column.share * width;
    const Point words{x + 1.5, at.y + 0.62 * fair_row_mm};
    canvas.frame({x, at.y, wide, fair_row_mm}, hairline());
    if (place == 0) canvas.text(words, std::to_string(flight + 1), {});
    if (place == 1) {
      draw_letter(canvas, test, letter, {x + 6, at.y + fair_row_mm / 2}, 7.4);
      canvas.text({x + 11.5, words.y}, of_letter(test, letter)->name.substr(0, 14), small_text);
    }
    if (column.head == std::string("time")) {
      canvas.text({x + 0.42 * wide, words.y}, ":", {Face::sans, text_type_mm, ink2});
    }
    x += wide;
    ++place;
  }
}

void draw_fair_rows(Canvas& canvas, const Setting& setting, const FairTest& test, Point at,
                    std::size_t first, std::size_t last) {
  const double width = setting.body.width;
  draw_fair_head(canvas, at, width);
  double y = at.y + fair_head_mm;
  for (std::size_t i = first; i < last; ++i) {
    draw_fair_row(canvas, test, i, {at.x, y}, width);
    y += fair_row_mm;
  }
}

std::size_t rows_in(double height_mm) {
  return static_cast<std::size_t>(
      std::max(std::floor((height_mm - fair_head_mm) / fair_row_mm), 0.0));
}

/// Everything above the flights; returns the y below it.
double draw_fair_front(Canvas& canvas, const Setting& setting, const FairTest& test) {
  const Box& body = setting.body;
  const std::string words =
      test.sentence.empty() ? "The flights in their order, with room to write." : test.sentence;
  double y = draw_title(canvas, setting, "Fair test", words) + 1;
  y = draw_cautions(canvas, {body.x, y}, body.width, {cautions::wound_rubber}) + 5;
  y = draw_fair_propellers(canvas, setting, test, {body.x, y}) + 6;
  y = draw_fair_rules(canvas, setting, test, {body.x, y}) + 3;
  y = draw_fair_day(canvas, setting, {body.x, y}) + 4;
  return draw_heading(canvas, {body.x, y}, body.width, "Flights, in this order") + 1;
}

base::Problems fair_problems(const FairTest& test, const PacketOptions& options) {
  base::Problems problems = check(options);
  if (test.propellers.size() < 2 || test.propellers.size() > 12) {
    problems.push_back({.field = "propellers",
                        .value = std::to_string(test.propellers.size()),
                        .allowed = "2 to 12",
                        .remedy = "give the propellers that are compared",
                        .message = "a fair test is between two propellers or more"});
    return problems;
  }
  if (test.order.empty() || test.order.size() > most_fair_flights) {
    problems.push_back({.field = "order",
                        .value = fmt::format("{} flights", test.order.size()),
                        .allowed = fmt::format("1 to {}", most_fair_flights),
                        .remedy = "ask for fewer flights of each",
                        .message = "the flights do not go on the sheet"});
  }
  bool finite = true;
  for (const FairPropeller& p : test.propellers) {
    finite =
        finite && std::isfinite(p.mass_kg.value_or(0)) && std::isfinite(p.ballast_kg.value_or(0));
  }
  for (const auto& number : {test.wind_turns, test.launch_turns, test.hook_up_torque_Nm}) {
    finite = finite && std::isfinite(number.value_or(0));
  }
  finite = finite && std::isfinite(test.winder_ratio) && test.winder_ratio > 0;
  if (!finite) {
    problems.push_back({.field = "propellers",
                        .remedy = "give finite masses, turns and torque",
                        .message = "the sheet cannot be drawn"});
  }
  for (const std::string& letter : test.order) {
    if (of_letter(test, letter) != nullptr) continue;
    problems.push_back({.field = "order",
                        .value = letter,
                        .remedy = "use the letters of the propellers",
                        .message = "no propeller has this letter"});
    break;
  }
  return problems;
}

}  // namespace

base::Expected<PacketPdf> fair_test_pdf(const FairTest& test, const PacketOptions& options) {
  if (base::Problems problems = fair_problems(test, options); !problems.empty()) {
    return base::fail(std::move(problems));
  }
  const auto fonts = Fonts::load();
  if (!fonts) return base::fail(fonts.error());
  PacketData data;
  data.job = {.design = "Fair test", .model = test.model, .hall = test.hall};
  Setting setting(data, options);
  std::string names;
  for (const FairPropeller& p : test.propellers) names += (names.empty() ? "" : " / ") + p.name;
  setting.subject = {names, test.model};
  // What stands above the flights is drawn once elsewhere, to see how many rows are left.
  Document measure(Document::Format::pdf, setting.width_mm, setting.height_mm, *fonts, "",
                   options.date);
  const double below = draw_fair_front(measure.canvas(), setting, test);
  const std::size_t on_first = std::min(rows_in(setting.body.bottom() - below), test.order.size());
  const std::size_t on_other = rows_in(setting.body.height);
  Pages pages{{"fair test", [&](Canvas& canvas) {
                 const double y = draw_fair_front(canvas, setting, test);
                 draw_fair_rows(canvas, setting, test, {setting.body.x, y}, 0, on_first);
               }}};
  for (std::size_t first = on_first; first < test.order.size(); first += on_other) {
    const std::size_t last = std::min(first + on_other, test.order.size());
    pages.push_back(
        {"fair test", [&, first, last](Canvas& canvas) {
           draw_fair_rows(canvas, setting, test, {setting.body.x, setting.body.y}, first, last);
         }});
  }
  Document document(Document::Format::pdf, setting.width_mm, setting.height_mm, *fonts,
                    "Fair test, " + names, options.date);
  PacketPdf pdf;
  draw_pages(setting, document.canvas(), pages, pdf);
  pdf.bytes = document.finish();
  return pdf;
}

}  // namespace propwright::sheet
