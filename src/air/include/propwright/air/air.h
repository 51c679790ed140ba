/// Density and viscosity of moist air.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/base/problem.h"

namespace propwright::air {

/// What the thermometer, barometer and hygrometer at the hall say.
struct Weather {
  double temperature_K = 293.15;        ///< 253.15..323.15
  std::optional<double> pressure_Pa{};  ///< 50e3..110e3; see pressure_is_reduced
  bool pressure_is_reduced = false;     ///< true: reduced to sea level, needs altitude_m
  std::optional<double> altitude_m{};   ///< geopotential, -500..5000
  double relative_humidity = 0.5;       ///< 0..1
};

/// The air a propeller works in.
struct Air {
  double density_kg_m3 = 0;
  double viscosity_Pa_s = 0;  ///< dynamic viscosity
  double pressure_Pa = 0;     ///< station pressure used
  double temperature_K = 0;
  std::vector<std::string> notes;  ///< assumptions made, ranges left; plain sentences
};

/// Air from a weather reading. Density: CIPM-2007 (Picard, Davis, Glaeser, Fujii, Metrologia 45
/// (2008) 149-155), CO2 400 ppm; viscosity: Sutherland with the ISO 2533:1975 constants. Without
/// pressure the standard atmosphere at the altitude is taken, without both sea level, each with a
/// note; so is the use outside CIPM's range (600-1100 hPa, 15-27 degC; from memory).
/// Error: density 1e-6 relative to the formula. Problems: bad_input, one for
/// each of "temperature", "pressure", "altitude", "humidity" that is out of range or missing.
base::Expected<Air> moist_air(const Weather& weather);

/// CIPM-2007 density, kg/m3, from temperature (K), station pressure (Pa), relative humidity (0..1).
/// 243.15..333.15 K, 40e3..120e3 Pa; beyond is a bug of the caller: throws std::invalid_argument,
/// as do the functions below beyond their ranges.
double cipm_density_kg_m3(double temperature_K, double pressure_Pa, double relative_humidity);

/// Sutherland's law with ISO 2533 constants, Pa s; temperature in K, valid 150..400 K.
double sutherland_viscosity_Pa_s(double temperature_K);

/// ISO 2533:1975 standard atmosphere, troposphere (geopotential altitude -2000..11000 m).
struct StandardAtmosphere {
  double temperature_K, pressure_Pa, density_kg_m3;
};
StandardAtmosphere standard_atmosphere(double altitude_m);

/// Station pressure, Pa, from a sea-level-reduced one as weather services give it (the ISO 2533
/// lapse with the station's own temperature: p = p0 (1 - L h/(T + L h))^(g/(R L))).
double station_pressure_Pa(double reduced_pressure_Pa, double altitude_m, double temperature_K);

}  // namespace propwright::air
