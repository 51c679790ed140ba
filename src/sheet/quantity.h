/// The units a packet prints in: one fixed unit and number of decimals per kind of quantity, so
/// that columns and axes stay comparable from page to page.
#pragma once

#include <string>

#include "propwright/units/units.h"

namespace propwright::sheet {

struct PrintUnit {
  units::Dimension dimension = units::Dimension::ratio;
  std::string name;  ///< as units::parse reads it
  int decimals = 0;

  std::string number(double si) const;  ///< "12.5"
  std::string symbol() const;           ///< "mm", "in-oz"
  std::string text(double si) const;    ///< number and symbol, no-break space between
  double si_per_unit() const;
};

/// The units of a profile.
struct PrintUnits {
  explicit PrintUnits(units::Profile profile);

  PrintUnit length;        ///< of a propeller: 0.1 mm or 0.001 in
  PrintUnit radius;        ///< of a station: 0.1 mm or 0.01 in
  PrintUnit other_radius;  ///< the same in the other profile
  PrintUnit stock;         ///< wood and strip: 0.01 mm or 0.001 in
  PrintUnit pitch;         ///< 1 mm or 0.1 in
  PrintUnit height;        ///< of flight: 0.1 m or 0.5 ft
  PrintUnit torque;
  PrintUnit part_mass;    ///< mg
  PrintUnit rubber_mass;  ///< g
  PrintUnit angle;        ///< 0.1 degree
  PrintUnit rotation;     ///< rpm
  PrintUnit speed;
  PrintUnit density;
};

/// A count of turns or similar: "1960", minus U+2212.
std::string whole_number(double value);
/// A number with fixed decimals and U+2212 for minus.
std::string fixed(double value, int decimals);
/// "4:49" from seconds, rounded to the second.
std::string clock_text(double seconds);
/// "25 Nov 2026" from "2026-11-25"; the text itself when it is not such a date.
std::string date_text(const std::string& iso);
bool is_iso_date(const std::string& text);

}  // namespace propwright::sheet
