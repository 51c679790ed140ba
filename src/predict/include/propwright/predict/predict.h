/// The whole prediction of a job: rotor map, flight, bound, and the interval from stated doubts.
#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "propwright/base/problem.h"
#include "propwright/brief/assemble.h"
#include "propwright/brief/job.h"
#include "propwright/flex/flex.h"
#include "propwright/flight/flight.h"

namespace propwright::predict {

/// The nominal flight of a job.
struct Nominal {
  brief::Assembly assembly;
  rotor::Rotor rotor;
  rotor::Map map;
  flight::Setup setup;
  flight::Flight flight;
  double bound_s = 0;
  /// Where the job has the blade flex: `map` is that of the flexing blade, `rotor` the unloaded
  /// one.
  std::optional<flex::FlexRotor> flexing;
  std::optional<flex::Limit> flex_limit;  ///< what the flexing blade does not hold
};

base::Expected<Nominal> predict(const brief::Job& job, const brief::Attachments& attachments);

/// A duration's spread from the job's doubts: every sample is a whole prediction with moved inputs,
/// launch turns kept as planned.
struct Spread {
  double sigma_s = 0;                  ///< standard deviation of the samples
  std::array<double, 3> duration_s{};  ///< 5 %, 50 %, 95 %
  double touch_probability = 0;        ///< share of samples that reach the roof
  double top_sigma_m = 0;
  std::array<double, 3> top_height_m{};  ///< 5 %, 50 %, 95 %
  int samples = 0;
  int failed = 0;  ///< samples without a flight (counted, not hidden)
  /// Height over time at `band_time_s`: 5 % and 95 % of the samples, for the chart's band.
  std::vector<double> band_time_s, band_low_m, band_high_m;
};

struct SpreadOptions {
  int samples = 1000;      ///< 50..100000
  std::uint64_t seed = 1;  ///< common random numbers: same seed, same draws
  /// Called now and then from the calling thread's tasks with the share done, 0..1; returning false
  /// stops the work. May be empty.
  std::function<bool(double)> progress;
};

/// Samples in parallel; the result does not depend on the number of threads. Problem: no_solution
/// when more than half of the samples fail or the work was stopped.
base::Expected<Spread> spread(const brief::Job& job, const brief::Attachments& attachments,
                              const Nominal& nominal, const SpreadOptions& options = {});

/// What one doubt alone does to the duration.
struct Sensitivity {
  std::string key;               ///< "airframe_drag"
  std::string label;             ///< "drag of the model"
  double low_s = 0, high_s = 0;  ///< duration with the doubt one sigma down and up
  double sigma_s = 0;            ///< standard deviation from this doubt alone
};

/// The same standard deviation as `spread` estimates, from one flight on either side of each doubt:
/// some twenty flights instead of a thousand. Within 15 % of it in the examples; what two doubts do
/// together is left out.
struct Sensitivities {
  double sigma_s = 0;
  std::vector<Sensitivity> doubts;  ///< the largest first
};
Sensitivities sensitivities(const brief::Job& job, const Nominal& nominal);

}  // namespace propwright::predict
