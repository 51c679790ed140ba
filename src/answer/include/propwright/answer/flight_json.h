/// A logged flight as the pages send and get it: the columns of docs/flight-log-file.md, without
/// those that are empty. Numbers are SI, flags stand in one text, "aborted;steered".
#pragma once

#include <string>

#include "propwright/answer/json_text.h"
#include "propwright/base/problem.h"
#include "propwright/logbook/flight_log.h"

namespace propwright::answer {

Json logged_flight_json(const logbook::Flight& flight);

/// Problems of `place`, "flights[2].turns_left": an unknown member, text where a number belongs, a
/// flag that is none, text over 4000 bytes. What can be read but not believed is no problem here:
/// logbook::questions.
base::Expected<logbook::Flight> read_logged_flight(const Json& table, const std::string& place);

}  // namespace propwright::answer
