/// Drawings at true scale on pages: several small ones packed on a sheet, large ones cut into
/// tiles.
#pragma once

#include <string>
#include <vector>

#include "page.h"

namespace propwright::sheet {

/// What a group of drawings says over itself.
struct Group {
  std::string title, sheet, words;
  std::vector<std::string> cautions;
  bool texts = false;  ///< the drawings' own words too, not their captions alone
};

/// Bars at the foot of the body with the words beside them.
void draw_foot_bars(Canvas& canvas, const Setting& setting);

/// Packs what fits a sheet and tiles what does not; as many captions, each of some lines, as
/// drawings. The drawings must outlive the pages.
void add_group(const Setting& setting, const Canvas& measure, const Group& group,
               const std::vector<const form::Template*>& sources,
               const std::vector<std::vector<std::string>>& captions, Pages& pages);

/// As few tiles as can be, with the drawing upright or turned; `words` draws its texts too.
void add_tiles(const Setting& setting, const Canvas& measure, const form::Template& source,
               bool words, Pages& pages);

}  // namespace propwright::sheet
