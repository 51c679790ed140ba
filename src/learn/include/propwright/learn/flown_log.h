/// A log of flights and the jobs they were flown with, as what `posterior.h` learns from.
#pragma once

#include <functional>
#include <map>
#include <string>
#include <vector>

#include "propwright/brief/job.h"
#include "propwright/learn/posterior.h"
#include "propwright/logbook/flight_log.h"
#include "propwright/predict/predict.h"
#include "propwright/predict/variation.h"

namespace propwright::learn {

/// A job that flights of the log were flown with; the propeller's name ties them together.
struct Subject {
  brief::Job job;
  predict::Nominal nominal;
};

/// One parameter: a doubt of the jobs that holds for all flights of its owner.
struct Parameter {
  predict::Doubt doubt;
  /// Name of the model, the propeller, the batch; the day; "" for the sections.
  std::string owner;
};

/// How much the readings of a flight are expected to scatter about the model.
struct Scatter {
  double duration = 0.04;       ///< relative; common practice
  double top_height_m = 0.3;    ///< read by eye, with
  double top_height = 0.04;     ///< this share of it
  double turns_left = 0.03;     ///< of the turns at launch
  double launch_torque = 0.06;  ///< relative
  double mean_rev = 0.03;       ///< of revolutions tapped; relative, where the log gives none
  double steered_weight = 0.5;  ///< of a steered flight
  /// Of the hall's air and the rubber on a day on which no flight tells it, about the job's, K; the
  /// same for the whole day; >= 0, 0 = as the job says. Common practice: halls lie some 12 to 28
  /// degC.
  double unread_temperature_K = 5;
  bool operator==(const Scatter&) const = default;
};

/// Calls task(0) ... task(count - 1) in any order, perhaps at the same time.
using EachOf = std::function<void(std::size_t count, const std::function<void(std::size_t)>&)>;
inline void in_turn(std::size_t count, const std::function<void(std::size_t)>& task) {
  for (std::size_t i = 0; i < count; ++i) task(i);
}

/// Why a flight of the log is not learned from; an empty text if it is.
struct Entry {
  std::size_t subject = 0;     ///< meaningful where known, and where it is learned from
  bool subject_known = false;  ///< the log names its propeller, and a job has it
  std::string left_out;        ///< "aborted: stab slipped", "no job with this propeller"
  /// Of its motor as its job has it, where more turns were logged: what is beyond them the model
  /// does not wind, unless it learns that the rubber takes more.
  std::optional<double> breaking_turns = {};
};

/// What a flight was flown in and with.
struct Conditions {
  std::size_t subject = 0;   ///< whose propeller flies
  std::size_t flown_as = 0;  ///< whose job tells model, motor and air where the log does not
  std::string batch;
  std::string unread_day;  ///< whose temperature nobody wrote down; "" where it was read
  double air_temperature_K = 0;
  flight::Setup setup;  ///< as the sheet has it, without a map of the propeller
  rotor::Flow flow;
  std::optional<double> rev_time_s = {};  ///< when revolutions were tapped, from launch
};

struct ToFly;

/// The log as the model flies it. Keeps references to the subjects and the flights.
class FlownLog {
 public:
  /// Flights without a propeller's name are the first subject's where there is only one. Subjects
  /// >= 1. Flights are taken as logged: whoever wants questioned values empty empties them before.
  FlownLog(const std::vector<Subject>& subjects, const std::vector<logbook::Flight>& flights,
           const Scatter& scatter, EachOf each_of);

  const std::vector<Parameter>& parameters() const { return parameters_; }
  const std::vector<Entry>& entries() const { return entries_; }
  const Scatter& scatter() const { return scatter_; }
  /// Flights learned from, as indices of the log, in its order; the same order as observed().
  const std::vector<std::size_t>& used() const { return used_; }
  const std::vector<Observed>& observed() const { return observed_; }

  /// The model: flies flights of observed(). Times and turns left are the mean over where touches
  /// of the roof fall (flight::FlyOptions::mean_touch).
  std::vector<std::optional<Outcome>> fly(const std::vector<Query>& queries) const;

  /// Durations of flights of the log (by index) had they been flown with a subject's propeller, in
  /// the same conditions, on the same model and with the same motor and winding, s; nothing where
  /// that does not fly. What the log does not tell of a flight is that of its own job.
  std::vector<std::optional<double>> durations_with(std::size_t subject, const Eigen::VectorXd& z,
                                                    const std::vector<std::size_t>& flights) const;

  /// The parameters that bear on a subject's own flights, as indices of parameters().
  std::vector<std::size_t> parameters_of(std::size_t subject) const;

  /// The draw that parameters z mean for a subject and a batch ("" = the job's own).
  predict::Draw draw_of(std::size_t subject, const std::string& batch,
                        const Eigen::VectorXd& z) const;

  /// The job's own flights under some parameters: launched as its plan says, or with turns given.
  std::vector<std::optional<flight::Flight>> own_flights(
      std::size_t subject, const std::vector<Eigen::VectorXd>& z,
      std::optional<double> turns_at_launch = {}) const;
  /// Flights of another design in a subject's place, launched as its own plan says.
  std::vector<std::optional<flight::Flight>> flights_of(
      std::size_t subject, const predict::Nominal& design,
      const std::vector<Eigen::VectorXd>& z) const;

 private:
  using Shares = std::vector<std::size_t>;  // parameters that bear on a flight
  Shares shares_of(const Conditions& conditions) const;
  Shares shares_of(std::size_t subject, std::size_t flown_as, const std::string& batch,
                   const std::string& unread_day = {}) const;
  predict::Draw draw_with(const Shares& shares, const Eigen::VectorXd& z) const;
  ToFly to_fly(const Conditions& conditions, const Eigen::VectorXd& z) const;
  /// Flies conditions, each under its own z.
  std::vector<std::optional<flight::Flight>> fly_conditions(
      const std::vector<const Conditions*>& conditions,
      const std::vector<const Eigen::VectorXd*>& z, const predict::Nominal* design = nullptr,
      bool mean_touch = false) const;
  void find_entries();
  std::string why_not(const logbook::Flight& flight, const Conditions& conditions,
                      const Entry& entry) const;
  void find_parameters();
  void find_days();
  void find_observed();
  void find_same();
  void find_alike();

  const std::vector<Subject>& subjects_;
  const std::vector<logbook::Flight>& flights_;
  Scatter scatter_;
  EachOf each_of_;
  std::vector<Parameter> parameters_;
  std::vector<Entry> entries_;
  std::vector<std::size_t> used_;
  std::vector<Conditions> conditions_;  // of the flights used
  std::vector<std::size_t> same_as_;    // the first of them flown with the same in the same
  std::vector<Observed> observed_;
};

}  // namespace propwright::learn
