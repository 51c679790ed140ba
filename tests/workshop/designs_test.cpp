// Designs: versions, what has been built stands fast, duplicates.
#include <gmock/gmock.h>

#include "support.h"

namespace propwright::workshop::test {
namespace {

using testing::HasSubstr;

TEST(Designs, ANewDesignIsVersionOne) {
  Workshop workshop = in_memory();
  const Design made = value_of(workshop.create_design(design("Lantern")));
  EXPECT_EQ(made.row.version, 1);
  EXPECT_EQ(made.row.built_version, std::nullopt);
  EXPECT_EQ(made.row.revision, 1);
  ASSERT_EQ(made.versions.size(), 1);
  EXPECT_EQ(made.versions[0].saved_at, made.row.created_at);
  EXPECT_EQ(made.document_json, design("Lantern").document_json);
  EXPECT_EQ(made.note, "as drawn");
  EXPECT_EQ(made.row.summary.duration_s, 612.5);
  EXPECT_EQ(made.row.summary.hall_name, "Sports hall");
}

TEST(Designs, SavingChangesTheLatestVersionUntilItIsBuilt) {
  Workshop workshop = in_memory();
  const Design made = value_of(workshop.create_design(design("Lantern", "24 in")));
  DesignContent wider = design("Lantern", "26 in");
  wider.summary.duration_s = 630.0;
  const auto saved = value_of(workshop.save_design(made.row.id, 1, wider));
  EXPECT_EQ(saved.done, Done::written);
  EXPECT_FALSE(saved.new_version);
  EXPECT_EQ(saved.present.row.version, 1);
  EXPECT_EQ(saved.present.document_json, wider.document_json);
  EXPECT_EQ(saved.present.row.summary.duration_s, 630.0);
  EXPECT_EQ(saved.present.versions[0].summary.duration_s, 630.0);
}

TEST(Designs, AnEditOfABuiltVersionMakesANewOne) {
  Workshop workshop = in_memory();
  const Design made = value_of(workshop.create_design(design("Lantern", "24 in")));
  const auto built = value_of(workshop.mark_built(made.row.id, 1, 1));
  EXPECT_EQ(built.present.row.built_version, 1);
  EXPECT_NE(built.present.versions[0].built_at, "");
  const auto saved = value_of(workshop.save_design(made.row.id, 2, design("Lantern", "26 in")));
  EXPECT_TRUE(saved.new_version);
  EXPECT_EQ(saved.present.row.version, 2);
  EXPECT_EQ(saved.present.row.built_version, 1);
  ASSERT_EQ(saved.present.versions.size(), 2);
  EXPECT_EQ(saved.present.versions[0].version, 2);  // the latest first
  EXPECT_EQ(saved.present.versions[0].built_at, "");
  const auto first = value_of(workshop.get_version(made.row.id, 1));
  ASSERT_TRUE(first);
  EXPECT_EQ(first->document_json, design("Lantern", "24 in").document_json);
  // Version 2 is not built: the next save changes it in place.
  const auto next = value_of(workshop.save_design(made.row.id, 3, design("Lantern", "27 in")));
  EXPECT_FALSE(next.new_version);
  EXPECT_EQ(next.present.row.version, 2);
}

TEST(Designs, AnotherNameOrNoteOfABuiltVersionIsNoNewVersion) {
  Workshop workshop = in_memory();
  const Design made = value_of(workshop.create_design(design("Lantern")));
  value_of(workshop.mark_built(made.row.id, 1, 1));
  DesignContent renamed = design("Lantern");
  renamed.name = "Lantern, the first";
  renamed.note = "flies left";
  const auto saved = value_of(workshop.save_design(made.row.id, 2, renamed));
  EXPECT_FALSE(saved.new_version);
  EXPECT_EQ(saved.present.row.name, "Lantern, the first");
  EXPECT_EQ(saved.present.note, "flies left");
  EXPECT_NE(saved.present.versions[0].built_at, "");
}

TEST(Designs, AddVersionAlwaysMakesOne) {
  Workshop workshop = in_memory();
  const Design made = value_of(workshop.create_design(design("Lantern")));
  const auto added = value_of(workshop.add_version(made.row.id, 1, design("Lantern")));
  EXPECT_TRUE(added.new_version);
  EXPECT_EQ(added.present.row.version, 2);
}

TEST(Designs, AStaleSaveIsRefusedWithThePresentDesign) {
  Workshop workshop = in_memory();
  const Design made = value_of(workshop.create_design(design("Lantern", "24 in")));
  value_of(workshop.save_design(made.row.id, 1, design("Lantern", "25 in")));
  for (const auto& change :
       {value_of(workshop.save_design(made.row.id, 1, design("Lantern", "26 in"))),
        value_of(workshop.add_version(made.row.id, 1, design("Lantern", "26 in"))),
        value_of(workshop.mark_built(made.row.id, 1, 1)),
        value_of(workshop.archive_design(made.row.id, 1))}) {
    EXPECT_EQ(change.done, Done::stale);
    EXPECT_EQ(change.present.row.revision, 2);
    EXPECT_THAT(change.present.document_json, HasSubstr("25 in"));
  }
  EXPECT_EQ(value_of(workshop.get_design(made.row.id))->row.revision, 2);
}

TEST(Designs, AnAbsentIdOrVersionIsAbsent) {
  Workshop workshop = in_memory();
  EXPECT_FALSE(value_of(workshop.get_design("gone")));
  EXPECT_EQ(value_of(workshop.save_design("gone", 1, design("D"))).done, Done::absent);
  EXPECT_FALSE(value_of(workshop.duplicate_design("gone", "D")));
  const Design made = value_of(workshop.create_design(design("D")));
  EXPECT_FALSE(value_of(workshop.get_version(made.row.id, 2)));
  EXPECT_EQ(value_of(workshop.mark_built(made.row.id, 1, 2)).done, Done::absent);
}

TEST(Designs, MarkingBuiltTwiceKeepsTheFirstDate) {
  Workshop workshop = in_memory();
  const Design made = value_of(workshop.create_design(design("D")));
  const auto once = value_of(workshop.mark_built(made.row.id, 1, 1));
  const auto twice = value_of(workshop.mark_built(made.row.id, 2, 1));
  EXPECT_EQ(twice.done, Done::written);
  EXPECT_EQ(twice.present.versions[0].built_at, once.present.versions[0].built_at);
  EXPECT_EQ(twice.present.row.revision, 2);
}

TEST(Designs, AnOlderVersionMayBeMarkedBuiltLater) {
  Workshop workshop = in_memory();
  const Design made = value_of(workshop.create_design(design("D")));
  value_of(workshop.add_version(made.row.id, 1, design("D", "30 in")));
  value_of(workshop.mark_built(made.row.id, 2, 2));
  const auto change = value_of(workshop.mark_built(made.row.id, 3, 1));
  EXPECT_EQ(change.present.row.built_version, 2);
  EXPECT_NE(change.present.versions[1].built_at, "");
}

TEST(Designs, ADuplicateStartsAnewAndKnowsItsOrigin) {
  Workshop workshop = in_memory();
  const Design made = value_of(workshop.create_design(design("D", "24 in")));
  value_of(workshop.mark_built(made.row.id, 1, 1));
  value_of(workshop.save_design(made.row.id, 2, design("D", "26 in")));
  const auto copy = value_of(workshop.duplicate_design(made.row.id, "D, wider"));
  ASSERT_TRUE(copy);
  EXPECT_NE(copy->row.id, made.row.id);
  EXPECT_EQ(copy->row.name, "D, wider");
  EXPECT_EQ(copy->row.version, 1);
  EXPECT_EQ(copy->row.built_version, std::nullopt);
  EXPECT_EQ(copy->row.copied_from, made.row.id);
  EXPECT_EQ(copy->document_json, design("D", "26 in").document_json);
  problem_of(workshop.duplicate_design(made.row.id, ""), "name");
}

TEST(Designs, ArchiveAndRestore) {
  Workshop workshop = in_memory();
  const Design made = value_of(workshop.create_design(design("D")));
  EXPECT_NE(value_of(workshop.archive_design(made.row.id, 1)).present.row.archived_at, "");
  EXPECT_EQ(value_of(workshop.list_designs()).total, 0);
  EXPECT_EQ(value_of(workshop.restore_design(made.row.id, 2)).present.row.archived_at, "");
  EXPECT_EQ(value_of(workshop.list_designs()).total, 1);
}

TEST(Designs, ADocumentHasAJobAndAttachmentsAndNothingElse) {
  Workshop workshop = in_memory();
  const auto with = [&](const std::string& document) {
    DesignContent content = design("D");
    content.document_json = document;
    return workshop.create_design(content);
  };
  EXPECT_TRUE(with(R"({"job":{}})"));
  problem_of(with("{}"), "document.job");
  problem_of(with(R"({"job":[]})"), "document.job");
  problem_of(with(R"({"job":{},"attachments":""})"), "document.attachments");
  problem_of(with(R"({"job":{},"jobs":{}})"), "document.jobs");
  problem_of(with("nonsense"), "document");
}

TEST(Designs, FiguresOfTheSummaryAreFiniteAndNotNegative) {
  Workshop workshop = in_memory();
  DesignContent content = design("D");
  content.summary = {std::numeric_limits<double>::quiet_NaN(),
                     std::numeric_limits<double>::infinity(), -0.3, "", ""};
  const auto refused = workshop.create_design(content);
  problem_of(refused, "summary.duration_s");
  problem_of(refused, "summary.sigma_s");
  problem_of(refused, "summary.diameter_m");
}

}  // namespace
}  // namespace propwright::workshop::test
