/// From readings to stiffness.
///
/// Modulus and stiffness come out of the large-deflection beam (deflection.h). What turns with the
/// axes is the compliance 1/EI, not EI: the tip is free to move sideways.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/base/problem.h"
#include "propwright/spar/deflection.h"
#include "propwright/spar/rig.h"
#include "propwright/spar/section.h"

namespace propwright::spar {

/// A spar as weighed and measured.
struct Spar {
  std::string id = {};
  Taper taper = {};
  double mass_kg = 0;       ///< of the whole length, above 0
  double size_sigma_m = 0;  ///< 1-sigma of a measured width or depth, common to all of this spar
};

/// What the rig showed, repeats in any number. The 45 readings are taken with the spar turned half
/// as far, in the same sense, as for the 90 readings.
struct Readings {
  std::vector<double> at_0_m = {};   ///< mark up
  std::vector<double> at_90_m = {};  ///< mark at the side
  std::vector<double> at_45_m = {};  ///< optional, between the two
};

/// A value with its 90 % interval.
struct Interval {
  double value = 0, low = 0, high = 0;
};

/// What the readings of one direction say.
struct Direction {
  int readings = 0;
  double deflection_m = 0;        ///< mean reading less the rig's zero reading
  double deflection_sigma_m = 0;  ///< 1-sigma of that mean: repeatability and resolution
  double ei_Nm2 = 0;              ///< of the uniform spar with the same reading on the same rig
  double ei_sigma_relative = 0;   ///< 1-sigma of ei from the readings alone: for comparing spars
  double ei_root_Nm2 = 0;         ///< at the clamp; not given for direction 45
  Interval modulus_Pa = {};       ///< readings, sizes and load together; not for direction 45
  double modulus_sigma_relative = 0;
  double size_sigma_relative = 0;  ///< the part of it that comes from size_sigma_m
  double load_sigma_relative = 0;  ///< the part that comes from load_sigma_kg
};

/// Bending axes. An angle is the turn of the spar from mark up, in the sense in which it was turned
/// for its 45 and 90 readings, that makes it read so. -90 < angle <= 90: half a turn is the same.
struct Axes {
  double soft_axis_deg = 0;        ///< turned so, the spar reads most
  double soft_axis_sigma_deg = 0;  ///< 1-sigma; 0 where found from two directions alone
  double ei_soft_Nm2 = 0, ei_stiff_Nm2 = 0;
  double ei_soft_sigma_relative = 0, ei_stiff_sigma_relative = 0;
  double softer_by_relative = 0;  ///< ln(ei_stiff / ei_soft)
  double softer_by_sigma = 0;
  bool from_third_reading = false;  ///< else only 0 or 90 can be told
  bool has_direction = false;       ///< false: alike in all directions within the readings' noise
};

/// Something that is possible but doubtful. The value is to be looked at again, never dropped.
struct Question {
  std::string field = {};    ///< e.g. "reading_0_m", "mass_kg"
  double value = 0;          ///< as given, in the field's SI unit
  double implied = 0;        ///< what it would mean: a modulus in Pa, a density, a ratio
  double low = 0, high = 0;  ///< what is usual for that
  double density_kg_m3 = 0;
  std::string message = {};  ///< one sentence with the numbers
  std::string remedy = {};   ///< what to look at
};

/// All that is known of a spar after its test.
struct Measured {
  Spar spar = {};
  double density_kg_m3 = 0;
  Direction at_0 = {}, at_90 = {};
  std::optional<Direction> at_45 = {};
  Axes axes = {};
  std::vector<Question> questions = {};
};

/// Reduces one spar's readings. Problems carry the field: those of problems(Taper) and
/// problems(Rig), mass_kg, size_sigma_m, reading_0_m, reading_90_m, reading_45_m. All are reported
/// at once.
base::Expected<Measured> reduce(const Spar& spar, const Readings& readings, const Rig& rig);

/// EI at x from the clamp, N m2, in direction 0 (Bending::depth) or 90 (Bending::width).
double ei_at_Nm2(const Measured& measured, Bending bending, double x_m);

/// EI of the uniform spar with its 1-sigma from the readings.
struct Stiffness {
  double ei_Nm2 = 0;
  double sigma_relative = 0;
};

/// The stiffness with the spar turned from mark up, by the compliance tensor. Without a 45 reading
/// 0 and 90 are taken as the principal directions.
Stiffness turned(const Measured& measured, double turn_deg);

/// Modulus over density of balsa along the grain, J/kg: the home of the number in the program;
/// data/balsa.csv tells users its source, and a test of `bench` holds the two together.
/// Middle 21.25 MJ/kg: 3.4 GPa at 160 kg/m3 (USDA Wood Handbook FPL-GTR-190, 2010; the density from
/// memory). E grows with density in proportion (Borrega and Gibson, Mech. Mater. 84, 2015, 75-90).
/// Single pieces scatter widely, so a value is questioned only beyond half and twice the middle,
/// rounded.
inline constexpr double usual_specific_modulus_J_kg = 21.25e6;
inline constexpr double least_specific_modulus_J_kg = 10e6, most_specific_modulus_J_kg = 40e6;

/// Density of balsa as grown, kg/m3 (Borrega and Gibson 2015).
inline constexpr double least_density_kg_m3 = 60, most_density_kg_m3 = 380;

}  // namespace propwright::spar
