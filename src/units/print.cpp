#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "propwright/units/units.h"
#include "reading.h"
#include "unit_table.h"

namespace propwright::units {
namespace {

using D = Dimension;
using P = Profile;

/// How numbers up to a limit are printed. The limit is in the printed unit and is compared with
/// the rounded number, so that 9.999 mm prints as 10.0 mm and not as 10.00 mm.
struct Band {
  Dimension dimension;
  Profile profile;
  double below;
  const char* unit;
  int decimals;
};

constexpr double any = std::numeric_limits<double>::infinity();

// The digits builders work to: common practice (stock gauged to 0.01 mm or 0.001 in, parts
// weighed to 1 mg). The last band of a dimension and profile has no limit.
constexpr Band bands[] = {
    {D::length, P::metric, 10, "mm", 2},
    {D::length, P::metric, 1000, "mm", 1},
    {D::length, P::metric, any, "m", 2},
    {D::length, P::inch, 20, "in", 3},
    {D::length, P::inch, 120, "in", 2},
    {D::length, P::inch, any, "ft", 1},
    {D::area, P::metric, 100, "mm2", 2},
    {D::area, P::metric, 10000, "cm2", 1},
    {D::area, P::metric, any, "m2", 2},
    {D::area, P::inch, 1, "in2", 5},
    {D::area, P::inch, 1440, "in2", 2},
    {D::area, P::inch, any, "ft2", 1},
    {D::mass, P::metric, 10, "mg", 1},
    {D::mass, P::metric, 1000, "mg", 0},
    {D::mass, P::metric, 10, "g", 3},
    {D::mass, P::metric, any, "g", 1},
    {D::mass, P::inch, 10, "mg", 1},
    {D::mass, P::inch, 1000, "mg", 0},
    {D::mass, P::inch, 10, "g", 3},
    {D::mass, P::inch, any, "g", 1},
    {D::density, P::metric, 10, "kg/m3", 3},
    {D::density, P::metric, any, "kg/m3", 0},
    {D::density, P::inch, 1, "lb/ft3", 4},
    {D::density, P::inch, any, "lb/ft3", 1},
    {D::areal_density, P::metric, any, "g/m2", 2},
    {D::areal_density, P::inch, any, "mg/100 in2", 1},
    {D::line_density, P::metric, any, "g/m", 3},
    {D::line_density, P::inch, any, "g/in", 4},
    {D::force, P::metric, 1000, "mN", 2},
    {D::force, P::metric, any, "N", 2},
    {D::force, P::inch, any, "gf", 3},
    {D::torque, P::metric, any, "mN.m", 3},
    {D::torque, P::inch, any, "in-oz", 3},
    {D::angle, P::metric, any, "deg", 1},
    {D::angle, P::inch, any, "deg", 1},
    {D::temperature, P::metric, any, "degC", 1},
    {D::temperature, P::inch, any, "degF", 0},
    {D::pressure, P::metric, any, "hPa", 0},
    {D::pressure, P::inch, any, "inHg", 2},
    {D::speed, P::metric, any, "m/s", 2},
    {D::speed, P::inch, any, "ft/s", 2},
    {D::rotation, P::metric, 100, "rpm", 1},
    {D::rotation, P::metric, any, "rpm", 0},
    {D::rotation, P::inch, 100, "rpm", 1},
    {D::rotation, P::inch, any, "rpm", 0},
    {D::time, P::metric, any, "s", 1},
    {D::time, P::inch, any, "s", 1},
    {D::viscosity, P::metric, any, "uPa.s", 2},
    {D::viscosity, P::inch, any, "uPa.s", 2},
    {D::energy_per_mass, P::metric, any, "kJ/kg", 2},
    {D::energy_per_mass, P::inch, any, "ft-lb/lb", 0},
    {D::modulus, P::metric, 100, "MPa", 2},
    {D::modulus, P::metric, any, "GPa", 2},
    {D::modulus, P::inch, any, "psi", 0},
    {D::bending_stiffness, P::metric, any, "N.mm2", 1},
    {D::bending_stiffness, P::inch, any, "N.mm2", 1},
    {D::relative_rate, P::metric, any, "%/min", 2},
    {D::relative_rate, P::inch, any, "%/min", 2},
    {D::ratio, P::metric, any, "", 3},
    {D::ratio, P::inch, any, "", 3},
};

void require_finite(double si) {
  if (!std::isfinite(si)) throw std::invalid_argument("only finite quantities can be printed");
}

/// Digits with an ASCII minus; zero never carries one. Numbers beyond all use are printed with an
/// exponent instead of a tail of digits that mean nothing.
std::string digits(double value, int decimals) {
  if (std::abs(value) >= 1e15) return fmt::format("{:.6e}", value);
  std::string text = fmt::format("{:.{}f}", value, decimals);
  if (text.front() == '-' && text.find_first_of("123456789") == std::string::npos) text.erase(0, 1);
  return text;
}

double number_in(const std::string& text) {
  double number = 0;
  std::from_chars(text.data(), text.data() + text.size(), number);
  return number;
}

Printed in_unit(double si, const Unit& unit, int decimals) {
  double value = unit.conversion.from_si(si);
  const bool overflow = !std::isfinite(value);
  const Unit& used = overflow ? si_unit(unit.dimension) : unit;
  if (overflow) value = si;
  std::string number = digits(value, decimals);
  if (number.front() == '-') number.replace(0, 1, "\u2212");
  return {std::move(number), used.display};
}

const Band& band_of(double si, Dimension dimension, Profile profile) {
  const Band* last = nullptr;
  for (const Band& band : bands) {
    if (band.dimension != dimension || band.profile != profile) continue;
    last = &band;
    const Unit& unit = *find_unit(band.unit, dimension);
    const double rounded = number_in(digits(unit.conversion.from_si(si), band.decimals));
    if (std::abs(rounded) < band.below) break;
  }
  return *last;
}

/// The shortest decimal whose reading in `unit` is `si` to the last bit; empty when 17 digits do
/// not reach it.
std::string exact_number(double si, const Unit& unit) {
  const double value = unit.conversion.from_si(si);
  if (!std::isfinite(value)) return {};
  for (int precision = 0; precision < 17; ++precision) {
    const double rounded = number_in(fmt::format("{:.{}e}", value, precision));
    if (unit.conversion.to_si(rounded) == si) return fmt::format("{}", rounded);
  }
  return {};
}

std::size_t digit_count(const std::string& number) {
  const std::string mantissa = number.substr(0, number.find('e'));
  return static_cast<std::size_t>(
      std::count_if(mantissa.begin(), mantissa.end(), [](char c) { return c >= '0' && c <= '9'; }));
}

std::string with_unit(const std::string& number, const Unit& unit) {
  return unit.typed.empty() ? number : number + " " + unit.typed;
}

}  // namespace

Printed print(double si, Dimension dimension, Profile profile) {
  require_finite(si);
  const Band& band = band_of(si, dimension, profile);
  return in_unit(si, *find_unit(band.unit, dimension), band.decimals);
}

Printed print_in(double si, Dimension dimension, const std::string& unit, int decimals) {
  require_finite(si);
  const Unit* known = find_unit(plain(unit), dimension);
  if (known == nullptr) {
    throw std::invalid_argument("\"" + unit + "\" is not a unit of " + dimension_name(dimension));
  }
  if (decimals < 0 || decimals > 17) throw std::invalid_argument("decimals must be 0 to 17");
  return in_unit(si, *known, decimals);
}

std::string to_text(double si, Dimension dimension, Profile profile) {
  Printed printed = print(si, dimension, profile);
  const std::size_t point = printed.number.find('.');
  const bool whole = point != std::string::npos &&
                     printed.number.find_first_not_of('0', point + 1) == std::string::npos;
  if (whole) printed.number.erase(point);
  if (printed.unit.empty()) return printed.number;
  const bool joined = printed.unit == "°";
  return printed.number + (joined ? "" : "\u00a0") + printed.unit;
}

std::string to_exact_text(double si, Dimension dimension, Profile profile) {
  require_finite(si);
  if (si == 0 && dimension != D::temperature) si = 0;  // a negative zero loses its sign
  // Twelve digits are what a person may have typed; more are the marks of a computed value.
  constexpr std::size_t typed_digits = 12;
  const Band& natural = band_of(si, dimension, profile);
  std::vector<const Unit*> candidates = {find_unit(natural.unit, dimension)};
  for (const Band& band : bands) {
    if (band.dimension == dimension && band.profile == profile) {
      candidates.push_back(find_unit(band.unit, dimension));
    }
  }
  candidates.push_back(&si_unit(dimension));
  std::string best;
  std::size_t best_digits = std::numeric_limits<std::size_t>::max();
  for (const Unit* unit : candidates) {
    const std::string number = exact_number(si, *unit);
    if (number.empty() || digit_count(number) >= best_digits) continue;
    best = with_unit(number, *unit);
    best_digits = digit_count(number);
    if (best_digits <= typed_digits) break;
  }
  return best;
}

std::string duration_text(double seconds) {
  if (!std::isfinite(seconds) || seconds < 0) {
    throw std::invalid_argument("a duration must be finite and not negative");
  }
  const double whole_s = std::round(seconds);
  if (whole_s < 60) return fmt::format("{:.0f} s", whole_s);
  return fmt::format("{:.0f} min {:.0f} s", std::floor(whole_s / 60), std::fmod(whole_s, 60.0));
}

}  // namespace propwright::units
