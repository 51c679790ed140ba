#include "quantity.h"

#include <fmt/format.h>

#include <chrono>
#include <cmath>

namespace propwright::sheet {

using D = units::Dimension;

std::string PrintUnit::number(double si) const {
  return units::print_in(si, dimension, name, decimals).number;
}

std::string PrintUnit::symbol() const {
  return units::print_in(0, dimension, name, 0).unit;
}

std::string PrintUnit::text(double si) const {
  const units::Printed printed = units::print_in(si, dimension, name, decimals);
  return printed.number + (printed.unit == "°" ? "" : "\u00a0") + printed.unit;
}

double PrintUnit::si_per_unit() const {
  return units::parse("1 " + name, dimension).value();
}

PrintUnits::PrintUnits(units::Profile profile) {
  const bool metric = profile == units::Profile::metric;
  const auto pick = [&](D dimension, const char* metric_unit, int metric_decimals,
                        const char* inch_unit, int inch_decimals) {
    return metric ? PrintUnit{dimension, metric_unit, metric_decimals}
                  : PrintUnit{dimension, inch_unit, inch_decimals};
  };
  length = pick(D::length, "mm", 1, "in", 3);
  radius = pick(D::length, "mm", 1, "in", 2);
  other_radius = pick(D::length, "in", 2, "mm", 1);
  stock = pick(D::length, "mm", 2, "in", 3);
  pitch = pick(D::length, "mm", 0, "in", 1);
  height = pick(D::length, "m", 1, "ft", 1);
  torque = pick(D::torque, "mN.m", 2, "in-oz", 3);
  part_mass = pick(D::mass, "mg", 0, "mg", 0);
  rubber_mass = pick(D::mass, "g", 2, "g", 2);
  angle = pick(D::angle, "deg", 1, "deg", 1);
  rotation = pick(D::rotation, "rpm", 0, "rpm", 0);
  speed = pick(D::speed, "m/s", 2, "ft/s", 2);
  density = pick(D::density, "kg/m3", 0, "lb/ft3", 1);
}

std::string fixed(double value, int decimals) {
  return units::print_in(value, D::ratio, "", decimals).number;
}

std::string whole_number(double value) {
  return fixed(value, 0);
}

std::string clock_text(double seconds) {
  const long whole = std::lround(seconds);
  return fmt::format("{}:{:02}", whole / 60, whole % 60);
}

namespace {

struct Date {
  int year = 0, month = 0, day = 0;
};

bool read_date(const std::string& text, Date& date) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return false;
  for (const std::size_t i : {0, 1, 2, 3, 5, 6, 8, 9}) {
    if (text[i] < '0' || text[i] > '9') return false;
  }
  date = {std::stoi(text.substr(0, 4)), std::stoi(text.substr(5, 2)), std::stoi(text.substr(8))};
  return std::chrono::year_month_day(std::chrono::year(date.year),
                                     std::chrono::month(static_cast<unsigned>(date.month)),
                                     std::chrono::day(static_cast<unsigned>(date.day)))
      .ok();
}

}  // namespace

bool is_iso_date(const std::string& text) {
  Date date;
  return read_date(text, date);
}

std::string date_text(const std::string& iso) {
  constexpr const char* months[] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                    "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
  Date date;
  if (!read_date(iso, date)) return iso;
  return fmt::format("{} {} {}", date.day, months[date.month - 1], date.year);
}

}  // namespace propwright::sheet
