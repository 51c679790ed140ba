// Lists: search, archived, order, pages; and quick with ten thousand designs.
#include <gmock/gmock.h>

#include <algorithm>
#include <chrono>

#include "support.h"

namespace propwright::workshop::test {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

std::vector<std::string> names(const Page<DesignRow>& page) {
  std::vector<std::string> result;
  for (const DesignRow& row : page.items) result.push_back(row.name);
  return result;
}

DesignContent named(const std::string& name, std::optional<double> duration_s,
                    const std::string& hall_name = "Hall", const std::string& note = "") {
  DesignContent content = design(name);
  content.note = note;
  content.summary = {duration_s, std::nullopt, std::nullopt, hall_name, "Model"};
  return content;
}

class Lists : public testing::Test {
 protected:
  Lists() {
    for (const auto& content :
         {named("beta", 500.0), named("Alpha", std::nullopt, "Öl-Halle"),
          named("Gamma 100%", 700.0, "Hall", "with the WIDE tip"), named("delta", 600.0)}) {
      ids.push_back(value_of(workshop.create_design(content)).row.id);
    }
  }
  std::vector<std::string> found(const Query& query) {
    return names(value_of(workshop.list_designs(query)));
  }
  Workshop workshop = in_memory();
  std::vector<std::string> ids;
};

TEST_F(Lists, TheLastChangedComesFirst) {
  EXPECT_THAT(found({}), ElementsAre("delta", "Gamma 100%", "Alpha", "beta"));
  value_of(workshop.save_design(ids[0], 1, named("beta", 510.0)));
  EXPECT_EQ(found({}).front(), "beta");
}

TEST_F(Lists, OrderByNameLooksNotAtCapitals) {
  EXPECT_THAT(found({.sort = "name"}), ElementsAre("Alpha", "beta", "delta", "Gamma 100%"));
  EXPECT_THAT(found({.sort = "-name"}), ElementsAre("Gamma 100%", "delta", "beta", "Alpha"));
}

TEST_F(Lists, WhatIsUnknownComesLastInBothOrders) {
  EXPECT_THAT(found({.sort = "duration"}), ElementsAre("beta", "delta", "Gamma 100%", "Alpha"));
  EXPECT_THAT(found({.sort = "-duration"}), ElementsAre("Gamma 100%", "delta", "beta", "Alpha"));
}

TEST_F(Lists, EveryWordMustOccurInWhateverCase) {
  EXPECT_THAT(found({.text = "ALPHA"}), ElementsAre("Alpha"));
  EXPECT_THAT(found({.text = "öl"}), ElementsAre("Alpha"));  // in the hall, written Öl
  EXPECT_THAT(found({.text = "tip gamma"}), ElementsAre("Gamma 100%"));
  EXPECT_THAT(found({.text = "100%"}), ElementsAre("Gamma 100%"));
  EXPECT_THAT(found({.text = "%"}), ElementsAre("Gamma 100%"));  // a letter like others
  EXPECT_THAT(found({.text = "gamma missing"}), ElementsAre());
  EXPECT_EQ(found({.text = "  "}).size(), 4);
}

TEST_F(Lists, ArchivedOnesHaveTheirOwnList) {
  value_of(workshop.archive_design(ids[3], 1));
  EXPECT_EQ(found({}).size(), 3);
  EXPECT_THAT(found({.shown = Shown::archived}), ElementsAre("delta"));
  EXPECT_EQ(found({.shown = Shown::all}).size(), 4);
}

TEST_F(Lists, PagesFitTogetherAndKnowTheTotal) {
  const auto first = value_of(workshop.list_designs({.sort = "name", .limit = 3, .offset = 0}));
  const auto second = value_of(workshop.list_designs({.sort = "name", .limit = 3, .offset = 3}));
  EXPECT_EQ(first.total, 4);
  EXPECT_THAT(names(first), ElementsAre("Alpha", "beta", "delta"));
  EXPECT_THAT(names(second), ElementsAre("Gamma 100%"));
  EXPECT_EQ(value_of(workshop.list_designs({.limit = 0})).total, 4);
}

TEST_F(Lists, NothingFoundOrPastTheEndIsAnEmptyPageOfTheRightTotal) {
  const auto none = value_of(workshop.list_designs({.text = "omega"}));
  EXPECT_EQ(none.total, 0);
  EXPECT_TRUE(none.items.empty());
  const auto past = value_of(workshop.list_designs({.limit = 2, .offset = 4}));
  EXPECT_EQ(past.total, 4);
  EXPECT_TRUE(past.items.empty());
  EXPECT_EQ(value_of(workshop.list_designs({.limit = 0})).total, 4);
  EXPECT_EQ(found({.limit = 2, .offset = 3}).size(), 1u);
}

TEST_F(Lists, WhatCannotBeListedIsReportedAtOnce) {
  const auto refused =
      workshop.list_designs({.text = "\xFF", .sort = "size", .limit = 1001, .offset = -1});
  EXPECT_THAT(problem_of(refused, "sort").allowed, HasSubstr("duration"));
  problem_of(refused, "limit");
  problem_of(refused, "offset");
  problem_of(refused, "q");
  problem_of(workshop.list(RecordKind::hall, {.sort = "duration"}), "sort");
}

TEST(ListsOfRecords, SearchOrderAndArchive) {
  Workshop workshop = in_memory();
  for (const char* const name : {"Long hall", "Short hall", "Hangar"}) {
    value_of(workshop.create(RecordKind::hall, hall(name)));
  }
  const auto found = value_of(workshop.list(RecordKind::hall, {.text = "HALL", .sort = "name"}));
  EXPECT_EQ(found.total, 2);
  EXPECT_EQ(found.items[0].content.name, "Long hall");
  EXPECT_THAT(found.items[0].content.section_json, HasSubstr("roof_height"));
}

TEST(ListsOfTenThousand, AnswerWithoutAVisiblePause) {
  const Folder folder;
  {
    Workshop workshop = open(folder / "w.sqlite");
    // By import, since ten thousand writes to the disk would take a minute.
    std::string versions, designs;
    for (int i = 0; i < 10000; ++i) {
      const std::string n = std::to_string(i);
      designs += std::string(i == 0 ? "" : ",") + R"({"id":"d)" + n + R"(","name":"Design )" +
                 std::to_string(i * 7919 % 10000) +
                 R"(","revision":1,"created_at":"2026-01-01T00:00:00.000Z",)"
                 R"("updated_at":"2026-01-01T00:00:00.000Z","versions":[{"version":1,)"
                 R"("saved_at":"2026-01-01T00:00:00.000Z","duration_s":)" +
                 std::to_string(i % 977) + R"(,"hall_name":"Sports hall","document":{"job":)" +
                 R"({"job":{"name":")" + std::string(2500, 'x') + R"("}}}}]})";
    }
    value_of(workshop.import_json(
        R"({"format":"propwright workshop","format_version":1,"designs":[)" + designs + "]}"));
  }
  Workshop workshop = open(folder / "w.sqlite");
  for (const Query& query :
       {Query{}, Query{.sort = "name"}, Query{.sort = "-duration", .limit = 1000},
        Query{.sort = "hall"}, Query{.text = "design 77 sports", .sort = "-duration"},
        Query{.text = "nothing has this"}, Query{.sort = "duration", .offset = 9900}}) {
    double least_ms = 1e9;
    for (int i = 0; i < 5; ++i) {
      const auto from = std::chrono::steady_clock::now();
      value_of(workshop.list_designs(query));
      const auto took = std::chrono::steady_clock::now() - from;
      least_ms = std::min(least_ms, std::chrono::duration<double, std::milli>(took).count());
    }
    // The least of five, so that what else the machine does matters little. 50 ms is the promise
    // to the user; sanitizers and a debug build stay below it as well.
    EXPECT_LT(least_ms, 50.0) << query.text << " " << query.sort;
  }
}

