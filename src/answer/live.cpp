#include "propwright/answer/live.h"

#include <cmath>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "live_parts.h"

namespace propwright::answer {

double six_digits(double value) {
  if (!std::isfinite(value))
    throw std::logic_error("a live answer has a number that is not finite");
  if (value == 0) return 0;
  const int exponent = static_cast<int>(std::floor(std::log10(std::abs(value))));
  if (exponent < -15) return 0;  // rounding noise of quantities that are zero
  // Multiplying or dividing by a whole power of ten keeps the result the double nearest to a short
  // decimal, which is then printed short.
  const double scale = std::pow(10.0, std::abs(5 - exponent));
  return exponent <= 5 ? std::round(value * scale) / scale : std::round(value / scale) * scale;
}

double thousandths(double value) {
  if (!std::isfinite(value))
    throw std::logic_error("a live answer has a number that is not finite");
  return std::round(value * 1000) / 1000;
}

Json column(const std::vector<double>& values) {
  Json list = Json::array();
  auto& array = list.get_ref<Json::array_t&>();
  array.reserve(values.size());
  for (const double value : values) array.emplace_back(six_digits(value));
  return list;
}

namespace {

constexpr std::size_t most_rows = 121;

/// Rows of the history to send: all, or evenly spread ones with the first, the last and the top.
std::vector<std::size_t> chosen_rows(const flight::Flight& flight) {
  const std::size_t count = flight.history.size();
  const std::size_t rows = std::min(count, most_rows);
  std::vector<std::size_t> chosen;
  for (std::size_t i = 0; i < rows; ++i) {
    chosen.push_back(rows < 2 ? 0 : (i * (count - 1) + (rows - 1) / 2) / (rows - 1));
  }
  std::size_t top = 0;
  for (std::size_t i = 0; i < count; ++i) {
    if (flight.history[i].height_m > flight.history[top].height_m) top = i;
  }
  const auto near = std::lower_bound(chosen.begin(), chosen.end(), top);
  if (near != chosen.begin() && near != chosen.end() && near + 1 != chosen.end()) *near = top;
  return chosen;
}

Json history_part(const flight::Flight& flight) {
  std::vector<double> time, height, rev, torque, speed, turns;
  for (const std::size_t row : chosen_rows(flight)) {
    const flight::Instant& at = flight.history[row];
    time.push_back(at.time_s);
    height.push_back(at.height_m);
    rev.push_back(at.rev_per_s);
    torque.push_back(at.torque_Nm);
    speed.push_back(at.speed_m_s);
    turns.push_back(at.turns);
  }
  return {{"time_s", column(time)},      {"height_m", column(height)}, {"rev_per_s", column(rev)},
          {"torque_Nm", column(torque)}, {"speed_m_s", column(speed)}, {"turns", column(turns)}};
}

Json headline_part(const LoadedJob& loaded, const flight::Flight& flight,
                   std::optional<double> relative_sigma) {
  const double roof_m = loaded.job.hall.roof_height_m;
  Json sigma = nullptr, basis = nullptr;
  if (relative_sigma) {
    sigma = thousandths(*relative_sigma * flight.duration_s);
    basis = "sensitivities";
  }
  return {{"duration_s", thousandths(flight.duration_s)},
          {"sigma_s", sigma},
          {"sigma_basis", basis},
          {"sentence_metric", after_duration(flight, roof_m, units::Profile::metric)},
          {"sentence_inch", after_duration(flight, roof_m, units::Profile::inch)}};
}

Json follows_part(const predict::Nominal& nominal) {
  const flight::Flight& flight = nominal.flight;
  const air::Air& air = nominal.assembly.air;
  return {{"density_kg_m3", six_digits(air.density_kg_m3)},
          {"viscosity_Pa_s", six_digits(air.viscosity_Pa_s)},
          {"pressure_Pa", six_digits(air.pressure_Pa)},
          {"level_speed_m_s", six_digits(flight.cruise_speed_m_s)},
          {"level_thrust_N", six_digits(flight.cruise_thrust_N)},
          {"motor_energy_J", six_digits(flight.energy.at_break)},
          {"bound_s", thousandths(nominal.bound_s)},
          {"share_of_bound", six_digits(flight.duration_s / nominal.bound_s)}};
}

Json weights_part(const brief::Assembly& assembly) {
  Json list = Json::array();
  for (const brief::PartMass& part : assembly.weights) {
    list.push_back(
        {{"part", part.part}, {"mass_kg", six_digits(part.mass_kg)}, {"basis", part.basis}});
  }
  return list;
}

Json rounded_energy(const flight::Energy& energy) {
  Json json = energy_json(energy);
  for (auto& [key, value] : json.items()) value = six_digits(value.get<double>());
  return json;
}

void add_figures(const predict::Nominal& nominal, Json& json) {
  const flight::Flight& f = nominal.flight;
  json["duration_s"] = thousandths(f.duration_s);
  json["bound_s"] = thousandths(nominal.bound_s);
  json["top_height_m"] = six_digits(f.top_height_m);
  json["top_time_s"] = thousandths(f.top_time_s);
  json["touches"] = f.touches;
  json["turns_wound"] = six_digits(f.turns_wound);
  json["turns_at_launch"] = six_digits(f.turns_at_launch);
  json["turns_left"] = six_digits(f.turns_left);
  json["breaking_turns"] = six_digits(nominal.setup.motor.breaking_turns);
  json["launch_torque_Nm"] = six_digits(f.launch_torque_Nm);
  json["mean_rev_per_s"] = six_digits(f.mean_rev_per_s);
  json["cruise_speed_m_s"] = six_digits(f.cruise_speed_m_s);
  json["end"] = f.end == flight::End::landed ? "landed" : "roof";
}

}  // namespace

Json live_flight(const LoadedJob& loaded, const predict::Nominal& nominal,
                 std::optional<double> relative_sigma) {
  Json json{{"headline", headline_part(loaded, nominal.flight, relative_sigma)}};
  add_figures(nominal, json);
  json["follows"] = follows_part(nominal);
  json["fall"] = fall_part(loaded.job, nominal);
  json["history"] = history_part(nominal.flight);
  json["blade"] = blade_part(loaded, nominal);
  json["phases"] = phases_part(nominal);
  json["rotor"] = rotor_part(nominal);
  json["motor"] = motor_part(nominal);
  json["energy_J"] = rounded_energy(nominal.flight.energy);
  json["weights"] = weights_part(nominal.assembly);
  json["rules"] = rules_part(loaded.job, nominal);
  json["values"] = values_part(loaded.job, nominal);
  json["notes"] = nominal.assembly.notes;
  json["warnings"] = nominal.flight.warnings;
  return json;
}

}  // namespace propwright::answer
