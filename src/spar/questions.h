/// What is possible but doubtful about a measured spar.
#pragma once

#include <vector>

#include "propwright/spar/reduce.h"

namespace propwright::spar {

std::vector<Question> questions_about(const Measured& measured, const Readings& readings,
                                      const Rig& rig);

}  // namespace propwright::spar
