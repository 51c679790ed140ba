/// Pages of the packet at true scale: blade outline, form stations, rib blanks; each with both
/// scale bars.
#include <fmt/format.h>

#include <algorithm>
#include <memory>

#include "cautions.h"
#include "drawing.h"
#include "group_pages.h"
#include "pages.h"

namespace propwright::sheet {
namespace {

constexpr double column_mm = 60, column_gap_mm = 8;
constexpr double outline_title_mm = 20;
constexpr double edge_mm = 10;  ///< margin of a tall page, above the body's own

using SharedDrawing = std::shared_ptr<const Drawing>;

/// What stands beside an outline: notes, then cautions; returns the y below.
double draw_outline_notes(Canvas& canvas, const Setting& setting, Point at) {
  double y = at.y;
  const auto& notes = setting.data.outline_notes;
  if (!notes.empty()) {
    canvas.text({at.x, y + 5}, "Before cutting", {Face::serif, head_type_mm, black});
    y += 11;
    for (const std::string& note : notes) {
      y += canvas.paragraph({at.x, y}, column_mm, note, {}, 4.7);
    }
    y += 1;
  }
  return draw_cautions(canvas, {at.x, y}, column_mm, {cautions::knife, cautions::dust});
}

/// Lines for the weight of each blade as cut.
void draw_as_cut(Canvas& canvas, const Setting& setting, Point at, double width) {
  canvas.text(at, "As cut", {Face::serif, head_type_mm, black});
  double y = at.y;
  for (int blade = 0; blade < setting.data.propeller.blades; ++blade) {
    y += 9.5;
    draw_blank(canvas, {at.x, y}, width, fmt::format("{}, mg", static_cast<char>('A' + blade)), 12);
  }
}

std::string outline_words(const Setting& setting) {
  return fmt::format(
      "Cut {}, alike, from one sheet. Solid line: cut. Radii in {} from the shaft. Seen from "
      "behind "
      "the model; turns {}.",
      setting.data.propeller.blades, setting.units.radius.symbol(),
      hand_text(setting.data.outline->hand));
}

Page ordinary_outline(const Setting& setting, SharedDrawing drawing) {
  return {"blade outline, 1 : 1", [&setting, drawing](Canvas& canvas) {
            const Box& body = setting.body;
            const double top = draw_title(canvas, setting, "Blade outline", outline_words(setting));
            const double left = body.width - column_mm - column_gap_mm;
            const double room = body.bottom() - scale_bars_height_mm - 4 - top;
            drawing->draw(canvas, {body.x + (left - drawing->width_mm()) / 2,
                                   top + std::max(0.0, (room - drawing->height_mm()) / 2)});
            const double x = body.right() - column_mm;
            const double below = draw_outline_notes(canvas, setting, {x, top + 5});
            draw_as_cut(canvas, setting, {x, below + 12}, column_mm);
            draw_foot_bars(canvas, setting);
          }};
}

/// A blade nearly as long as the paper: the drawing takes the paper's height, all else a column.
Page tall_outline(const Setting& setting, SharedDrawing drawing) {
  const Box column{setting.width_mm - 15 - column_mm, edge_mm, column_mm,
                   setting.height_mm - 2 * edge_mm};
  const auto draw = [&setting, drawing, column](Canvas& canvas) {
    const double left = column.x - column_gap_mm - 15;
    drawing->draw(canvas, {15 + (left - drawing->width_mm()) / 2,
                           (setting.height_mm - drawing->height_mm()) / 2});
    canvas.text({column.x, column.y + 7}, "Blade outline", {Face::serif, title_type_mm, black});
    double y = column.y + 13;
    y += canvas.paragraph({column.x, y}, column_mm, outline_words(setting),
                          {Face::sans, 3.1, black}, 4.1);
    draw_outline_notes(canvas, setting, {column.x, y + 2});
    // The bars stand upright here: the column is narrower than they are long.
    const double foot = column.bottom() - upright_block_mm - 5;
    draw_upright_bars(canvas, {column.x, foot}, setting.scale);
    const double x = column.x + scale_bars_height_mm + 3, width = column.right() - x;
    draw_bar_words(canvas, {x, foot - 96}, width, setting.options);
    draw_as_cut(canvas, setting, {x, foot - 45}, width);
  };
  return {"blade outline, 1 : 1", draw, "", column};
}

std::vector<const form::Template*> drawings_of(const std::vector<RadiusTemplate>& items) {
  std::vector<const form::Template*> drawings;
  drawings.reserve(items.size());
  for (const RadiusTemplate& item : items) drawings.push_back(&item.drawing);
  return drawings;
}

}  // namespace

void add_outline_pages(const Setting& setting, const Canvas& measure, Pages& pages) {
  if (!setting.data.outline) return;
  const auto drawing = std::make_shared<const Drawing>(
      measure, *setting.data.outline, setting.units, Lay{setting.scale, false, true});
  const double left = setting.body.width - column_mm - column_gap_mm;
  const bool narrow = drawing->width_mm() <= left;
  const double ordinary = setting.body.height - outline_title_mm - scale_bars_height_mm - 6;
  if (narrow && drawing->height_mm() <= ordinary) {
    pages.push_back(ordinary_outline(setting, drawing));
  } else if (narrow && drawing->height_mm() <= setting.height_mm - 2 * edge_mm) {
    pages.push_back(tall_outline(setting, drawing));
  } else {
    add_tiles(setting, measure, *setting.data.outline, true, pages);
  }
}

void add_form_pages(const Setting& setting, const Canvas& measure, Pages& pages) {
  std::vector<std::vector<std::string>> captions;
  for (const RadiusTemplate& station : setting.data.form_stations) {
    const bool clockwise = station.drawing.hand == form::Hand::clockwise;
    captions.push_back({setting.units.radius.text(station.radius_m) + ", " +
                            setting.units.angle.text(station.angle_rad),
                        hand_text(station.drawing.hand),
                        std::string("leading edge ") + (clockwise ? "right" : "left")});
  }
  const Group group{
      "Form stations",
      "form stations",
      "Stand each on its base line at its radius along a straight spar line, seen from "
      "the tip towards the shaft. Solid: cut. Dashed: mark only.",
      {cautions::knife, cautions::spray_glue, cautions::heat}};
  add_group(setting, measure, group, drawings_of(setting.data.form_stations), captions, pages);
}

void add_rib_pages(const Setting& setting, const Canvas& measure, Pages& pages) {
  std::vector<std::vector<std::string>> captions;
  int number = 0;
  for (const RadiusTemplate& rib : setting.data.ribs) {
    captions.push_back({fmt::format("rib {}", ++number), setting.units.radius.text(rib.radius_m)});
  }
  const Group group{"Rib blanks",
                    "rib blanks",
                    fmt::format("One of each per blade, {} blades; leading edge on the right. "
                                "Trim to the outline when they are in.",
                                setting.data.propeller.blades),
                    {cautions::knife, cautions::instant_glue}};
  add_group(setting, measure, group, drawings_of(setting.data.ribs), captions, pages);
}

}  // namespace propwright::sheet
