/// The worlds one doubt away from a design, in which its flaws are weighed.
#pragma once

#include <vector>

#include "propwright/asbuilt/ledger.h"
#include "propwright/brief/job.h"
#include "propwright/predict/predict.h"

namespace propwright::answer {

/// One or two for each independent doubt of the job, all of the same chance. Those of the flight
/// stand on both sides, since a roof and a motor wound to its end make a slope there another than
/// here; those of the propeller, which cost maps of their own, on one. Where flights taught several
/// parameters together (directions of [learned]) a world moves all of them along one axis of what
/// is left open, so that the worlds together make the posterior.
std::vector<asbuilt::World> worlds_of(const brief::Job& job, const predict::Nominal& nominal,
                                      const asbuilt::Design& design);

}  // namespace propwright::answer
