#pragma once

#include "propwright/answer/json_text.h"
#include "propwright/answer/prediction.h"

namespace propwright::answer {

/// The flexing blade at launch and in cruise; null where it flies rigid.
Json flexing_json(const Prediction& prediction);

Json flex_state_json(const flex::State& state);
/// Null for none.
Json flex_limit_json(const std::optional<flex::Limit>& limit);

}  // namespace propwright::answer
