/// The best flight of a class model with its fixed-pitch propeller, by our prediction.
#pragma once

#include <stdexcept>

#include "propwright/brief/file.h"
#include "propwright/predict/predict.h"
#include "record_classes.h"

namespace propwright::published {

struct RecordFlight {
  brief::Job job;
  flight::Flight flight;  ///< with the motor that flies longest at the job's mass of rubber
  double bound_s = 0;
};

inline RecordFlight record_flight(const std::string& toml, double roof_m) {
  auto job = brief::read_job(toml, "class.toml");
  if (!job) throw std::runtime_error(base::to_line(job.error().front()));
  job->hall.roof_height_m = roof_m;
  auto nominal = predict::predict(*job, {});
  if (!nominal) throw std::runtime_error(base::to_line(nominal.error().front()));
  auto match = flight::match_motor(nominal->setup, 0, job->launch.wind_fraction);
  if (!match) throw std::runtime_error(base::to_line(match.error().front()));
  return {std::move(*job), std::move(match->flight), nominal->bound_s};
}

}  // namespace propwright::published
