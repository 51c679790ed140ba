#include "propwright/spar/deflection.h"

#include <fmt/format.h>

#include <cmath>

#include "bent_beam.h"

namespace propwright::spar {
namespace {

base::Problem rig_problem(const std::string& field, double value, const std::string& unit,
                          const std::string& allowed, const std::string& remedy,
                          const std::string& message) {
  return {.field = field,
          .value = fmt::format("{:g} {}", value, unit),
          .allowed = allowed,
          .remedy = remedy,
          .message = message};
}

void check_places(const Rig& rig, double length_m, base::Problems& found) {
  const std::string allowed = fmt::format("above 0 and at most {:g} m", length_m);
  if (!(rig.load_at_m > 0 && rig.load_at_m <= length_m * (1 + 1e-9))) {
    found.push_back(rig_problem("load_at_m", rig.load_at_m, "m", allowed,
                                "hang the load on the spar, or correct the spar's length",
                                "the load hangs beyond the end of the spar"));
  }
  if (!(rig.read_at_m > 0 && rig.read_at_m <= length_m * (1 + 1e-9))) {
    found.push_back(rig_problem("read_at_m", rig.read_at_m, "m", allowed,
                                "read on the spar, or correct the spar's length",
                                "the reading is taken beyond the end of the spar"));
  }
}

base::Problem reading_problem(const BeamGrid& grid, double deflection_m, const std::string& message,
                              const std::string& remedy) {
  return rig_problem("reading", deflection_m, "m",
                     fmt::format("deflection above 0 and below {:g} m", 0.9 * grid.read_at_m),
                     remedy, message);
}

}  // namespace

base::Problems problems(const Rig& rig, double length_m) {
  base::Problems found;
  if (!(rig.load_kg > 0 && std::isfinite(rig.load_kg))) {
    found.push_back(rig_problem("load_kg", rig.load_kg, "kg", "above 0",
                                "weigh what is hung, the hook included", "nothing is hung"));
  }
  check_places(rig, length_m, found);
  const auto not_negative = [&](const char* field, double value, const char* unit) {
    if (value >= 0 && std::isfinite(value)) return;
    found.push_back(rig_problem(field, value, unit, "0 or more", "give a size, not a sign",
                                "a doubt or a step cannot be negative"));
  };
  not_negative("resolution_m", rig.resolution_m, "m");
  not_negative("repeatability_m", rig.repeatability_m, "m");
  not_negative("load_sigma_kg", rig.load_sigma_kg, "kg");
  if (!std::isfinite(rig.zero_reading_m)) {
    found.push_back(rig_problem("zero_reading_m", rig.zero_reading_m, "m", "a number",
                                "give what the scale shows at no deflection",
                                "the zero reading is no number"));
  }
  if (!(rig.gravity_m_s2 > 0 && std::isfinite(rig.gravity_m_s2))) {
    found.push_back(rig_problem("gravity_m_s2", rig.gravity_m_s2, "m/s2", "above 0",
                                "leave it out for standard gravity", "there must be a weight"));
  }
  return found;
}

base::Expected<double> ei_root_Nm2(const Beam& beam, const Rig& rig, double reading_m) {
  const BeamGrid grid = beam_grid(beam, rig);
  const auto solved = bend_to_reading(grid, rig, reading_m);
  if (!solved) return base::fail(solved.error());
  return 1 / solved->compliance;
}

base::Expected<BentBeam> bend_to_reading(const BeamGrid& grid, const Rig& rig, double reading_m) {
  const double deflection = reading_m - rig.zero_reading_m;
  if (!std::isfinite(deflection) || !(deflection > 0)) {
    return base::fail(reading_problem(grid, deflection, "the reading shows no deflection",
                                      "check the reading and the rig's zero reading"));
  }
  if (deflection >= 0.9 * grid.read_at_m) {
    return base::fail(reading_problem(grid, deflection,
                                      "the deflection is as large as the spar is long",
                                      "check the unit, or hang a lighter load"));
  }
  if (auto beam = bend_to(grid, deflection)) return *std::move(beam);
  return base::fail(reading_problem(grid, deflection,
                                    "no spar of this length can bend so on this rig",
                                    "check the reading, or hang a lighter load"));
}

namespace {

base::Problem too_soft(double ei_Nm2) {
  return rig_problem("ei", ei_Nm2, "N m2", "stiff enough to be read",
                     "hang a lighter load or read nearer to the clamp",
                     "the spar would hang down past the place of reading");
}

}  // namespace

base::Expected<double> reading_m(const Beam& beam, const Rig& rig, double ei_root_Nm2) {
  const BeamGrid grid = beam_grid(beam, rig);
  if (!(ei_root_Nm2 > 0)) return base::fail(too_soft(ei_root_Nm2));
  const auto deflection = deflection_at(grid, 1 / ei_root_Nm2);
  if (!deflection) return base::fail(too_soft(ei_root_Nm2));
  return *deflection + rig.zero_reading_m;
}

base::Expected<std::vector<BentPoint>> bent_spar(const Beam& beam, const Rig& rig,
                                                 double ei_root_Nm2, bool loaded) {
  const BeamGrid grid = beam_grid(beam, rig);
  BeamState state;
  const std::vector<double>& shear = loaded ? grid.loaded_N : grid.weight_N;
  if (!(ei_root_Nm2 > 0) || !settle(grid, shear, 1 / ei_root_Nm2, state)) {
    return base::fail(too_soft(ei_root_Nm2));
  }
  return points_of(grid, state, 1 / ei_root_Nm2);
}

double unit_flexibility_m3(const Taper& taper, Bending bending, double load_at_m,
                           double read_at_m) {
  const Rig rig{.load_kg = 1, .load_at_m = load_at_m, .read_at_m = read_at_m};
  return flexibility_m3(beam_grid({taper, 0, bending}, rig), load_at_m);
}

}  // namespace propwright::spar
