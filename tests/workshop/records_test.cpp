// Records with one JSON object: made, read, changed, archived; what is refused.
#include <gmock/gmock.h>

#include "support.h"

namespace propwright::workshop::test {
namespace {

using testing::HasSubstr;

TEST(Records, EveryKindIsMadeAndReadBack) {
  Workshop workshop = in_memory();
  for (const RecordKind kind : record_kinds) {
    const Content content{"Name", R"({"a":[1,2.5,"x"]})", {}, {}};
    const Record made = value_of(workshop.create(kind, content));
    EXPECT_EQ(made.id.size(), 16);
    const auto got = value_of(workshop.get(kind, made.id));
    ASSERT_TRUE(got) << table_of(kind);
    EXPECT_EQ(got->kind, kind);
    EXPECT_EQ(got->revision, 1);
    EXPECT_EQ(got->content.name, "Name");
    EXPECT_EQ(got->content.section_json, content.section_json);
    EXPECT_EQ(got->created_at, made.created_at);
    EXPECT_EQ(got->archived_at, "");
    EXPECT_EQ(kind_of(table_of(kind)), kind);
  }
  EXPECT_EQ(kind_of("designs"), std::nullopt);
}

TEST(Records, TimesComeFromTheCallersClock) {
  Workshop workshop = in_memory();  // which reads the clock once
  const Record made = value_of(workshop.create(RecordKind::hall, hall("H")));
  EXPECT_EQ(made.created_at, "2026-11-25T15:00:01.000Z");
  const auto changed = value_of(workshop.update(RecordKind::hall, made.id, 1, hall("H2")));
  EXPECT_EQ(changed.present.created_at, "2026-11-25T15:00:01.000Z");
  EXPECT_EQ(changed.present.updated_at, "2026-11-25T15:00:02.000Z");
}

TEST(Records, AnAbsentIdIsAbsentAndNoProblem) {
  Workshop workshop = in_memory();
  EXPECT_FALSE(value_of(workshop.get(RecordKind::hall, "nothing")));
  const auto change = value_of(workshop.update(RecordKind::hall, "nothing", 1, hall("H")));
  EXPECT_EQ(change.done, Done::absent);
  EXPECT_EQ(value_of(workshop.archive(RecordKind::hall, "nothing", 1)).done, Done::absent);
}

TEST(Records, AStaleWriteIsRefusedWithThePresentRecord) {
  Workshop workshop = in_memory();
  const Record made = value_of(workshop.create(RecordKind::hall, hall("H")));
  ASSERT_EQ(value_of(workshop.update(RecordKind::hall, made.id, 1, hall("First tab"))).done,
            Done::written);
  const auto second = value_of(workshop.update(RecordKind::hall, made.id, 1, hall("Second tab")));
  EXPECT_EQ(second.done, Done::stale);
  EXPECT_EQ(second.present.content.name, "First tab");
  EXPECT_EQ(second.present.revision, 2);
  EXPECT_EQ(value_of(workshop.get(RecordKind::hall, made.id))->content.name, "First tab");
  EXPECT_EQ(value_of(workshop.archive(RecordKind::hall, made.id, 1)).done, Done::stale);
}

TEST(Records, ArchiveAndRestoreKeepTheRecordAndCountTheRevision) {
  Workshop workshop = in_memory();
  const Record made = value_of(workshop.create(RecordKind::hall, hall("H")));
  const auto archived = value_of(workshop.archive(RecordKind::hall, made.id, 1));
  EXPECT_EQ(archived.done, Done::written);
  EXPECT_EQ(archived.present.archived_at, archived.present.updated_at);
  EXPECT_EQ(archived.present.revision, 2);
  const auto again = value_of(workshop.archive(RecordKind::hall, made.id, 2));
  EXPECT_EQ(again.present.revision, 2);
  EXPECT_EQ(again.present.archived_at, archived.present.archived_at);
  const auto back = value_of(workshop.restore(RecordKind::hall, made.id, 2));
  EXPECT_EQ(back.present.archived_at, "");
  EXPECT_EQ(back.present.content.section_json, made.content.section_json);
}

TEST(Records, AnIdMadeElsewhereMayBeSentTwice) {
  Workshop workshop = in_memory();
  const Record once = value_of(workshop.create(RecordKind::flight, hall("1"), "phone-1"));
  const Record twice = value_of(workshop.create(RecordKind::flight, hall("1"), "phone-1"));
  EXPECT_EQ(twice.created_at, once.created_at);
  EXPECT_EQ(value_of(workshop.list(RecordKind::flight)).total, 1);
  const auto other = workshop.create(RecordKind::flight, hall("2"), "phone-1");
  EXPECT_THAT(problem_of(other, "id").message, HasSubstr("another record"));
  problem_of(workshop.create(RecordKind::flight, hall("2"), "Phone 1"), "id");
}

TEST(Records, EverythingWrongIsReportedAtOnce) {
  Workshop workshop = in_memory();
  const Content bad{"  ", "[1]", "a,b", {{"rubber_id", "x"}}};
  const auto refused = workshop.create(RecordKind::hall, bad);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().size(), 4) << lines(refused.error());
  for (const char* const field : {"name", "section", "curve_csv", "rubber_id"}) {
    EXPECT_EQ(problem_of(refused, field).kind, base::Kind::bad_input);
  }
  EXPECT_EQ(value_of(workshop.list(RecordKind::hall)).total, 0);
}

TEST(Records, BrokenJsonIsRefusedWithItsLine) {
  Workshop workshop = in_memory();
  const auto refused = workshop.create(RecordKind::hall, {"H", "{\n\"a\": 1,\n}", {}, {}});
  EXPECT_EQ(problem_of(refused, "section").line, 3);
}

TEST(Records, JsonIsLimitedInDepthAndSize) {
  Workshop workshop = in_memory();
  const auto nested = [](int levels) {
    return std::string(R"({"a":)") + std::string(levels - 1, '[') + std::string(levels - 1, ']') +
           "}";
  };
  EXPECT_TRUE(workshop.create(RecordKind::hall, {"H", nested(64), {}, {}}));
  EXPECT_THAT(
      problem_of(workshop.create(RecordKind::hall, {"H", nested(65), {}, {}}), "section").message,
      HasSubstr("deep"));
  const std::string large = R"({"a":")" + std::string(1024 * 1024, 'x') + R"("})";
  EXPECT_THAT(
      problem_of(workshop.create(RecordKind::hall, {"H", large, {}, {}}), "section").message,
      HasSubstr("large"));
}

TEST(Records, NamesAreTextOfReasonableLength) {
  Workshop workshop = in_memory();
  const auto name = [&](const std::string& text) {
    return workshop.create(RecordKind::hall, hall(text)).has_value();
  };
  EXPECT_TRUE(name(std::string(200, 'x')));
  EXPECT_FALSE(name(std::string(201, 'x')));
  EXPECT_FALSE(name(""));
  EXPECT_FALSE(name("two\nlines"));
  EXPECT_FALSE(name(std::string("a\0b", 3)));
  EXPECT_FALSE(name("\xC3"));          // cut in the middle of a letter
  EXPECT_FALSE(name("\xED\xA0\x80"));  // half a surrogate pair
  EXPECT_TRUE(name("Žlutý kůň 漢字 🛩"));
}

TEST(Records, ALinkMustLeadToARecord) {
  Workshop workshop = in_memory();
  const auto refused = workshop.create(RecordKind::motor, {"M", "{}", {}, {{"rubber_id", "gone"}}});
  EXPECT_EQ(problem_of(refused, "rubber_id").value, "gone");
  const Record batch = value_of(workshop.create(RecordKind::rubber, rubber("B")));
  const Record motor =
      value_of(workshop.create(RecordKind::motor, {"M", "{}", {}, {{"rubber_id", batch.id}}}));
  EXPECT_EQ(value_of(workshop.get(RecordKind::motor, motor.id))->content.links.at("rubber_id"),
            batch.id);
  const auto loose = value_of(workshop.update(RecordKind::motor, motor.id, 1, {"M", "{}", {}, {}}));
  EXPECT_TRUE(loose.present.content.links.empty());
  problem_of(workshop.update(RecordKind::motor, motor.id, 2, {"M", "{}", {}, {{"rubber_id", "x"}}}),
             "rubber_id");
}

TEST(Records, APropellerHasTwoDifferentBlades) {
  Workshop workshop = in_memory();
  const Record blade = value_of(workshop.create(RecordKind::blade, {"A", "{}"}));
  const auto twice = workshop.create(
      RecordKind::propeller, {"P", "{}", {}, {{"blade_a_id", blade.id}, {"blade_b_id", blade.id}}});
  ASSERT_FALSE(twice);
  EXPECT_EQ(twice.error().front().kind, base::Kind::bad_input);
}

TEST(Records, TheCurveOfARubberIsKeptByteForByte) {
  Workshop workshop = in_memory();
  const Record batch = value_of(workshop.create(RecordKind::rubber, rubber("B")));
  EXPECT_EQ(value_of(workshop.get(RecordKind::rubber, batch.id))->content.attached,
            rubber("B").attached);
  // A list does not carry it along.
  EXPECT_EQ(value_of(workshop.list(RecordKind::rubber)).items.front().content.attached, "");
}

TEST(Records, JsonIsKeptCompactAndItsMembersInOrder) {
  Workshop workshop = in_memory();
  const Record made = value_of(workshop.create(
      RecordKind::hall, {"H", "{ \"z\" : 1.50,\n \"a\": [ true, null, \"\\u00e9\" ] }", {}, {}}));
  EXPECT_EQ(made.content.section_json, "{\"z\":1.5,\"a\":[true,null,\"\u00e9\"]}");
}

}  // namespace
}  // namespace propwright::workshop::test
