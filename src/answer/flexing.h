#pragma once

#include "propwright/answer/json_text.h"
#include "propwright/answer/prediction.h"

namespace propwright::answer {

/// The flexing blade at launch and in cruise; null where it flies rigid.
Json flexing_json(const Prediction& prediction);

}  // namespace propwright::answer
