/// The parts of the winding card's answer. Private.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "floor_parts.h"
#include "propwright/answer/prediction.h"
#include "propwright/predict/predict.h"
#include "propwright/rubber/breaking.h"

namespace propwright::answer {

/// What was read in the hall; what is left out is as the job has it.
struct WindToday {
  std::optional<double> temperature_K, pressure_Pa, humidity, roof_m;
};

/// What the breaks of the batch say of the turns that are safe at the risk taken.
struct WindBreaks {
  rubber::Breaking known;
  int needed = 0;  ///< with fewer motors broken the job's share of breaking turns stands
  bool held_at_curve = false;  ///< the risk lies beyond breaking turns of the job's rubber
  bool too_few() const { return known.broke < needed; }
};

struct WindQuestion {
  LoadedJob loaded;
  WindToday today;
  double winder_ratio = 1;
  std::optional<FloorMeter> meter;
  std::optional<WindBreaks> breaking;
  std::vector<std::string> notes;
};

base::Expected<WindQuestion> read_wind_question(const Json& question);

/// The job as the card winds it: safe turns where breaks are known, and a launch for the same
/// height under the roof as on the sheet, also where the sheet fixes turns or torque.
base::Expected<brief::Job> wind_job(WindQuestion& asked, const Json& breaking);

/// The job's flight in the air and under the roof of `today`; problems are of the file "job".
base::Expected<predict::Nominal> fly_on_day(const WindQuestion& asked, const brief::Job& job,
                                            const WindToday& today);

/// A card: the flight that the roof of today asks for, and the one that whole turns of the winder
/// give, which is what the card tells.
struct WindFlights {
  predict::Nominal planned, aim;
  flight::Flight counted;
};

/// Each thing that differs alone, then all together; of the flights before whole turns are counted.
base::Expected<Json> day_changes(const WindQuestion& asked, const brief::Job& job,
                                 const predict::Nominal& planned, const predict::Nominal& today);
/// "Temperature 16.0 °C, not 20.0 °C. The motor gives 3 % less: back off ...".
std::vector<std::string> day_sentences(const WindQuestion& asked, const WindFlights& flights,
                                       const Json& changes);

/// "Wound to where 1 in 20 motors breaks: 3 of this batch broke, 1 held; ...", or by the job's
/// share of `breaking_turns`, those of the job's motor today.
std::string wind_stop_words(const WindQuestion& asked, double breaking_turns);

Json wind_card_json(const WindQuestion& asked, const WindFlights& flights);

}  // namespace propwright::answer
