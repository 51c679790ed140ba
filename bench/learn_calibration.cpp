// Simulation-based calibration of `learn` with the flight model itself: parameters drawn from their
// priors, flights flown under them and scattered, learned from; how often 90 % intervals hold the
// truth (Talts and others, arXiv 1804.06788, 2018, for the idea). By hand, with what it showed
// (docs/method.md, learning from flights):
//   propwright_learn_calibration JOB.toml [logs = 1000] [flights in a log = 12] [seed = 1]
// ./check runs 200 logs. The status is 0 where 90 % intervals hold 90 +- 3 % over 1,000 logs; of
// fewer logs the share itself scatters, and as much more is allowed.
#include <fmt/format.h>
#include <tbb/parallel_for.h>

#include <cmath>
#include <cstdlib>
#include <fstream>
#include <random>
#include <sstream>

#include "propwright/brief/file.h"
#include "propwright/learn/flown_log.h"

namespace propwright {
namespace {

std::string text_of(const std::string& path) {
  std::ifstream in(path);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

void each_of(std::size_t count, const std::function<void(std::size_t)>& task) {
  tbb::parallel_for(std::size_t{0}, count, task);
}

learn::Subject subject_of(const std::string& path) {
  brief::Job job = brief::read_job(text_of(path), path).value();
  const std::string folder = path.substr(0, path.find_last_of('/') + 1);
  const auto beside = [&](const std::string& file) {
    return file.empty() ? std::string() : text_of(folder + file);
  };
  const brief::Attachments attachments{beside(job.rubber.test_file),
                                       beside(job.propeller.polar_file)};
  auto nominal = predict::predict(job, attachments).value();
  return {std::move(job), std::move(nominal)};
}

/// Turns from 88 to 100 % of those at the planned launch; everything is read.
std::vector<logbook::Flight> planned(const learn::Subject& subject, std::size_t count) {
  std::vector<logbook::Flight> flights(count);
  for (std::size_t i = 0; i < count; ++i) {
    const double turns = subject.nominal.flight.turns_at_launch;
    flights[i].propeller = subject.job.propeller.name;
    flights[i].turns_at_launch = std::round(turns * (0.88 + 0.02 * static_cast<double>(i % 7)));
    flights[i].duration_s = flights[i].top_height_m = flights[i].launch_torque_Nm = 1;
    flights[i].turns_left = 1;
    flights[i].temperature_K = subject.nominal.assembly.air.temperature_K;
  }
  return flights;
}

// Tenths of the posterior's probability: a calibrated posterior has as many truths in each.
constexpr std::size_t tenths = 10;

/// Where truths lay in their posteriors.
struct Count {
  int held = 0, all = 0;
  double sum = 0, squares = 0;      ///< of (truth - mode)/deviation
  std::array<int, tenths> ranks{};  ///< truths by the probability below them
  void add(double off) {
    ++all;
    if (std::abs(off) < 1.6448536) ++held;
    sum += off;
    squares += off * off;
    const double below = 0.5 * std::erfc(-off / std::sqrt(2.0));
    ++ranks[std::min(static_cast<std::size_t>(tenths * below), tenths - 1)];
  }
  double share() const { return static_cast<double>(held) / all; }
  void print(const char* name) const {
    fmt::print("{:<18} {:6.3f} {:6.2f} {:6.2f}  ", name, share(), sum / all, squares / all);
    for (const int rank : ranks) fmt::print(" {:5.1f}", 100.0 * rank / all);
    fmt::print("\n");
  }
};

class Calibration {
 public:
  Calibration(const learn::FlownLog& log, double roof_m, unsigned seed)
      : log_(log), roof_m_(roof_m), random_(seed) {}

  void one_log(std::vector<Count>& per_parameter, Count& total) {
    const auto n = static_cast<Eigen::Index>(log_.parameters().size());
    Eigen::VectorXd truth(n);
    for (Eigen::Index p = 0; p < n; ++p) truth[p] = normal_(random_);
    const auto seen = scattered(truth);
    if (!seen) {
      ++not_flown_;
      return;
    }
    const auto posterior =
        learn::learn(log_.parameters().size(), *seen,
                     [&](const std::vector<learn::Query>& queries) { return log_.fly(queries); });
    if (!posterior) {
      ++not_learned_;
      return;
    }
    ++logs_;
    if (posterior->converged) ++converged_;
    for (Eigen::Index p = 0; p < n; ++p) {
      const double off = (truth[p] - posterior->mode[p]) / std::sqrt(posterior->covariance(p, p));
      per_parameter[static_cast<std::size_t>(p)].add(off);
      total.add(off);
    }
  }

  int logs() const { return logs_; }
  /// Logs under truths with which a flight of them does not fly; logs that could not be learned
  /// from.
  int not_flown() const { return not_flown_; }
  int not_learned() const { return not_learned_; }
  int converged() const { return converged_; }
  int touched() const { return touched_; }

 private:
  /// Flights under the truth with Student's scatter; nothing where one does not fly.
  std::optional<std::vector<learn::Observed>> scattered(const Eigen::VectorXd& truth) {
    std::vector<learn::Query> queries;
    for (std::size_t i = 0; i < log_.observed().size(); ++i)
      queries.push_back({i, truth, false, true});
    const auto flown = log_.fly(queries);
    std::array<double, learn::kind_count> factor{};
    for (double& c : factor) c = std::exp(0.5 * normal_(random_));
    std::vector<learn::Observed> seen = log_.observed();
    for (std::size_t i = 0; i < seen.size(); ++i) {
      if (!flown[i]) return std::nullopt;
      const double tail = 1 / std::sqrt(chi2_(random_) / 4);
      for (learn::Reading& reading : seen[i].readings) {
        const auto k = static_cast<std::size_t>(reading.kind);
        const bool height = reading.kind == learn::Kind::top_height;
        if (height) reading.scatter = 0.4;
        reading.value = (*flown[i])[k] + factor[k] * reading.scatter * tail * normal_(random_);
        // Heights are the model's without a roof: what would have passed it touched it.
        if (height && reading.value >= roof_m_) {
          reading.value = roof_m_;
          reading.at_least = true;
          ++touched_;
        }
      }
    }
    return seen;
  }

  const learn::FlownLog& log_;
  double roof_m_;
  std::mt19937 random_;
  std::normal_distribution<double> normal_;
  std::chi_squared_distribution<double> chi2_{4};
  int logs_ = 0, converged_ = 0, touched_ = 0, not_flown_ = 0, not_learned_ = 0;
};

int run(int argc, char** argv) {
  if (argc < 2) {
    fmt::print(stderr, "propwright_learn_calibration JOB.toml [logs] [flights] [seed]\n");
    return 2;
  }
  const int logs = argc > 2 ? std::atoi(argv[2]) : 1000;
  const auto each = static_cast<std::size_t>(argc > 3 ? std::atoi(argv[3]) : 12);
  const auto seed = static_cast<unsigned>(argc > 4 ? std::atoi(argv[4]) : 1);
  const std::vector<learn::Subject> subjects{subject_of(argv[1])};
  const std::vector<logbook::Flight> flights = planned(subjects[0], each);
  const learn::FlownLog log(subjects, flights, {}, each_of);
  std::vector<Count> per_parameter(log.parameters().size());
  Count total;
  Calibration calibration(log, subjects[0].nominal.setup.hall.roof_m, seed);
  for (int i = 0; i < logs; ++i) calibration.one_log(per_parameter, total);
  fmt::print("{} logs of {} flights, {} converged, {:.0f} % of the flights at the roof\n",
             calibration.logs(), each, calibration.converged(),
             100.0 * calibration.touched() / static_cast<double>(calibration.logs()) /
                 static_cast<double>(each));
  fmt::print(
      "{} logs more do not count: {} do not fly under their truth, {} cannot be learned from\n",
      calibration.not_flown() + calibration.not_learned(), calibration.not_flown(),
      calibration.not_learned());
  fmt::print("{:<18} {:>6} {:>6} {:>6}   {}\n", "", "held", "mean", "square",
             "% of the truths in each tenth of the posterior");
  for (std::size_t p = 0; p < per_parameter.size(); ++p) {
    per_parameter[p].print(log.parameters()[p].doubt.key);
  }
  total.print("all");
  const double share = total.share();
  // The parameters of one log go together: their share held scatters by about 0.1 from log to log.
  const double by_chance = logs < 1000 ? 2 * 0.1 / std::sqrt(logs) : 0;
  return std::abs(share - 0.9) <= 0.03 + by_chance ? 0 : 1;
}

}  // namespace
}  // namespace propwright

int main(int argc, char** argv) {
  return propwright::run(argc, argv);
}
