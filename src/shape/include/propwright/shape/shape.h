/// The best blade for a flight, and the nearest blades that can be made: what each gives away.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/base/problem.h"
#include "propwright/brief/assemble.h"
#include "propwright/brief/job.h"
#include "propwright/form/cylinder.h"
#include "propwright/form/form.h"
#include "propwright/rotor/minimum_loss.h"

namespace propwright::shape {

/// A helical form at hand.
struct OwnedForm {
  std::string name = {};                     ///< "" for one known by its pitch alone
  double pitch_m = 0;                        ///< of the form
  std::optional<form::Hand> hand = {};       ///< left out: that of the job
  double angle_overbend = 1;                 ///< the form's angles over those a blade keeps, > 0
  std::optional<double> camber = {};         ///< that a blade keeps; left out: that of the ideal
  std::optional<double> from_radius_m = {};  ///< the radii it covers; left out: all
  std::optional<double> to_radius_m = {};
  std::optional<double> width_m = {};  ///< widest chord it takes
};

struct Request {
  // The condition; what is left out is that of the job's own flight in cruise.
  std::optional<double> speed_m_s, rev_per_s;
  std::optional<double> thrust_N;  ///< of the whole propeller
  bool free_revs = false;          ///< the shaft speed of least loss, within 0.5 to 2 times
  std::optional<double> largest_chord_m;
  std::optional<double> lift;             ///< of every section; left out: the best
  std::vector<OwnedForm> forms;           ///< at hand
  std::vector<form::Cylinder> cylinders;  ///< at hand
  bool fly = true;                        ///< also the duration with each blade
};

enum class Kind {
  ideal,       ///< least loss: every station at its own pitch
  present,     ///< the blade of the job
  helical,     ///< one pitch from root to tip
  owned_form,  ///< made on a helical form at hand, then turned as a whole
  cylinder,    ///< formed on a cylinder; its camber is what the cylinder gives
};
std::string to_text(Kind kind);

/// A blade with the chords of the ideal (the present one with its own), set so that it gives the
/// wanted thrust at the condition.
struct Candidate {
  Kind kind = Kind::ideal;
  std::string name = {};  ///< of the form or the cylinder
  rotor::Blade blade = {};
  double efficiency = 0;  ///< at the condition, with the wanted thrust
  double rev_per_s = 0;   ///< the condition's; the present blade's own
  double torque_Nm = 0;
  double camber = 0;                               ///< at the widest chord, as made
  double form_pitch_m = 0;                         ///< helical, owned form; 0 for the others
  double turn_rad = 0;                             ///< owned form: set from the form by so much
  double cylinder_diameter_m = 0, skew_rad = 0;    ///< cylinder
  double gauge_radius_m = 0, gauge_angle_rad = 0;  ///< where and how it is set
  std::optional<double> duration_s = {};           ///< empty where not flown
  std::vector<std::string> notes = {};             ///< what to know of it, or why it does not fly
};

struct Shape {
  rotor::Condition condition = {};
  double thrust_N = 0;
  rotor::Flow flow;
  rotor::Design design = {};
  bool revs_at_limit = false;  ///< the free shaft speed ended at an end of its range
  Candidate ideal = {};
  std::optional<Candidate> present = {};  ///< empty where the job's blade does not fly
  std::vector<Candidate> makeable = {};   ///< helical first, then the owned ones as asked
  std::vector<std::string> notes = {};
};

/// Designs and compares. Durations are of the job's own motor and launch plan. Problem: as
/// `brief::assemble`, `predict::predict` and `rotor::minimum_loss`. What one candidate lacks is a
/// note of it, not a problem of the whole.
base::Expected<Shape> shape(const brief::Job& job, const brief::Attachments& attachments,
                            const Request& request);

/// The job with this blade, stated by stations to a tenth of a millimetre in radius, a hundredth in
/// chord and a hundredth of a degree, as they can be made; `name` becomes the propeller's.
brief::Job with_blade(const brief::Job& job, const Candidate& candidate, const std::string& name);

}  // namespace propwright::shape
