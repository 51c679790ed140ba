/// The energy ledger as one bar with a table under it.
#pragma once

#include "page.h"

namespace propwright::sheet {

/// Draws at the box's corner over its width; returns the y below.
double draw_energy(Canvas& canvas, const Setting& setting, const Box& at);

/// The height chart, shared by cover and flight page; `remarks` names line and band. Returns the y
/// below its axis title.
double draw_height_chart(Canvas& canvas, const Setting& setting, const Box& plot, bool remarks);

}  // namespace propwright::sheet
