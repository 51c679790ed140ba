/// Models of the record classes, as the rules let them be and builders make them. The numbers of
/// the rules are those of data/class_rules.csv, the propellers those of data/flight_data.csv where
/// it has them; the rest (areas of tails, drag of bodies, outlines) is our own judgement.
#pragma once

#include <string>

namespace propwright::published {

/// [hall], [air], [launch] and [propeller.hub] are the same for all; the test sets the roof.
inline const std::string common = R"(
[job]
name = "record class"
[hall]
roof_height = "8 m"
[air]
temperature = "21 degC"
pressure = "1013 hPa"
[launch]
height = "1.5 m"
wind_fraction = 0.95
margin = "0.3 m"
)";

// F1D: span 550 mm, chord 200 mm, tail span 450 mm, 1.4 g, rubber 0.4 g; propeller 470 x 749 mm.
inline const std::string f1d = common + R"(
[model]
mass = "1.4 g"
wing_span = "550 mm"
wing_area = "1045 cm2"
wing_camber = 0.05
tail_area = "360 cm2"
span_efficiency = 0.85
body_drag_area = "3 cm2"
circle_radius = "7 m"
[rules]
largest_rubber = "0.4 g"
[motor]
loop_length = "200 mm"
mass = "0.4 g"
[propeller]
diameter = "470 mm"
camber = 0.05
pitch = "749 mm"
[propeller.outline]
root_radius = "40 mm"
root_chord = "14 mm"
widest_chord = "60 mm"
[propeller.hub]
mass = "78 mg"
arm_diameter = "1.5 mm"
)";

// F1M: span 460 mm, 3 g, rubber 1.5 g; about 80 rpm.
inline const std::string f1m = common + R"(
[model]
mass = "3 g"
wing_span = "460 mm"
wing_chord = "190 mm"
wing_camber = 0.05
tail_area = "350 cm2"
span_efficiency = 0.85
body_drag_area = "3 cm2"
circle_radius = "6 m"
[rules]
largest_rubber = "1.5 g"
[motor]
loop_length = "400 mm"
mass = "1.5 g"
[propeller]
diameter = "450 mm"
camber = 0.06
pitch = "800 mm"
[propeller.outline]
root_radius = "35 mm"
root_chord = "16 mm"
widest_chord = "60 mm"
[propeller.hub]
mass = "150 mg"
arm_diameter = "2 mm"
)";

// F1L: span 457.2 mm, chord 76.2 mm, stabiliser up to half the wing, 1.2 g, rubber free; 364 x 635
// mm.
inline const std::string f1l = common + R"(
[model]
mass = "1.2 g"
wing_span = "457.2 mm"
wing_chord = "76.2 mm"
wing_camber = 0.06
tail_area = "170 cm2"
span_efficiency = 0.85
body_drag_area = "2 cm2"
circle_radius = "6 m"
[motor]
loop_length = "450 mm"
mass = "1.2 g"
[propeller]
diameter = "364 mm"
camber = 0.06
pitch = "635 mm"
[propeller.outline]
root_radius = "30 mm"
root_chord = "12 mm"
widest_chord = "45 mm"
[propeller.hub]
mass = "60 mg"
arm_diameter = "1.2 mm"
)";

// Easy-B type: span 457.2 mm, chord 76.2 mm, no least mass: the record's airframe of 0.333 g with
// 0.6 g of rubber (0.612 g in the flight of data/flight_data.csv); 305 x 610 mm.
inline const std::string easy_b = common + R"(
[model]
mass = "0.333 g"
wing_span = "457.2 mm"
wing_chord = "76.2 mm"
wing_camber = 0.05
tail_area = "150 cm2"
span_efficiency = 0.85
body_drag_area = "1.5 cm2"
circle_radius = "6 m"
[motor]
loop_length = "360 mm"
mass = "0.6 g"
[propeller]
diameter = "305 mm"
camber = 0.05
pitch = "610 mm"
[propeller.outline]
root_radius = "25 mm"
root_chord = "10 mm"
widest_chord = "40 mm"
[propeller.hub]
mass = "20 mg"
arm_diameter = "1 mm"
)";

// Limited pennyplane type: 3.1 g, propeller up to 304.8 mm; span 457, chord 127 mm (from memory);
// 305 x 622 mm. Rubber free.
inline const std::string pennyplane = common + R"(
[model]
mass = "3.1 g"
wing_span = "457.2 mm"
wing_chord = "127 mm"
wing_camber = 0.05
tail_area = "310 cm2"
span_efficiency = 0.85
body_drag_area = "4 cm2"
circle_radius = "6 m"
[rules]
largest_propeller = "304.8 mm"
[motor]
loop_length = "450 mm"
mass = "2 g"
[propeller]
diameter = "304.8 mm"
camber = 0.06
pitch = "622 mm"
[propeller.outline]
root_radius = "25 mm"
root_chord = "18 mm"
widest_chord = "60 mm"
[propeller.hub]
mass = "150 mg"
arm_diameter = "2 mm"
)";

// Mini-stick: 177.8 x 63.5 mm, propeller up to 177.8 mm, 0.43 g (from memory); 0.28 g of rubber
// (data/flight_data.csv).
inline const std::string mini_stick = common + R"(
[model]
mass = "0.43 g"
wing_span = "177.8 mm"
wing_chord = "63.5 mm"
wing_camber = 0.06
tail_area = "55 cm2"
span_efficiency = 0.85
body_drag_area = "0.8 cm2"
circle_radius = "4 m"
[rules]
largest_propeller = "177.8 mm"
[motor]
loop_length = "250 mm"
mass = "0.28 g"
[propeller]
diameter = "177.8 mm"
camber = 0.06
pitch = "360 mm"
[propeller.outline]
root_radius = "15 mm"
root_chord = "10 mm"
widest_chord = "36 mm"
[propeller.hub]
mass = "30 mg"
arm_diameter = "1 mm"
)";

}  // namespace propwright::published
