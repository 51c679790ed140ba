// Launch, cruise and let-down: the propeller's condition and what each station does.
#include <nlohmann/json.hpp>
#include <optional>

#include "instants.h"
#include "live_parts.h"
#include "propwright/base/constants.h"

namespace propwright::answer {
namespace {

struct Moment {
  const char* key;
  double time_s;
  rotor::Condition at;
  double motor_torque_Nm;
};

Json stations_of(const rotor::Result& solved, double least_chord_m) {
  std::vector<double> radius, alpha, cl, re;
  Json state = Json::array();
  for (const rotor::StationResult& station : solved.stations) {
    if (station.chord_m < least_chord_m) continue;
    radius.push_back(station.radius_m);
    alpha.push_back(station.alpha_rad / base::degree_rad);
    cl.push_back(station.cl);
    re.push_back(station.re);
    state.push_back(rotor::to_text(station.state));
  }
  return {{"radius_m", column(radius)},
          {"alpha_deg", column(alpha)},
          {"state", state},
          {"cl", column(cl)},
          {"re", column(re)}};
}

/// Nothing where the propeller cannot be solved or does not turn.
std::optional<Json> phase(const predict::Nominal& nominal, const Moment& moment) {
  const air::Air& air = nominal.assembly.air;
  const auto solved = nominal.rotor.solve(moment.at, {air.density_kg_m3, air.viscosity_Pa_s});
  if (!solved) return std::nullopt;
  const auto c =
      rotor::coefficients(solved->loads, moment.at, nominal.rotor.diameter_m(), air.density_kg_m3);
  if (!c.defined) return std::nullopt;
  return Json{{"key", moment.key},
              {"time_s", thousandths(moment.time_s)},
              {"speed_m_s", six_digits(moment.at.speed_m_s)},
              {"rev_per_s", six_digits(moment.at.rev_per_s)},
              {"motor_torque_Nm", six_digits(moment.motor_torque_Nm)},
              {"advance_ratio", six_digits(c.advance_ratio)},
              {"efficiency", c.efficiency_defined ? Json(six_digits(c.efficiency)) : Json(nullptr)},
              {"stations", stations_of(*solved, telling_chord_m(nominal.assembly))}};
}

}  // namespace

Json phases_part(const predict::Nominal& nominal) {
  const flight::Flight& flight = nominal.flight;
  std::vector<Moment> moments;
  if (!flight.history.empty() && driven(flight.history.front())) {
    const flight::Instant& launch = flight.history.front();
    moments.push_back({"launch", 0, {launch.speed_m_s, launch.rev_per_s}, launch.torque_Nm});
  }
  if (flight.cruise_rev_per_s > 0) {
    moments.push_back({"cruise",
                       flight.top_time_s,
                       {flight.cruise_speed_m_s, flight.cruise_rev_per_s},
                       flight.cruise_torque_Nm});
  }
  if (const flight::Instant* at = let_down(flight)) {
    moments.push_back({"let_down", at->time_s, {at->speed_m_s, at->rev_per_s}, at->torque_Nm});
  }
  Json list = Json::array();
  for (const Moment& moment : moments) {
    if (auto solved = phase(nominal, moment)) list.push_back(std::move(*solved));
  }
  return list;
}

}  // namespace propwright::answer
