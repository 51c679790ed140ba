#include <fmt/format.h>

#include <cmath>

#include "prediction.h"
#include "text_table.h"

namespace propwright::desk {
namespace {

using D = units::Dimension;

class Text {
 public:
  explicit Text(const Prediction& prediction)
      : prediction_(prediction),
        flight_(prediction.nominal.flight),
        setup_(prediction.nominal.setup),
        profile_(prediction.loaded.profile()) {}

  std::string all() const {
    std::string out = answer::headline(prediction_) + "\n";
    out += section("Flight", flight_table());
    out += section("Motor", motor_table());
    out += section("Propeller", propeller_table());
    out += section("Energy the motor would give from breaking turns", energy_table());
    out += bullet_list("Warnings", prediction_.warnings);
    out += bullet_list("Notes", prediction_.nominal.assembly.notes);
    return out;
  }

 private:
  static std::string section(const std::string& heading, const TextTable& table) {
    return "\n" + heading + "\n" + table.text();
  }
  std::string text(double si, D dimension) const {
    const auto printed = units::print(si, dimension, profile_);
    return printed.number + " " + printed.unit;
  }
  std::string height(double m) const { return answer::height_text(m, profile_); }
  static std::string turns(double n) { return fmt::format("{:.0f} turns", n); }

  TextTable flight_table() const {
    TextTable t;
    if (prediction_.spread) {
      const auto& s = *prediction_.spread;
      t.add({"5 % to 95 % of the samples", units::duration_text(s.duration_s[0]) + " to " +
                                               units::duration_text(s.duration_s[2])});
      t.add({"chance of touching the roof", fmt::format("{:.0f} %", 100 * s.touch_probability)});
    }
    t.add({"longest any propeller could", units::duration_text(prediction_.nominal.bound_s)});
    t.add({"top of the climb",
           height(flight_.top_height_m) + " at " + units::duration_text(flight_.top_time_s)});
    t.add({"cruise", fmt::format("{}, {}", text(flight_.cruise_speed_m_s, D::speed),
                                 text(flight_.cruise_rev_per_s, D::rotation))});
    t.add({"mean revs", text(flight_.mean_rev_per_s, D::rotation)});
    return t;
  }

  TextTable motor_table() const {
    TextTable t;
    t.add({"breaks at about", turns(setup_.motor.breaking_turns)});
    t.add({"wind to", turns(flight_.turns_wound)});
    t.add({"launch with",
           turns(flight_.turns_at_launch) + ", " + text(flight_.launch_torque_Nm, D::torque)});
    if (prediction_.match) {
      const auto& m = *prediction_.match;
      t.add({"this propeller would fly longest on",
             text(m.section_m2, D::area) + ", loop " + text(m.length_m, D::length) + ": " +
                 units::duration_text(m.flight.duration_s) +
                 (m.at_limit ? " (end of the search)" : "")});
    }
    return t;
  }

  TextTable propeller_table() const {
    const brief::Assembly& a = prediction_.nominal.assembly;
    TextTable t;
    t.add({"diameter", text(2 * a.blade.tip_radius_m, D::length)});
    t.add({"pitch at the gauge radius", text(a.set_pitch_m, D::length)});
    t.add({"set at " + text(a.gauge_radius_m, D::length), text(a.gauge_angle_rad, D::angle)});
    if (a.radius_45_m > 0) t.add({"stands at 45° at", text(a.radius_45_m, D::length)});
    t.add({"mass, planned", text(a.propeller_mass_kg, D::mass)});
    if (const auto blade = answer::flexing(prediction_)) {
      flex_lines(t, "at launch", blade->launch);
      flex_lines(t, "in cruise", blade->cruise);
    }
    return t;
  }

  void flex_lines(TextTable& t, const std::string& when,
                  const std::optional<flex::State>& state) const {
    if (!state) {
      t.add({"blade " + when, "finds no steady shape"});
      return;
    }
    const auto way = [&](double m, const char* ahead, const char* behind) {
      return text(std::abs(m), D::length) + " " + (m < 0 ? behind : ahead);
    };
    t.add({"tip " + when, fmt::format("flare {}, {}, {}", text(state->tip.twist_rad, D::angle),
                                      way(state->tip.out_of_disc_m, "forward", "back"),
                                      way(state->tip.in_disc_m, "ahead", "behind"))});
    if (!state->strength.known || state->strength.margin <= 0) return;
    t.add({"spar " + when,
           fmt::format("{:.1f} times as strong as needed, least at {}", state->strength.margin,
                       text(state->strength.radius_m, D::length))});
  }

  TextTable energy_table() const {
    TextTable t;
    const double whole = flight_.energy.at_break;
    const auto line = [&](const std::string& label, double energy_J) {
      const double percent = whole > 0 ? 100 * energy_J / whole : 0;
      t.add({label, fmt::format("{:.3f} J", energy_J), fmt::format("{:.1f} %", percent)});
    };
    for (const answer::LedgerLine& part : answer::ledger(flight_.energy)) {
      if (answer::worth_telling(part, flight_.energy)) line(part.label, part.energy_J);
    }
    line("all of it", whole);
    return t;
  }

  const Prediction& prediction_;
  const flight::Flight& flight_;
  const flight::Setup& setup_;
  units::Profile profile_;
};

}  // namespace

std::string prediction_text(const Prediction& prediction) {
  return Text(prediction).all();
}

}  // namespace propwright::desk
