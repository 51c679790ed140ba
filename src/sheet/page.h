/// What every page of the packet shares: paper, margins, title block, headings, cautions, bars.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "canvas.h"
#include "propwright/sheet/packet.h"
#include "quantity.h"

namespace propwright::sheet {

/// The packet being drawn, as every page sees it.
struct Setting {
  Setting(const PacketData& packet, const PacketOptions& chosen);

  const PacketData& data;
  const PacketOptions& options;
  PrintUnits units;
  double width_mm = 0, height_mm = 0;  ///< of the paper
  Box body;                            ///< inside the margins, above the title block
  double scale = 1;                    ///< drawn over true length, from the measured bar
  /// What the title block names first; the design where the name is empty.
  struct Subject {
    std::string name, words;
  };
  Subject subject = {};
};

struct Page {
  std::string sheet;  ///< name in the title block
  std::function<void(Canvas&)> draw;
  std::string group = {};                ///< one line of the list of pages for all that share it
  std::optional<Box> block_column = {};  ///< where the title block stands upright instead
};
using Pages = std::vector<Page>;

/// Drawn length over true length for the bar as measured; 1 without.
double print_scale(const PacketOptions& options);

void draw_title_block(Canvas& canvas, const Setting& setting, const std::string& sheet, int page,
                      int pages);

inline constexpr double upright_block_mm = 52;
/// The same at the foot of a column, its cells one above the other.
void draw_upright_block(Canvas& canvas, const Setting& setting, const Box& column,
                        const std::string& sheet, int page, int pages);

/// Serif title and a line of words under it, at the top of the body; returns the y below.
double draw_title(Canvas& canvas, const Setting& setting, const std::string& title,
                  const std::string& words);
/// The height draw_title needs.
double title_height(const Canvas& canvas, const Setting& setting, const std::string& words);
/// Words made smaller, down to the least readable size, and then cut short, where the room is
/// narrow.
void fitted_text(Canvas& canvas, Point at, double room_mm, std::string words, TextStyle style);
/// The sentence under a chart: what to read from it.
double draw_reading(Canvas& canvas, Point at, double width_mm, const std::string& words);

/// Cautions behind an upright bar, ending with whose word goes before ours; returns the y below.
double draw_cautions(Canvas& canvas, Point at, double width_mm,
                     const std::vector<std::string>& cautions);
double cautions_height(const Canvas& canvas, double width_mm,
                       const std::vector<std::string>& cautions);

inline constexpr double scale_bars_height_mm = 24;
inline constexpr double scale_bars_width_mm = 116;
/// A 100 mm and a 4 in bar, drawn at the print's scale, upper left corner at `at`. The zero of both
/// stands 1 mm right of it.
void draw_scale_bars(Canvas& canvas, Point at, double scale);
/// The same bars turned a quarter anticlockwise, lower left corner at `at`.
void draw_upright_bars(Canvas& canvas, Point at, double scale);
/// What to do with the bars; returns the y below.
double draw_bar_words(Canvas& canvas, Point at, double width_mm, const PacketOptions& options);

/// A line to write on, with words at its left.
void draw_blank(Canvas& canvas, Point at, double width_mm, const std::string& words,
                double words_mm);

std::string hand_text(form::Hand hand);

}  // namespace propwright::sheet
