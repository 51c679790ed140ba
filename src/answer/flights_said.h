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

/// Why a flight is left out that tells no setting of a propeller that flew at several.
inline constexpr const char* setting_untold =
    "no setting told, and its propeller flew at more than one";

/// Where a propeller flew at more than one setting, or a job is named "P18 at 24°", each of its
/// settings is a propeller of its own from here on, named so; its flights that tell no setting are
/// left out with the reason. Where it flew at one only, flights that tell none are taken as at that
/// one. Notes say both. `for_each`: a job of the propeller as such stands for each of its settings
/// without one; else its flights stay together and a note says so.
void tell_settings_apart(FlightsQuestion& asked, bool for_each);

}  // namespace propwright::answer
