#include <nlohmann/json.hpp>

#include "propwright/answer/json_answers.h"
#include "propwright/answer/json_text.h"

namespace propwright::answer {

std::string air_json(const air::Air& air) {
  return document({{"density_kg_m3", air.density_kg_m3},
                   {"viscosity_Pa_s", air.viscosity_Pa_s},
                   {"pressure_Pa", air.pressure_Pa},
                   {"temperature_K", air.temperature_K},
                   {"notes", air.notes}});
}

}  // namespace propwright::answer
