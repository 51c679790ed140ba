/// Text with units <-> SI, at the edge of the program only. Inside, every number is SI.
#pragma once

#include <string>
#include <string_view>

#include "propwright/base/problem.h"

namespace propwright::units {

/// What a quantity measures; decides which units are accepted and what SI unit a number is in.
enum class Dimension {
  length,             ///< m
  area,               ///< m2
  mass,               ///< kg
  density,            ///< kg/m3
  areal_density,      ///< kg/m2
  line_density,       ///< kg/m
  force,              ///< N
  torque,             ///< N m
  angle,              ///< rad
  temperature,        ///< K, absolute ("21 degC" is 294.15)
  pressure,           ///< Pa
  speed,              ///< m/s
  rotation,           ///< rev/s
  time,               ///< s
  viscosity,          ///< Pa s
  energy_per_mass,    ///< J/kg
  modulus,            ///< Pa, printed in GPa
  bending_stiffness,  ///< N m2
  relative_rate,      ///< 1/s, a fraction lost per time ("1 %/min")
  ratio,              ///< pure number; "6 %" is 0.06 and a bare number is accepted
};

/// Which units a user likes to read.
enum class Profile { metric, inch };

/// A printed quantity: number and unit apart, so that tables can align on the decimal mark.
struct Printed {
  std::string number;  ///< digits, minus sign U+2212, no thousands separator
  std::string unit;    ///< "mm", "in", "°", "mN·m", "in-oz"; empty for a ratio printed as number
};

/// Reads "12 in", "0.040in", "40 thou", "1/32 in", "1 1/2 in", "305 mm", "0.5 g", "20 mg",
/// "5 lb/ft3", "0.42 in-oz", "21 °C", "1013 hPa", "45 deg", "90 rpm", "8.5 m", "50 %".
/// Returns the value in SI (see Dimension), within 4e-16 of the decimal value, and to the nearest
/// double for short numbers in units that are short decimals. A bare number is refused
/// except for a ratio.
/// Times may come in parts: "12 min 41 s", "12:41". Decimal commas and quote marks are refused.
/// Problem: bad_input with value, allowed (the accepted units) and remedy; `field` is copied in.
base::Expected<double> parse(std::string_view text, Dimension dimension,
                             const std::string& field = {});

/// The accepted units of a dimension, for messages and help: "mm, cm, m, in, thou, ft".
std::string accepted_units(Dimension dimension);

/// Prints with the digits the trade works to: 0.01 mm or 0.001 in, 1 mg, 0.1 degree, 1 rpm ...
/// (the whole list: `bands` in print.cpp). Trailing zeros stay, so that tables align. From 1e15 on
/// with an exponent. `si` must be finite (a bug otherwise: throws std::invalid_argument).
Printed print(double si, Dimension dimension, Profile profile);

/// As print, but in one named unit with a fixed number of decimals, e.g. ("mg", 0) or ("thou", 1).
/// The unit must belong to the dimension (a bug otherwise: throws std::invalid_argument).
Printed print_in(double si, Dimension dimension, const std::string& unit, int decimals);

/// "305 mm": as print, decimals that are all zeros dropped; number and unit joined with a no-break
/// space (degree sign joined without).
std::string to_text(double si, Dimension dimension, Profile profile);

/// Exact text that parse() reads back to the same double, in a natural unit of the profile; used
/// when a job file is written. ASCII only. `si` must be finite, a temperature not below 0 K.
std::string to_exact_text(double si, Dimension dimension, Profile profile);

/// "12 min 41 s" or "41 s", rounded to the second; minutes also beyond an hour.
/// `seconds` >= 0 and finite (a bug otherwise: throws std::invalid_argument).
std::string duration_text(double seconds);

}  // namespace propwright::units
