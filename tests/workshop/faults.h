/// Exports, and what can be wrong with them.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "support.h"

namespace propwright::workshop::test {

using Json = nlohmann::ordered_json;

/// The export of a workshop with something of every kind.
inline std::string filled_export() {
  Workshop workshop = in_memory();
  fill(workshop);
  return value_of(workshop.export_json());
}

/// One change that makes a sound export unsound, and the path of the problem.
struct Fault {
  const char* path;
  void (*make)(Json&);
  /// A schema sees one value at a time: not whether ids repeat, links lead somewhere, a day exists.
  bool beyond_schema = false;
};

inline const Fault faults[] = {
    {"format", [](Json& j) { j["format"] = "cookery book"; }},
    {"format", [](Json& j) { j.erase("format"); }},
    {"format_version", [](Json& j) { j["format_version"] = 2; }},
    {"format_version", [](Json& j) { j["format_version"] = "1"; }},
    {"hals", [](Json& j) { j["hals"] = Json::array(); }},
    {"halls", [](Json& j) { j["halls"] = 3; }},
    {"halls[2]", [](Json& j) { j["halls"].push_back("a hall"); }},
    {"halls[0].id", [](Json& j) { j["halls"][0]["id"] = "With Capitals"; }},
    {"halls[0].id", [](Json& j) { j["halls"][0].erase("id"); }},
    {"halls[1].id", [](Json& j) { j["halls"][1]["id"] = j["halls"][0]["id"]; }, true},
    {"halls[0].name", [](Json& j) { j["halls"][0]["name"] = ""; }},
    {"halls[0].name", [](Json& j) { j["halls"][0]["name"] = 7; }},
    {"halls[0].name", [](Json& j) { j["halls"][0].erase("name"); }},
    {"halls[0].section", [](Json& j) { j["halls"][0]["section"] = Json::array(); }},
    {"halls[0].section", [](Json& j) { j["halls"][0].erase("section"); }},
    {"halls[0].colour", [](Json& j) { j["halls"][0]["colour"] = "red"; }},
    {"halls[0].revision", [](Json& j) { j["halls"][0]["revision"] = 0; }},
    {"halls[0].revision", [](Json& j) { j["halls"][0]["revision"] = 1.5; }},
    {"halls[0].created_at", [](Json& j) { j["halls"][0]["created_at"] = "yesterday"; }},
    {"halls[0].updated_at",
     [](Json& j) { j["halls"][0]["updated_at"] = "2026-02-30T00:00:00.000Z"; }, true},
    {"halls[0].archived_at", [](Json& j) { j["halls"][0]["archived_at"] = true; }},
    {"rubbers[0].curve_csv", [](Json& j) { j["rubbers"][0]["curve_csv"] = 1; }},
    {"motors[0].rubber_id", [](Json& j) { j["motors"][0]["rubber_id"] = "gone"; }, true},
    {"designs[0].copied_from", [](Json& j) { j["designs"][0]["copied_from"] = "gone"; }, true},
    {"designs[0].versions", [](Json& j) { j["designs"][0]["versions"] = Json::array(); }},
    {"designs[0].versions", [](Json& j) { j["designs"][0].erase("versions"); }},
    {"designs[0].versions[0].version",
     [](Json& j) { j["designs"][0]["versions"][0]["version"] = 5; }, true},
    {"designs[0].versions[0].document.job",
     [](Json& j) { j["designs"][0]["versions"][0]["document"].erase("job"); }},
    {"designs[0].versions[0].document.jobs",
     [](Json& j) { j["designs"][0]["versions"][0]["document"]["jobs"] = 1; }},
    {"designs[0].versions[0].document",
     [](Json& j) { j["designs"][0]["versions"][0]["document"] = nullptr; }},
    {"designs[0].versions[0].duration_s",
     [](Json& j) { j["designs"][0]["versions"][0]["duration_s"] = -1; }},
    {"designs[0].versions[0].sigma_s",
     [](Json& j) { j["designs"][0]["versions"][0]["sigma_s"] = "14 s"; }},
    {"rigs[0].rig_id", [](Json& j) { j["rigs"][0]["rig_id"] = nullptr; }},
    {"batches[0].rig_id", [](Json& j) { j["batches"][0]["rig_id"] = "gone"; }, true},
    {"spars[0].batch_id", [](Json& j) { j["spars"][0]["batch_id"] = 7; }},
    {"spars[0].stock_id", [](Json& j) { j["spars"][0]["stock_id"] = "gone"; }, true},
    {"propellers[0].hub_id", [](Json& j) { j["propellers"][0]["hub_id"] = "gone"; }, true},
    {"flights[0].hall_id", [](Json& j) { j["flights"][0]["hall_id"] = "gone"; }, true},
};

}  // namespace propwright::workshop::test
