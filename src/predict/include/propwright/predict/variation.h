/// A job moved by what is in doubt about it: one draw, the propeller's map and the flight's set-up
/// under it.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "propwright/brief/job.h"
#include "propwright/predict/predict.h"
#include "propwright/section/section.h"

namespace propwright::predict {

/// Everything in doubt, moved. Factors multiply, others are added.
struct Draw {
  section::Shift polar;
  double blade_turn_rad = 0;
  double airframe_drag_factor = 1;
  double trim_factor = 1;
  double rubber_energy_factor = 1;
  double rubber_turns_factor = 1;
  double temperature_K = 0;
  double circle_factor = 1;
  // Of a flexing blade.
  double stiffness_factor = 1, moment_factor = 1;
};

/// What a doubt belongs to: it is the same for all flights of one of these.
enum class Owner { section, propeller, model, rubber, day };

/// One doubt of a job.
struct Doubt {
  const char* key = "";    ///< "airframe_drag"
  const char* label = "";  ///< "drag of the model"
  Owner owner = Owner::model;
  bool factor = true;                           ///< a factor exp(sigma z); else sigma z is added
  double sigma = 0;                             ///< relative for factors, else rad or K
  std::function<void(Draw&, double)> set = {};  ///< moves a draw on by so many sigma
};

/// The doubts of a job, independent of each other; those of a flexing blade only where it flexes.
/// Where flights taught several parameters together (directions of [learned]), each doubt also
/// moves those it hangs together with, so that together they make the posterior.
std::vector<Doubt> doubts_of(const brief::Job& job, const Nominal& nominal);

/// Doubt of the air's and the rubber's temperature, K >= 0, on a day on which nobody read it.
Doubt temperature_of_a_day(double sigma_K);

/// Map of the job's propeller under a draw in some air; nothing where it cannot be made.
std::optional<rotor::Map> moved_map(const Nominal& nominal, const Draw& draw,
                                    const rotor::Flow& flow);

/// The set-up under a draw, with its map. Its air and the rubber's temperature are the caller's;
/// the launch plan stays, except that nothing is wound past the breaking turns.
flight::Setup moved_setup(flight::Setup setup, const Draw& draw, rotor::Map map);

}  // namespace propwright::predict
