/// Solids as the bytes of files, in mm. The same input gives the same bytes.
#pragma once

#include <string>
#include <vector>

#include "propwright/solid/form_solid.h"

namespace propwright::solid {

/// Binary STL: 80 bytes of title, the count, 50 bytes a triangle. STL has no unit; these are mm in
/// single precision, which rounds to about 10 nm. Triangles that this rounding makes into lines are
/// not expected at the tolerances FormOptions allows.
std::string stl_bytes(const FormPart& part);

/// 3MF (ISO/IEC 25422) with one object for each part, unit mm, and as metadata the title and a
/// description with hand and pitch. Problem: resource_failed where the library refuses.
base::Expected<std::string> three_mf_bytes(const std::vector<FormPart>& parts);

/// STEP (ISO 10303-214) of the form as one closed solid of plane facets, within the tolerance of
/// the options, though not finer than 0.05 mm and coarser where that would take more than 6100 of
/// them; the header's description tells the tolerance. One spline over the top was tried: it loops
/// or swings out at the corners of the border beside root and tip. The file carries the plain form
/// with its pin holes: groove, scribe line and split are in STL and 3MF only, because a milling
/// program makes them better from their own dimensions. The time stamp in its header is 1970-01-01.
/// Problem: as form_solid; no_solution where no solid comes out; resource_failed where it cannot be
/// written. A temporary file is used, and removed.
base::Expected<std::string> step_bytes(const form::Surface& surface, const FormOptions& options);

}  // namespace propwright::solid
