/// What a heavier or lighter model flies, per kilogram.
#pragma once

#include "propwright/base/problem.h"
#include "propwright/predict/predict.h"

namespace propwright::answer {

struct MassCost {
  double duration_s = 0;  ///< of the flight as planned
  double slope_s_per_kg =
      0;  ///< change of the duration with the model's mass; negative: heavier flies shorter
  double slope_sigma_s_per_kg = 0;
};

/// Flights of a model 2 % lighter and 2 % heavier, each with the turns backed off anew for the
/// margin under the roof that the job asks for. The doubt of the slope: `relative_sigma` of the
/// duration, because whatever scales the duration scales its slope; and half of what the slopes to
/// either side differ by, which is the bend at the roof. Problem: no_solution where a flight is
/// wanting.
base::Expected<MassCost> mass_cost(const predict::Nominal& nominal, double relative_sigma);

}  // namespace propwright::answer
