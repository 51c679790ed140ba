#include "fly_many.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "conditions.h"
#include "propwright/air/air.h"
#include "propwright/flight/climb_table.h"

namespace propwright::learn {

namespace {

// Air is put in bins of a hundredth of the kinematic viscosity, counted from the job's own: within
// one, blade drag is off by a four-hundredth at most. Slopes are differences, in which that error
// goes out: there the bins are wider, unless the air itself is what differs.
constexpr double flow_bin = 0.01, flow_bin_of_slopes = 0.05;

// Steady states are found in air of densities a hundredth apart, counted from the job's own too,
// and interpolated for the flight's: error of the second order, 2e-5.
constexpr double density_step = 0.01;

// And for a torque rounded up, so that flights with few turns share those of flights with many.
constexpr double torque_step = 1.2;

// Of a flight's integration: far below any scatter.
constexpr double tolerance = 1e-6;

// No model on rubber gets there.
constexpr double no_roof_m = 1000;

bool at_roof(const flight::Flight& flown) {
  return flown.touches > 0 || flown.end == flight::End::roof;
}

double flow_bin_of(const ToFly& one) {
  const bool air_in_doubt = !one.conditions->unread_day.empty();
  return one.slope && !air_in_doubt ? flow_bin_of_slopes : flow_bin;
}

/// The hall's air under the draw: at one pressure its density goes as 1/T.
rotor::Flow flow_of(const ToFly& one) {
  const Conditions& c = *one.conditions;
  if (one.draw.temperature_K == 0) return c.flow;
  const double now_K = c.air_temperature_K + one.draw.temperature_K;
  return {c.flow.density_kg_m3 * c.air_temperature_K / now_K,
          c.flow.viscosity_Pa_s * air::sutherland_viscosity_Pa_s(now_K) /
              air::sutherland_viscosity_Pa_s(c.air_temperature_K)};
}

int bin_of(const ToFly& one, const rotor::Flow& own) {
  const rotor::Flow flow = flow_of(one);
  const double ratio =
      flow.density_kg_m3 / flow.viscosity_Pa_s * own.viscosity_Pa_s / own.density_kg_m3;
  return static_cast<int>(std::lround(std::log(ratio) / flow_bin_of(one)));
}

/// Of the whole history, whose place many flights would need, the revolutions at one time.
void keep_instant(flight::Flight& flown, double time_s) {
  flight::Instant instant;
  instant.time_s = time_s;
  instant.rev_per_s = rev_per_s_at(flown.history, time_s);
  flown.history = {instant};
}

class Flying {
 public:
  Flying(const std::vector<Subject>& subjects, const predict::Nominal* design,
         const std::vector<ToFly>& flights, const EachOf& each_of)
      : subjects_(subjects), design_(design), flights_(flights), each_of_(each_of) {}

  std::vector<std::optional<flight::Flight>> run() {
    make_maps();
    make_setups();
    make_tables();
    std::vector<std::optional<flight::Flight>> flown(flights_.size());
    each_of_(flights_.size(), [&](std::size_t i) {
      if (maps_[map_of_[i]].map) flown[i] = fly(i);
    });
    return flown;
  }

 private:
  static constexpr std::size_t none = static_cast<std::size_t>(-1);
  struct WantedMap {
    std::size_t first = 0;  ///< a flight that it is for
    rotor::Flow flow;
    std::optional<rotor::Map> map = {};
  };
  struct WantedTable {
    std::size_t first = 0;
    double density_kg_m3 = 0, torque_Nm = 0;
    std::optional<flight::ClimbTable> table = {};
  };
  /// Those on either side of a flight's air.
  struct TablesOf {
    std::size_t low = none, high = none;
    double share = 0;  ///< of the way
  };

  void make_maps() {
    std::map<std::vector<double>, std::size_t> known;
    map_of_.resize(flights_.size());
    for (std::size_t i = 0; i < flights_.size(); ++i) {
      const ToFly& one = flights_[i];
      const std::size_t subject = one.conditions->subject;
      const rotor::Flow own = own_flow(subjects_[subject]);
      const double shift = flow_bin_of(one) * bin_of(one, own);
      std::vector<double> key{static_cast<double>(subject), shift};
      key.insert(key.end(), one.blade.begin(), one.blade.end());
      const auto [place, fresh] = known.try_emplace(std::move(key), maps_.size());
      map_of_[i] = place->second;
      if (fresh) maps_.push_back({i, {own.density_kg_m3, own.viscosity_Pa_s * std::exp(-shift)}});
    }
    each_of_(maps_.size(), [&](std::size_t m) {
      const ToFly& one = flights_[maps_[m].first];
      const predict::Nominal& flown =
          design_ ? *design_ : subjects_[one.conditions->subject].nominal;
      maps_[m].map = predict::moved_map(flown, one.draw, maps_[m].flow);
    });
  }

