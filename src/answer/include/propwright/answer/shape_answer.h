/// "Shape it": the best blade and the makeable ones, each with the job that has it.
#pragma once

#include "propwright/answer/json_text.h"
#include "propwright/answer/shelf.h"
#include "propwright/base/problem.h"

namespace propwright::answer {

/// The answer to a job document and wishes as the builder wrote them (docs/openapi.yaml,
/// ShapeWishes): {"form_pitches": ["760 mm"], "cylinders": ["4 in", "tube 3 in"], "shelf": false,
/// "common_cylinders": false, "free_revs": false, "largest_chord": null}. Problems: those of the
/// wishes
/// ("wishes.cylinders[1]"), of the job, and of the design.
base::Expected<Json> shape_answer(const Json& job, const Json& attachments, const Json& wishes,
                                  const Shelf& shelf);

}  // namespace propwright::answer
