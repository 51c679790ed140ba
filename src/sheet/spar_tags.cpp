/// Tags: strips folded round a spar and glued back to back, three side by side with shared cuts.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "bench_pages.h"
#include "bench_units.h"
#include "cautions.h"
#include "group_pages.h"

namespace propwright::sheet {
namespace {

constexpr double flag_mm = 28, wrap_mm = 3, tag_height_mm = 10;
constexpr double tag_mm = 2 * flag_mm + wrap_mm;
constexpr std::size_t tags_across = 3;
const TextStyle tag_grey{Face::sans, small_type_mm, ink2};

const std::string& tag_words() {
  static const std::string words =
      "Cut on the solid lines, fold on the dashed ones round the spar\u2019s root with the fold "
      "over "
      "the marked face, where the arrow points; glue the flags back to back. EI in "
      "N\u00b7mm\u00b2, "
      "mark up and mark at the side. A tag of 80 g/m\u00b2 paper weighs about 50 mg, more than a "
      "spar: take it off to weigh and to read.";
  return words;
}

struct TagText {
  std::string id, batch, date, stiffness, sizes;
};

TagText text_of(const BenchSpar& spar, const std::string& batch, const std::string& date,
                const BenchUnits& units) {
  TagText text{spar.id, "batch " + batch, date_text(date), "", ""};
  const auto number = [&](const PrintUnit& unit, const std::optional<double>& si) {
    return si ? unit.number(*si) : std::string("\u2013");
  };
  if (spar.ei_0_Nm2 || spar.ei_90_Nm2) {
    text.stiffness = fmt::format("{} up, {} side", number(units.stiffness, spar.ei_0_Nm2),
                                 number(units.stiffness, spar.ei_90_Nm2));
  }
  if (spar.mass_kg) text.sizes = units.mass.text(*spar.mass_kg);
  return text;
}

/// The arrow on the front flag, at the fold: the marked face of the spar lies behind it.
void draw_tag(Canvas& canvas, Point at, double scale, const TagText& text) {
  const double flag = flag_mm * scale, wrap = wrap_mm * scale, height = tag_height_mm * scale;
  canvas.frame({at.x, at.y, 2 * flag + wrap, height}, cut_line());
  for (const double x : {flag, flag + wrap}) {
    canvas.line({at.x + x, at.y}, {at.x + x, at.y + height}, score_line());
  }
  constexpr double pad = 1.3, arrow_mm = 8;
  fitted_text(canvas, {at.x + pad, at.y + 4.9}, flag - arrow_mm - pad, text.id,
              {Face::semibold, head_type_mm, black});
  fitted_text(canvas, {at.x + pad, at.y + height - 1.6}, flag - arrow_mm - pad, text.batch,
              tag_grey);
  const Point tip{at.x + flag - 0.8, at.y + 3.4};
  canvas.line({tip.x - 6, tip.y}, tip, cut_line());
  canvas.arrow_head(tip, {tip.x - 6, tip.y}, 2.6, black);
  canvas.text({tip.x - 0.6, at.y + height - 1.6}, "mark", small_text, Align::right);
  const double back = at.x + flag + wrap + pad, room = flag - 2 * pad;
  if (text.stiffness.empty()) {
    canvas.line({back, at.y + 4.4}, {back + room, at.y + 4.4}, hairline());
  } else {
    fitted_text(canvas, {back, at.y + 4.2}, room, text.stiffness, small_strong_text);
  }
  canvas.text({back, at.y + height - 1.6}, text.sizes, small_text);
  canvas.text({back + room, at.y + height - 1.6}, text.date, tag_grey, Align::right);
}

double tags_top(const Setting& setting, const Canvas& measure) {
  return setting.body.y + title_height(measure, setting, tag_words()) + 2 +
         cautions_height(measure, setting.body.width, {cautions::knife}) + 6;
}

}  // namespace

std::size_t tags_per_page(const Setting& setting, const Canvas& measure) {
  const double room = setting.body.bottom() - scale_bars_height_mm - 4 - tags_top(setting, measure);
  const double across = setting.body.width / (tag_mm * setting.scale);
  const auto columns = std::min(tags_across, static_cast<std::size_t>(across));
  return columns * static_cast<std::size_t>(room / (tag_height_mm * setting.scale));
}

Piece tags_piece(const BenchSheets& sheets, std::size_t first, std::size_t last, double room_mm,
                 const PacketOptions& options, double scale) {
  const double width = tag_mm * scale, height = tag_height_mm * scale;
  const std::size_t columns =
      std::min(tags_across, static_cast<std::size_t>(room_mm / width + 1e-9));
  const std::size_t rows = (last - first + columns - 1) / columns;
  const std::size_t used = std::min(columns, last - first);
  const auto draw = [&sheets, &options, first, last, columns, width, height, scale](Canvas& canvas,
                                                                                    Point at) {
    const BenchUnits units(options.profile);
    for (std::size_t i = first; i < last; ++i) {
      const std::size_t row = (i - first) / columns, column = (i - first) % columns;
      draw_tag(
          canvas,
          {at.x + width * static_cast<double>(column), at.y + height * static_cast<double>(row)},
          scale, text_of(sheets.spars->spars[i], sheets.batch, options.date, units));
    }
  };
  return {"", "tags", width * static_cast<double>(used), height * static_cast<double>(rows), draw};
}

void add_tag_pages(const Setting& setting, const Canvas& measure, const BenchSheets& sheets,
                   Pages& pages) {
  if (!sheets.tags || !sheets.spars) return;
  const std::size_t count = sheets.spars->spars.size();
  const std::size_t fit = tags_per_page(setting, measure);
  const double top = tags_top(setting, measure);
  for (std::size_t first = 0; first < count; first += fit) {
    const std::size_t last = std::min(count, first + fit);
    const Piece piece =
        tags_piece(sheets, first, last, setting.body.width, setting.options, setting.scale);
    const std::string number = first > 0 ? fmt::format(" {}", first / fit + 1) : "";
    pages.push_back({"tags" + number + ", 1 : 1",
                     [&setting, piece, top](Canvas& canvas) {
                       const Box& body = setting.body;
                       const double y = draw_title(canvas, setting, "Tags", tag_words()) + 2;
                       draw_cautions(canvas, {body.x, y}, body.width, {cautions::knife});
                       piece.draw(canvas, {body.x, top});
                       draw_foot_bars(canvas, setting);
                     },
                     "tags, 1 : 1"});
  }
}

}  // namespace propwright::sheet
