#include "unit_table.h"

#include <algorithm>
#include <map>
#include <stdexcept>

#include "reading.h"

namespace propwright::units {
namespace {

using D = Dimension;

struct DimensionRow {
  Dimension dimension;
  const char* name;
  const char* si_symbol;  ///< as the unit database writes it
};

constexpr DimensionRow dimension_rows[] = {
    {D::length, "length", "m"},
    {D::area, "area", "m2"},
    {D::mass, "mass", "kg"},
    {D::density, "density", "kg/m3"},
    {D::areal_density, "mass per area", "kg/m2"},
    {D::line_density, "mass per length", "kg/m"},
    {D::force, "force", "N"},
    {D::torque, "torque", "N.m"},
    {D::angle, "angle", "radian"},
    {D::temperature, "temperature", "K"},
    {D::pressure, "pressure", "Pa"},
    {D::speed, "speed", "m/s"},
    {D::rotation, "rotation", "turn/s"},
    {D::time, "time", "s"},
    {D::viscosity, "dynamic viscosity", "Pa.s"},
    {D::energy_per_mass, "energy per mass", "J/kg"},
    {D::modulus, "elastic modulus", "Pa"},
    {D::bending_stiffness, "bending stiffness", "N.m2"},
    {D::relative_rate, "relative rate", "1/s"},
    {D::ratio, "a pure ratio", "1"},
};

struct UnitRow {
  Dimension dimension;
  const char* spellings;  ///< separated by '|'; the first is the one offered to users
  const char* display;    ///< printed form; null: the first spelling
  const char* symbol;     ///< as the unit database writes it
  const char* zero = "";  ///< scale with the zero point
};

// The ounce is written as a sixteenth of the pound because the unit database rounds its own ounce
// to seven digits. In builders' speech ounce and gram in a torque are forces: common practice.
constexpr UnitRow unit_rows[] = {
    {D::length, "mm|millimetre|millimetres|millimeter|millimeters", nullptr, "mm"},
    {D::length, "cm|centimetre|centimetres|centimeter|centimeters", nullptr, "cm"},
    {D::length, "m|metre|metres|meter|meters", nullptr, "m"},
    {D::length, "in|inch|inches", nullptr, "inch"},
    {D::length, "thou|thousandth|thousandths|mil|mils", nullptr, "0.001 inch"},
    {D::length, "ft|foot|feet", nullptr, "foot"},
    {D::length, "um|micron|microns|micrometre|micrometer", "µm", "micron"},

    {D::area, "mm2|sq mm", "mm²", "mm2"},
    {D::area, "cm2|sq cm", "cm²", "cm2"},
    {D::area, "m2|sq m", "m²", "m2"},
    {D::area, "in2|sq in", "in²", "inch2"},
    {D::area, "ft2|sq ft", "ft²", "foot2"},

    {D::mass, "g|gram|grams|gramme|grammes", nullptr, "g"},
    {D::mass, "mg|milligram|milligrams", nullptr, "mg"},
    {D::mass, "kg", nullptr, "kg"},
    {D::mass, "oz|ounce|ounces", nullptr, "lb/16"},
    {D::mass, "lb|lbs|pound|pounds", nullptr, "lb"},

    {D::density, "kg/m3|kg/cu m", "kg/m³", "kg/m3"},
    {D::density, "g/cm3|g/cc|g/ml", "g/cm³", "g/cm3"},
    {D::density, "lb/ft3|lb/cu ft|lbs/ft3|lbs/cu ft|pcf", "lb/ft³", "lb/foot3"},

    {D::areal_density, "g/m2", "g/m²", "g/m2"},
    {D::areal_density, "kg/m2", "kg/m²", "kg/m2"},
    {D::areal_density, "mg/cm2", "mg/cm²", "mg/cm2"},
    {D::areal_density, "mg/100 in2|mg/100in2|mg/100 sq in|mg/100sq in|mg/(100 in2)", "mg/100 in²",
     "mg/(100 inch2)"},

    {D::line_density, "g/m", nullptr, "g/m"},
    {D::line_density, "kg/m", nullptr, "kg/m"},
    {D::line_density, "mg/m", nullptr, "mg/m"},
    {D::line_density, "g/in|g/inch", nullptr, "g/inch"},
    {D::line_density, "mg/10 cm|mg/10cm", nullptr, "mg/(10 cm)"},

    {D::force, "N", nullptr, "N"},
    {D::force, "mN", nullptr, "mN"},
    {D::force, "gf", nullptr, "gf"},
    {D::force, "kgf", nullptr, "kgf"},
    {D::force, "ozf", nullptr, "lbf/16"},
    {D::force, "lbf", nullptr, "lbf"},

    {D::torque, "mN.m|mNm", "mN·m", "mN.m"},
    {D::torque, "N.m|Nm", "N·m", "N.m"},
    {D::torque, "N.mm|Nmm", "N·mm", "N.mm"},
    {D::torque, "in-oz|oz-in|ozf-in|in-ozf", "in-oz", "lbf.inch/16"},
    {D::torque, "in-lb|lb-in|lbf-in|in-lbf", "lb·in", "lbf.inch"},
    {D::torque, "g-cm|gf-cm|cm-g", "g·cm", "gf.cm"},

    {D::angle, "deg|degree|degrees", "°", "degree"},
    {D::angle, "rad|radian|radians", nullptr, "radian"},

    {D::temperature, "degC|C|deg C|degrees C|celsius", "°C", "K", "degC"},
    {D::temperature, "degF|F|deg F|degrees F|fahrenheit", "°F", "degR", "degF"},
    {D::temperature, "K|kelvin", nullptr, "K"},

    {D::pressure, "hPa", nullptr, "hPa"},
    {D::pressure, "mbar|mb", nullptr, "mbar"},
    {D::pressure, "kPa", nullptr, "kPa"},
    {D::pressure, "Pa", nullptr, "Pa"},
    {D::pressure, "inHg|in Hg", nullptr, "inHg"},
    {D::pressure, "mmHg|mm Hg", nullptr, "mmHg"},

    {D::speed, "m/s", nullptr, "m/s"},
    {D::speed, "ft/s|fps", nullptr, "foot/s"},
    {D::speed, "km/h|kph", nullptr, "km/h"},
    {D::speed, "mph", nullptr, "mile/h"},

    {D::rotation, "rpm|RPM|rev/min|r/min|turns/min|1/min", nullptr, "turn/min"},
    {D::rotation, "rev/s|r/s|turns/s|rps|Hz|1/s", nullptr, "turn/s"},
    {D::rotation, "rad/s", nullptr, "radian/s"},

    {D::time, "s|sec|secs|second|seconds", nullptr, "s"},
    {D::time, "min|mins|minute|minutes", nullptr, "min"},
    {D::time, "h|hr|hour|hours", nullptr, "h"},

    {D::viscosity, "Pa.s|Pas", "Pa·s", "Pa.s"},
    {D::viscosity, "mPa.s|mPas", "mPa·s", "mPa.s"},
    {D::viscosity, "uPa.s|uPas", "µPa·s", "uPa.s"},

    {D::energy_per_mass, "J/kg", nullptr, "J/kg"},
    {D::energy_per_mass, "kJ/kg|J/g", nullptr, "kJ/kg"},
    {D::energy_per_mass, "ft-lb/lb|ft-lbf/lb|lb-ft/lb|lbf-ft/lb", "ft·lb/lb", "foot.lbf/lb"},

    {D::modulus, "GPa|kN/mm2", nullptr, "GPa"},
    {D::modulus, "MPa|N/mm2", nullptr, "MPa"},
    {D::modulus, "kPa", nullptr, "kPa"},
    {D::modulus, "Pa|N/m2", nullptr, "Pa"},
    {D::modulus, "psi|lbf/in2|lb/in2", nullptr, "psi"},

    {D::bending_stiffness, "N.m2|Nm2", "N·m²", "N.m2"},
    {D::bending_stiffness, "N.mm2|Nmm2", "N·mm²", "N.mm2"},

    {D::relative_rate, "%/min", nullptr, "percent/min"},
    {D::relative_rate, "%/h", nullptr, "percent/h"},
    {D::relative_rate, "%/s", nullptr, "percent/s"},
    {D::relative_rate, "1/min|/min", nullptr, "1/min"},
    {D::relative_rate, "1/h|/h", nullptr, "1/h"},
    {D::relative_rate, "1/s|/s", nullptr, "1/s"},

    {D::ratio, "", "", "1"},
    {D::ratio, "%|percent", nullptr, "percent"},
};

std::vector<std::string> split_spellings(std::string_view spellings) {
  std::vector<std::string> list;
  while (true) {
    const auto bar = spellings.find('|');
    list.emplace_back(spellings.substr(0, bar));
    if (bar == std::string_view::npos) return list;
    spellings.remove_prefix(bar + 1);
  }
}

const DimensionRow& row_of(Dimension dimension) {
  for (const DimensionRow& row : dimension_rows) {
    if (row.dimension == dimension) return row;
  }
  throw std::invalid_argument("unknown dimension");
}

/// The rows above with their conversions, indexed by spelling.
class UnitTable {
 public:
  UnitTable() {
    std::vector<ConversionRequest> requests;
    for (const UnitRow& row : unit_rows) {
      requests.push_back({row.symbol, row_of(row.dimension).si_symbol, row.zero});
    }
    const std::vector<Conversion> conversions = look_up(requests);
    units_.reserve(conversions.size());
    for (std::size_t i = 0; i < conversions.size(); ++i) {
      const UnitRow& row = unit_rows[i];
      std::vector<std::string> spellings = split_spellings(row.spellings);
      const std::string display = row.display ? row.display : spellings.front();
      units_.push_back({row.dimension, spellings.front(), display, conversions[i]});
      for (const std::string& spelling : spellings) {
        index_.emplace(std::pair(row.dimension, unit_key(spelling)), i);
      }
      spellings_.push_back(std::move(spellings));
    }
  }

