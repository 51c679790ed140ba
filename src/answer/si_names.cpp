#include "si_names.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <iterator>

namespace propwright::answer {
namespace {

struct SiEnding {
  std::string_view text;
  units::Dimension dimension;
  std::size_t unit;  ///< letters of it that are the unit
};
constexpr SiEnding si_endings[] = {{"_per_s", units::Dimension::rotation, 6},
                                   {"_kg_m3", units::Dimension::density, 6},
                                   {"_Nm", units::Dimension::torque, 3},
                                   {"pressure_Pa", units::Dimension::pressure, 3},
                                   {"modulus_Pa", units::Dimension::modulus, 3},
                                   {"_kg", units::Dimension::mass, 3},
                                   {"_m2", units::Dimension::area, 3},
                                   {"_m", units::Dimension::length, 2},
                                   {"_s", units::Dimension::time, 2},
                                   {"_K", units::Dimension::temperature, 2}};

/// The number that the whole text is.
std::optional<double> whole_number(std::string_view text) {
  double value = 0;
  const char* const end = text.data() + text.size();
  const auto [stopped, error] = std::from_chars(text.data(), end, value);
  if (error != std::errc() || stopped != end || !std::isfinite(value)) return std::nullopt;
  return value;
}

std::string with_unit(const std::string& text, units::Dimension dimension) {
  const auto value = whole_number(text);
  if (!value || (dimension == units::Dimension::temperature && *value < 0)) return text;
  return units::to_exact_text(*value, dimension, units::Profile::metric);
}

}  // namespace

std::optional<SiName> si_name(std::string_view name) {
  const auto ending = std::find_if(std::begin(si_endings), std::end(si_endings),
                                   [&](const SiEnding& one) { return name.ends_with(one.text); });
  if (ending == std::end(si_endings)) return std::nullopt;
  name.remove_suffix(ending->unit);
  return SiName{name, ending->dimension};
}

void give_units(base::Problem& problem) {
  const auto name = si_name(problem.field);
  if (!name) return;
  problem.value = with_unit(problem.value, name->dimension);
  const std::size_t to = problem.allowed.find(" to ");
  if (to == std::string::npos) return;
  problem.allowed = with_unit(problem.allowed.substr(0, to), name->dimension) + " to " +
                    with_unit(problem.allowed.substr(to + 4), name->dimension);
}

}  // namespace propwright::answer
