// Makes examples/flights/lantern46-two-propellers.csv: forty invented flights of two propellers,
// flown by the flight model itself under a truth that is written down here, and scattered. Run by
// hand when the model or the truth changes:
//   propwright_invent_flights examples/lantern46.toml examples/flights/lantern46-b.toml > FILE
//
// The truth: the model has 6 % more drag than its sheet says, the rubber gives 3 % less; all else
// is as on the sheets, so that what lies between the propellers is what the model makes of them.
// Four visits to the hall of ten flights each, flown A B B A ..., the same turns for a pair.
// The scatter of a flight: Student's t with four degrees of freedom, one factor for all its
// readings, of 3.5 % in time, 0.4 m in height (none at the roof), 2 % of the turns in turns left, 4
// % in launch torque. Set by hand: flights 9 and 27 steered, 16 hung up, 22 aborted, 33 bad (down
// at 72 % of its time with turns left, and nothing said of it).
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <random>
#include <sstream>

#include "propwright/brief/file.h"
#include "propwright/learn/flown_log.h"

namespace propwright {
namespace {

constexpr unsigned seed = 20261126;
constexpr int visits = 4, flights_each_visit = 10;

struct Visit {
  const char* day;
  double temperature_K, pressure_Pa, humidity;
};
constexpr Visit hall[visits] = {{"2026-10-31", 290.15, 101900, 0.55},
                                {"2026-11-07", 292.15, 100600, 0.50},
                                {"2026-11-14", 289.15, 99800, 0.60},
                                {"2026-11-21", 293.15, 101300, 0.45}};

std::string text_of(const std::string& path) {
  std::ifstream in(path);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

learn::Subject subject_of(const std::string& path) {
  brief::Job job = brief::read_job(text_of(path), path).value();
  const std::string folder = path.substr(0, path.find_last_of('/') + 1);
  const brief::Attachments attachments{text_of(folder + job.rubber.test_file), {}};
  auto nominal = predict::predict(job, attachments).value();
  return {std::move(job), std::move(nominal)};
}

/// Propeller of a flight of a visit: A B B A A B B A A B, and the other way round at every second.
std::size_t propeller_of(int visit, int flight) {
  const int quarter = flight % 4;
  const bool second = quarter == 1 || quarter == 2;
  return second != (visit % 2 == 1) ? 1 : 0;
}

/// To so many parts of one, so that the shortest text of it is short.
double rounded_to(double value, double parts) {
  return std::round(value * parts) / parts;
}

std::vector<logbook::Flight> planned(const std::vector<learn::Subject>& subjects) {
  const double heaviest = std::max(subjects[0].nominal.assembly.propeller_mass_kg,
                                   subjects[1].nominal.assembly.propeller_mass_kg);
  const double launch = subjects[0].nominal.flight.turns_at_launch;
  std::vector<logbook::Flight> flights;
  flights.reserve(visits * flights_each_visit);
  for (int v = 0; v < visits; ++v) {
    for (int i = 0; i < flights_each_visit; ++i) {
      const learn::Subject& subject = subjects[propeller_of(v, i)];
      logbook::Flight f;
      const int number = flights_each_visit * v + i + 1;
      f.id = fmt::format("l46-{:02}", number);
      f.time = fmt::format("{}T{:02}:{:02}", hall[v].day, 10 + i * 18 / 60, i * 18 % 60);
      f.session = fmt::format("{} Millbrook", hall[v].day);
      f.model = subject.job.model.name;
      f.propeller = subject.job.propeller.name;
      f.batch = subject.job.rubber.name;
      f.motor = fmt::format("box 7 no. {}", v + 1);
      f.wind_number = i + 4;
      f.turns_wound = std::floor(subjects[0].nominal.flight.turns_wound);
      // A pair has the same turns; from pair to pair the builder tries a little less or more.
      f.turns_at_launch = std::round(launch * (1.04 + 0.015 * ((i / 2 + v) % 4)));
      f.wait_s = 60;
      f.roof_m = subject.job.hall.roof_height_m;
      f.temperature_K = hall[v].temperature_K;
      f.pressure_Pa = hall[v].pressure_Pa;
      f.humidity = hall[v].humidity;
      f.model_mass_kg = subject.job.model.mass_kg;
      f.ballast_kg = rounded_to(heaviest - subject.nominal.assembly.propeller_mass_kg, 1e6);
      // So that the log takes them as flown; the readings follow.
      f.duration_s = f.top_height_m = f.turns_left = f.launch_torque_Nm = 1;
      flights.push_back(std::move(f));
    }
  }
  return flights;
}

Eigen::VectorXd truth_of(const learn::FlownLog& log) {
  Eigen::VectorXd z = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(log.parameters().size()));
  for (std::size_t p = 0; p < log.parameters().size(); ++p) {
    const predict::Doubt& doubt = log.parameters()[p].doubt;
    const std::string key = doubt.key;
    if (key == "airframe_drag") z[static_cast<Eigen::Index>(p)] = std::log(1.06) / doubt.sigma;
    if (key == "rubber_energy") z[static_cast<Eigen::Index>(p)] = std::log(0.97) / doubt.sigma;
  }
  return z;
}

void read_them(std::vector<logbook::Flight>& flights, const learn::FlownLog& log) {
  std::mt19937 random(seed);
  std::normal_distribution<double> normal;
  std::chi_squared_distribution<double> chi2(4);
  std::vector<learn::Query> queries;
  queries.reserve(flights.size());
  const Eigen::VectorXd truth = truth_of(log);
  for (std::size_t i = 0; i < flights.size(); ++i) queries.push_back({i, truth});
  const auto flown = log.fly(queries);
  for (std::size_t i = 0; i < flights.size(); ++i) {
    logbook::Flight& f = flights[i];
    const auto at = [&](learn::Kind kind) {
      return flown[i].value()[static_cast<std::size_t>(kind)];
    };
    const double tail = 1 / std::sqrt(chi2(random) / 4);
    const double turns = *f.turns_at_launch;
    f.duration_s = std::round(std::exp(at(learn::Kind::duration) + 0.035 * tail * normal(random)));
    // What touches the roof is seen to: no doubt about that height.
    const double top = at(learn::Kind::top_height), off = 0.4 * tail * normal(random);
    const bool touched = top > *f.roof_m - 0.05;
    f.top_height_m = touched ? *f.roof_m : rounded_to(std::clamp(top + off, 1.0, *f.roof_m), 10);
    if (touched) f.touches = 1;
    f.turns_left = std::max(
        0.0, rounded_to(at(learn::Kind::turns_left) + 0.02 * turns * tail * normal(random), 0.1));
    f.launch_torque_Nm =
        rounded_to(std::exp(at(learn::Kind::launch_torque) + 0.04 * tail * normal(random)), 1e5);
  }
}

void set_by_hand(std::vector<logbook::Flight>& flights) {
  flights[8].steered = flights[26].steered = true;
  flights[8].steers = 2;
  flights[26].steers = 1;
  logbook::Flight& hung = flights[15];
  hung.hung_up = true;
  hung.duration_s = 214;
  hung.turns_left = std::nullopt;
  hung.reason = "in the net at the north wall";
  logbook::Flight& aborted = flights[21];
  aborted.aborted = true;
  aborted.duration_s = 31;
  aborted.turns_left = std::nullopt;
  aborted.top_height_m = std::nullopt;
  aborted.reason = "stab slipped, caught by hand";
  logbook::Flight& bad = flights[32];
  bad.duration_s = std::round(0.72 * *bad.duration_s);
  bad.turns_left = *bad.turns_left + 400;
}

int run(int argc, char** argv) {
  if (argc != 3) {
    fmt::print(stderr, "propwright_invent_flights JOB_A.toml JOB_B.toml\n");
    return 2;
  }
  const std::vector<learn::Subject> subjects{subject_of(argv[1]), subject_of(argv[2])};
  std::vector<logbook::Flight> flights = planned(subjects);
  const learn::FlownLog log(subjects, flights, {}, learn::in_turn);
  read_them(flights, log);
  set_by_hand(flights);
  fmt::print(
      "# Forty invented flights of two propellers, made by bench/invent_flights.cpp: model, hall "
      "and "
      "flights are invented.\n{}",
      logbook::write_csv(flights));
  return 0;
}

}  // namespace
}  // namespace propwright

int main(int argc, char** argv) {
  return propwright::run(argc, argv);
}