  const Unit* find(const std::string& key, Dimension dimension) const {
    const auto found = index_.find(std::pair(dimension, key));
    return found == index_.end() ? nullptr : &units_[found->second];
  }

  const std::vector<Unit>& units() const { return units_; }
  const std::vector<std::string>& spellings(std::size_t unit) const { return spellings_[unit]; }

 private:
  std::vector<Unit> units_;
  std::vector<std::vector<std::string>> spellings_;
  std::map<std::pair<Dimension, std::string>, std::size_t> index_;
};

/// Made at first use; the language makes that safe between threads, and from then on the table is
/// only read.
const UnitTable& table() {
  static const UnitTable made;
  return made;
}

}  // namespace

std::string dimension_name(Dimension dimension) {
  return row_of(dimension).name;
}

const Unit* find_unit(std::string_view spelling, Dimension dimension) {
  return table().find(unit_key(spelling), dimension);
}

std::string dimensions_of(std::string_view spelling) {
  const std::string key = unit_key(spelling);
  std::string names;
  for (const DimensionRow& row : dimension_rows) {
    if (table().find(key, row.dimension) == nullptr) continue;
    names += (names.empty() ? "" : " or ") + std::string(row.name);
  }
  return names;
}

const Unit& si_unit(Dimension dimension) {
  for (const Unit& unit : table().units()) {
    if (unit.dimension == dimension && unit.conversion.is_si()) return unit;
  }
  throw std::logic_error("a dimension lacks its SI unit");
}

std::vector<const Unit*> units_of(Dimension dimension) {
  std::vector<const Unit*> list;
  for (const Unit& unit : table().units()) {
    if (unit.dimension == dimension) list.push_back(&unit);
  }
  return list;
}

std::vector<std::string> spellings_of(Dimension dimension) {
  std::vector<std::string> list;
  for (std::size_t i = 0; i < table().units().size(); ++i) {
    if (table().units()[i].dimension != dimension) continue;
    list.insert(list.end(), table().spellings(i).begin(), table().spellings(i).end());
  }
  return list;
}

}  // namespace propwright::units
