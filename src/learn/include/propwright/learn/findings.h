/// What the flights taught, in numbers and plain words.
#pragma once

#include <string>
#include <vector>

#include "propwright/learn/flown_log.h"

namespace propwright::learn {

/// How much was learned of a parameter.
enum class State {
  moved,      ///< off the sheet by more than its doubt
  confirmed,  ///< as the sheet says, and surer than before
  unseen,     ///< the flights say next to nothing of it
};

/// How a parameter is told: a factor, 1 on the sheet, or what is added to the sheet's value.
enum class Measure { factor, angle_deg, temperature_K };

/// One parameter, before and after.
struct Finding {
  std::string
      name;  ///< "airframe_drag"; with the owner where there are several: "rubber_energy box 7"
  std::string key, owner, label;
  Measure measure = Measure::factor;
  double prior = 1, prior_low = 1, prior_high = 1;  ///< 5 % and 95 %
  double posterior = 1, low = 1, high = 1;
  double sigma = 0;  ///< of the posterior: relative, degrees, or K
  State state = State::unseen;
  std::string sentence;
};

/// In the order of the log's parameters.
std::vector<Finding> findings(const FlownLog& log, const Posterior& posterior);

/// Parameters whose errors the flights cannot tell apart: "Only together are the drag of the
/// model and the energy of the rubber known: more of one with more of the other flies the same."
std::vector<std::string> entangled(const FlownLog& log, const Posterior& posterior);

/// A flight that does not fit, and what may lie behind it, likeliest first.
struct Misfit {
  std::size_t flight = 0;  ///< index in the log
  double weight = 1;       ///< how much it counted
  std::vector<std::string> reasons;
};
std::vector<Misfit> misfits(const FlownLog& log, const std::vector<logbook::Flight>& flights,
                            const Posterior& posterior);

/// A subject's own flight as its sheet has it and as learned, each launched as its plan says; the
/// sigma with the turns at launch kept, of the parameters alone but for flight_sigma_s.
struct Change {
  std::size_t subject = 0;
  double before_s = 0, before_sigma_s = 0;
  double after_s = 0, after_sigma_s = 0;
  /// Of the next single flight about after_s: what flights scatter, as learned, and after_sigma_s.
  double flight_sigma_s = 0;
  double before_top_m = 0, after_top_m = 0;
  double before_launch_turns = 0, after_launch_turns = 0;
  double before_turns_left = 0, after_turns_left = 0;
};
/// One for each subject that flies both ways.
std::vector<Change> changes(const FlownLog& log, std::size_t subjects, const Posterior& posterior);

/// Half-axes of the posterior's one-sigma ellipsoid as steps of z from the mode, or those of the
/// prior from nought.
std::vector<Eigen::VectorXd> axes(const Eigen::MatrixXd& covariance);

}  // namespace propwright::learn
