/// The deflection rig as a question tells it: text with units into SI.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/answer/json_text.h"
#include "propwright/base/problem.h"
#include "propwright/spar/rig.h"

namespace propwright::answer {

struct RigRead {
  spar::Rig rig = {};
  bool sound = false;  ///< nothing was wrong; else the rig is not to be used
  std::optional<spar::Calibration> calibration = {};
  int calibration_readings = 0;
};

/// Problems stand under `field`, "rig" or "spars[2].states[1].rig".
RigRead read_rig(const Json& json, const std::string& field, base::Problems& problems);

/// A list of texts as lengths, m; what was left empty is passed over. Fields count from 1.
std::vector<double> read_lengths(const Json& list, const std::string& field,
                                 base::Problems& problems);

}  // namespace propwright::answer
