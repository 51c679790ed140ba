#include "propwright/spar/reduce.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "axes.h"
#include "bent_beam.h"
#include "questions.h"

namespace propwright::spar {
namespace {

/// A direction in which a spar is read.
struct ReadDirection {
  const char* field;
  const char* how;
  Bending bending;
};
constexpr std::array<ReadDirection, 3> read_directions{
    {{"reading_0_m", "with the mark up", Bending::depth},
     {"reading_90_m", "with the mark at the side", Bending::width},
     {"reading_45_m", "half-way between", Bending::uniform}}};

double mean(const std::vector<double>& readings) {
  double sum = 0;
  for (const double reading : readings) sum += reading;
  return sum / static_cast<double>(readings.size());
}

base::Problem missing_readings(const ReadDirection& direction) {
  return {.field = direction.field,
          .value = "no reading",
          .allowed = "one reading or more",
          .remedy = fmt::format("read the spar {}", direction.how),
          .message = "a direction is missing: a spar is measured in two"};
}

/// Same problem, at the field of this direction and with the reading that was typed.
base::Problem at_field(base::Problem problem, const ReadDirection& direction, double reading_m) {
  problem.field = direction.field;
  problem.value = fmt::format("{:g} m", reading_m);
  return problem;
}

/// Relative change of the unit flexibility 1/I_eff when all sizes grow by their sigma.
double size_sigma_relative(const Spar& spar, Bending bending, const Rig& rig) {
  if (!(spar.size_sigma_m > 0)) return 0;
  const auto compliance = [&](const Taper& taper) {
    const SecondMoments root = second_moments(taper.stations.front().section);
    return unit_flexibility_m3(taper, bending, rig.load_at_m, rig.read_at_m) /
           (bending == Bending::width ? root.i_90_m4 : root.i_0_m4);
  };
  Taper thicker = spar.taper;
  for (Station& station : thicker.stations) {
    station.section.width_m += spar.size_sigma_m;
    station.section.depth_m += spar.size_sigma_m;
  }
  return std::log(compliance(spar.taper) / compliance(thicker));
}

/// d ln(EI) / d ln(deflection), about -1: by a second solution close by.
double reading_leverage(const BeamGrid& grid, double deflection_m, const BentBeam& beam) {
  const double step = 0.01;
  const auto moved = bend_to(grid, deflection_m * (1 - step), &beam);
  if (!moved) return 1;
  return std::log(beam.compliance / moved->compliance) / -std::log(1 - step);
}

void add_modulus(const Spar& spar, const Rig& rig, Bending bending, const BentBeam& bent,
                 Direction& direction) {
  const SecondMoments root = second_moments(spar.taper.stations.front().section);
  const double i_root = bending == Bending::width ? root.i_90_m4 : root.i_0_m4;
  direction.ei_root_Nm2 = 1 / bent.compliance;
  direction.size_sigma_relative = size_sigma_relative(spar, bending, rig);
  direction.load_sigma_relative = rig.load_sigma_kg / rig.load_kg;
  direction.modulus_sigma_relative = std::hypot(
      direction.ei_sigma_relative, direction.size_sigma_relative, direction.load_sigma_relative);
  // A doubt past all sense still has an interval of numbers.
  const double spread =
      std::exp(std::min(100.0, coverage_90(rig) * direction.modulus_sigma_relative));
  const double modulus = direction.ei_root_Nm2 / i_root;
  direction.modulus_Pa = {modulus, modulus / spread, modulus * spread};
}

base::Expected<Direction> reduce_direction(const Spar& spar, const std::vector<double>& readings,
                                           const Rig& rig, const ReadDirection& how) {
  for (const double reading : readings) {
    if (std::isfinite(reading) && reading > rig.zero_reading_m) continue;
    return base::fail(
        {.field = how.field,
         .value = fmt::format("{:g} m", reading),
         .allowed = fmt::format("above the zero reading of {:g} m", rig.zero_reading_m),
         .remedy = "check the reading and the rig's zero reading",
         .message = "the reading shows no deflection"});
  }
  const double reading = mean(readings);
  const BeamGrid uniform = beam_grid({spar.taper, spar.mass_kg, Bending::uniform}, rig);
  const auto bent = bend_to_reading(uniform, rig, reading);
  if (!bent) return base::fail(at_field(bent.error().front(), how, reading));
  Direction direction;
  direction.readings = static_cast<int>(readings.size());
  direction.deflection_m = reading - rig.zero_reading_m;
  direction.deflection_sigma_m = mean_sigma_m(rig, direction.readings);
  direction.ei_Nm2 = 1 / bent->compliance;
  direction.ei_sigma_relative = direction.deflection_sigma_m / direction.deflection_m *
                                reading_leverage(uniform, direction.deflection_m, *bent);
  if (how.bending == Bending::uniform) return direction;
  const BeamGrid grid = beam_grid({spar.taper, spar.mass_kg, how.bending}, rig);
  const auto own = bend_to_reading(grid, rig, reading);
  if (!own) return base::fail(at_field(own.error().front(), how, reading));
  add_modulus(spar, rig, how.bending, *own, direction);
  return direction;
}

base::Problems check_input(const Spar& spar, const Readings& readings, const Rig& rig) {
  base::Problems found = problems(spar.taper);
  const double length = length_m(spar.taper);
  if (length > 0) {
    for (base::Problem& problem : problems(rig, length)) found.push_back(std::move(problem));
  }
  if (!(spar.mass_kg > 0 && std::isfinite(spar.mass_kg))) {
    found.push_back({.field = "mass_kg",
                     .value = fmt::format("{:g} kg", spar.mass_kg),
                     .allowed = "above 0",
                     .remedy = "weigh the spar",
                     .message = "a mass must be above zero"});
  }
  if (!(spar.size_sigma_m >= 0 && std::isfinite(spar.size_sigma_m))) {
    found.push_back({.field = "size_sigma_m",
                     .value = fmt::format("{:g} m", spar.size_sigma_m),
                     .allowed = "0 or more",
                     .remedy = "give a size, not a sign",
                     .message = "a doubt cannot be negative"});
  }
  if (readings.at_0_m.empty()) found.push_back(missing_readings(read_directions[0]));
  if (readings.at_90_m.empty()) found.push_back(missing_readings(read_directions[1]));
  return found;
}

}  // namespace

base::Expected<Measured> reduce(const Spar& spar, const Readings& readings, const Rig& rig) {
  base::Problems found = check_input(spar, readings, rig);
  if (!found.empty()) return base::fail(std::move(found));
  Measured measured;
  measured.spar = spar;
  measured.density_kg_m3 = spar.mass_kg / volume_m3(spar.taper);
  const auto take = [&](const std::vector<double>& taken, const ReadDirection& how,
                        Direction& into) {
    auto direction = reduce_direction(spar, taken, rig, how);
    if (direction) {
      into = *direction;
    } else {
      found.insert(found.end(), direction.error().begin(), direction.error().end());
    }
  };
  take(readings.at_0_m, read_directions[0], measured.at_0);
  take(readings.at_90_m, read_directions[1], measured.at_90);
  if (!readings.at_45_m.empty()) {
    take(readings.at_45_m, read_directions[2], measured.at_45.emplace());
  }
  if (!found.empty()) return base::fail(std::move(found));
  auto axes = axes_of(measured);
  if (!axes) return base::fail(axes.error());
  measured.axes = *axes;
  measured.questions = questions_about(measured, readings, rig);
  return measured;
}

double ei_at_Nm2(const Measured& measured, Bending bending, double x_m) {
  const SecondMoments root = second_moments(measured.spar.taper.stations.front().section);
  const SecondMoments here = second_moments(section_at(measured.spar.taper, x_m));
  if (bending == Bending::width) return measured.at_90.ei_root_Nm2 * here.i_90_m4 / root.i_90_m4;
  return measured.at_0.ei_root_Nm2 * here.i_0_m4 / root.i_0_m4;
}

}  // namespace propwright::spar
