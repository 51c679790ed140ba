/// From a job to the inputs of the computations.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "propwright/air/air.h"
#include "propwright/base/problem.h"
#include "propwright/brief/job.h"
#include "propwright/flex/beam.h"
#include "propwright/flex/flex.h"
#include "propwright/flight/flight.h"
#include "propwright/form/form.h"
#include "propwright/rotor/rotor.h"
#include "propwright/rubber/rubber.h"
#include "propwright/section/section.h"

namespace propwright::brief {

/// Texts of the files a job refers to, read by the caller (empty when the job names none).
struct Attachments {
  std::string rubber_test_csv;
  std::string polar_csv;
  bool operator==(const Attachments&) const = default;
};

/// One line of the weight budget.
struct PartMass {
  std::string part;  ///< "Blades, two", "Spars, two", "Film", "Hub and shaft"
  double mass_kg = 0;
  std::string basis;  ///< how it was found: "2 x 61 cm2 of 0.6 mm sheet at 80 kg/m3"
};

/// The job as computations take it.
struct Assembly {
  air::Air air;
  section::Family family;
  rotor::Blade blade;  ///< as it will fly (re-set angles)
  rotor::Options rotor_options;
  std::optional<flex::BladeBeam> beam;  ///< how the blade flexes; empty = it flies rigid
  flex::Options flex_options = {};
  std::vector<form::OutlineRow> outline;  ///< about 40 rows, root to tip
  form::Form form;
  double radius_45_m = 0;  ///< of the blade as set; 0 when it has none
  double gauge_radius_m = 0;
  double gauge_angle_rad = 0;
  double set_pitch_m = 0;     ///< at the gauge radius
  double reset_turn_rad = 0;  ///< turn from form pitch to set pitch
  rubber::Motor motor;
  flight::Airframe airframe;
  flight::Hall hall;
  flight::LaunchPlan launch;
  double friction_fraction = 0;   ///< of motor torque lost at the washers
  bool freewheels = false;        ///< the propeller turns freely after the motor
  std::vector<PartMass> weights;  ///< propeller by part
  double propeller_mass_kg = 0;
  std::vector<std::string> notes;  ///< assumptions and warnings to show
};

/// Builds it. The drag polar comes from the measured glide if given, else from wing, tail and body:
/// section drag of the wing's camber at its Reynolds number, plate friction of the tail, induced
/// drag with span_efficiency, body_drag_area. Trim for best endurance where no CL is given.
/// Problem: bad_input or no_solution naming the field.
base::Expected<Assembly> assemble(const Job& job, const Attachments& attachments);

/// The doubts of a job, with those that its flights taught in place of the usual ones. Those of the
/// polars come with the assembly's family.
Doubts doubts_in_force(const Job& job);

/// One of the parameters that flights teach, by its name in [learned] and in the doubts of
/// `predict`.
enum class LearnedOf { sections, propeller, model, rubber };
struct LearnedKey {
  const char* key;
  double LearnedDirection::*component;
  LearnedOf of;
};
inline constexpr std::size_t learned_count = 12;
const std::array<LearnedKey, learned_count>& learned_keys();

/// How the doubts that flights left hang together: row i of the matrix is what parameter i of
/// learned_keys() is moved by a standard deviation of each of as many independent axes, in units of
/// its own doubt; so that its rows have length 1. With the directions v and the shares l left along
/// them it is I - sum (1 - l) v v^T, whose square is the posterior's covariance in units of the
/// priors, with each row brought to length 1. Empty where nothing is learned, it is switched off,
/// or there are no directions. Parameters of a model, a rubber, a propeller or sections that are
/// not the job's have their doubt before flights, which hangs together with none.
using LearnedAxes = std::array<std::array<double, learned_count>, learned_count>;
std::optional<LearnedAxes> learned_axes(const Job& job);

/// How a propeller's blade bends and twists, by what it is built of and by its tests, whether the
/// job flies it so or not. Problem: bad_input naming the field.
base::Expected<flex::BladeBeam> make_beam(const Propeller& propeller, const rotor::Blade& blade);

/// Flight set-up from an assembly and a propeller map.
flight::Setup make_setup(const Assembly& assembly, const rotor::Map& map);

}  // namespace propwright::brief
