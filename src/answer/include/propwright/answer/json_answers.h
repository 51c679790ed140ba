/// The JSON document of each answer. Keys and their units: docs/commands.md.
#pragma once

#include <string>
#include <vector>

#include "propwright/air/air.h"
#include "propwright/answer/prediction.h"
#include "propwright/rotor/rotor.h"
#include "propwright/rubber/rubber.h"
#include "propwright/sheet/packet.h"

namespace propwright::answer {

struct RotorPoint {
  rotor::Result result;
  rotor::Coefficients coefficients;
};
struct RotorAnswer {
  std::vector<RotorPoint> points;
  double diameter_m = 0;
  int blades = 0;
  rotor::Flow flow;
  std::vector<std::string> warnings, notes;
};

std::string air_json(const air::Air& air);
std::string rotor_json(const RotorAnswer& answer);
std::string rubber_json(const rubber::Batch& batch, const rubber::TestMotor& motor);
std::string prediction_json(const Prediction& prediction);
std::string files_json(const sheet::PacketFiles& files);

}  // namespace propwright::answer
