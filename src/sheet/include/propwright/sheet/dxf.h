/// Templates as drawings that cutting machines read: DXF of release 12, plain text.
#pragma once

#include <string>
#include <vector>

#include "propwright/form/form.h"
#include "propwright/units/units.h"

namespace propwright::sheet {

enum class DxfUnit { millimetre, inch };

/// One drawing with the templates in it, each moved by its place. Layers: CUT what is cut through
/// (colour 1), SCORE what is marked but not cut (colour 5), MARK centre lines, stations and words
/// (colour 8). Lines are polylines, closed where the template's are; words are centred on their
/// place, in the letters of ASCII ("%%d" for the degree sign, as release 12 has it). Numbers to a
/// millionth of the unit. The same templates give the same bytes.
struct DxfPart {
  form::Template drawing;
  double x_m = 0, y_m = 0;  ///< where the template's origin goes
};
std::string dxf(const std::vector<DxfPart>& parts, DxfUnit unit);
std::string dxf(const form::Template& drawing, DxfUnit unit);

}  // namespace propwright::sheet
