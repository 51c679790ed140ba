/// The shape's answer for people.
#pragma once

#include <string>

#include "propwright/shape/shape.h"
#include "propwright/units/units.h"

namespace propwright::desk {

/// What was asked, the table of blades with what each gives away, the ideal's stations, notes.
std::string shape_text(const shape::Shape& shape, units::Profile profile);

}  // namespace propwright::desk
