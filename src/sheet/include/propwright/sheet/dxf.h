/// Templates as drawings that cutting machines read: DXF of release 12, plain text.
#pragma once

#include <string>

#include "propwright/form/form.h"
#include "propwright/units/units.h"

namespace propwright::sheet {

enum class DxfUnit { millimetre, inch };

/// The template as a drawing. Layers: CUT what is cut through
/// (colour 1), SCORE what is marked but not cut (colour 5), MARK centre lines, stations and words
/// (colour 8). Lines are polylines, closed where the template's are; words are centred on their
/// place, in the letters of ASCII ("%%d" for the degree sign, as release 12 has it). Numbers to a
/// millionth of the unit. The same template gives the same bytes.
std::string dxf(const form::Template& drawing, DxfUnit unit);

}  // namespace propwright::sheet
