// The table of fields as the pages draw it: how each is shown, in which steps it moves.
#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "propwright/answer/live.h"
#include "propwright/brief/fields.h"

namespace propwright::answer {
namespace {

using D = units::Dimension;
using brief::FieldInfo;
using brief::FieldKind;
using units::Profile;

/// How a number of a field is shown in one profile: shown = SI factor + offset.
struct Scale {
  std::string unit;
  double factor = 1, offset = 0;
  int digits = 0;
  double step = 1;
};

const char* dimension_word(D dimension) {
  switch (dimension) {
    case D::length:
      return "length";
    case D::area:
      return "area";
    case D::mass:
      return "mass";
    case D::density:
      return "density";
    case D::areal_density:
      return "areal_density";
    case D::line_density:
      return "line_density";
    case D::force:
      return "force";
    case D::torque:
      return "torque";
    case D::angle:
      return "angle";
    case D::temperature:
      return "temperature";
    case D::pressure:
      return "pressure";
    case D::speed:
      return "speed";
    case D::rotation:
      return "rotation";
    case D::time:
      return "time";
    case D::viscosity:
      return "viscosity";
    case D::energy_per_mass:
      return "energy_per_mass";
    case D::modulus:
      return "modulus";
    case D::bending_stiffness:
      return "bending_stiffness";
    case D::relative_rate:
      return "relative_rate";
    case D::ratio:
      break;
  }
  return "number";
}

const char* kind_word(const FieldInfo& field) {
  switch (field.kind) {
    case FieldKind::quantity:
      return dimension_word(field.dimension);
    case FieldKind::difference:
      return "temperature_difference";
    case FieldKind::whole:
      return "integer";
    case FieldKind::choice:
      return "choice";
    case FieldKind::yes_no:
      return "boolean";
    case FieldKind::text:
      return "text";
    case FieldKind::file:
      break;
  }
  return "file";
}

/// A value such as builders write there: the default, else the middle of the range in proportion.
double typical(const FieldInfo& field) {
  if (field.default_value && std::holds_alternative<double>(*field.default_value)) {
    const double value = std::get<double>(*field.default_value);
    if (value > field.low && value > 0) return value;
  }
  return field.low > 0 ? std::sqrt(field.low * field.high) : field.high / 10;
}

/// The largest of 1, 2, 5 (inches: 1, 2.5, 5) times a power of ten that is not above `most`.
double nice_step(double most, Profile profile) {
  const double power = std::pow(10.0, std::floor(std::log10(most)));
  const double middle = profile == Profile::inch ? 2.5 : 2;
  for (const double lead : {5.0, middle}) {
    if (lead * power <= most * (1 + 1e-9)) return lead * power;
  }
  return power;
}

/// Decimals that a step needs.
int decimals_of(double step) {
  int decimals = 0;
  for (double scaled = step; decimals < 6 && std::abs(scaled - std::round(scaled)) > 1e-9;
       scaled *= 10) {
    ++decimals;
  }
  return decimals;
}

int printed_decimals(const std::string& number) {
  const auto point = number.find('.');
  return point == std::string::npos ? 0 : static_cast<int>(number.size() - point - 1);
}

Scale temperature_scale(Profile profile) {
  const bool inch = profile == Profile::inch;
  const double factor = inch ? 1.8 : 1;
  const double zero_K = *units::parse(inch ? "0 degF" : "0 degC", D::temperature);
  return {inch ? "°F" : "°C", factor, -zero_K * factor, inch ? 0 : 1, 1};
}

Scale scale_of(const FieldInfo& field, Profile profile) {
  if (field.kind == FieldKind::whole) return {};
  if (field.kind == FieldKind::difference) return {"K", 1, 0, 1, 0.5};
  if (field.dimension == D::temperature) return temperature_scale(profile);
  const double value = typical(field);
  const units::Printed printed = units::print(value, field.dimension, profile);
  Scale scale{.unit = printed.unit};
  if (field.dimension != D::ratio) {
    scale.factor = 1000 / *units::parse("1000 " + scale.unit, field.dimension);
  }
  const double shown = value * scale.factor;
  const double range = (field.high - field.low) * scale.factor;
  scale.step = nice_step(std::min(shown, range) / 50, profile);
  // A hundredth of a value and more is what a hand sets and an eye compares.
  const int wanted = std::max(0, static_cast<int>(std::ceil(-std::log10(shown / 150))));
  scale.digits = std::min(wanted, printed_decimals(printed.number));
  scale.digits = std::max(scale.digits, std::min(decimals_of(scale.step), 3));
  scale.step = std::max(scale.step, std::pow(10.0, -scale.digits));
  if (scale.unit.empty() && scale.step >= 1) {  // turns: counted, not measured
    scale.step = std::round(scale.step);
    scale.digits = 0;
  }
  return scale;
}

bool is_number(const FieldInfo& field) {
  return field.kind == FieldKind::quantity || field.kind == FieldKind::difference ||
         field.kind == FieldKind::whole;
}

Json both(const Json& metric, const Json& inch) {
  return {{"metric", metric}, {"inch", inch}};
}

void add_scales(const FieldInfo& field, Json& json) {
  const Scale metric = is_number(field) ? scale_of(field, Profile::metric) : Scale();
  const Scale inch = is_number(field) ? scale_of(field, Profile::inch) : Scale();
  json["unit"] = both(metric.unit, inch.unit);
  json["factor"] = both(metric.factor, inch.factor);
  json["offset"] = both(metric.offset, inch.offset);
  json["digits"] = both(metric.digits, inch.digits);
  json["step"] = both(metric.step, inch.step);
}

Json range_texts(const FieldInfo& field, double value) {
  if (!is_number(field)) return both("", "");
  return both(brief::range_text(field, value, Profile::metric),
              brief::range_text(field, value, Profile::inch));
}

Json default_of(const FieldInfo& field) {
  if (!field.default_value) return nullptr;
  return std::visit([](const auto& value) { return Json(value); }, *field.default_value);
}

std::string default_text(const FieldInfo& field) {
  if (!field.default_value) return field.default_text;
  if (const auto* number = std::get_if<double>(&*field.default_value)) {
    return brief::range_text(field, *number, Profile::metric);
  }
  const Json value = default_of(field);
  return value.is_string() ? value.get<std::string>() : value.dump();
}

Json field_json(const FieldInfo& field) {
  const bool ranged = is_number(field);
  Json json{{"field", field.name},
            {"kind", kind_word(field)},
            {"required", field.required},
            {"low", ranged ? Json(field.low) : Json(nullptr)},
            {"high", ranged || field.high > 0 ? Json(field.high) : Json(nullptr)},
            {"low_text", range_texts(field, field.low)},
            {"high_text", range_texts(field, field.high)},
            {"default_text", default_text(field)},
            {"default_value", default_of(field)},
            {"choices", field.choices},
            {"meaning", field.meaning}};
  add_scales(field, json);
  return json;
}

}  // namespace

Json fields_json() {
  Json list = Json::array();
  for (const FieldInfo& field : brief::field_table()) list.push_back(field_json(field));
  return {{"fields", list}};
}

}  // namespace propwright::answer
