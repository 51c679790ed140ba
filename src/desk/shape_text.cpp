#include "shape_text.h"

#include <fmt/format.h>

#include <algorithm>

#include "propwright/answer/json_answers.h"
#include "propwright/base/constants.h"
#include "text_table.h"

namespace propwright::desk {
namespace {

using D = units::Dimension;

std::string plain_number(double si, D dimension, const char* unit, int decimals) {
  return units::print_in(si, dimension, unit, decimals).number;
}

void add_blade(TextTable& table, const shape::Candidate& c, const shape::Candidate& ideal,
               units::Profile profile) {
  const bool inch = profile == units::Profile::inch, is_ideal = c.kind == shape::Kind::ideal;
  const bool compared = c.duration_s && ideal.duration_s && !is_ideal;
  const std::string points = fmt::format("{:+.1f}", 100 * (c.efficiency - ideal.efficiency));
  table.add(
      {answer::shape_label(c, profile), fmt::format("{:.1f}", 100 * c.efficiency),
       is_ideal ? "-" : points, c.duration_s ? units::duration_text(*c.duration_s) : "-",
       compared ? fmt::format("{:+.0f}", *c.duration_s - *ideal.duration_s) : "-",
       fmt::format("{:.1f}", 100 * c.camber),
       fmt::format("{:.1f}° at {}", c.gauge_angle_rad / base::degree_rad,
                   plain_number(c.gauge_radius_m, D::length, inch ? "in" : "mm", inch ? 3 : 1))});
}

TextTable stations_table(const shape::Shape& shape, bool inch) {
  const char* length = inch ? "in" : "mm";
  const int digits = inch ? 3 : 1;
  TextTable table({std::string("radius ") + length, std::string("chord ") + length, "angle °",
                   std::string("pitch ") + length, "alpha °", "cl", "cl/cd", "Re"});
  const auto& stations = shape.design.stations;
  // A dozen rows tell the shape; --json has all.
  const std::size_t step = std::max<std::size_t>(1, stations.size() / 13);
  for (std::size_t i = 0; i < stations.size(); i += step) {
    const rotor::DesignStation& s = stations[i];
    if (s.chord_m <= 0) continue;
    table.add({plain_number(s.radius_m, D::length, length, digits),
               plain_number(s.chord_m, D::length, length, digits),
               fmt::format("{:.1f}", s.blade_angle_rad / base::degree_rad),
               plain_number(s.pitch_m, D::length, length, inch ? 1 : 0),
               fmt::format("{:.1f}", s.alpha_rad / base::degree_rad), fmt::format("{:.2f}", s.cl),
               fmt::format("{:.1f}", s.cl / s.cd), fmt::format("{:.0f}", s.re)});
  }
  return table;
}

}  // namespace

std::string shape_text(const shape::Shape& shape, units::Profile profile) {
  const bool inch = profile == units::Profile::inch;
  std::string out = fmt::format(
      "For {} {} of thrust at {} {} and {} rpm\n\n",
      plain_number(shape.thrust_N, D::force, inch ? "gf" : "mN", 2), inch ? "gf" : "mN",
      plain_number(shape.condition.speed_m_s, D::speed, inch ? "ft/s" : "m/s", 2),
      inch ? "ft/s" : "m/s", plain_number(shape.condition.rev_per_s, D::rotation, "rpm", 1));
  TextTable table({"blade", "efficiency %", "points", "flies", "seconds", "camber %",
                   inch ? "angle at in" : "angle at mm"});
  add_blade(table, shape.ideal, shape.ideal, profile);
  for (const auto& candidate : shape.makeable) add_blade(table, candidate, shape.ideal, profile);
  if (shape.present) add_blade(table, *shape.present, shape.ideal, profile);
  out += table.text() + "\nThe blade of least loss\n\n" + stations_table(shape, inch).text();
  std::vector<std::string> notes = shape.notes;
  for (const auto& candidate : shape.makeable) {
    for (const std::string& note : candidate.notes)
      notes.push_back(answer::shape_label(candidate, profile) + ": " + note);
  }
  if (shape.revs_at_limit) {
    notes.push_back("The best shaft speed lies beyond the range that was searched.");
  }
  return out + bullet_list("Notes", notes);
}

}  // namespace propwright::desk
