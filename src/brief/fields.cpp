#include "fields.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <cmath>

namespace propwright::brief {

namespace {

std::string replace_all(std::string text, std::string_view from, std::string_view to) {
  for (std::size_t at = text.find(from); at != std::string::npos;
       at = text.find(from, at + to.size())) {
    text.replace(at, from.size(), to);
  }
  return text;
}

/// As on the bench, without trailing zeros.
std::string bench_text(double si, units::Dimension dimension, units::Profile profile) {
  units::Printed printed = units::print(si, dimension, profile);
  if (printed.number.find('.') != std::string::npos) {
    printed.number.erase(printed.number.find_last_not_of('0') + 1);
    if (printed.number.back() == '.') printed.number.pop_back();
  }
  const bool joined = printed.unit == "°";
  return replace_all(printed.number, "\u2212", "-") + (joined ? "" : " ") + printed.unit;
}

/// In the digits of the bench, unless those would state another value: then in full.
std::string quantity_text(double si, units::Dimension dimension, units::Profile profile) {
  if (dimension == units::Dimension::ratio) return fmt::format("{:.6g}", si);
  const std::string bench = bench_text(si, dimension, profile);
  if (profile == units::Profile::inch) return bench;
  // Half a percent is less than any bench reading; a limit shown that far off misleads nobody.
  constexpr double shown_well = 0.005;
  const auto read = units::parse(bench, dimension);
  if (read && std::abs(*read - si) <= shown_well * std::abs(si)) return bench;
  const std::string exact = units::to_exact_text(si, dimension, profile);
  return exact.size() <= 12 ? exact : bench;
}

}  // namespace

const std::vector<Field<Job>>& job_fields() {
  static const std::vector<Field<Job>> fields = [] {
    std::vector<Field<Job>> all = site_fields();
    for (auto part : {motor_fields(), propeller_fields(), doubt_fields(), learned_fields()}) {
      all.insert(all.end(), part.begin(), part.end());
    }
    return all;
  }();
  return fields;
}

std::string section_of(const std::string& name) {
  const auto dot = name.rfind('.');
  return dot == std::string::npos ? std::string() : name.substr(0, dot);
}

std::string key_of(const std::string& name) {
  const auto dot = name.rfind('.');
  return dot == std::string::npos ? name : name.substr(dot + 1);
}

std::string shown_value(const FieldFacts& field, const Value& value, units::Profile profile) {
  switch (field.kind) {
    case Kind::quantity:
      return quantity_text(std::get<double>(value), field.dimension, profile);
    case Kind::difference:
      return fmt::format("{:.6g} K", std::get<double>(value));
    case Kind::whole:
      return fmt::format("{}", std::get<int>(value));
    case Kind::words:
      return field.words.at(static_cast<std::size_t>(std::get<int>(value)));
    case Kind::flag:
      return std::get<bool>(value) ? "true" : "false";
    case Kind::text:
    case Kind::file:
      break;
  }
  return std::get<std::string>(value);
}

std::string allowed_range(const FieldFacts& field, units::Profile profile) {
  const auto end = [&](double number) {
    const Value value = field.kind == Kind::whole ? Value(static_cast<int>(number)) : Value(number);
    return shown_value(field, value, profile);
  };
  switch (field.kind) {
    case Kind::quantity:
    case Kind::difference:
    case Kind::whole:
      return fmt::format("{} to {}", end(field.low), end(field.high));
    case Kind::words:
      return fmt::format("{}", fmt::join(field.words, ", "));
    case Kind::flag:
      return "true or false";
    case Kind::text:
    case Kind::file:
      break;
  }
  return {};
}

units::Profile profile_of(const Job& job) {
  return job.info.units == UnitProfile::inch ? units::Profile::inch : units::Profile::metric;
}

}  // namespace propwright::brief
