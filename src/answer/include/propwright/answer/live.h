/// What the pages draw while a value moves: the flight of a job and everything around it. Values
/// in, JSON out (docs/openapi.yaml); a few milliseconds.
#pragma once

#include <optional>
#include <string>

#include "propwright/answer/json_text.h"
#include "propwright/answer/prediction.h"

namespace propwright::answer {

/// Every field of the job with its range in SI, how it is shown and stepped in both profiles, its
/// default and meaning: {"fields": [...]}.
Json fields_json();

/// The answer to a live question. `relative_sigma`: standard deviation of the duration over the
/// duration, as an earlier answer about sensitivities gave it. Numbers carry six digits, times
/// whole milliseconds, so that the parts of the fall add to the last digit. A number that is not
/// finite is a fault of the program: std::logic_error.
Json live_flight(const LoadedJob& loaded, const predict::Nominal& nominal,
                 std::optional<double> relative_sigma = {});

/// Readings on a propeller in hand, as the builder wrote them (docs/openapi.yaml, Readings), put
/// in the place of the job's blade: its pitch, what it will do, and the job with it. The outline of
/// the job is kept, in proportion to the diameter, unless chords were read. Problems: those of the
/// readings ("readings.angles[1].angle") and of the job.
base::Expected<Json> in_hand(const Json& job, const Json& attachments, const Json& readings,
                             std::optional<double> relative_sigma = {});

}  // namespace propwright::answer
