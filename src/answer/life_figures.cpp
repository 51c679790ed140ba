#include "life_figures.h"

#include <algorithm>
#include <charconv>
#include <chrono>
#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/units/units.h"

namespace propwright::answer {
namespace {

using D = units::Dimension;

constexpr double same_radius_m = 0.5e-3;

std::optional<double> life_quantity(const Json& table, const char* name, D dimension) {
  const auto read = units::parse(life_text(table, name), dimension);
  return read ? std::optional(*read) : std::nullopt;
}

Json life_part(const Json& readings, const char* part, const char* table) {
  return life_table(life_table(readings, part), table);
}

std::vector<LifeAngle> angles_of(const Json& blade) {
  std::vector<LifeAngle> angles;
  const auto rows = blade.find("angles");
  if (rows == blade.end() || !rows->is_array()) return angles;
  for (const Json& row : *rows) {
    const auto radius = life_quantity(row, "radius", D::length);
    const auto angle = life_quantity(row, "angle", D::angle);
    if (radius && angle) angles.push_back({*radius, *angle});
  }
  std::sort(angles.begin(), angles.end(),
            [](const LifeAngle& a, const LifeAngle& b) { return a.radius_m < b.radius_m; });
  return angles;
}

LifeBlade blade_of(const Json& table) {
  LifeBlade blade;
  blade.mass_kg = life_quantity(table, "mass", D::mass);
  blade.length_m = life_quantity(table, "length", D::length);
  const auto centre_m = life_quantity(table, "centre_of_mass", D::length);
  const auto tip_kg = life_quantity(table, "tip_reading", D::mass);
  if (centre_m && blade.mass_kg) blade.moment_kg_m = *centre_m * *blade.mass_kg;
  if (!centre_m && tip_kg && blade.length_m) blade.moment_kg_m = *tip_kg * *blade.length_m;
  blade.angles = angles_of(table);
  return blade;
}

/// The ledger's parts of the propeller, when every one that is named has been weighed.
std::optional<double> sum_of_weights(const Json& ledger) {
  const auto parts = ledger.find("parts");
  if (parts == ledger.end() || !parts->is_array()) return std::nullopt;
  double sum_kg = 0;
  int count = 0;
  for (const Json& part : *parts) {
    if (!part.is_object() || life_text(part, "part").empty()) continue;
    if (part.value("propeller", Json(true)) == false) continue;
    const auto mass_kg = life_quantity(part, "weighed", D::mass);
    if (!mass_kg) return std::nullopt;
    sum_kg += *mass_kg;
    ++count;
  }
  return count > 0 ? std::optional(sum_kg) : std::nullopt;
}

void take_mass(const Json& readings, LifeFigures& figures) {
  if (const auto whole =
          life_quantity(life_part(readings, "propeller", "propeller"), "mass", D::mass)) {
    figures.mass_kg = whole;
    figures.mass_basis = "weighed whole";
  } else if (const auto sum = sum_of_weights(life_part(readings, "ledger", "ledger"))) {
    figures.mass_kg = sum;
    figures.mass_basis = "sum of its weights";
  } else if (figures.blade[0].mass_kg && figures.blade[1].mass_kg) {
    figures.mass_kg = *figures.blade[0].mass_kg + *figures.blade[1].mass_kg;
    figures.mass_basis = "both blades";
  }
}

/// Angles of both at the radii they share.
std::vector<std::pair<double, double>> common_angles(const LifeBlade& a, const LifeBlade& b) {
  std::vector<std::pair<double, double>> common;
  for (const LifeAngle& one : a.angles) {
    const auto other = std::find_if(b.angles.begin(), b.angles.end(), [&](const LifeAngle& angle) {
      return std::abs(angle.radius_m - one.radius_m) < same_radius_m;
    });
    if (other != b.angles.end()) common.emplace_back(one.angle_rad, other->angle_rad);
  }
  return common;
}

void add_change(const char* what, const char* of, const std::optional<double>& before,
                const std::optional<double>& after, std::vector<LifeChange>& changes) {
  if (before && after) changes.push_back({what, of, *before, *after});
}

void add_blade_changes(const char* of, const LifeBlade& before, const LifeBlade& after,
                       std::vector<LifeChange>& changes) {
  add_change("mass", of, before.mass_kg, after.mass_kg, changes);
  const auto common = common_angles(before, after);
  if (!common.empty()) {
    double sum_before = 0, sum_after = 0;
    for (const auto& [was, is] : common) {
      sum_before += was;
      sum_after += is;
    }
    const auto count = static_cast<double>(common.size());
    changes.push_back({"angle", of, sum_before / count, sum_after / count});
  }
  if (common.size() > 1) {
    changes.push_back({"twist", of, common.front().first - common.back().first,
                       common.front().second - common.back().second});
  }
  add_change("moment", of, before.moment_kg_m, after.moment_kg_m, changes);
}

Json known_or_null(const std::optional<double>& value) {
  return value ? Json(*value) : Json(nullptr);
}

Json degrees_or_null(const std::optional<double>& angle_rad) {
  return angle_rad ? Json(*angle_rad / base::degree_rad) : Json(nullptr);
}

Json life_blade_json(const LifeBlade& blade) {
  Json angles = Json::array();
  for (const LifeAngle& each : blade.angles) {
    angles.push_back(
        {{"radius_m", each.radius_m}, {"angle_deg", each.angle_rad / base::degree_rad}});
  }
  return {{"mass_kg", known_or_null(blade.mass_kg)},
          {"length_m", known_or_null(blade.length_m)},
          {"moment_kg_m", known_or_null(blade.moment_kg_m)},
          {"angles", angles}};
}

}  // namespace

Json life_table(const Json& section, const char* name) {
  if (!section.is_object()) return Json::object();
  const auto found = section.find(name);
  return found != section.end() && found->is_object() ? *found : Json::object();
}

std::string life_text(const Json& table, const char* name) {
  if (!table.is_object()) return {};
  const auto found = table.find(name);
  return found != table.end() && found->is_string() ? found->get<std::string>() : std::string();
}

std::string life_time(const workshop::Record& event) {
  return life_text(life_table(Json::parse(event.content.section_json), "event"), "time");
}

std::string life_kind(const workshop::Record& event) {
  return life_text(life_table(Json::parse(event.content.section_json), "event"), "kind");
}

std::optional<long> life_days(const std::string& time) {
  if (time.size() < 10 || time[4] != '-' || time[7] != '-') return std::nullopt;
  int year = 0;
  unsigned month = 0, day = 0;
  const char* text = time.data();
  const bool sound = std::from_chars(text, text + 4, year).ptr == text + 4 &&
                     std::from_chars(text + 5, text + 7, month).ptr == text + 7 &&
                     std::from_chars(text + 8, text + 10, day).ptr == text + 10;
  const std::chrono::year_month_day date{std::chrono::year(year), std::chrono::month(month),
                                         std::chrono::day(day)};
  if (!sound || !date.ok()) return std::nullopt;
  return std::chrono::sys_days(date).time_since_epoch().count();
}

Json life_readings(const LifeRecords& life) {
  Json readings = Json::object();
  readings["propeller"] = Json::parse(life.propeller.content.section_json);
  const auto add = [&](const char* part, const std::optional<workshop::Record>& record) {
    if (record) readings[part] = Json::parse(record->content.section_json);
  };
  add("blade_a", life.blade_a);
  add("blade_b", life.blade_b);
  add("hub", life.hub);
  add("ledger", life.ledger);
  return readings;
}

LifeFigures life_figures(const Json& readings) {
  LifeFigures figures;
  figures.blade[0] = blade_of(life_part(readings, "blade_a", "blade"));
  figures.blade[1] = blade_of(life_part(readings, "blade_b", "blade"));
  const Json propeller = life_part(readings, "propeller", "propeller");
  figures.set_angle_rad = life_quantity(propeller, "set_angle", D::angle);
  figures.set_radius_m = life_quantity(propeller, "set_radius", D::length);
  take_mass(readings, figures);
  return figures;
}

std::vector<LifeChange> life_changes(const LifeFigures& before, const LifeFigures& after) {
  std::vector<LifeChange> changes;
  if (before.mass_basis == after.mass_basis) {
    add_change("mass", "propeller", before.mass_kg, after.mass_kg, changes);
  }
  add_change("angle", "propeller", before.set_angle_rad, after.set_angle_rad, changes);
  add_blade_changes("blade_a", before.blade[0], after.blade[0], changes);
  add_blade_changes("blade_b", before.blade[1], after.blade[1], changes);
  return changes;
}

Json life_figures_json(const LifeFigures& figures) {
  return {{"mass_kg", known_or_null(figures.mass_kg)},
          {"mass_basis", figures.mass_basis},
          {"set_angle_deg", degrees_or_null(figures.set_angle_rad)},
          {"set_radius_m", known_or_null(figures.set_radius_m)},
          {"blade_a", life_blade_json(figures.blade[0])},
          {"blade_b", life_blade_json(figures.blade[1])}};
}

}  // namespace propwright::answer
