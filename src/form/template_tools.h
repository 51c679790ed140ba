/// Shared by the templates: leading edge to the right while drawing, mirrored at the end.
#pragma once

#include "propwright/form/form.h"

namespace propwright::form {

/// Turns a drawing with the leading edge on the right into that of its hand: x changes sign for
/// anticlockwise. Words stay readable.
inline void give_hand(Template& drawing) {
  if (drawing.hand == Hand::clockwise) return;
  for (auto& line : drawing.lines) {
    for (auto& point : line.points_m) point.first = 0 - point.first;
  }
  for (auto& text : drawing.texts) {
    text.x_m = 0 - text.x_m;
    text.angle_deg = text.angle_deg == 90 ? 90 : -text.angle_deg;
  }
}

/// Words for the hand of a template.
inline const char* hand_words(Hand hand) {
  return hand == Hand::clockwise ? "clockwise, seen from behind"
                                 : "anticlockwise, seen from behind";
}

}  // namespace propwright::form
