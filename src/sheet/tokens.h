/// Colours, line widths and type sizes of everything printed, in one place.
#pragma once

#include <vector>

namespace propwright::sheet {

struct Colour {
  double red = 0, green = 0, blue = 0;
};

constexpr Colour rgb(unsigned hex) {
  return {((hex >> 16) & 0xff) / 255.0, ((hex >> 8) & 0xff) / 255.0, (hex & 0xff) / 255.0};
}

inline constexpr Colour black = rgb(0x000000);
inline constexpr Colour white = rgb(0xffffff);
inline constexpr Colour ink2 = rgb(0x5f5f57);        ///< units and notes
inline constexpr Colour grid = rgb(0xc9c6bd);        ///< light grid under the data
inline constexpr Colour band_grey = rgb(0xdcdcd8);   ///< doubt: 5 to 95 %
inline constexpr Colour shade_grey = rgb(0xecece8);  ///< a range on an axis

// Data hues: Paul Tol, "Colour Schemes", SRON technical note, scheme "medium-contrast", its three
// dark colours; the same meaning on every chart. Motor text is darker than its line so that it
// stays readable on white.
inline constexpr Colour blade_hue = rgb(0x004488);
inline constexpr Colour other_hue = rgb(0x994455);
inline constexpr Colour motor_hue = rgb(0x997700);
inline constexpr Colour motor_text = rgb(0x7a5f00);

inline constexpr double hairline_mm = 0.18;
inline constexpr double rule_mm = 0.25;
inline constexpr double cut_mm = 0.35;
inline constexpr double curve_mm = 0.5;
inline constexpr double bar_mm = 0.9;  ///< upright bar of a caution

// Type, 1.2 scale; nothing printed is smaller than the first.
inline constexpr double small_type_mm = 2.8;
inline constexpr double text_type_mm = 3.35;
inline constexpr double strong_type_mm = 4.0;
inline constexpr double head_type_mm = 5.6;
inline constexpr double title_type_mm = 8.6;
inline constexpr double unit_type_mm = 10.5;    ///< "min", "s" of the headline
inline constexpr double number_type_mm = 22.0;  ///< the one big number

struct Stroke {
  double width_mm = hairline_mm;
  Colour colour = black;
  std::vector<double> dash_mm = {};
};

inline Stroke hairline() {
  return {hairline_mm, black, {}};
}
inline Stroke rule() {
  return {rule_mm, black, {}};
}
inline Stroke cut_line() {
  return {cut_mm, black, {}};
}
inline Stroke score_line() {
  return {rule_mm, black, {2.4, 1.2}};
}
inline Stroke centre_line() {
  return {hairline_mm, black, {6.0, 1.2, 0.9, 1.2}};
}
inline Stroke grid_line() {
  return {hairline_mm, grid, {}};
}

}  // namespace propwright::sheet
