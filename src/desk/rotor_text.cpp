// The rotor's answer as tables for people and as CSV.
#include <fmt/format.h>

#include "propwright/base/constants.h"
#include "rotor_input.h"
#include "text_table.h"

namespace propwright::desk {
namespace {

using D = units::Dimension;

std::string number_in(double si, D dimension, const char* unit, int decimals) {
  return units::print_in(si, dimension, unit, decimals).number;
}

TextTable points_table(const RotorAnswer& answer, bool inch) {
  const char* speed = inch ? "ft/s" : "m/s";
  const char* torque = inch ? "in-oz" : "mN.m";
  const char* thrust = inch ? "gf" : "mN";
  TextTable table({inch ? "ft/s" : "m/s", "rpm", "J", inch ? "thrust gf" : "thrust mN",
                   inch ? "torque in-oz" : "torque mN·m", "efficiency %", "CT", "CP"});
  for (const RotorPoint& point : answer.points) {
    const auto& c = point.coefficients;
    const auto& at = point.result.condition;
    table.add({number_in(at.speed_m_s, D::speed, speed, 3),
               number_in(at.rev_per_s, D::rotation, "rpm", 1),
               c.defined ? fmt::format("{:.3f}", c.advance_ratio) : "-",
               number_in(point.result.loads.thrust_N, D::force, thrust, 3),
               number_in(point.result.loads.torque_Nm, D::torque, torque, 4),
               c.efficiency_defined ? fmt::format("{:.1f}", 100 * c.efficiency) : "-",
               c.defined ? fmt::format("{:.4f}", c.ct) : "-",
               c.defined ? fmt::format("{:.4f}", c.cp) : "-"});
  }
  return table;
}

/// Fine less quick. Without an answer of the fine mode the row above is the quick mode's.
TextTable difference_table(const RotorAnswer& answer, bool inch) {
  const char* torque = inch ? "in-oz" : "mN.m";
  const char* thrust = inch ? "gf" : "mN";
  TextTable table({"J", inch ? "quick thrust gf" : "quick thrust mN", "difference",
                   inch ? "quick torque in-oz" : "quick torque mN·m", "difference",
                   "quick efficiency %", "difference"});
  for (const RotorPoint& point : answer.points) {
    const auto& c = point.coefficients;
    const std::string ratio = c.defined ? fmt::format("{:.3f}", c.advance_ratio) : "-";
    if (!point.quick) {
      table.add({ratio, "-", "-", "-", "-", "-", "-"});
      continue;
    }
    const auto& q = *point.quick;
    const auto percent = [](bool defined, double value, const char* shape) {
      return defined ? fmt::format(fmt::runtime(shape), 100 * value) : std::string("-");
    };
    table.add({ratio, number_in(q.loads.thrust_N, D::force, thrust, 3),
               number_in(q.difference.thrust_N, D::force, thrust, 3),
               number_in(q.loads.torque_Nm, D::torque, torque, 4),
               number_in(q.difference.torque_Nm, D::torque, torque, 4),
               percent(q.coefficients.efficiency_defined, q.coefficients.efficiency, "{:.1f}"),
               percent(q.difference.efficiency_defined, q.difference.efficiency, "{:+.1f}")});
  }
  return table;
}

TextTable stations_table(const rotor::Result& result, bool inch) {
  const char* length = inch ? "in" : "mm";
  TextTable table({std::string("radius ") + length, std::string("chord ") + length, "blade °",
                   "inflow °", "alpha °", "Re", "cl", "cd", "state"});
  for (const auto& s : result.stations) {
    const auto degrees = [](double rad) { return number_in(rad, D::angle, "deg", 1); };
    table.add({number_in(s.radius_m, D::length, length, inch ? 3 : 1),
               number_in(s.chord_m, D::length, length, inch ? 3 : 1), degrees(s.blade_angle_rad),
               degrees(s.inflow_rad), degrees(s.alpha_rad), fmt::format("{:.0f}", s.re),
               fmt::format("{:.3f}", s.cl), fmt::format("{:.4f}", s.cd),
               rotor::to_text(s.state) + (s.in_table ? "" : " *")});
  }
  return table;
}

}  // namespace

std::string rotor_text(const RotorAnswer& answer, units::Profile profile) {
  const bool inch = profile == units::Profile::inch;
  std::string out =
      fmt::format("{} blades, {}, air of {:.4f} kg/m³\n\n", answer.blades,
                  units::to_text(answer.diameter_m, D::length, profile), answer.flow.density_kg_m3);
  out += points_table(answer, inch).text(true);
  if (answer.fine) {
    out +=
        "\nThe table is of the fine mode where it has an answer. The quick mode, and how much more "
        "the fine one "
        "finds:\n\n";
    out += difference_table(answer, inch).text(true);
  }
  if (answer.points.size() == 1) {
    out += "\n" + stations_table(answer.points.front().result, inch).text(true);
    if (!answer.warnings.empty()) out += "  * outside the polar table\n";
  }
  return out + bullet_list("Warnings", answer.warnings) + bullet_list("Notes", answer.notes);
}

std::string rotor_csv(const RotorAnswer& answer) {
  std::string out = "speed_m_s,rev_per_s,advance_ratio,thrust_N,torque_Nm,efficiency,ct,cp";
  if (answer.fine) {
    out += ",model,quick_thrust_N,quick_torque_Nm,quick_efficiency";
    out += ",difference_thrust_N,difference_torque_Nm,difference_efficiency";
  }
  out += "\n";
  const auto cell = [](bool defined, double value) {
    return defined ? fmt::format("{}", value) : std::string();
  };
  for (const RotorPoint& point : answer.points) {
    const auto& c = point.coefficients;
    out += fmt::format("{},{},{},{},{},{},{},{}", point.result.condition.speed_m_s,
                       point.result.condition.rev_per_s, cell(c.defined, c.advance_ratio),
                       point.result.loads.thrust_N, point.result.loads.torque_Nm,
                       cell(c.efficiency_defined, c.efficiency), cell(c.defined, c.ct),
                       cell(c.defined, c.cp));
    if (answer.fine && !point.quick) out += ",quick,,,,,,";
    if (point.quick) {
      const auto& q = *point.quick;
      out += fmt::format(",fine,{},{},{},{},{},{}", q.loads.thrust_N, q.loads.torque_Nm,
                         cell(q.coefficients.efficiency_defined, q.coefficients.efficiency),
                         q.difference.thrust_N, q.difference.torque_Nm,
                         cell(q.difference.efficiency_defined, q.difference.efficiency));
    }
    out += "\n";
  }
  return out;
}

}  // namespace propwright::desk
