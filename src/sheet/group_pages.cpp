#include "group_pages.h"

#include <fmt/format.h>

#include <algorithm>
#include <memory>

#include "cautions.h"
#include "drawing.h"
#include "layout.h"

namespace propwright::sheet {
namespace {

constexpr double overlap_mm = 12;
constexpr double gap_mm = 7;
constexpr double tile_top_mm = 31;  ///< title and caution of a tile
constexpr double caption_line_mm = 3.7;
constexpr double title_room_mm = 20;

std::string lower_first(std::string words) {
  if (!words.empty() && words[0] >= 'A' && words[0] <= 'Z') words[0] += 'a' - 'A';
  return words;
}

using SharedDrawing = std::shared_ptr<const Drawing>;

void draw_cross(Canvas& canvas, Point at) {
  constexpr double arm = 4;
  canvas.line({at.x - arm, at.y}, {at.x + arm, at.y}, hairline());
  canvas.line({at.x, at.y - arm}, {at.x, at.y + arm}, hairline());
  canvas.circle(at, 2, hairline());
}

/// Which tile this is among all, as a small_text plan.
void draw_tile_plan(Canvas& canvas, const Box& room, const Tiling& tiling, int column, int row) {
  const double cell = std::min({12.0, room.width / tiling.columns, room.height / tiling.rows});
  const double x0 = room.right() - cell * tiling.columns, y0 = room.y;
  for (int j = 0; j < tiling.rows; ++j) {
    for (int i = 0; i < tiling.columns; ++i) {
      const Box box{x0 + i * cell, y0 + j * cell, cell, cell};
      const bool here = i == column && j == row;
      if (here) canvas.fill(box, band_grey);
      canvas.frame(box, hairline());
      if (cell >= 6) {
        canvas.text({box.x + cell / 2, box.y + cell / 2 + 1}, tile_name(i, j),
                    here ? small_strong_text : small_text, Align::centre);
      }
    }
  }
}

/// In a direction that needs one tile only, the drawing stands in its middle.
Point tile_offset(const Tiling& tiling, const Drawing& drawing) {
  return {tiling.columns == 1 ? (tiling.tile_width_mm - drawing.width_mm()) / 2 : 0,
          tiling.rows == 1 ? (tiling.tile_height_mm - drawing.height_mm()) / 2 : 0};
}

void draw_tile(Canvas& canvas, const Setting& setting, const Drawing& drawing,
               const std::string& title, const Tiling& tiling, int column, int row) {
  const Box& body = setting.body;
  const bool whole = tiling.count() == 1;
  draw_title(canvas, setting,
             whole ? title : fmt::format("{}, sheet {}", title, tile_name(column, row)),
             whole ? "Check both bars, then cut on the solid line."
                   : "Lay the crosses of neighbouring sheets over each other against the light, "
                     "check both bars, tape, then cut on the solid line.");
  draw_cautions(canvas, {body.x, body.y + title_room_mm - 1}, body.width, {cautions::knife});
  const Box window{body.x, body.y + tile_top_mm, tiling.tile_width_mm, tiling.tile_height_mm};
  const Box part = tiling.tile(column, row);
  {
    const Canvas::Scope scope(canvas, window, {window.x - part.x, window.y - part.y});
    drawing.draw(canvas, tile_offset(tiling, drawing));
    if (!whole) {
      for (const Point& cross : tiling.crosses(column, row)) draw_cross(canvas, cross);
    }
  }
  const double y = body.bottom() - scale_bars_height_mm;
  draw_scale_bars(canvas, {body.x, y}, setting.scale);
  const Box plan{body.x + scale_bars_width_mm + 30, y, body.width - scale_bars_width_mm - 30,
                 scale_bars_height_mm};
  if (!whole) draw_tile_plan(canvas, plan, tiling, column, row);
  canvas.paragraph({body.x + scale_bars_width_mm + 2, y + 8}, 34,
                   "Measure both bars before cutting.", {Face::semibold, text_type_mm, black}, 4.4);
}

/// A drawing with its caption, ready to be packed.
struct Item {
  SharedDrawing drawing;
  std::vector<std::string> caption;
  Box size;
};

Item make_item(const Setting& setting, const Canvas& measure, const form::Template& source,
               const std::vector<std::string>& caption, bool texts) {
  Item item;
  item.drawing = std::make_shared<const Drawing>(measure, source, setting.units,
                                                 Lay{setting.scale, false, texts});
  item.caption = caption;
  double width = item.drawing->width_mm();
  for (const std::string& line : caption) {
    width = std::max(width, measure.text_width(line, small_strong_text));
  }
  item.size = {
      0, 0, width,
      item.drawing->height_mm() + 1.5 + caption_line_mm * static_cast<double>(caption.size())};
  return item;
}

void draw_item(Canvas& canvas, const Item& item, Point at) {
  item.drawing->draw(canvas, {at.x + (item.size.width - item.drawing->width_mm()) / 2, at.y});
  double y = at.y + item.drawing->height_mm() + 1.5;
  bool first = true;
  for (const std::string& line : item.caption) {
    y += caption_line_mm;
    canvas.text({at.x + item.size.width / 2, y}, line, first ? small_strong_text : small_text,
                Align::centre);
    first = false;
  }
}

void draw_group_page(Canvas& canvas, const Setting& setting, const Group& group,
                     const std::vector<std::pair<Item, Point>>& items, double top) {
  const double y = draw_title(canvas, setting, group.title, group.words) + 2;
  draw_cautions(canvas, {setting.body.x, y}, setting.body.width, group.cautions);
  for (const auto& [item, at] : items) {
    draw_item(canvas, item, {setting.body.x + at.x, top + at.y});
  }
  draw_foot_bars(canvas, setting);
}

}  // namespace

void draw_foot_bars(Canvas& canvas, const Setting& setting) {
  const Box& body = setting.body;
  const double y = body.bottom() - scale_bars_height_mm;
  draw_scale_bars(canvas, {body.x, y}, setting.scale);
  const double x = body.x + scale_bars_width_mm + 4;
  draw_bar_words(canvas, {x, y + 8}, body.right() - x, setting.options);
}

void add_tiles(const Setting& setting, const Canvas& measure, const form::Template& source,
               bool words, Pages& pages) {
  const Box room{0, 0, setting.body.width,
                 setting.body.height - tile_top_mm - scale_bars_height_mm - 3};
  const auto upright = std::make_shared<const Drawing>(measure, source, setting.units,
                                                       Lay{setting.scale, false, words});
  const auto turned = std::make_shared<const Drawing>(measure, source, setting.units,
                                                      Lay{setting.scale, true, words});
  const auto tiled = [&](const Drawing& drawing) {
    return tile(drawing.width_mm(), drawing.height_mm(), room, overlap_mm);
  };
  const bool turn = tiled(*turned).count() < tiled(*upright).count();
  const SharedDrawing drawing = turn ? turned : upright;
  const Tiling tiling = tiled(*drawing);
  const std::string title = source.title;
  const std::string sheet = lower_first(title);
  for (int row = 0; row < tiling.rows; ++row) {
    for (int column = 0; column < tiling.columns; ++column) {
      const std::string name = tiling.count() == 1 ? "" : " " + tile_name(column, row);
      pages.push_back({sheet + name + ", 1 : 1",
                       [&setting, drawing, title, tiling, column, row](Canvas& canvas) {
                         draw_tile(canvas, setting, *drawing, title, tiling, column, row);
                       },
                       sheet + ", 1 : 1"});
    }
  }
}

void add_group(const Setting& setting, const Canvas& measure, const Group& group,
               const std::vector<const form::Template*>& sources,
               const std::vector<std::vector<std::string>>& captions, Pages& pages) {
  const Box& body = setting.body;
  const double top = body.y + title_height(measure, setting, group.words) + 2 +
                     cautions_height(measure, body.width, group.cautions) + 6;
  const double height = body.bottom() - scale_bars_height_mm - 3 - top;
  std::vector<Item> items;
  std::vector<const form::Template*> large;
  for (std::size_t i = 0; i < sources.size(); ++i) {
    Item item = make_item(setting, measure, *sources[i], captions[i], group.texts);
    if (item.size.width > body.width || item.size.height > height) {
      large.push_back(sources[i]);
    } else {
      items.push_back(std::move(item));
    }
  }
  std::vector<Box> sizes;
  sizes.reserve(items.size());
  for (const Item& item : items) sizes.push_back(item.size);
  const std::vector<Placed> places = pack_shelves(sizes, body.width, height, gap_mm);
  const int sheets = places.empty() ? 0 : places.back().sheet + 1;
  for (int sheet = 0; sheet < sheets; ++sheet) {
    std::vector<std::pair<Item, Point>> here;
    for (std::size_t i = 0; i < places.size(); ++i) {
      if (places[i].sheet == sheet) here.emplace_back(items[i], places[i].at);
    }
    const std::string number = sheets > 1 ? fmt::format(" {}", sheet + 1) : "";
    pages.push_back({group.sheet + number + ", 1 : 1",
                     [&setting, group, here, top](Canvas& canvas) {
                       draw_group_page(canvas, setting, group, here, top);
                     },
                     group.sheet + ", 1 : 1"});
  }
  for (const form::Template* source : large) add_tiles(setting, measure, *source, true, pages);
}

}  // namespace propwright::sheet
