/// Readings of a propeller as figures. Text that cannot be read is left out: the bench tells what
/// is wrong with it.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "propwright/answer/life.h"

namespace propwright::answer {

struct LifeAngle {
  double radius_m = 0, angle_rad = 0;
};

struct LifeBlade {
  std::optional<double> mass_kg, length_m, moment_kg_m;
  std::vector<LifeAngle> angles;  ///< by radius
};

struct LifeFigures {
  std::optional<double> mass_kg;  ///< of the whole propeller
  std::string mass_basis;         ///< "weighed whole", "sum of its weights", "both blades", or ""
  std::optional<double> set_angle_rad, set_radius_m;
  LifeBlade blade[2];
};

/// Sections of the bench's records by part: "propeller", "blade_a", "blade_b", "hub", "ledger".
Json life_readings(const LifeRecords& life);
LifeFigures life_figures(const Json& readings);

/// A quantity that is compared between two states.
struct LifeChange {
  const char* what;  ///< "mass", "angle", "twist", "moment"
  const char* of;    ///< "propeller", "blade_a", "blade_b"
  double before = 0, after = 0;
};
/// Mean angle and twist (innermost less outermost) are over the radii that both were read at.
std::vector<LifeChange> life_changes(const LifeFigures& before, const LifeFigures& after);

/// Figures as JSON, null where unknown.
Json life_figures_json(const LifeFigures& figures);

/// A record's table of that name; an empty object where it has none.
Json life_table(const Json& section, const char* name);
std::string life_text(const Json& table, const char* name);
/// Of an event.
std::string life_time(const workshop::Record& event);
std::string life_kind(const workshop::Record& event);

/// Days since 1970 of "2026-11-25..."; nothing for what is no day.
std::optional<long> life_days(const std::string& time);

Json life_states(const LifeRecords& life);
Json life_prompts(const LifeRecords& life, const std::string& day);

}  // namespace propwright::answer
