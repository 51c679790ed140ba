/// From a prediction to the page data of the build packet.
#pragma once

#include "propwright/answer/prediction.h"
#include "propwright/sheet/packet.h"

namespace propwright::answer {

sheet::PacketData packet_data(const Prediction& prediction);

}  // namespace propwright::answer
