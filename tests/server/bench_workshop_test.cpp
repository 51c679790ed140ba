// From twelve spars to a propeller with its ledger, kept in the workshop.
#include <gtest/gtest.h>

#include <map>

#include "pages.h"

namespace propwright::server::test {
namespace {

const json bench_rig = {{"name", "Rig 2"},   {"load", "0.270 g"},      {"load_at", "6 in"},
                        {"read_at", "6 in"}, {"resolution", "1 thou"}, {"repeatability", "2 thou"}};

json spar_entry(int id, int mark_up, int mark_at_side) {
  const auto thou = [](int value) { return std::to_string(value) + " thou"; };
  return {{"id", std::to_string(id)},
          {"length", "7.25 in"},
          {"states",
           {{{"root_width", "59.5 thou"},
             {"tip_width", "31 thou"},
             {"mass", "27.1 mg"},
             {"reading_0", {thou(mark_up), thou(mark_up + 1)}},
             {"reading_90", {thou(mark_at_side), thou(mark_at_side + 1)}}}}}};
}

/// Twelve invented spars; each odd one has its like after it.
json twelve_spars() {
  const int readings[][2] = {{352, 412}, {353, 411}, {380, 398}, {379, 399},
                             {366, 424}, {367, 425}, {404, 409}, {405, 408},
                             {420, 444}, {421, 445}, {390, 434}, {391, 435}};
  json spars = json::array();
  for (const auto& reading : readings) {
    spars.push_back(spar_entry(static_cast<int>(spars.size()) + 1, reading[0], reading[1]));
  }
  return spars;
}

/// A record of the workshop; its id.
std::string kept(const Pages& pages, const std::string& kind, const std::string& name,
                 const json& section, const json& links = json::object()) {
  const Reply made =
      pages.ask("POST", "/api/" + kind, {{"name", name}, {"section", section}, {"links", links}});
  EXPECT_EQ(made.status, 201) << kind << made.text;
  return made.body().value("id", "");
}

json blade_entry(const char* id, const char* mass, const char* inner, const char* outer) {
  return {{"id", id},
          {"length", "195 mm"},
          {"mass", mass},
          {"centre_of_mass", "78 mm"},
          {"angles",
           {{{"radius", "80 mm"}, {"angle", inner}}, {{"radius", "140 mm"}, {"angle", outer}}}}};
}

/// The first matched pair of the twelve.
json matched_pair(const json& answer) {
  for (const json& pair : answer["pairs"]) {
    if (pair["verdict"] == "matched") return pair;
  }
  return nullptr;
}

TEST(BenchWorkshop, APropellerIsAssembledFromAPairOfTwelveSpars) {
  const Pages pages;
  const json spars = twelve_spars();
  const Reply judged =
      pages.ask("POST", "/api/bench/spars", {{"rig", bench_rig}, {"spars", spars}});
  ASSERT_EQ(judged.status, 200) << judged.text;
  EXPECT_TRUE(judged.body()["problems"].empty()) << judged.body()["problems"];
  ASSERT_EQ(judged.body()["pairs"].size(), 6);
  const json pair = matched_pair(judged.body());
  ASSERT_TRUE(pair.is_object()) << judged.body()["pairs"];

  const std::string rig = kept(pages, "rigs", "Rig 2", {{"rig", bench_rig}});
  const std::string batch =
      kept(pages, "batches", "Batch 7", {{"batch", json::object()}}, {{"rig_id", rig}});
  std::map<std::string, std::string> spar_ids;
  for (const json& spar : spars) {
    const std::string id = spar["id"];
    spar_ids[id] = kept(pages, "spars", "Spar " + id, {{"spar", spar}}, {{"batch_id", batch}});
  }

  const json a = blade_entry("A", "243 mg", "57 deg", "42 deg");
  const json b = blade_entry("B", "244 mg", "56.5 deg", "41.5 deg");
  const json hub = {{"hook_run_out", "0.2 mm"}, {"tubes_mass", "24 mg"}};
  const std::string blade_a = kept(pages, "blades", "Blade A", {{"blade", a}},
                                   {{"spar_id", spar_ids.at(pair["a"].get<std::string>())}});
  const std::string blade_b = kept(pages, "blades", "Blade B", {{"blade", b}},
                                   {{"spar_id", spar_ids.at(pair["b"].get<std::string>())}});
  const std::string hub_id = kept(pages, "hubs", "Hub 3", {{"hub", hub}});
  const std::string propeller =
      kept(pages, "propellers", "L46-A 1", {{"propeller", {{"gauge_radius", "120 mm"}}}},
           {{"blade_a_id", blade_a}, {"blade_b_id", blade_b}, {"hub_id", hub_id}});
  const json ledger = {
      {"parts",
       {{{"part", "Spars"}, {"weighed", "54 mg"}}, {{"part", "Hub"}, {"weighed", "171 mg"}}}}};
  const std::string weights =
      kept(pages, "weights", "L46-A 1", {{"ledger", ledger}}, {{"propeller_id", propeller}});

  // What the page asks of the records it reads back.
  const json read = pages.get("/api/weights/" + weights).body();
  EXPECT_EQ(read["links"]["propeller_id"], propeller);
  json question = document();
  question["relative_sigma"] = 0.05;
  question["ledger"] = read["section"]["ledger"];
  question["blades"] = {pages.get("/api/blades/" + blade_a).body()["section"]["blade"],
                        pages.get("/api/blades/" + blade_b).body()["section"]["blade"]};
  question["hub"] = pages.get("/api/hubs/" + hub_id).body()["section"]["hub"];
  question["shaking"] = {{"spar_mismatch", pair["mismatch_relative"]},
                         {"spar_sigma", pair["sigma_relative"]}};
  const Reply bench = pages.ask("POST", "/api/bench", question);
  ASSERT_EQ(bench.status, 200) << bench.text;
  EXPECT_TRUE(bench.body()["problems"].empty()) << bench.body()["problems"];
  EXPECT_EQ(bench.body()["blades"]["pair"]["angles"].size(), 2);
  EXPECT_TRUE(bench.body()["ledger"]["cost_s"].is_number());
  EXPECT_EQ(bench.body()["shaking"]["checks"][2]["verdict"], "ok");

  const std::string all = pages.get("/api/workshop/export").text;
  const Pages other;
  const Reply report = other.send("POST", "/api/workshop/import", all);
  ASSERT_EQ(report.status, 200) << report.text;
  EXPECT_EQ(report.body()["added"]["spars"], 12);
  EXPECT_EQ(other.get("/api/workshop/export").text, all);
  const json copy = other.get("/api/propellers/" + propeller).body();
  EXPECT_EQ(copy["links"]["blade_b_id"], blade_b);
  EXPECT_EQ(copy["links"]["hub_id"], hub_id);
}

}  // namespace
}  // namespace propwright::server::test
