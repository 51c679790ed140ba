#include "propwright/base/constants.h"
#include "propwright/flex/flex.h"
#include "walker.h"

namespace propwright::flex {

namespace {

std::string reason_of(Walker::Outcome outcome) {
  switch (outcome) {
    case Walker::Outcome::diverged:
      return "past this the blade diverges: twist makes more load than its stiffness takes back";
    case Walker::Outcome::unsolved:
      return "past this a blade element of the twisted blade has no solution";
    default:
      return "past this the blade finds no steady shape";
  }
}

/// The loads of a grid as they are walked.
class MapWalk {
 public:
  MapWalk(const FlexRotor& flex, const rotor::Flow& flow, const rotor::MapGrid& grid)
      : flex_(flex),
        flow_(flow),
        grid_(grid),
        count_(grid.beta_rad.size()),
        walker_(flex, flow),
        loads_(3, std::vector<rotor::Loads>(count_)) {}

  /// The state to begin with: thrust at a moderate angle of attack, where every blade worth flying
  /// is attached and holds.
  std::size_t middle() const {
    double angle = 0;
    for (const rotor::Station& s : flex_.rotor().stations()) {
      if (s.radius_m <= 0.7 * flex_.rotor().tip_radius_m()) angle = s.blade_angle_rad;
    }
    std::size_t k = 2;
    while (k + 3 < count_ && grid_.beta_rad[k] < angle - 5 * base::degree_rad) ++k;
    return k;
  }

  bool go(std::size_t speed, std::size_t beta) {
    last_ = walker_.go(condition(speed, beta));
    if (last_ != Walker::Outcome::settled) return false;
    loads_[speed][beta] = walker_.loads();
    return true;
  }
  void forget() { walker_.forget(); }

  base::Problems problem(std::size_t speed, std::size_t beta) const {
    return not_held(flex_, condition(speed, beta), flow_, last_, walker_.problems());
  }
  Limit limit(std::size_t speed, std::size_t beta) const {
    return {condition(speed, beta), loads_[speed][beta].torque_Nm, reason_of(last_)};
  }
  const std::vector<std::vector<rotor::Loads>>& loads() const { return loads_; }

 private:
  rotor::Condition condition(std::size_t speed, std::size_t beta) const {
    return grid_.conditions[speed * count_ + (speed % 2 == 0 ? beta : count_ - 1 - beta)];
  }

  const FlexRotor& flex_;
  const rotor::Flow& flow_;
  const rotor::MapGrid& grid_;
  std::size_t count_;
  Walker walker_;
  Walker::Outcome last_ = Walker::Outcome::settled;
  std::vector<std::vector<rotor::Loads>> loads_;
};

}  // namespace

// Each speed is walked from a moderate state up to the stopped propeller, and from the same state
// down to the fastest shaft the blade holds; the fastest flight first, whose loads are greatest.
base::Expected<FlexMap> make_map(const FlexRotor& flex, const rotor::Flow& flow,
                                 double flight_speed_m_s) {
  const double tip = flex.rotor().tip_radius_m();
  const rotor::MapGrid grid = rotor::map_grid(tip, flight_speed_m_s);
  const std::size_t n = grid.beta_rad.size();
  MapWalk walk(flex, flow, grid);
  const std::size_t middle = walk.middle();
  std::optional<Limit> limit;
  std::size_t first = 0;
  for (const std::size_t speed : {2U, 1U, 0U}) {
    walk.forget();
    for (std::size_t k = middle; k < n; ++k) {
      if (!walk.go(speed, k)) return base::fail(walk.problem(speed, k));
    }
    walk.forget();
    for (std::size_t k = middle + 1; k-- > first;) {
      if (walk.go(speed, k)) continue;
      first = k + 1;
      limit = walk.limit(speed, first);
    }
  }
  const auto cut = static_cast<std::ptrdiff_t>(first);
  std::vector<double> beta(grid.beta_rad.begin() + cut, grid.beta_rad.end());
  std::vector<std::vector<rotor::Loads>> loads = walk.loads();
  for (auto& row : loads) row.erase(row.begin(), row.begin() + cut);
  return FlexMap{rotor::Map::from_loads(std::move(beta), grid.middle_speed_m_s, grid.speed_ratio,
                                        loads, flow, tip),
                 limit};
}

}  // namespace propwright::flex
