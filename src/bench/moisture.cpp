// Moisture of wood in equilibrium with the air. Symbols of the source: W, K, K1, K2, h.
#include <fmt/format.h>

#include <cmath>

#include "check.h"
#include "propwright/bench/weighing.h"

namespace propwright::bench {
namespace {

constexpr double species_points = 0.003;  // balsa was not in the fit (ours)

void moisture_checks(Checks& checks, double temperature_C, double humidity,
                     const std::string& which) {
  checks.within(temperature_C, -10, 60, "temperature" + which + "_C",
                fmt::format("{:g} degC", temperature_C), "-10 to 60 degC", "read a thermometer");
  checks.within(humidity, 0, 0.97, "humidity" + which, fmt::format("{:g} %", 100 * humidity),
                "0 to 97 %", "read a hygrometer; 40 to 60 % is usual indoors");
}

/// Simpson 1998, FPL-RN-0268, constants for degC; wood of mean species, first drying left out.
double moisture_of(double t, double h) {
  const double W = 349 + 1.29 * t + 0.0135 * t * t;
  const double K = 0.805 + 0.000736 * t - 0.00000273 * t * t;
  const double K1 = 6.27 - 0.00938 * t - 0.000303 * t * t;
  const double K2 = 1.91 + 0.0407 * t - 0.000293 * t * t;
  const double kh = K * h, one = K1 * kh, two = K1 * K2 * kh * kh;
  return 18 / W * (kh / (1 - kh) + (one + 2 * two) / (1 + one + two));
}

}  // namespace

base::Expected<double> wood_moisture(double temperature_C, double relative_humidity) {
  Checks checks;
  moisture_checks(checks, temperature_C, relative_humidity, "");
  if (!checks.sound()) return base::fail(checks.take());
  return moisture_of(temperature_C, relative_humidity);
}

base::Expected<HumidityCorrection> humidity_factor(double temperature_then_C, double humidity_then,
                                                   double temperature_now_C, double humidity_now,
                                                   double wood_share, double humidity_sigma) {
  Checks checks;
  moisture_checks(checks, temperature_then_C, humidity_then, "_then");
  moisture_checks(checks, temperature_now_C, humidity_now, "_now");
  checks.within(wood_share, 0, 1, "wood_share", fmt::format("{:g}", wood_share), "0 to 1",
                "1 for bare wood; film, glue and wire hardly take up water");
  checks.within(humidity_sigma, 0, 0.2, "humidity_sigma", fmt::format("{:g}", humidity_sigma),
                "0 to 0.2", "0.03 is a fair hygrometer");
  if (!checks.sound()) return base::fail(checks.take());
  const auto slope = [](double t, double h) {
    constexpr double step = 1e-4;  // the curve is smooth; past 97 % it would be left
    return (moisture_of(t, h + step) - moisture_of(t, std::max(0.0, h - step))) /
           (h + step - std::max(0.0, h - step));
  };
  HumidityCorrection c;
  c.moisture_then = moisture_of(temperature_then_C, humidity_then);
  c.moisture_now = moisture_of(temperature_now_C, humidity_now);
  // Of the whole part then, `wood_share` was moist wood; only that changes.
  const double ratio = (1 + c.moisture_now) / (1 + c.moisture_then);
  c.factor.value = 1 + wood_share * (ratio - 1);
  const double reading =
      std::hypot(slope(temperature_then_C, humidity_then), slope(temperature_now_C, humidity_now)) *
      humidity_sigma;
  // A species off the curve is off on both sides alike: only the change carries that doubt.
  const double change = std::abs(c.moisture_now - c.moisture_then);
  const double mean = (c.moisture_now + c.moisture_then) / 2;
  const double species = mean > 0 ? species_points * change / mean : 0;
  c.factor.sigma = wood_share * std::hypot(reading, species) / (1 + c.moisture_then);
  return c;
}

}  // namespace propwright::bench
