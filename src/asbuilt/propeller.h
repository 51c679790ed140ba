/// One blade's propeller: the design moved by a deviation, as rotor, as flexing rotor, as map.
#pragma once

#include <optional>

#include "propwright/asbuilt/blade.h"
#include "propwright/flex/flex.h"
#include "propwright/rotor/map.h"

namespace propwright::asbuilt {

struct AngleCurve {
  std::vector<double> radius_m, turn_rad;
};

/// The design's blade with a deviation and what is left over of its angles.
rotor::Blade blade_of(const Design& design, const Deviation& deviation, const AngleCurve& left);

/// Two blades alike.
struct Propeller {
  rotor::Rotor rotor;
  std::optional<flex::FlexRotor> flexing;
};
base::Expected<Propeller> propeller_of(const Design& design, const Deviation& deviation,
                                       const AngleCurve& left = {});
base::Expected<rotor::Map> map_of(const Design& design, const Propeller& propeller);
base::Expected<rotor::Map> map_of(const Design& design, const Deviation& deviation,
                                  const AngleCurve& left = {});

/// The sum of the loads of propellers, each with its weight. Half of two: two blades that each feel
/// their own half of the disc.
struct WeightedMap {
  double weight = 0;
  const rotor::Map* map = nullptr;
};
rotor::Map weighted_map(const Design& design, const std::vector<WeightedMap>& parts);

/// Duration with a propeller's map and a change of the model's mass, s.
base::Expected<double> duration_s(const flight::Setup& setup, const rotor::Map& map,
                                  double more_mass_kg);

}  // namespace propwright::asbuilt
