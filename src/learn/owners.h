/// What a parameter of the model belongs to.
#pragma once

#include "propwright/predict/variation.h"

namespace propwright::learn {

/// Moves with the propeller from one model to another.
inline bool of_the_blade(predict::Owner owner) {
  return owner == predict::Owner::section || owner == predict::Owner::propeller;
}

}  // namespace propwright::learn
