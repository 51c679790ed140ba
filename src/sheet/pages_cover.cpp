/// The cover: the headline, the flight at a glance, propeller and motor, pages, cautions, notes.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <memory>

#include "cautions.h"
#include "energy_bar.h"
#include "pages.h"
#include "table.h"

namespace propwright::sheet {
namespace {

constexpr double gutter_mm = 16;
constexpr double note_line_mm = 4.1;
const TextStyle note_style{Face::sans, 3.1, black};

std::vector<Fact> propeller_facts(const Setting& setting) {
  const PropellerFacts& propeller = setting.data.propeller;
  const PrintUnits& units = setting.units;
  std::vector<Fact> facts{
      {"Diameter", units.length.number(propeller.diameter_m), units.length.symbol()},
      {"Blades", fmt::format("{}", propeller.blades), propeller.kind}};
  if (propeller.form_pitch_m > 0) {
    facts.push_back(
        {"Made on form, pitch", units.pitch.number(propeller.form_pitch_m), units.pitch.symbol()});
  }
  facts.push_back({"Set at " + units.radius.text(propeller.gauge_radius_m),
                   units.angle.number(propeller.gauge_angle_rad), "°"});
  facts.push_back({"Pitch there", units.pitch.number(propeller.set_pitch_m), units.pitch.symbol()});
  facts.push_back(
      {"Widest chord", units.length.number(propeller.widest_chord_m), units.length.symbol()});
  facts.push_back({"Camber", fixed(100 * propeller.camber, 1), "%"});
  if (propeller.mass_kg > 0) {
    facts.push_back(
        {"Mass, planned", units.part_mass.number(propeller.mass_kg), units.part_mass.symbol()});
  }
  return facts;
}

std::vector<Fact> motor_facts(const Setting& setting) {
  const MotorFacts& motor = setting.data.motor;
  const PrintUnits& units = setting.units;
  std::vector<Fact> facts;
  if (motor.strip_width_m > 0) {
    facts.push_back({"Strip", units.stock.number(motor.strip_width_m), units.stock.symbol()});
  }
  facts.push_back({"Loop", units.length.number(motor.loop_length_m), units.length.symbol()});
  facts.push_back({"Mass", units.rubber_mass.number(motor.mass_kg), units.rubber_mass.symbol()});
  facts.push_back({"Breaks at about", whole_number(motor.breaking_turns), "turns"});
  facts.push_back({"Wind to", whole_number(motor.wind_turns), "turns"});
  facts.push_back({"Back off", whole_number(motor.backed_off_turns), "turns"});
  facts.push_back({"Launch at", whole_number(motor.launch_turns), "turns"});
  facts.push_back(
      {"Launch torque", units.torque.number(motor.launch_torque_Nm), units.torque.symbol()});
  return facts;
}

/// A number and its unit words on one line, big and small; returns the x after it.
double draw_run(Canvas& canvas, Point at, const std::string& words, double size_mm, double gap_mm) {
  const TextStyle style{Face::serif, size_mm, black};
  canvas.text(at, words, style);
  return at.x + canvas.text_width(words, style) + gap_mm;
}

void draw_duration(Canvas& canvas, const Headline& headline, Point at) {
  const long whole = std::lround(headline.duration_s);
  double x = at.x;
  if (whole >= 60) {
    x = draw_run(canvas, {x, at.y}, fmt::format("{}", whole / 60), number_type_mm, 2.2);
    x = draw_run(canvas, {x, at.y}, "min", unit_type_mm, 3.2);
  }
  x = draw_run(canvas, {x, at.y},
               whole >= 60 ? fmt::format("{:02}", whole % 60) : fmt::format("{}", whole),
               number_type_mm, 2.2);
  const std::string doubt =
      headline.sigma_s > 0 ? fmt::format("s ± {} s", std::lround(headline.sigma_s)) : "s";
  draw_run(canvas, {x, at.y}, doubt, unit_type_mm, 0);
}

std::string headline_sentence(const Setting& setting) {
  const Headline& headline = setting.data.headline;
  if (!headline.sentence.empty()) return headline.sentence;
  const double under = setting.data.job.roof_m - headline.top_height_m;
  const PrintUnit& height = setting.units.height;
  const std::string top = under > 0 ? fmt::format("Tops out {} under the roof", height.text(under))
                                    : std::string("Reaches the roof");
  const std::string turns =
      headline.turns_left >= 0.5
          ? fmt::format("lands with {} turns left", whole_number(headline.turns_left))
          : std::string("lands with the motor run out");
  return top + ", " + turns + ".";
}

std::string doubt_sentence(const Headline& headline) {
  std::string words;
  if (headline.high_s > 0) {
    words = fmt::format("5 % to 95 %: {} to {}", clock_text(headline.low_s),
                        clock_text(headline.high_s));
  }
  if (headline.bound_s > 0) {
    words += fmt::format("{}{} % of what the best possible propeller could do here, {}",
                         words.empty() ? "" : "  ·  ",
                         whole_number(100 * headline.duration_s / headline.bound_s),
                         clock_text(headline.bound_s));
  }
  return words;
}

/// The upper part of the cover; returns the y below.
double draw_top(Canvas& canvas, const Setting& setting) {
  const Box& body = setting.body;
  const PacketData& data = setting.data;
  canvas.text({body.x, body.y + 5},
              fmt::format("{} in {}, {} to the lowest obstacle", data.job.model, data.job.hall,
                          setting.units.height.text(data.job.roof_m)),
              {Face::sans, strong_type_mm, ink2});
  draw_duration(canvas, data.headline, {body.x - 1, body.y + 29});
  TextStyle sentence{Face::serif, 7.0, black};
  const std::string words = headline_sentence(setting);
  const double width = canvas.text_width(words, sentence);
  if (width > body.width) sentence.size_mm = std::max(5.0, 7.0 * body.width / width);
  double y = body.y + 41;
  y += canvas.paragraph({body.x, y}, body.width, words, sentence, 8.4) - 1.4;
  canvas.text({body.x, y}, doubt_sentence(data.headline), {Face::sans, strong_type_mm, black});
  if (data.flight.height_m.x.size() < 2) return y + 4;
  const Box plot{body.x + 14, y + 14, body.width - 14 - 27, std::max(26.0, body.height - 219)};
  return draw_height_chart(canvas, setting, plot, false) + 2;
}

/// Pages of one group stand on one line: "form stations, 1 : 1   6 to 7".
void draw_page_list(Canvas& canvas, const Pages& pages, Point at, const Box& room) {
  struct Entry {
    std::string name;
    std::size_t first, last;
  };
  std::vector<Entry> entries;
  for (std::size_t i = 0; i < pages.size(); ++i) {
    const std::string& name = pages[i].group.empty() ? pages[i].sheet : pages[i].group;
    if (!entries.empty() && entries.back().name == name) {
      entries.back().last = i + 1;
    } else {
      entries.push_back({name, i + 1, i + 1});
    }
  }
  double y = draw_heading(canvas, at, room.width, "Pages") + 1;
  const double line = std::min(4.55, (room.bottom() - y) / static_cast<double>(entries.size()));
  for (const Entry& entry : entries) {
    y += line;
    canvas.text({at.x, y}, entry.name, note_style);
    const std::string numbers = entry.last > entry.first
                                    ? fmt::format("{} to {}", entry.first, entry.last)
                                    : fmt::format("{}", entry.first);
    canvas.text({at.x + room.width, y}, numbers, note_style, Align::right);
  }
}

/// One note, under its kind where that changes.
struct Note {
  std::string kind, words;
};

std::vector<Note> all_notes(const PacketData& data) {
  std::vector<Note> notes;
  const std::pair<const char*, const std::vector<std::string>*> kinds[] = {
      {"Warnings", &data.warnings}, {"Notes", &data.notes}, {"Assumed", &data.assumptions}};
  for (const auto& [kind, list] : kinds) {
    for (const std::string& words : *list) notes.push_back({kind, words});
  }
  return notes;
}

constexpr double kind_gap_mm = 2.2;

double note_height(const Canvas& canvas, const std::vector<Note>& notes, std::size_t index,
                   double width) {
  const bool heads = index == 0 || notes[index - 1].kind != notes[index].kind;
  return canvas.paragraph_height(width, notes[index].words, note_style, note_line_mm) +
         (heads ? note_line_mm + kind_gap_mm : 0.6);
}

/// How many notes from `first` fit the height.
std::size_t fitting(const Canvas& canvas, const std::vector<Note>& notes, std::size_t first,
                    double width, double height) {
  std::size_t count = 0;
  double used = 0;
  for (std::size_t i = first; i < notes.size(); ++i) {
    used += note_height(canvas, notes, i, width);
    if (used > height) break;
    ++count;
  }
  return count;
}

void draw_notes(Canvas& canvas, const std::vector<Note>& notes, std::size_t first,
                std::size_t count, Point at, double width) {
  double y = at.y;
  for (std::size_t i = first; i < first + count; ++i) {
    const bool heads = i == first || notes[i - 1].kind != notes[i].kind;
    if (heads) {
      y += kind_gap_mm + note_line_mm;
      canvas.text({at.x, y}, notes[i].kind, {Face::semibold, 3.1, black});
    } else {
      y += 0.6;
    }
    y +=
        canvas.paragraph({at.x, y + note_line_mm}, width, notes[i].words, note_style, note_line_mm);
  }
}

const std::vector<std::string>& cover_cautions() {
  static const std::vector<std::string> list{cautions::wound_rubber, cautions::solvent,
                                             cautions::knife};
  return list;
}

/// Heights of the cover's lower parts, the same when it is measured and when it is drawn.
struct CoverPlan {
  double column = 0, left_top = 0, left_height = 0;
  std::size_t notes_here = 0;
};

constexpr double facts_height(std::size_t count) {
  return 8 + row_mm * static_cast<double>(count);
}

CoverPlan plan_cover(const Setting& setting, const Canvas& measure,
                     const std::vector<Note>& notes) {
  CoverPlan plan;
  const Box& body = setting.body;
  plan.column = (body.width - gutter_mm) / 2;
  // draw_top's height, from the same numbers.
  const bool chart = setting.data.flight.height_m.x.size() >= 2;
  const double top = body.y + 41 + 7 + (chart ? 14 + std::max(26.0, body.height - 219) + 11 : 4);
  const std::size_t facts = std::max(propeller_facts(setting).size(), motor_facts(setting).size());
  plan.left_top = top + 4 + facts_height(facts) + 7;
  plan.left_height =
      body.bottom() - plan.left_top - cautions_height(measure, plan.column, cover_cautions()) - 1;
  plan.notes_here = fitting(measure, notes, 0, plan.column, plan.left_height);
  return plan;
}

void draw_cover(Canvas& canvas, const Setting& setting, const Pages& pages,
                const std::vector<Note>& notes, const CoverPlan& plan) {
  const Box& body = setting.body;
  const double y = draw_top(canvas, setting) + 4;
  const double right = body.x + plan.column + gutter_mm;
  draw_facts(canvas, {body.x, y}, plan.column, "Propeller", propeller_facts(setting));
  draw_facts(canvas, {right, y}, plan.column, "Motor and launch", motor_facts(setting));
  const double below =
      draw_cautions(canvas, {body.x, plan.left_top}, plan.column, cover_cautions());
  draw_notes(canvas, notes, 0, plan.notes_here, {body.x, below}, plan.column);
  if (plan.notes_here < notes.size()) {
    canvas.text({body.x, body.bottom()},
                fmt::format("{} more on page 2.", notes.size() - plan.notes_here),
                {Face::sans, small_type_mm, ink2});
  }
  draw_page_list(canvas, pages, {right, plan.left_top - 2},
                 {right, plan.left_top, plan.column, body.bottom() - plan.left_top});
}

}  // namespace

void add_cover(const Setting& setting, const Canvas& measure, Pages& pages) {
  const auto notes = std::make_shared<const std::vector<Note>>(all_notes(setting.data));
  CoverPlan plan = plan_cover(setting, measure, *notes);
  if (plan.notes_here < notes->size()) {
    // Room for the line that sends the reader on.
    plan.notes_here = fitting(measure, *notes, 0, plan.column, plan.left_height - 5);
  }
  Pages front;
  front.push_back({"summary", [&setting, &pages, notes, plan](Canvas& canvas) {
                     draw_cover(canvas, setting, pages, *notes, plan);
                   }});
  const Box& body = setting.body;
  for (std::size_t first = plan.notes_here; first < notes->size();) {
    // A note longer than a page is drawn all the same rather than dropped.
    const std::size_t count =
        std::max<std::size_t>(1, fitting(measure, *notes, first, body.width, body.height - 20));
    front.push_back(
        {"notes", [&setting, notes, first, count](Canvas& canvas) {
           const double y = draw_title(canvas, setting, "Notes", "");
           draw_notes(canvas, *notes, first, count, {setting.body.x, y}, setting.body.width);
         }});
    first += count;
  }
  pages.insert(pages.begin(), front.begin(), front.end());
}

}  // namespace propwright::sheet
