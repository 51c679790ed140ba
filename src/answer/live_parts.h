/// The parts of the live answer, one file each, and the numbers they are written in.
#pragma once

#include <vector>

#include "propwright/answer/json_text.h"
#include "propwright/answer/prediction.h"

namespace propwright::answer {

/// Six digits. A number that is not finite: std::logic_error.
double six_digits(double value);
/// Whole milliseconds, or whole thousandths of anything.
double thousandths(double value);
/// A column of numbers in six digits.
Json column(const std::vector<double>& values);

Json blade_part(const LoadedJob& loaded, const predict::Nominal& nominal);
Json fall_part(const brief::Job& job, const predict::Nominal& nominal);
Json phases_part(const predict::Nominal& nominal);
Json rotor_part(const predict::Nominal& nominal);
Json motor_part(const predict::Nominal& nominal);
Json rules_part(const brief::Job& job, const predict::Nominal& nominal);
Json values_part(const brief::Job& job, const predict::Nominal& nominal);

/// The ledger with its keys as `predict --json` has them, unrounded.
Json energy_json(const flight::Energy& energy);

}  // namespace propwright::answer
