/// How a unit converts to SI. Private to the module.
#pragma once

#include <string>
#include <vector>

namespace propwright::units {

/// si = value * numerator / denominator + offset. Numerator and denominator are whole numbers
/// wherever the unit allows, so that "0.7 mm" becomes the double nearest to 0.0007.
struct Conversion {
  double numerator = 1;
  double denominator = 1;
  double offset = 0;  ///< in SI; not 0 for °C and °F only

  double to_si(double value) const { return value * numerator / denominator + offset; }
  double from_si(double si) const { return (si - offset) * denominator / numerator; }
  bool is_si() const { return numerator == denominator && offset == 0; }
};

/// A unit as UDUNITS-2 writes it and the SI unit to convert it to. `zero` is the symbol of the
/// scale whose zero point applies ("degC"); empty for none.
struct ConversionRequest {
  std::string symbol;
  std::string si_symbol;
  std::string zero;
};

/// Asks the unit database for each conversion. Throws std::runtime_error when the database cannot
/// be read (a lost resource) and std::logic_error when a symbol is not in it (a bug). Not to be
/// called from two threads at once: UDUNITS-2 keeps state of its own.
std::vector<Conversion> look_up(const std::vector<ConversionRequest>& requests);

}  // namespace propwright::units
