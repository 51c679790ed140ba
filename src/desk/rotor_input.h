/// The rotor command: what is asked, and the answer.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "arguments.h"
#include "command.h"
#include "propwright/answer/json_answers.h"
#include "propwright/rotor/fine.h"
#include "propwright/rotor/rotor.h"
#include "propwright/section/section.h"
#include "propwright/units/units.h"

namespace propwright::desk {

/// A rotor in its air, from a job or from tables.
struct RotorInput {
  rotor::Rotor rotor;
  rotor::Flow flow;
  units::Profile profile = units::Profile::metric;
  std::vector<std::string> notes;
  std::optional<rotor::FineRotor> fine;  ///< with --fine
};

/// Reads the job or the tables that the options name. The option texts must have been checked with
/// `check_rotor_usage` before.
tl::expected<RotorInput, Failure> read_rotor(const Arguments& arguments, OptionReader& reader);

/// Contradicting or missing options.
base::Problems check_rotor_usage(const Arguments& arguments);

/// A table of a blade: radius_m, chord_m, angle_deg and optionally camber.
base::Expected<std::vector<rotor::BladeRow>> read_blade_table(const std::string& csv,
                                                              const std::string& file);

using answer::QuickPart;
using answer::RotorAnswer;
using answer::RotorPoint;

/// Solves every condition, by both modes with --fine; then it shows progress and stops on Ctrl-C.
tl::expected<RotorAnswer, Failure> solve_rotor(const RotorInput& input,
                                               const std::vector<rotor::Condition>& conditions);

std::string rotor_text(const RotorAnswer& answer, units::Profile profile);
/// The points without their stations, SI, empty where the JSON has null.
std::string rotor_csv(const RotorAnswer& answer);

}  // namespace propwright::desk
