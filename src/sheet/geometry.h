/// Points and boxes on paper: millimetres, x right, y down.
#pragma once

namespace propwright::sheet {

struct Point {
  double x = 0, y = 0;
};
struct Box {
  double x = 0, y = 0, width = 0, height = 0;
  double right() const { return x + width; }
  double bottom() const { return y + height; }
};

}  // namespace propwright::sheet
