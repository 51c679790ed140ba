/// What a logged flight was flown in and with; whatever the log does not tell is that of the job
/// it was flown with.
#pragma once

#include "propwright/learn/flown_log.h"

namespace propwright::learn {

Conditions conditions_of(const logbook::Flight& flight, const Subject& subject, std::size_t index);

/// Another subject's propeller in the same conditions: model, motor, winding and air stay.
void exchange_propeller(Conditions& conditions, const Subject& subject, std::size_t index);

/// Whether the log names another model than the job; capitals and spaces do not count, and without
/// both names it is the job's.
bool of_another_model(const logbook::Flight& flight, const brief::Job& job);

/// Breaking turns of the flight's motor, as its job has them, where more were logged.
std::optional<double> breaking_turns_passed(const logbook::Flight& flight,
                                            const Conditions& conditions);

/// The batch of rubber of a flight: as logged, else the job's.
std::string batch_of(const logbook::Flight& flight, const brief::Job& job);

/// The readings of a flight, with the scatter expected of each.
std::vector<Reading> readings_of(const logbook::Flight& flight, const Conditions& conditions,
                                 const Scatter& scatter);

/// What the model says of the same quantities; the height is that without a roof where the flight
/// was flown so.
Outcome outcome_of(const flight::Flight& flown, const Conditions& conditions);

/// Between two instants linear; after the last, its own; 0 without any.
double rev_per_s_at(const std::vector<flight::Instant>& history, double time_s);

}  // namespace propwright::learn