  void make_setups() {
    setups_.resize(flights_.size());
    torque_.resize(flights_.size());
    each_of_(flights_.size(), [&](std::size_t i) {
      flight::Setup setup = flights_[i].conditions->setup;
      setup.density_kg_m3 = flow_of(flights_[i]).density_kg_m3;
      setup.motor.temperature_K += flights_[i].draw.temperature_K;
      setups_[i] = predict::moved_setup(std::move(setup), flights_[i].draw, {});
      torque_[i] = flight::greatest_torque_Nm(setups_[i]);
    });
  }

  /// The place of a table; it is made once all are known.
  std::size_t table_for(std::size_t i, double density_kg_m3) {
    const flight::Setup& setup = setups_[i];
    const flight::Airframe& frame = setup.airframe;
    const double torque = std::ceil(std::log(torque_[i]) / std::log(torque_step));
    const auto [place, fresh] = known_tables_.try_emplace(
        {static_cast<double>(map_of_[i]), density_kg_m3, torque,
         frame.mass_kg + setup.motor.mass_kg + setup.motor.spacer_mass_kg, frame.trim_cl,
         frame.circle_radius_m, flights_[i].draw.airframe_drag_factor},
        tables_.size());
    // A little above, so that rounding leaves no flight outside.
    if (fresh) tables_.push_back({i, density_kg_m3, 1.000001 * std::pow(torque_step, torque)});
    return place->second;
  }

  void make_tables() {
    table_of_.resize(flights_.size());
    for (std::size_t i = 0; i < flights_.size(); ++i) {
      const double density = setups_[i].density_kg_m3;
      if (!maps_[map_of_[i]].map || !(torque_[i] > 0) || !(density > 0)) continue;
      const double own = own_flow(subjects_[flights_[i].conditions->subject]).density_kg_m3;
      const double steps = std::log(density / own) / density_step;
      const double below = std::floor(steps + 1e-9);
      const double share = std::max(steps - below, 0.0);
      TablesOf& two = table_of_[i];
      two.share = share < 1e-8 ? 0 : share;
      two.low = table_for(i, own * std::exp(density_step * below));
      two.high = two.share > 0 ? table_for(i, own * std::exp(density_step * (below + 1))) : two.low;
    }
    each_of_(tables_.size(), [&](std::size_t t) {
      WantedTable& wanted = tables_[t];
      flight::Setup setup = setups_[wanted.first];
      setup.propeller = maps_[map_of_[wanted.first]].map->in_density(wanted.density_kg_m3);
      setup.density_kg_m3 = wanted.density_kg_m3;
      auto made = flight::ClimbTable::make(setup, wanted.torque_Nm);
      // Where more torque than the flights have cannot be flown, each makes its own.
      if (made && !made->held()) wanted.table = std::move(*made);
    });
  }

  std::optional<flight::ClimbTable> shared_table(const TablesOf& two) const {
    if (two.low == none) return std::nullopt;
    const auto &low = tables_[two.low].table, &high = tables_[two.high].table;
    if (!low || !high) return std::nullopt;
    return two.share > 0 ? low->between(*high, two.share) : *low;
  }

  std::optional<flight::Flight> fly(std::size_t i) {
    flight::Setup& setup = setups_[i];
    setup.propeller = maps_[map_of_[i]].map->in_density(setup.density_kg_m3);
    flight::FlyOptions options;
    const std::optional<double>& rev_time_s = flights_[i].conditions->rev_time_s;
    options.keep_history = rev_time_s.has_value();
    options.tolerance = tolerance;
    options.mean_touch = flights_[i].mean_touch;
    const auto table = shared_table(table_of_[i]);
    if (table) options.table = &*table;
    auto flown = flight::fly(setup, options);
    if (flown && flights_[i].roofless_top && at_roof(*flown) && !setup.launch.margin_m) {
      setup.hall.roof_m = no_roof_m;
      options.to_the_top = true;
      options.keep_history = false;
      const auto free = flight::fly(setup, options);
      if (free) flown->top_height_m = std::max(flown->top_height_m, free->top_height_m);
    }
    setup = {};
    if (!flown) return std::nullopt;
    if (rev_time_s) keep_instant(*flown, *rev_time_s);
    return std::move(*flown);
  }

  const std::vector<Subject>& subjects_;
  const predict::Nominal* design_;
  const std::vector<ToFly>& flights_;
  const EachOf& each_of_;
  std::vector<WantedMap> maps_;
  std::vector<WantedTable> tables_;
  std::map<std::vector<double>, std::size_t> known_tables_;
  std::vector<std::size_t> map_of_;
  std::vector<TablesOf> table_of_;
  std::vector<flight::Setup> setups_;
  std::vector<double> torque_;  ///< greatest that a flight meets
};

}  // namespace

rotor::Flow own_flow(const Subject& subject) {
  const air::Air& air = subject.nominal.assembly.air;
  return {air.density_kg_m3, air.viscosity_Pa_s};
}

std::vector<std::optional<flight::Flight>> fly_many(const std::vector<Subject>& subjects,
                                                    const predict::Nominal* design,
                                                    const std::vector<ToFly>& flights,
                                                    const EachOf& each_of) {
  return Flying(subjects, design, flights, each_of).run();
}

}  // namespace propwright::learn
