#include <fmt/format.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "draws.h"
#include "fly_draw.h"
#include "propwright/predict/predict.h"

namespace propwright::predict {

namespace {

constexpr std::size_t band_points = 81;

/// What is kept of one sample's flight.
struct Sample {
  double duration_s = 0, top_height_m = 0;
  bool touched = false;
  std::vector<double> height_m;  // at the band's times; NaN-free: 0 after landing
};

double height_at(const std::vector<flight::Instant>& history, double time_s) {
  const auto after = std::lower_bound(
      history.begin(), history.end(), time_s,
      [](const flight::Instant& instant, double time) { return instant.time_s < time; });
  if (after == history.end()) return 0;
  if (after == history.begin()) return after->height_m;
  const auto before = after - 1;
  const double width = after->time_s - before->time_s;
  const double share = width > 0 ? (time_s - before->time_s) / width : 1;
  return before->height_m + share * (after->height_m - before->height_m);
}

std::optional<Sample> fly_sample(const Nominal& nominal, const Draw& d,
                                 const std::vector<double>& band_time_s) {
  const auto flown = fly_draw(nominal, d);
  if (!flown) return std::nullopt;
  Sample sample;
  sample.duration_s = flown->duration_s;
  sample.top_height_m = flown->top_height_m;
  sample.touched = flown->touches > 0;
  for (const double time : band_time_s) {
    sample.height_m.push_back(std::max(height_at(flown->history, time), 0.0));
  }
  return sample;
}

/// Quantile of sorted values by linear interpolation between order statistics (type 7 of Hyndman &
/// Fan, American Statistician 50 (1996) 361-365).
double quantile(const std::vector<double>& sorted, double share) {
  const double place = share * static_cast<double>(sorted.size() - 1);
  const auto low = static_cast<std::size_t>(place);
  const std::size_t high = std::min(low + 1, sorted.size() - 1);
  return sorted[low] + (place - static_cast<double>(low)) * (sorted[high] - sorted[low]);
}

double deviation(const std::vector<double>& values) {
  double mean = 0;
  for (const double v : values) mean += v / static_cast<double>(values.size());
  double sum = 0;
  for (const double v : values) sum += (v - mean) * (v - mean);
  return std::sqrt(sum / static_cast<double>(values.size() - 1));
}

Spread summarise(const std::vector<std::optional<Sample>>& samples, std::vector<double> times) {
  Spread spread;
  std::vector<double> duration, top;
  for (const auto& sample : samples) {
    if (!sample) {
      ++spread.failed;
      continue;
    }
    duration.push_back(sample->duration_s);
    top.push_back(sample->top_height_m);
    if (sample->touched) spread.touch_probability += 1;
  }
  spread.samples = static_cast<int>(samples.size());
  if (duration.size() < 2) return spread;
  spread.touch_probability /= static_cast<double>(duration.size());
  spread.sigma_s = deviation(duration);
  spread.top_sigma_m = deviation(top);
  std::sort(duration.begin(), duration.end());
  std::sort(top.begin(), top.end());
  for (std::size_t i = 0; i < 3; ++i) {
    constexpr std::array<double, 3> shares{0.05, 0.5, 0.95};
    spread.duration_s[i] = quantile(duration, shares[i]);
    spread.top_height_m[i] = quantile(top, shares[i]);
  }
  for (std::size_t t = 0; t < times.size(); ++t) {
    std::vector<double> heights;
    for (const auto& sample : samples) {
      if (sample) heights.push_back(sample->height_m[t]);
    }
    std::sort(heights.begin(), heights.end());
    spread.band_low_m.push_back(quantile(heights, 0.05));
    spread.band_high_m.push_back(quantile(heights, 0.95));
  }
  spread.band_time_s = std::move(times);
  return spread;
}

base::Problem stopped_problem() {
  return {.kind = base::Kind::no_solution,
          .field = "samples",
          .remedy = "run it again",
          .message = "the work was stopped before the interval was known"};
}

}  // namespace

base::Expected<Spread> spread(const brief::Job& job, const brief::Attachments&,
                              const Nominal& nominal, const SpreadOptions& options) {
  if (options.samples < 50 || options.samples > 100000) {
    return base::fail({.field = "samples",
                       .value = fmt::format("{}", options.samples),
                       .allowed = "50 to 100000",
                       .remedy = "use 1000",
                       .message = "the number of samples is out of range"});
  }
  std::vector<double> times;
  const double last = 1.5 * nominal.flight.duration_s;
  for (std::size_t i = 0; i < band_points; ++i) {
    times.push_back(last * static_cast<double>(i) / (band_points - 1));
  }
  const auto count = static_cast<std::size_t>(options.samples);
  std::vector<std::optional<Sample>> samples(count);
  const std::vector<Doubt> doubts = doubts_of(job, nominal);
  constexpr std::size_t block = 64;
  for (std::size_t from = 0; from < count; from += block) {
    const std::size_t to = std::min(from + block, count);
    tbb::parallel_for(from, to, [&](std::size_t i) {
      samples[i] = fly_sample(nominal, draw(doubts, options.seed, i), times);
    });
    const double done = static_cast<double>(to) / static_cast<double>(count);
    if (options.progress && !options.progress(done)) return base::fail(stopped_problem());
  }
  Spread result = summarise(samples, std::move(times));
  if (2 * result.failed > result.samples) {
    return base::fail(
        {.kind = base::Kind::no_solution,
         .field = "doubts",
         .value = fmt::format("{} of {} samples without a flight", result.failed, result.samples),
         .allowed = "fewer than half",
         .remedy = "the nominal flight is on the edge of what can fly: back off more, "
                   "or narrow the doubts",
         .message = "the interval cannot be computed"});
  }
  return result;
}

}  // namespace propwright::predict
