/// What a log leaves open, taken or told. Private.
#pragma once

#include "flights_question.h"

namespace propwright::answer {

/// Values that the log questions are taken for unknown, with a note of the first few.
void take_questioned_for_unknown(FlightsQuestion& asked);

/// A flight that tells no temperature had that of the other flights of its day (their median); with
/// none, the job's. Notes say how many of each. Warm rubber gives more, so it matters where flights
/// are held against a model.
void take_temperature_of_the_day(FlightsQuestion& asked);

/// Revolutions without the time they were tapped teach nothing; says how many.
void note_taps_without_time(FlightsQuestion& asked);

/// Says where plain times of several models are compared.
void note_several_models(FlightsQuestion& asked);

/// Says which flights were wound past the breaking turns that their motor's job tells, and by how
/// much at most.
void note_turns_past_breaking(const FlightsQuestion& asked, const learn::FlownLog& log,
                              std::vector<std::string>& notes);

}  // namespace propwright::answer
