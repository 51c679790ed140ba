/// The JSON document of each command's answer.
#pragma once

#include <string>
#include <vector>

#include "prediction.h"
#include "propwright/air/air.h"
#include "propwright/rubber/rubber.h"
#include "propwright/sheet/packet.h"
#include "rotor_input.h"

namespace propwright::desk {

std::string air_json(const air::Air& air);
std::string rotor_json(const RotorAnswer& answer);
std::string rubber_json(const rubber::Batch& batch, const rubber::TestMotor& motor);
std::string prediction_json(const Prediction& prediction);
std::string files_json(const sheet::PacketFiles& files);

}  // namespace propwright::desk
