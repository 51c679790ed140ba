// Export and import: exact round trips, every problem with its path, all or nothing.
#include <gmock/gmock.h>
#include <rapidcheck.h>

#include <nlohmann/json.hpp>

#include "faults.h"
#include "support.h"

namespace propwright::workshop::test {
namespace {

using testing::HasSubstr;

TEST(Export, HasEveryRecordUnderItsTable) {
  const Json json = Json::parse(filled_export());
  EXPECT_EQ(json["format"], "propwright workshop");
  EXPECT_EQ(json["format_version"], 1);
  EXPECT_EQ(json["halls"].size(), 2);
  EXPECT_EQ(json["designs"].size(), 2);
  for (const RecordKind kind : record_kinds) {
    EXPECT_FALSE(json[std::string(table_of(kind))].empty()) << table_of(kind);
  }
  const auto& design =
      json["designs"][0]["versions"].size() == 2 ? json["designs"][0] : json["designs"][1];
  EXPECT_EQ(design["versions"][0]["document"]["job"]["propeller"]["pitch"], "24 in");
  EXPECT_EQ(design["versions"][1]["built_at"], nullptr);
}

TEST(Export, TheSameContentGivesTheSameBytes) {
  Workshop workshop = in_memory();
  fill(workshop);
  EXPECT_EQ(value_of(workshop.export_json()), value_of(workshop.export_json()));
}

TEST(Import, RoundTripIsExact) {
  const std::string text = filled_export();
  Workshop empty = in_memory();
  const auto report = value_of(empty.import_json(text));
  EXPECT_EQ(report.skipped, 0);
  EXPECT_EQ(report.added.front(), std::pair(std::string("halls"), std::int64_t{2}));
  EXPECT_EQ(value_of(empty.export_json()), text);
  EXPECT_TRUE(value_of(empty.check()).problems.empty());
  const auto found = value_of(empty.list_designs({.text = "LANTERN"}));  // search works as before
  EXPECT_EQ(found.total, 2);
}

TEST(Import, WhatIsThereAlreadyIsSkippedAndCounted) {
  const std::string text = filled_export();
  Workshop workshop = in_memory();
  value_of(workshop.import_json(text));
  const auto again = value_of(workshop.import_json(text));
  EXPECT_EQ(again.skipped, 23);
  for (const auto& [table, count] : again.added) EXPECT_EQ(count, 0) << table;
  EXPECT_EQ(value_of(workshop.export_json()), text);
}

TEST(Import, TheOrderOfMembersIsNoOtherContent) {
  Workshop workshop = in_memory();
  value_of(workshop.import_json(filled_export()));
  const std::string text = value_of(workshop.export_json());
  const std::string sorted = nlohmann::json::parse(text).dump();
  EXPECT_EQ(value_of(workshop.import_json(sorted)).skipped, 23);
}

TEST(Import, IntoAWorkshopWithOtherRecordsAddsToThem) {
  Workshop workshop = in_memory();
  value_of(workshop.create(RecordKind::hall, hall("Mine")));
  value_of(workshop.import_json(filled_export()));
  EXPECT_EQ(value_of(workshop.list(RecordKind::hall, {.shown = Shown::all})).total, 3);
}

TEST(Import, AnIdWithOtherContentIsReportedAndNothingIsChanged) {
  const std::string text = filled_export();
  Workshop workshop = in_memory();
  value_of(workshop.import_json(text));
  Json changed = Json::parse(text);
  changed["halls"][1]["name"] = "Another name";
  changed["designs"][0]["versions"][0]["note"] = "another note";
  changed["models"].push_back(changed["models"][0]);
  changed["models"][1]["id"] = "new-one";
  const auto refused = workshop.import_json(changed.dump(), "export.json");
  EXPECT_THAT(problem_of(refused, "halls[1].id").message, HasSubstr("halls"));
  EXPECT_EQ(problem_of(refused, "designs[0].id").file, "export.json");
  EXPECT_EQ(refused.error().size(), 2);
  EXPECT_EQ(value_of(workshop.export_json()), text);
}

TEST(Import, EveryFaultIsReportedWithItsPath) {
  const Json sound = Json::parse(filled_export());
  for (const Fault& fault : faults) {
    Json unsound = sound;
    fault.make(unsound);
    Workshop workshop = in_memory();
    const base::Problem problem = problem_of(workshop.import_json(unsound.dump()), fault.path);
    EXPECT_EQ(problem.kind, base::Kind::bad_input) << fault.path;
    EXPECT_FALSE(problem.remedy.empty()) << fault.path;
    EXPECT_EQ(value_of(workshop.list(RecordKind::hall, {.shown = Shown::all})).total, 0);
  }
}

TEST(Import, AllProblemsOfAFileAreReportedAtOnce) {
  Json json = Json::parse(filled_export());
  json["halls"][0]["name"] = "";
  json["halls"][1]["revision"] = -2;
  json["designs"][0]["versions"][0]["saved_at"] = "";
  json["spars"][0]["extra"] = 1;
  Workshop workshop = in_memory();
  const auto refused = workshop.import_json(json.dump());
  for (const char* const path : {"halls[0].name", "halls[1].revision",
                                 "designs[0].versions[0].saved_at", "spars[0].extra"}) {
    problem_of(refused, path);
  }
}

TEST(Import, ATableThatIsMisspeltIsAnsweredWithTheNearest) {
  Json json = Json::parse(filled_export());
  json["designes"] = Json::array();
  Workshop workshop = in_memory();
  EXPECT_THAT(problem_of(workshop.import_json(json.dump()), "designes").remedy,
              HasSubstr("designs"));
}

TEST(Import, WhatIsNoJsonIsRefusedWithItsLine) {
  Workshop workshop = in_memory();
  EXPECT_EQ(problem_of(workshop.import_json("{\n\"format\":", "x.json"), "").line, 2);
  EXPECT_FALSE(workshop.import_json("[]"));
  EXPECT_FALSE(workshop.import_json(""));
  EXPECT_FALSE(workshop.import_json(std::string(100000, '[')));
  EXPECT_FALSE(workshop.import_json("\"\xFF\""));
}

// --- properties
// ------------------------------------------------------------------------------------

rc::Gen<std::string> any_name() {
  return rc::gen::map(
      rc::gen::container<std::vector<std::string>>(rc::gen::elementOf(std::vector<std::string>{
          "a", "Z", " ", "9", "é", "Ł", "漢", "🛩", "\"", "\\", "%", "'"})),
      [](const std::vector<std::string>& letters) {
        std::string name = "N";
        for (const std::string& letter : letters) name += letter;
        return name.substr(0, name.size() > 180 ? 1 : name.npos);
      });
}

Json any_json(int depth) {
  const int kind = *rc::gen::inRange(0, depth > 0 ? 8 : 6);
  switch (kind) {
    case 0:
      return nullptr;
    case 1:
      return *rc::gen::arbitrary<bool>();
    case 2:
      return *rc::gen::arbitrary<std::int64_t>();
    case 3: {
      const double number = *rc::gen::arbitrary<double>();
      return std::isfinite(number) ? Json(number) : Json(0.1);
    }
    case 4:
      return *any_name();
    case 5:
      return std::string("line\n\ttab \x01 and \0 nothing", 26);
    case 6: {
      Json list = Json::array();
      for (int i = *rc::gen::inRange(0, 4); i > 0; --i) list.push_back(any_json(depth - 1));
      return list;
    }
    default: {
      Json object = Json::object();
      for (int i = *rc::gen::inRange(0, 4); i > 0; --i) object[*any_name()] = any_json(depth - 1);
      return object;
    }
  }
}

std::string any_object() {
  Json object = Json::object();
  for (int i = *rc::gen::inRange(0, 4); i > 0; --i) object[*any_name()] = any_json(3);
  return object.dump(*rc::gen::inRange(-1, 3));
}

std::optional<double> any_figure() {
  if (*rc::gen::arbitrary<bool>()) return std::nullopt;
  const double figure = std::abs(*rc::gen::arbitrary<double>());
  return std::isfinite(figure) ? figure : 1.0;
}

DesignContent any_design() {
  return {*any_name(),
          R"({"job":)" + any_object() + R"(,"attachments":)" + any_object() + "}",
          *any_name(),
          {any_figure(), any_figure(), any_figure(), *any_name(), ""}};
}

void any_step(Workshop& workshop, std::vector<std::string>& design_ids) {
  const auto pick = [&] { return *rc::gen::elementOf(design_ids); };
  const int step = design_ids.empty() ? *rc::gen::inRange(0, 2) : *rc::gen::inRange(0, 7);
  if (step == 0) {
    const RecordKind kind =
        *rc::gen::elementOf(std::vector<RecordKind>(record_kinds.begin(), record_kinds.end()));
    const Content content{
        *any_name(),
        any_object(),
        kind == RecordKind::rubber || kind == RecordKind::photo ? *any_name() : "",
        {}};
    const Record made = value_of(workshop.create(kind, content));
    if (*rc::gen::arbitrary<bool>()) value_of(workshop.archive(kind, made.id, 1));
    return;
  }
  if (step == 1) {
    design_ids.push_back(value_of(workshop.create_design(any_design())).row.id);
    return;
  }
  const std::string id = pick();
  const Design seen = *value_of(workshop.get_design(id));
  if (step == 2 || step == 3) {
    value_of(workshop.save_design(id, seen.row.revision, any_design()));
  } else if (step == 4) {
    value_of(
        workshop.mark_built(id, seen.row.revision, *rc::gen::inRange(1, seen.row.version + 1)));
  } else if (step == 5) {
    value_of(workshop.archive_design(id, seen.row.revision));
  } else {
    design_ids.push_back(value_of(workshop.duplicate_design(id, *any_name()))->row.id);
  }
}

TEST(ExportLaws, AnyHistoryRoundTripsByteForByteAndChecksSound) {
  EXPECT_TRUE(rc::check("export, import, export", [] {
    Workshop workshop = in_memory();
    std::vector<std::string> design_ids;
    for (int steps = *rc::gen::inRange(0, 12); steps > 0; --steps) any_step(workshop, design_ids);
    const std::string text = value_of(workshop.export_json());
    Workshop other = in_memory();
    value_of(other.import_json(text));
    RC_ASSERT(value_of(other.export_json()) == text);
    RC_ASSERT(value_of(workshop.check()).problems.empty());
    RC_ASSERT(value_of(other.check()).problems.empty());
    for (const std::string& id : design_ids) {
      const Design a = *value_of(workshop.get_design(id)), b = *value_of(other.get_design(id));
      RC_ASSERT(a.document_json == b.document_json);
      RC_ASSERT(a.row.built_version == b.row.built_version);
      RC_ASSERT(a.row.summary.duration_s == b.row.summary.duration_s);
    }
  }));
}

TEST(ExportLaws, AChangedByteIsRefusedOrImportedButNeverAFault) {
  const std::string text = filled_export();
  EXPECT_TRUE(rc::check("one byte changed", [&] {
    std::string changed = text;
    changed[*rc::gen::inRange<std::size_t>(0, text.size())] = *rc::gen::arbitrary<char>();
    Workshop workshop = in_memory();
    const auto imported = workshop.import_json(changed);
    if (!imported) {
      RC_ASSERT(!imported.error().empty());
      RC_ASSERT(value_of(workshop.list(RecordKind::hall, {.shown = Shown::all})).total == 0);
    } else {
      RC_ASSERT(value_of(workshop.check()).problems.empty());
    }
  }));
}

}  // namespace
}  // namespace propwright::workshop::test