TEST(RecordLists, ByALinkShowOnlyWhatHasIt) {
  Workshop workshop = in_memory();
  const auto made = [&](RecordKind kind, const std::string& name,
                        std::map<std::string, std::string> links) {
    return value_of(workshop.create(kind, {.name = name, .section_json = "{}", .links = links})).id;
  };
  const std::string one = made(RecordKind::batch, "1", {}), two = made(RecordKind::batch, "2", {});
  made(RecordKind::spar, "a", {{"batch_id", one}});
  made(RecordKind::spar, "b", {{"batch_id", two}});
  made(RecordKind::spar, "ab", {{"batch_id", one}});
  made(RecordKind::spar, "c", {});
  const auto found =
      value_of(workshop.list(RecordKind::spar, {.sort = "name", .links = {{"batch_id", one}}}));
  EXPECT_EQ(found.total, 2);
  ASSERT_EQ(found.items.size(), 2);
  EXPECT_EQ(found.items[0].content.name, "a");
  EXPECT_EQ(found.items[1].content.name, "ab");
  const auto with_word =
      value_of(workshop.list(RecordKind::spar, {.text = "b", .links = {{"batch_id", one}}}));
  EXPECT_EQ(with_word.total, 1);
  EXPECT_EQ(problem_of(workshop.list(RecordKind::hall, {.links = {{"batch_id", one}}}), "batch_id")
                .allowed,
            "no links");
  EXPECT_THAT(
      problem_of(workshop.list(RecordKind::spar, {.links = {{"rig_id", one}}}), "rig_id").allowed,
      HasSubstr("batch_id"));
  EXPECT_EQ(problem_of(workshop.list_designs({.links = {{"batch_id", one}}}), "batch_id").allowed,
            "no links");
}

}  // namespace
}  // namespace propwright::workshop::test
