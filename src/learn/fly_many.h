/// Many flights at once, under parameters of their own: what several need is made once.
#pragma once

#include <optional>
#include <vector>

#include "propwright/learn/flown_log.h"

namespace propwright::learn {

/// A flight to be flown.
struct ToFly {
  const Conditions* conditions = nullptr;
  predict::Draw draw = {};
  std::vector<double> blade = {};  ///< what of the draw asks for another map of the propeller
  bool slope = false;              ///< only its difference from another such flight counts
  /// Its top height is to be that which it would reach without a roof: the flight as flown goes on
  /// counting for all else.
  bool roofless_top = false;
  bool mean_touch = false;  ///< flight::FlyOptions::mean_touch
};

/// Air a subject's own job is flown in.
rotor::Flow own_flow(const Subject& subject);

/// In the order given; nothing where one does not fly. The same flight gives the same whatever else
/// is flown with it. `design` stands in for all subjects' own, if there is one. History is left
/// out but for the revolutions at the time that the conditions ask for.
std::vector<std::optional<flight::Flight>> fly_many(const std::vector<Subject>& subjects,
                                                    const predict::Nominal* design,
                                                    const std::vector<ToFly>& flights,
                                                    const EachOf& each_of);

}  // namespace propwright::learn
