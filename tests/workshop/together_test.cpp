// Several threads with one workshop, several workshops with one file.
#include <SQLiteCpp/SQLiteCpp.h>
#include <gmock/gmock.h>

#include <atomic>
#include <thread>

#include "support.h"

namespace propwright::workshop::test {
namespace {

/// One thread each writes `writes` times to one record, reading anew after each stale answer.
void write_in_turns(std::vector<Workshop*> workshops, const std::string& id, int writes) {
  std::atomic<int> failed = 0;
  std::vector<std::thread> threads;
  for (Workshop* const workshop : workshops) {
    threads.emplace_back([&, workshop] {
      for (int done = 0; done < writes;) {
        const auto seen = workshop->get(RecordKind::hall, id);
        if (!seen) ++failed;
        if (!seen || failed > 0) return;
        const int count = std::stoi((*seen)->content.name);
        const auto change = workshop->update(RecordKind::hall, id, (*seen)->revision,
                                             hall(std::to_string(count + 1)));
        if (!change) ++failed;
        if (failed > 0) return;
        if (change->done == Done::written) ++done;
      }
    });
  }
  for (std::thread& thread : threads) thread.join();
  EXPECT_EQ(failed, 0);
}

TEST(Together, NoIncrementIsLostAmongThreadsWithOneWorkshop) {
  const Folder folder;
  Workshop workshop = open(folder / "w.sqlite");
  const std::string id = value_of(workshop.create(RecordKind::hall, hall("0"))).id;
  write_in_turns({&workshop, &workshop, &workshop, &workshop}, id, 25);
  EXPECT_EQ(value_of(workshop.get(RecordKind::hall, id))->content.name, "100");
}

TEST(Together, NoIncrementIsLostAmongWorkshopsOnOneFile) {
  const Folder folder;
  Workshop first = open(folder / "w.sqlite");
  Workshop second = open(folder / "w.sqlite");
  const std::string id = value_of(first.create(RecordKind::hall, hall("0"))).id;
  write_in_turns({&first, &second}, id, 50);
  EXPECT_EQ(value_of(first.get(RecordKind::hall, id))->content.name, "100");
  EXPECT_EQ(value_of(first.get(RecordKind::hall, id))->revision, 101);
}

TEST(Together, ReadersSeeWholeDesignsWhileOthersWrite) {
  const Folder folder;
  Workshop writer = open(folder / "w.sqlite");
  Workshop reader = open(folder / "w.sqlite");
  const Design made = value_of(writer.create_design(design("D", "1 in")));
  std::atomic<bool> writing = true;
  std::thread thread([&] {
    for (int version = 2; version <= 60; ++version) {
      DesignContent content = design("D", std::to_string(version) + " in");
      content.summary.duration_s = version;
      value_of(writer.add_version(made.row.id, version - 1, content));
    }
    writing = false;
  });
  int seen = 0;
  while (writing) {
    const auto got = reader.get_design(made.row.id);
    if (!got || !*got) {
      ADD_FAILURE() << "the design could not be read";
      break;
    }
    const Design& whole = **got;
    EXPECT_EQ(static_cast<int>(whole.versions.size()), whole.row.version);
    EXPECT_EQ(whole.versions.front().summary.duration_s, whole.row.summary.duration_s);
    EXPECT_THAT(whole.document_json,
                testing::HasSubstr("\"" + std::to_string(whole.row.version) + " in\""));
    ++seen;
  }
  thread.join();
  EXPECT_GT(seen, 0);
}

TEST(Together, SeveralMayMakeTheFileAtOnce) {
  const Folder folder;
  std::vector<std::thread> threads;
  std::atomic<int> failed = 0;
  for (int i = 0; i < 6; ++i) {
    threads.emplace_back([&, i] {
      auto workshop = Workshop::open(folder / "w.sqlite");
      if (!workshop) {
        ++failed;
        ADD_FAILURE() << base::to_line(workshop.error().front());
        return;
      }
      const auto made = workshop->create(RecordKind::hall, hall(std::to_string(i)));
      if (!made) {
        ++failed;
        ADD_FAILURE() << base::to_line(made.error().front());
      }
    });
  }
  for (std::thread& thread : threads) thread.join();
  EXPECT_EQ(failed, 0);
  EXPECT_EQ(value_of(open(folder / "w.sqlite").list(RecordKind::hall)).total, 6);
  EXPECT_EQ(folder.listing(), "w.sqlite");
}

TEST(Together, OfManyWhoAskForANameOneMakesItAndAllGetTheSame) {
  const Folder folder;
  std::vector<std::thread> threads;
  std::vector<std::string> ids(8);
  for (std::size_t at = 0; at < ids.size(); ++at) {
    threads.emplace_back([&, at] {
      Workshop workshop = open(folder / "w.sqlite");
      const auto made = workshop.create_named(RecordKind::session, {"Millbrook, 21 Nov", "{}"});
      if (made) ids[at] = made->id;
    });
  }
  for (std::thread& thread : threads) thread.join();
  EXPECT_THAT(ids, testing::Each(testing::AllOf(ids.front(), testing::Ne(""))));
  EXPECT_EQ(value_of(open(folder / "w.sqlite").list(RecordKind::session)).total, 1);
}

TEST(Records, CreateNamedLeavesArchivedOnesAndOtherSpellingsAlone) {
  Workshop workshop = value_of(Workshop::in_memory());
  const Record first = value_of(workshop.create_named(RecordKind::session, {"Club", "{}"}));
  EXPECT_EQ(value_of(workshop.create_named(RecordKind::session, {"Club", "{}"})).id, first.id);
  EXPECT_NE(value_of(workshop.create_named(RecordKind::session, {"club", "{}"})).id, first.id);
  value_of(workshop.archive(RecordKind::session, first.id, 1));
  EXPECT_NE(value_of(workshop.create_named(RecordKind::session, {"Club", "{}"})).id, first.id);
}

TEST(Together, AWriterThatWaitsTooLongSaysSo) {
  const Folder folder;
  Options impatient = options();
  impatient.busy_timeout_ms = 50;
  Workshop workshop = open(folder / "w.sqlite", impatient);
  SQLite::Database holder((folder / "w.sqlite").string(), SQLite::OPEN_READWRITE);
  holder.exec("BEGIN IMMEDIATE");
  const auto made = workshop.create(RecordKind::model, {"M", "{}"});
  EXPECT_THAT(problem_of(made, "workshop").message, testing::HasSubstr("another program"));
  EXPECT_EQ(made.error().front().kind, base::Kind::resource_failed);
  EXPECT_EQ(value_of(workshop.list(RecordKind::model)).total, 0);  // reading needs no waiting
  holder.exec("COMMIT");
  EXPECT_TRUE(workshop.create(RecordKind::model, {"M", "{}"}));
}

}  // namespace
}  // namespace propwright::workshop::test
