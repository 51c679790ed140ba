// Rubber and the winding card for people.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "floor_files.h"
#include "text_table.h"

namespace propwright::desk {
namespace {

using answer::Json;

std::vector<std::string> floor_strings(const Json& list) {
  std::vector<std::string> all;
  for (const Json& text : list) all.push_back(text.get<std::string>());
  return all;
}

std::string floor_words(const Json& part) {
  std::string out;
  for (const Json& sentence : part["sentences"]) out += sentence.get<std::string>() + "\n";
  if (part.contains("notes")) out += bullet_list("Notes", floor_strings(part["notes"]));
  return out;
}

std::string torque_cells(const Json& row, TextTable& table, std::vector<std::string> cells) {
  cells.push_back(fmt::format("{:.3f}", 1e3 * row["torque_Nm"].get<double>()));
  cells.push_back(fmt::format("{:.2f}", row["torque_g_cm"].get<double>()));
  cells.push_back(fmt::format("{:.4f}", row["torque_oz_in"].get<double>()));
  table.add(cells);
  return {};
}

std::string batch_text(const Json& batch) {
  TextTable table({"motor", "kJ/kg", "returned %", "turns constant", "kg/m3"});
  for (const Json& test : batch["tests"]) {
    table.add({test["name"].get<std::string>(),
               fmt::format("{:.2f}", 1e-3 * test["energy_out_J_per_kg"].get<double>()),
               fmt::format("{:.1f}", 100 * test["returned_over_stored"].get<double>()),
               fmt::format("{:.2f}", test["turns_constant"].get<double>()),
               fmt::format("{:.0f}", test["density_kg_m3"].get<double>())});
  }
  return table.text() + "\n" + floor_words(batch);
}

std::string meter_text(const Json& meter) {
  std::string out = floor_words(meter);
  if (!meter["weights"].empty()) {
    TextTable table({"torque mN·m", "read", "on the line", "off by"});
    for (const Json& w : meter["weights"]) {
      table.add({fmt::format("{:.3f}", 1e3 * w["torque_Nm"].get<double>()),
                 fmt::format("{:.1f}", w["reading"].get<double>()),
                 fmt::format("{:.1f}", w["line_reading"].get<double>()),
                 fmt::format("{:+.1f}", w["residual"].get<double>())});
    }
    out += "\n" + table.text();
  }
  if (!meter["readings"].empty()) {
    TextTable table({meter["unit"].get<std::string>(), "mN·m", "g·cm", "in-oz"});
    for (const Json& row : meter["readings"]) {
      torque_cells(row, table,
                   {fmt::format("{:.1f}{}", row["reading"].get<double>(),
                                row["beyond"].get<bool>() ? " *" : "")});
    }
    out += "\n" + table.text();
  }
  return out;
}

std::string partial_text(const Json& partial) {
  const Json& setup = partial["setup"];
  std::string out = fmt::format(
      "Share {:g}: loop {:.0f} mm, {:.3f} g, breaks at about {:.0f} turns; spacer {:.0f} mm, "
      "{:.3f} "
      "g.\n",
      setup["share"].get<double>(), 1e3 * setup["loop_length_m"].get<double>(),
      1e3 * setup["mass_kg"].get<double>(), setup["breaking_turns"].get<double>(),
      1e3 * setup["spacer_length_m"].get<double>(), 1e3 * setup["spacer_mass_kg"].get<double>());
  if (partial["full"].is_object()) out += floor_words(partial["full"]);
  return out + bullet_list("Setting up", floor_strings(setup["notes"]));
}

std::string table_text(const std::string& name, const Json& part) {
  if (name == "batch") {
    std::string out = "Batch\n\n" + batch_text(part);
    if (part["other"].is_object()) out += "\nThe other batch\n\n" + batch_text(part["other"]);
    if (part["comparison"].is_object()) out += "\n" + floor_words(part["comparison"]);
    return out;
  }
  if (name == "breaking") {
    return "Breaking turns\n\n" + floor_words(part) + "\n" + part["caution"].get<std::string>() +
           "\n";
  }
  if (name == "history") return "The motor's life\n\n" + floor_words(part);
  if (name == "strip") return "Strip\n\n" + floor_words(part);
  if (name == "partial") return "Partial motor\n\n" + partial_text(part);
  if (name == "meter") return "Torque meter\n\n" + meter_text(part);
  return fmt::format("Winder\n\n{:.1f} turns of the crank are {:.0f} of the motor.\n",
                     part["winder_turns"].get<double>(), part["motor_turns"].get<double>());
}

std::string steps_text(const Json& card) {
  const bool crank = card["winder_ratio"].get<double>() != 1;
  const bool meter = card["meter_unit"].is_string();
  std::vector<std::string> heads{"on the way", "turns", "mN·m", "g·cm", "in-oz"};
  if (crank) heads.insert(heads.begin() + 1, "crank");
  if (meter) heads.push_back(card["meter_unit"].get<std::string>());
  TextTable table(heads);
  for (const Json& step : card["steps"]) {
    std::vector<std::string> cells{step["words"].get<std::string>()};
    if (crank) cells.push_back(fmt::format("{:.0f}", step["winder_turns"].get<double>()));
    cells.push_back(fmt::format("{:.0f}", step["turns"].get<double>()));
    cells.push_back(fmt::format("{:.2f}", 1e3 * step["torque_Nm"].get<double>()));
    cells.push_back(fmt::format("{:.1f}", step["torque_g_cm"].get<double>()));
    cells.push_back(fmt::format("{:.3f}", step["torque_oz_in"].get<double>()));
    if (meter) {
      cells.push_back(fmt::format("{:.1f}{}", step["reading"].get<double>(),
                                  step["beyond"].get<bool>() ? " *" : ""));
    }
    table.add(cells);
  }
  const Json& beyond = card["meter_beyond"];
  return table.text() + (beyond.is_string() ? "* " + beyond.get<std::string>() + "\n" : "");
}

std::string changes_text(const Json& changes) {
  if (changes.empty()) return "";
  TextTable table({"what differs", "on the sheet", "today", "back off", "launch mN·m", "flight s"});
  for (const Json& change : changes) {
    const std::string what = change["what"].get<std::string>();
    table.add({what == "all" ? "all together" : what, change["from"].get<std::string>(),
               change["to"].get<std::string>(),
               fmt::format("{:+.0f}", change["back_off_change_turns"].get<double>()),
               fmt::format("{:+.3f}", 1e3 * change["launch_torque_change_Nm"].get<double>()),
               fmt::format("{:+.0f}", change["duration_change_s"].get<double>())});
  }
  return "\nAgainst the sheet\n\n" + table.text();
}

}  // namespace

std::string rubber_tables_text(const Json& answer) {
  std::string out;
  for (const auto& [name, part] : answer.items()) {
    if (!part.is_object()) continue;
    out += (out.empty() ? "" : "\n") + table_text(name, part);
  }
  return out;
}

std::string wind_text(const Json& answer) {
  const Json& card = answer["card"];
  std::string out;
  for (const Json& sentence : answer["sentences"]) out += sentence.get<std::string>() + "\n";
  out += "\n" + steps_text(card) + changes_text(answer["changes"]);
  out += bullet_list("Notes", floor_strings(answer["notes"]));
  return out + "\n" + answer["caution"].get<std::string>() + "\n";
}

}  // namespace propwright::desk
