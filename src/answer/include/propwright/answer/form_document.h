/// The form as the pages ask for it: the answer with its drawings and its shape in space.
#pragma once

#include "propwright/answer/form_answer.h"
#include "propwright/answer/json_text.h"
#include "propwright/answer/shelf.h"
#include "propwright/base/problem.h"

namespace propwright::answer {

/// What the pages wish (docs/openapi.yaml, FormWishes).
struct FormWishes {
  FormKind kind = FormKind::ribbed;
  FormOptions options;
};
/// A cylinder is a diameter or a name; where none is wished, those of the shelf and the program's
/// are chosen from. Problems: "wishes.kind" and the like, all at once.
base::Expected<FormWishes> read_form_wishes(const Json& wishes, const Shelf& shelf);

/// Facts shared by the command and the pages.
Json form_facts(const FormAnswer& answer);

/// The answer to a job document and wishes. Problems: those of the wishes, of the job, and of the
/// kind of form.
base::Expected<Json> form_document(const Json& job, const Json& attachments, const Json& wishes,
                                   const Shelf& shelf);

/// The re-set calculator (docs/openapi.yaml, ResetQuestion): {"made_on": "580 mm", "at": "90 mm",
/// "angle": "47 deg"} or "pitch" in place of "angle"; "radii" as a list of lengths.
base::Expected<Json> reset_document(const Json& question);

}  // namespace propwright::answer
