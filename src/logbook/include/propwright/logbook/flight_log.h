/// The flight log: what a builder writes down of a flight, and the CSV file it travels in
/// (docs/flight-log-file.md). SI; an empty optional or text is "not known", never nought.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "propwright/base/problem.h"

namespace propwright::logbook {

/// One flight. Nothing but the propeller or the time flown need be known of it.
struct Flight {
  std::string id;       ///< made where the flight was logged; the same id is the same flight
  std::string time;     ///< local, ISO 8601: "2026-11-21T14:05"
  std::string session;  ///< flights of one visit to a hall; empty = the day of `time`
  std::string model, propeller;
  std::string setting;  ///< of the propeller or the model, in the builder's words
  std::string motor, batch;
  std::optional<double> wind_number;  ///< how often this motor had been wound, this time included

  std::optional<double> turns_wound, turns_at_launch, turns_left;  ///< of the motor
  std::optional<double> torque_wound_Nm;                           ///< greatest while winding
  std::optional<double> launch_torque_Nm;
  std::optional<double> wait_s;  ///< wound, before launch

  std::optional<double> duration_s;
  std::optional<double> top_height_m, top_time_s;  ///< height above the floor
  std::optional<double> touches, steers;
  std::optional<double> mean_rev_per_s, mean_rev_sigma_per_s;  ///< tapped or counted for a while
  std::optional<double> mean_rev_time_s;                       ///< launch to the middle of it

  std::optional<double> roof_m, launch_height_m;
  std::optional<double> temperature_K, pressure_Pa, humidity;  ///< humidity 0..1

  std::optional<double> model_mass_kg;  ///< ready to fly with propeller and ballast, no rubber
  std::optional<double> ballast_kg;     ///< of it, added to make propellers equally heavy
  std::optional<double> motor_mass_kg, motor_section_m2, motor_length_m;  ///< section: all strands
  std::optional<double> spacer_mass_kg;
  std::optional<double> motor_part;  ///< 1 full, 0.5 half, 0.25 quarter motor with spacer

  bool aborted = false;   ///< ended by hand or by accident: kept, left out of every fit
  bool steered = false;   ///< turned by balloon or pole: kept, counts for less
  bool hung_up = false;   ///< ended on the building: kept, left out of every fit
  bool left_out = false;  ///< the builder asks that no fit use it
  std::string reason;     ///< why it was flagged or left out
  std::string notes;

  std::optional<double> expected_s;  ///< what one and the same propeller should make of this flight
  std::optional<double> weight;      ///< in comparisons, 0..1; empty = 1

  int line = 0;  ///< of the file it was read from; 0 = not from a file
  bool operator==(const Flight&) const = default;
};

/// A day, or a day and a time of it, that there is: "2026-11-21", "2026-11-21T14:05",
/// "2026-11-21T14:05:30".
bool is_time(std::string_view text);

/// Why no fit may use a flight: "aborted", "hung up", "left out: sleeve slipped"; "" when it may.
std::string why_left_out(const Flight& flight);

/// By which two settings are told apart: spaces, capitals, "deg" for the sign of degrees, a decimal
/// comma and noughts at the end of decimals do not count ("24,0 deg" is "24°"), anything else does
/// ("24" is not "24°"). Empty: no setting told.
std::string setting_key(std::string_view setting);

/// What looks wrong in a flight as logged: a time that is none, turns left above turns at launch,
/// impossible times, a temperature in degrees Celsius, a height above the roof. Each names the
/// column, the value, the allowed range and what to do; the flight can be kept all the same. `file`
/// is used in the problems only.
base::Problems questions(const Flight& flight, const std::string& file = {});

/// The flight with every questioned value emptied ("unknown"), for whoever keeps it so.
Flight without_questioned(Flight flight);

/// A log as read: the flights in the order of the file, and what was questioned in them.
struct Log {
  std::vector<Flight> flights;
  base::Problems questions;                  ///< with file, line and column
  std::vector<std::string> unknown_columns;  ///< kept out, told
  std::vector<std::string> row_ids;  ///< of each flight: its own, or where that is none, RowIds'
  std::vector<int> passed_over;      ///< lines that were taken for remarks
};

/// Reads a log. Needs the column `propeller` or `duration_s`; every other column may be missing,
/// every cell empty. A flag that is none of the known ones leaves its flight out of the fits, with
/// the word as reason, and is questioned; so are turns backed off of which nobody knows from how
/// many. Problem: bad_input for text that is no number, a row with the wrong number of cells, a
/// quote that nothing closes, a column twice, no rows, bytes that are no UTF-8. Values that can be
/// read but not believed are questions, not problems.
base::Expected<Log> read_csv(std::string_view csv, const std::string& file);

/// Writes a log: the columns that any flight fills, in the order of docs/flight-log-file.md.
/// read_csv gives the same flights back.
std::string write_csv(const std::vector<Flight>& flights);

/// A column of the file: `number` or `text` is set, or neither for the flags.
struct Column {
  std::string_view name;  ///< "duration_s"
  std::string_view what;  ///< "time flown"
  std::optional<double> Flight::*number = nullptr;
  std::string Flight::*text = nullptr;
  double low = 0, high = 0;  ///< believed range of a number
};
/// All columns, in the order they are written.
const std::vector<Column>& columns();

}  // namespace propwright::logbook
