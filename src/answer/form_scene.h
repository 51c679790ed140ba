/// The form and the blade on it in space, as lines for the pages to draw.
#pragma once

#include "propwright/answer/form_document.h"

namespace propwright::answer {

/// Adds "surface", "scene" and "base_z_m" of a kind to the document.
void add_form_scene(FormKind kind, const FormAnswer& answer, Json& document);

/// A length to a tenth of a micrometre: finer than anything that can be made or drawn.
double drawn_m(double length_m);

}  // namespace propwright::answer
