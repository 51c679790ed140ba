/// Quasi-steady circling flight of a rubber-powered model under a roof.
/// Symbols: V speed, gamma path angle, mu bank, r_c circle radius, CL trim lift coefficient, m
/// all-up mass, N turns in the motor, Q shaft torque, n revs.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/base/problem.h"
#include "propwright/rotor/map.h"
#include "propwright/rubber/rubber.h"

namespace propwright::flight {

/// Airframe drag, CD(CL, V) = profile (V_ref/V)^(1/2) + induced CL^2 + extra, with
/// profile = cd_min + curvature (CL - cl_at_min)^2. The square root is laminar friction's Re law.
struct DragPolar {
  double profile_cd_min = 0.03;  ///< wing and tail, on wing area, at the reference speed
  double profile_curvature = 0;  ///< per CL^2
  double profile_cl_at_min = 0;
  double reference_speed_m_s = 1;
  double induced_factor = 0;  ///< 1/(pi AR e), tail's share included
  double extra_cd = 0;        ///< sticks, bracing, wire, landing gear, on wing area
  double cd(double cl, double speed_m_s) const;
  /// The same shape, `factor` > 0 times as much at every lift and speed.
  void scale(double factor);
};

struct Airframe {
  double mass_kg = 0;  ///< ready to fly, propeller included, without rubber and spacer
  double wing_area_m2 = 0;
  double trim_cl = 0.6;
  DragPolar drag;
  double circle_radius_m = 0;  ///< horizontal radius of the circle; 0 = straight
};

/// What the roof does.
enum class Contact {
  none,   ///< touching ends the flight (hang-up, or not allowed)
  light,  ///< light touching allowed: each touch costs touch_loss_m of height
};

struct Hall {
  double roof_m = 0;  ///< lowest obstacle above the floor
  Contact contact = Contact::light;
  double touch_loss_m = 0.5;
};

/// How the launch is decided: exactly one of margin, turns or torque.
struct LaunchPlan {
  double height_m = 1.5;            ///< of the launch above the floor
  double wound_turns = 0;           ///< N_w
  std::optional<double> margin_m;   ///< top of the climb this far under the roof
  std::optional<double> turns;      ///< N_0 given
  std::optional<double> torque_Nm;  ///< launch torque given
  double wait_s = 60;               ///< wound, before launch
  double relaxation_per_s = 0;      ///< fraction of torque lost per second while wound
};

/// Everything a flight depends on.
struct Setup {
  Airframe airframe;
  rotor::Map propeller;
  rubber::Motor motor;
  Hall hall;
  LaunchPlan launch;
  double density_kg_m3 = 1.2;
  double friction_fraction = 0.02;  ///< of motor torque lost at the washers, 0..0.2
  bool freewheels = false;          ///< after the motor: windmills freely, else stands still
};

enum class Phase { climb, let_down, glide };

/// One instant of the flight.
struct Instant {
  double time_s = 0, height_m = 0, rev_per_s = 0;
  double torque_Nm = 0;  ///< motor torque
  double speed_m_s = 0, climb_m_s = 0, turns = 0, thrust_N = 0;
};

/// Where the energy goes, J. Parts add to at_break up to `residual`, which compares the flight's
/// own sums with the exact integral of the motor's curve.
struct Energy {
  double at_break = 0;       ///< all the motor would return from breaking turns
  double not_wound = 0;      ///< above the turns wound
  double backed_off = 0;     ///< between wound and launched
  double left_in_motor = 0;  ///< at landing
  double motor_loss = 0;     ///< relaxation while wound
  double shaft_friction = 0;
  double induced = 0;   ///< propeller: swirl and slipstream
  double profile = 0;   ///< propeller: section drag, arms included
  double airframe = 0;  ///< drag of the model
  double height = 0;    ///< m g (landing - launch height): negative, the launch gave it
  double kinetic = 0;   ///< change of kinetic energy between launch and landing
  double ceiling = 0;   ///< lost to touches
  double residual = 0;
};

enum class End {
  landed,
  roof,  ///< ended by touching a roof that must not be touched
};

struct Flight {
  double duration_s = 0;
  double top_height_m = 0, top_time_s = 0;
  double turns_wound = 0, turns_at_launch = 0, turns_left = 0;
  double launch_torque_Nm = 0;
  double mean_rev_per_s = 0;
  double cruise_speed_m_s = 0;  ///< in level flight (or where climb is least in magnitude)
  double cruise_rev_per_s = 0, cruise_torque_Nm = 0, cruise_thrust_N = 0;
  int touches = 0;
  End end = End::landed;
  Energy energy;
  std::vector<Instant> history;  ///< dense enough to draw; first at launch, last at the end
  std::vector<std::string> warnings;
};

/// Steady state at one motor torque.
struct Equilibrium {
  double speed_m_s = 0, rev_per_s = 0, path_angle_rad = 0, climb_m_s = 0;
  double thrust_N = 0, drag_N = 0, lift_N = 0, profile_power_W = 0, shaft_torque_Nm = 0;
};

/// Steady circling flight at a motor torque >= 0. Problem: no_solution saying why (the propeller
/// cannot absorb the torque, the model cannot hold this circle).
base::Expected<Equilibrium> equilibrium(const Setup& setup, double motor_torque_Nm);

/// Flies the plan. A margin under the roof that the model cannot climb to is no problem: it is
/// launched with all it has, and a warning says by how much it stays below. Problem: bad_input or
/// no_solution (the propeller cannot follow the torque, the circle cannot be held), saying what to
/// change.
base::Expected<Flight> fly(const Setup& setup);

/// The bound no propeller can beat in flight on the wing: the time t that solves
/// E = t p(W w_min - W h_launch/t), with E all the motor's energy to breaking turns, w_min the
/// airframe's least sink rate in straight glide without propeller, and p(u) = u/eta(u) the shaft
/// power of an ideal actuator disc of the largest diameter allowed (`largest_diameter_m`; 0 = no
/// limit, eta = 1). s. A lossless propeller climbing steeply could pass it by a few per cent,
/// since its thrust carries part of the weight (docs/method.md). launch.height_m > 0.
double duration_bound_s(const Setup& setup, double largest_diameter_m);

/// Least sink rate of the airframe without propeller in straight glide, and the CL and speed of it.
struct BestGlide {
  double sink_m_s = 0, cl = 0, speed_m_s = 0;
};
BestGlide best_glide(const Airframe& airframe, double all_up_mass_kg, double density_kg_m3);

/// Section and loop length, at the motor's mass (or `rubber_mass_kg` if > 0), that fly longest with
/// this propeller and launch plan. The search covers 0.4 to 2.5 times the present section.
struct MotorMatch {
  double section_m2 = 0, length_m = 0;
  Flight flight;
  bool at_limit = false;  ///< best at an end of the search
};
base::Expected<MotorMatch> match_motor(const Setup& setup, double rubber_mass_kg,
                                       double wound_fraction);

}  // namespace propwright::flight
