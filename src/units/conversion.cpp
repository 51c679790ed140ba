#include "conversion.h"

#include <udunits2.h>

#include <cmath>
#include <limits>
#include <memory>
#include <stdexcept>

namespace propwright::units {
namespace {

struct FreeSystem {
  void operator()(ut_system* system) const { ut_free_system(system); }
};
struct FreeUnit {
  void operator()(ut_unit* unit) const { ut_free(unit); }
};
struct FreeConverter {
  void operator()(cv_converter* converter) const { cv_free(converter); }
};
using System = std::unique_ptr<ut_system, FreeSystem>;
using UnitHandle = std::unique_ptr<ut_unit, FreeUnit>;
using Converter = std::unique_ptr<cv_converter, FreeConverter>;

/// Keeps the library from writing its own messages to standard error while it works.
class Quiet {
 public:
  Quiet() : before_(ut_set_error_message_handler(ut_ignore)) {}
  ~Quiet() { ut_set_error_message_handler(before_); }
  Quiet(const Quiet&) = delete;
  Quiet& operator=(const Quiet&) = delete;

 private:
  ut_error_message_handler before_;
};

Converter converter(ut_system* system, const std::string& from, const std::string& to) {
  const UnitHandle from_unit(ut_parse(system, from.c_str(), UT_UTF8));
  const UnitHandle to_unit(ut_parse(system, to.c_str(), UT_UTF8));
  Converter made(from_unit && to_unit ? ut_get_converter(from_unit.get(), to_unit.get()) : nullptr);
  if (!made) throw std::logic_error("no conversion from " + from + " to " + to);
  return made;
}

bool is_whole(double number) {
  // The database multiplies up to some eight rounded factors: 2 eps each side of the true value
  // was the most seen, 4 eps is allowed. A whole number so found is off by no more than that.
  const double allowed = 4 * std::numeric_limits<double>::epsilon() * number;
  return number >= 1 && number <= 1e11 && std::abs(number - std::round(number)) <= allowed;
}

/// Factors of units defined by decimals (0.0254) or by division (1/60) as quotients of whole
/// numbers; others (1 lb/ft3) stay as they are.
Conversion quotient(double factor) {
  double power = 1;
  for (int decimals = 0; decimals <= 15; ++decimals, power *= 10) {
    if (is_whole(factor * power)) return {std::round(factor * power), power, 0};
  }
  for (const double numerator : {1.0, 10.0}) {
    if (is_whole(numerator / factor)) return {numerator, std::round(numerator / factor), 0};
  }
  return {factor, 1, 0};
}

}  // namespace

std::vector<Conversion> look_up(const std::vector<ConversionRequest>& requests) {
  const Quiet quiet;
  const System system(ut_read_xml(nullptr));
  if (!system) {
    throw std::runtime_error(
        "the unit database cannot be read; install the package libudunits2-data");
  }
  std::vector<Conversion> found;
  found.reserve(requests.size());
  for (const ConversionRequest& request : requests) {
    const Converter factor = converter(system.get(), request.symbol, request.si_symbol);
    Conversion conversion = quotient(cv_convert_double(factor.get(), 1.0));
    if (!request.zero.empty()) {
      const Converter zero = converter(system.get(), request.zero, request.si_symbol);
      conversion.offset = cv_convert_double(zero.get(), 0.0);
    }
    found.push_back(conversion);
  }
  return found;
}

}  // namespace propwright::units
