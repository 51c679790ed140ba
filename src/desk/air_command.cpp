#include <fmt/format.h>

#include <algorithm>

#include "command.h"
#include "propwright/air/air.h"
#include "propwright/answer/json_answers.h"
#include "text_table.h"

namespace propwright::desk {
namespace {

using D = units::Dimension;

std::string air_text(const air::Air& air) {
  TextTable table;
  const auto add = [&](const std::string& name, double si, D dimension, int metric_digits) {
    const auto metric = dimension == D::density
                            ? units::print_in(si, dimension, "kg/m3", metric_digits)
                            : units::print(si, dimension, units::Profile::metric);
    const auto inch = units::print(si, dimension, units::Profile::inch);
    const bool one = metric.unit == inch.unit;
    table.add({name, metric.number + " " + metric.unit, one ? "" : inch.number + " " + inch.unit});
  };
  add("density", air.density_kg_m3, D::density, 4);
  add("viscosity", air.viscosity_Pa_s, D::viscosity, 2);
  add("pressure in the hall", air.pressure_Pa, D::pressure, 0);
  add("temperature", air.temperature_K, D::temperature, 1);
  return table.text() + bullet_list("Notes", air.notes);
}

/// The module names the fields as a job does; here they are options. An option that could not be
/// read at all is not reported twice.
void add_as_options(const base::Problems& found, base::Problems& problems) {
  for (base::Problem problem : found) {
    problem.field = "--" + problem.field;
    const bool known = std::any_of(problems.begin(), problems.end(),
                                   [&](const auto& other) { return other.field == problem.field; });
    if (!known) problems.push_back(std::move(problem));
  }
}

Answer answer_air(const Arguments& arguments) {
  if (arguments.has("--reduced") && arguments.has("--station")) {
    return wrong_usage(
        {{.field = "--station",
          .remedy = "choose one of --station and --reduced",
          .message = "a pressure is either the hall's own or reduced to sea level"}});
  }
  OptionReader reader(arguments);
  air::Weather weather;
  weather.temperature_K =
      reader.quantity("--temperature", D::temperature).value_or(weather.temperature_K);
  weather.pressure_Pa = reader.quantity("--pressure", D::pressure);
  weather.altitude_m = reader.quantity("--altitude", D::length);
  weather.relative_humidity =
      reader.quantity("--humidity", D::ratio).value_or(weather.relative_humidity);
  weather.pressure_is_reduced = arguments.has("--reduced");
  const bool said = arguments.has("--reduced") || arguments.has("--station");
  if (arguments.has("--altitude") && arguments.has("--pressure") && !said) {
    reader.problems.push_back(
        {.field = "--pressure",
         .value = arguments.text("--pressure"),
         .allowed = "with --station or --reduced",
         .remedy = "add --station for a barometer in the hall, --reduced for a weather report",
         .message = "with an altitude it must be said which pressure this is"});
  }
  auto air = air::moist_air(weather);
  if (!air) add_as_options(air.error(), reader.problems);
  if (!reader.problems.empty()) return no_answer(std::move(reader.problems));
  if (!arguments.has("--humidity")) {
    air->notes.push_back("No humidity given: half humid air is taken.");
  }
  return arguments.json() ? answer::air_json(*air) : air_text(*air);
}

}  // namespace

Command air_command() {
  const std::string weather = "The weather in the hall", which = "Which pressure it is";
  return {.name = "air",
          .purpose = "Density and viscosity of the air in the hall",
          .input = "",
          .input_help = "",
          .input_required = false,
          .options = {{"--temperature", "T", weather,
                       "Thermometer, e.g. \"15 degC\" or \"59 degF\"", true},
                      {"--pressure", "P", weather,
                       "Barometer, e.g. \"1009 hPa\"; left out: the standard atmosphere"},
                      {"--humidity", "RH", weather,
                       "Relative humidity, 0.6 or \"60 %\"; left out: 0.5"},
                      {"--altitude", "H", weather, "Of the hall above sea level, e.g. \"420 m\""},
                      {"--station", "", which, "The pressure was read in the hall"},
                      {"--reduced", "", which,
                       "The pressure is reduced to sea level, as weather reports give it"}},
          .example =
              "  propwright air --temperature \"15 degC\" --pressure \"1009 hPa\" "
              "--humidity \"60 %\"",
          .answer = answer_air};
}

}  // namespace propwright::desk
