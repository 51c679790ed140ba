/// A spar seen from its end, with its mark and the faces to be sanded.
#pragma once

#include "canvas.h"
#include "propwright/sheet/bench_sheets.h"

namespace propwright::sheet {

struct EndView {
  EndShape shape = EndShape::square;
  double depth_over_width = 1;  ///< with the mark up
  double turn_rad = 0;          ///< of the mark from the top, clockwise
  bool sand_0 = false;          ///< the marked face and the one across from it
  bool sand_90 = false;         ///< the two others
};

/// `size_mm`: the larger side.
void draw_end_view(Canvas& canvas, Point centre, double size_mm, const EndView& view);

}  // namespace propwright::sheet
