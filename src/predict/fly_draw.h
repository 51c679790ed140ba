/// The flight of a job with one draw of its doubts.
#pragma once

#include <optional>

#include "draws.h"
#include "propwright/predict/predict.h"

namespace propwright::predict {

/// Nothing when it does not fly. Launch turns stay as planned.
std::optional<flight::Flight> fly_draw(const Nominal& nominal, const Draw& d);

}  // namespace propwright::predict
