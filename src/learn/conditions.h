/// What a logged flight was flown in and with; whatever the log does not tell is the job's.
#pragma once

#include "propwright/learn/flown_log.h"

namespace propwright::learn {

Conditions conditions_of(const logbook::Flight& flight, const Subject& subject, std::size_t index);

/// The batch of rubber of a flight: as logged, else the job's.
std::string batch_of(const logbook::Flight& flight, const brief::Job& job);

/// The readings of a flight, with the scatter expected of each.
std::vector<Reading> readings_of(const logbook::Flight& flight, const Conditions& conditions,
                                 const Scatter& scatter);

/// What the model says of the same quantities; the height is that without a roof where the flight
/// was flown so.
Outcome outcome_of(const flight::Flight& flown);

}  // namespace propwright::learn
