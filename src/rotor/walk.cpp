#include "propwright/rotor/walk.h"

#include <map>

#include "blade.h"
#include "prepared.h"

namespace propwright::rotor {

/// A station on its way through the states.
struct WalkPlace {
  Element element;
  double base_angle_rad = 0;
  double ln_re_per_speed = 0;
  const section::Polar* moment = nullptr;
  Trend phi, ln_re;
  double turn_rad = 0;  // of the last evaluation
  ElementState state;   // and its solution
  ElementSlopes slope;
};

namespace {

/// Force on one blade and its slope: both are rho/2 W^2 c times a coefficient.
StationForce force_at(const WalkPlace& place, double density) {
  const ElementState& s = place.state;
  const ElementSlopes& by = place.slope;
  const double chord = place.element.chord_m;
  const double p = 0.5 * density * s.speed_m_s * s.speed_m_s * chord;
  const section::Moment m = place.moment->moment(s.alpha, s.ln_re);
  const double twice = 2 * by.ln_speed;
  StationForce f;
  f.thrust_N_per_m = p * s.cn;
  f.thrust_by_angle = p * (by.cn + twice * s.cn);
  f.drag_N_per_m = p * s.ct;
  f.drag_by_angle = p * (by.ct + twice * s.ct);
  f.moment_Nm_per_m = p * chord * m.cm;
  f.moment_by_angle = p * chord * (m.cm_alpha * (1 - by.phi) + twice * m.cm);
  f.profile_W_per_m = p * s.cd * s.speed_m_s;
  f.profile_by_angle = p * s.speed_m_s * (by.cd + 3 * by.ln_speed * s.cd);
  return f;
}

}  // namespace

struct Walk::Work {
  explicit Work(const Rotor& of, const Flow& in) : rotor(of), flow(in) {}

  Rotor rotor;
  Flow flow;
  std::map<double, section::Polar> moments;  // by camber, of families without
  std::vector<WalkPlace> places;
  std::vector<StationForce> forces;
  Condition condition;
  int blades = 2;
  double hub_radius_m = 0, arm_diameter_m = 0;
  bool fresh = true;   // no state accepted yet
  bool begun = false;  // this state evaluated already
};

Walk::Walk(const Rotor& rotor, const Flow& flow, const section::Family& moments)
    : work_(std::make_unique<Work>(rotor, flow)) {
  const Rotor::Prepared& p = *rotor.prepared_;
  work_->blades = p.blades;
  work_->hub_radius_m = p.hub_radius_m;
  work_->arm_diameter_m = p.arm_diameter_m;
  work_->forces.resize(p.elements.size());
  for (const Element& e : p.elements) {
    WalkPlace place;
    place.element = e;
    place.base_angle_rad = e.blade_angle_rad;
    place.ln_re_per_speed = ln_re_per_speed(e, flow);
    place.moment = e.polar;
    if (!e.polar->has_cm()) {
      auto own = work_->moments.find(e.camber);
      if (own == work_->moments.end()) {
        own = work_->moments.emplace(e.camber, moments.at_camber(e.camber)).first;
      }
      place.moment = &own->second;
    }
    work_->places.push_back(place);
  }
}

Walk::~Walk() = default;
Walk::Walk(Walk&&) noexcept = default;
Walk& Walk::operator=(Walk&&) noexcept = default;

tl::expected<void, base::Problems> Walk::evaluate(const Condition& condition,
                                                  const double* turn_rad) {
  Work& w = *work_;
  if (!w.begun) {
    base::Problems problems = rotor::check(condition, w.flow);
    if (!problems.empty()) return base::fail(std::move(problems));
  }
  // The first condition of a station starts from the neighbouring station's angle of attack.
  double alpha = std::numeric_limits<double>::quiet_NaN();
  double neighbour_ln_re = 0;
  for (std::size_t i = 0; i < w.places.size(); ++i) {
    WalkPlace& place = w.places[i];
    Element& e = place.element;
    const double turn = turn_rad[i];
    e.blade_angle_rad = place.base_angle_rad + turn;
    const ElementFlow flow{condition.speed_m_s, 2 * base::pi * condition.rev_per_s * e.radius_m,
                           place.ln_re_per_speed};
    double guess = place.phi.next(), ln_re = place.ln_re.next();
    if (w.begun) {
      guess = place.state.phi + place.slope.phi * (turn - place.turn_rad);
      ln_re = place.state.ln_re;
    } else if (w.fresh) {
      guess = e.blade_angle_rad - alpha;
      ln_re = neighbour_ln_re;
    }
    place.state = solve_element(e, flow, guess, ln_re);
    if (!place.state.solved) return base::fail(unsolved(e, condition));
    place.turn_rad = turn;
    place.slope = slopes(e, flow, place.state);
    w.forces[i] = force_at(place, w.flow.density_kg_m3);
    alpha = place.state.alpha;
    neighbour_ln_re = place.state.ln_re;
  }
  w.condition = condition;
  w.begun = true;
  return {};
}

const std::vector<StationForce>& Walk::forces() const {
  return work_->forces;
}

Loads Walk::loads() const {
  const Work& w = *work_;
  Loads all = arm_loads(w.hub_radius_m, w.arm_diameter_m, w.blades, w.condition, w.flow);
  for (const WalkPlace& place : w.places) {
    const ElementLoads l = loads_of(place.element, place.state, w.blades, w.flow.density_kg_m3);
    all.thrust_N += place.element.weight_m * l.thrust_N_per_m;
    all.torque_Nm += place.element.weight_m * l.torque_Nm_per_m;
    all.profile_power_W += place.element.weight_m * l.profile_W_per_m;
  }
  return all;
}

Loads Walk::loads_with(const double* more_rad) const {
  const Work& w = *work_;
  Loads all = loads();
  for (std::size_t i = 0; i < w.places.size(); ++i) {
    const double turn = more_rad[i] * w.places[i].element.weight_m * w.blades;
    all.thrust_N += turn * w.forces[i].thrust_by_angle;
    all.torque_Nm += turn * w.forces[i].drag_by_angle * w.places[i].element.radius_m;
    all.profile_power_W += turn * w.forces[i].profile_by_angle;
  }
  return all;
}

void Walk::accept() {
  Work& w = *work_;
  for (WalkPlace& place : w.places) {
    place.phi.add(place.state.phi);
    place.ln_re.add(place.state.ln_re);
  }
  w.begun = w.fresh = false;
}

void Walk::restart() {
  for (WalkPlace& place : work_->places) place.phi = place.ln_re = {};
  work_->fresh = true;
  work_->begun = false;
}

}  // namespace propwright::rotor
