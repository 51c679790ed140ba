/// The JSON document of each answer. Keys and their units: docs/commands.md.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/air/air.h"
#include "propwright/answer/form_answer.h"
#include "propwright/answer/json_text.h"
#include "propwright/answer/prediction.h"
#include "propwright/rotor/fine.h"
#include "propwright/rotor/rotor.h"
#include "propwright/rubber/rubber.h"
#include "propwright/shape/shape.h"
#include "propwright/sheet/packet.h"

namespace propwright::answer {

/// What the quick mode said where the fine one was asked.
struct QuickPart {
  rotor::Loads loads;
  rotor::Coefficients coefficients;
  rotor::Difference difference;  ///< fine less quick
};
struct RotorPoint {
  rotor::Result result;
  rotor::Coefficients coefficients;
  std::optional<QuickPart> quick;  ///< empty: the result is the quick mode's own
};
struct RotorAnswer {
  std::vector<RotorPoint> points;
  double diameter_m = 0;
  int blades = 0;
  rotor::Flow flow;
  bool fine = false;  ///< the fine mode was asked
  std::vector<std::string> warnings, notes;
};

std::string air_json(const air::Air& air);
std::string rotor_json(const RotorAnswer& answer);
/// "helical, pitch 843 mm": what a blade of a shape is, in the units of the profile.
std::string shape_label(const shape::Candidate& candidate, units::Profile profile);
Json shape_document(const shape::Shape& shape);
std::string shape_json(const shape::Shape& shape);
std::string form_json(const FormAnswer& answer, const sheet::PacketFiles& files);
std::string reset_json(const ResetAnswer& answer);
std::string rubber_json(const rubber::Batch& batch, const rubber::TestMotor& motor);
std::string prediction_json(const Prediction& prediction);
std::string files_json(const sheet::PacketFiles& files);

}  // namespace propwright::answer
