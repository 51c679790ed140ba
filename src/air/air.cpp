// The formulas of the air: CIPM-2007 density, Sutherland viscosity, ISO 2533 atmosphere.
#include "propwright/air/air.h"

#include <fmt/format.h>

#include <cmath>
#include <stdexcept>

#include "propwright/base/constants.h"

namespace propwright::air {
namespace {

// ISO 2533:1975.
constexpr double standard_temperature_K = 288.15;
constexpr double standard_pressure_Pa = 101325.0;
constexpr double dry_air_gas_constant_J_kgK = 287.05287;
constexpr double lapse_K_m = 0.0065;
constexpr double sutherland_beta_kg_msK05 = 1.458e-6;
constexpr double sutherland_temperature_K = 110.4;
constexpr double barometric_exponent =
    base::gravity_m_s2 / (dry_air_gas_constant_J_kgK * lapse_K_m);

/// A call outside the documented range is a bug of the caller; NaN must not travel on.
void require(bool holds, const char* what, double value) {
  if (!holds) throw std::invalid_argument(fmt::format("{} is out of range: {}", what, value));
}

// The parts of CIPM-2007 below carry the symbols of the paper: T in K, t in degC, p in Pa,
// xv the mole fraction of water vapour.

double saturation_vapour_pressure_Pa(double T) {
  return std::exp(1.2378847e-5 * T * T - 1.9121316e-2 * T + 33.93711047 - 6.3431645e3 / T);
}

double enhancement_factor(double t, double p) {
  return 1.00062 + 3.14e-8 * p + 5.6e-7 * t * t;
}

double compressibility_factor(double T, double p, double xv) {
  const double t = T - base::celsius_0_K;
  const double p_T = p / T;
  const double first = 1.58123e-6 + (-2.9331e-8 + 1.1043e-10 * t) * t +
                       (5.707e-6 - 2.051e-8 * t) * xv + (1.9898e-4 - 2.376e-6 * t) * xv * xv;
  return 1 - p_T * first + p_T * p_T * (1.83e-11 - 0.765e-8 * xv * xv);
}

}  // namespace

double cipm_density_kg_m3(double temperature_K, double pressure_Pa, double relative_humidity) {
  require(temperature_K >= 243.15 && temperature_K <= 333.15, "temperature_K", temperature_K);
  require(pressure_Pa >= 40e3 && pressure_Pa <= 120e3, "pressure_Pa", pressure_Pa);
  require(relative_humidity >= 0 && relative_humidity <= 1, "relative_humidity", relative_humidity);
  constexpr double gas_constant_J_molK = 8.314472;      // the value CIPM-2007 was adopted with
  constexpr double dry_air_molar_kg_mol = 28.96546e-3;  // at a CO2 mole fraction of 400 ppm
  constexpr double water_molar_kg_mol = 18.01528e-3;
  const double xv = relative_humidity *
                    enhancement_factor(temperature_K - base::celsius_0_K, pressure_Pa) *
                    saturation_vapour_pressure_Pa(temperature_K) / pressure_Pa;
  const double Z = compressibility_factor(temperature_K, pressure_Pa, xv);
  return pressure_Pa * dry_air_molar_kg_mol / (Z * gas_constant_J_molK * temperature_K) *
         (1 - xv * (1 - water_molar_kg_mol / dry_air_molar_kg_mol));
}

double sutherland_viscosity_Pa_s(double temperature_K) {
  require(temperature_K >= 150 && temperature_K <= 400, "temperature_K", temperature_K);
  return sutherland_beta_kg_msK05 * temperature_K * std::sqrt(temperature_K) /
         (temperature_K + sutherland_temperature_K);
}

StandardAtmosphere standard_atmosphere(double altitude_m) {
  require(altitude_m >= -2000 && altitude_m <= 11000, "altitude_m", altitude_m);
  const double temperature_K = standard_temperature_K - lapse_K_m * altitude_m;
  const double pressure_Pa =
      standard_pressure_Pa * std::pow(temperature_K / standard_temperature_K, barometric_exponent);
  return {temperature_K, pressure_Pa, pressure_Pa / (dry_air_gas_constant_J_kgK * temperature_K)};
}

double station_pressure_Pa(double reduced_pressure_Pa, double altitude_m, double temperature_K) {
  require(temperature_K >= 150 && temperature_K <= 400, "temperature_K", temperature_K);
  require(altitude_m >= -2000 && altitude_m <= 11000, "altitude_m", altitude_m);
  require(std::isfinite(reduced_pressure_Pa), "reduced_pressure_Pa", reduced_pressure_Pa);
  const double drop_K = lapse_K_m * altitude_m;
  return reduced_pressure_Pa * std::pow(1 - drop_K / (temperature_K + drop_K), barometric_exponent);
}

}  // namespace propwright::air
