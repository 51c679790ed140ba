// From a weather reading to the air of the hall: checks, assumptions, notes.
#include <fmt/format.h>

#include <cmath>

#include "propwright/air/air.h"
#include "propwright/base/constants.h"

namespace propwright::air {
namespace {

constexpr double least_pressure_Pa = 50e3;
constexpr double greatest_pressure_Pa = 110e3;
constexpr const char* pressure_range = "500 to 1100 hPa";

void check(base::Problems& problems, bool holds, const char* field, std::string value,
           std::string allowed, std::string remedy) {
  // NaN fails every comparison, so it is caught here as well.
  if (holds) return;
  problems.push_back({.field = field,
                      .value = std::move(value),
                      .allowed = std::move(allowed),
                      .remedy = std::move(remedy),
                      .message = "the value is out of range"});
}

base::Problems problems_of(const Weather& weather) {
  base::Problems problems;
  const double t_C = weather.temperature_K - base::celsius_0_K;
  check(problems, weather.temperature_K >= 253.15 && weather.temperature_K <= 323.15, "temperature",
        fmt::format("{:.1f} degC", t_C), "-20 to 50 degC",
        "give the temperature in the hall, with its unit");
  if (weather.pressure_Pa) {
    const double p_Pa = *weather.pressure_Pa;
    check(problems, p_Pa >= least_pressure_Pa && p_Pa <= greatest_pressure_Pa, "pressure",
          fmt::format("{:.1f} hPa", p_Pa / 100), pressure_range,
          "read the barometer again and check the unit");
  }
  if (weather.altitude_m) {
    check(problems, *weather.altitude_m >= -500 && *weather.altitude_m <= 5000, "altitude",
          fmt::format("{:.0f} m", *weather.altitude_m), "-500 to 5000 m",
          "give the height of the hall's floor above sea level");
  }
  check(problems, weather.relative_humidity >= 0 && weather.relative_humidity <= 1, "humidity",
        fmt::format("{}", weather.relative_humidity), "0 to 1 or 0 to 100 %",
        "write 0.5 or 50 % for half saturated air");
  if (weather.pressure_Pa && weather.pressure_is_reduced && !weather.altitude_m) {
    problems.push_back({.field = "altitude",
                        .allowed = "-500 to 5000 m",
                        .remedy = "give the altitude of the hall, or the barometer's own reading",
                        .message = "a pressure reduced to sea level needs the altitude"});
  }
  return problems;
}

/// The pressure in the hall; says in `notes` what was assumed.
double pressure_in_hall_Pa(const Weather& weather, std::vector<std::string>& notes) {
  if (!weather.pressure_Pa) {
    const double altitude_m = weather.altitude_m.value_or(0.0);
    const double p_Pa = standard_atmosphere(altitude_m).pressure_Pa;
    notes.push_back(
        weather.altitude_m
            ? fmt::format("No pressure was given: the standard atmosphere at {:.0f} m, {:.1f} hPa, "
                          "was assumed.",
                          altitude_m, p_Pa / 100)
            : fmt::format("No pressure and no altitude were given: the standard pressure at sea "
                          "level, {:.2f} hPa, was assumed.",
                          p_Pa / 100));
    return p_Pa;
  }
  if (weather.pressure_is_reduced) {
    const double p_Pa =
        station_pressure_Pa(*weather.pressure_Pa, *weather.altitude_m, weather.temperature_K);
    notes.push_back(
        fmt::format("{:.1f} hPa reduced to sea level are {:.1f} hPa in the hall at "
                    "{:.0f} m.",
                    *weather.pressure_Pa / 100, p_Pa / 100, *weather.altitude_m));
    return p_Pa;
  }
  return *weather.pressure_Pa;
}

/// A barometer's own reading strays from the standard atmosphere by the weather only, rarely more
/// than 50 hPa (common practice); a larger gap is most often a reading reduced to sea level.
void note_unlikely_pressure(const Weather& weather, std::vector<std::string>& notes) {
  if (!weather.pressure_Pa || !weather.altitude_m || weather.pressure_is_reduced) return;
  const double standard_Pa = standard_atmosphere(*weather.altitude_m).pressure_Pa;
  if (std::abs(*weather.pressure_Pa - standard_Pa) <= 5000) return;
  notes.push_back(
      fmt::format("{:.1f} hPa is unusual at {:.0f} m, where the standard atmosphere has "
                  "{:.1f} hPa: if the reading is reduced to sea level, say so.",
                  *weather.pressure_Pa / 100, *weather.altitude_m, standard_Pa / 100));
}

void note_cipm_range(const Air& air, std::vector<std::string>& notes) {
  const double t_C = air.temperature_K - base::celsius_0_K;
  // Readings are given to 0.1 degC at best, so rounding at the ends of the range is no departure.
  constexpr double rounding_C = 1e-6;
  if (t_C < 15 - rounding_C || t_C > 27 + rounding_C) {
    notes.push_back(
        fmt::format("{:.1f}\u00a0°C is outside the 15 to 27\u00a0°C for which the CIPM-2007 "
                    "density formula is stated.",
                    t_C));
  }
  if (air.pressure_Pa < 60e3 || air.pressure_Pa > 110e3) {
    notes.push_back(
        fmt::format("{:.1f} hPa is outside the 600 to 1100 hPa for which the CIPM-2007 "
                    "density formula is stated.",
                    air.pressure_Pa / 100));
  }
}

}  // namespace

base::Expected<Air> moist_air(const Weather& weather) {
  base::Problems problems = problems_of(weather);
  if (!problems.empty()) return base::fail(std::move(problems));
  Air air;
  air.temperature_K = weather.temperature_K;
  air.pressure_Pa = pressure_in_hall_Pa(weather, air.notes);
  if (!(air.pressure_Pa >= least_pressure_Pa && air.pressure_Pa <= greatest_pressure_Pa)) {
    return base::fail({.field = "pressure",
                       .value = fmt::format("{:.1f} hPa in the hall", air.pressure_Pa / 100),
                       .allowed = pressure_range,
                       .remedy = "check the pressure and the altitude",
                       .message = "the pressure in the hall is out of range"});
  }
  note_unlikely_pressure(weather, air.notes);
  air.density_kg_m3 =
      cipm_density_kg_m3(air.temperature_K, air.pressure_Pa, weather.relative_humidity);
  air.viscosity_Pa_s = sutherland_viscosity_Pa_s(air.temperature_K);
  note_cipm_range(air, air.notes);
  return air;
}

}  // namespace propwright::air
