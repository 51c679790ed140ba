/// The packet on disk: what is written, and what is left behind when the disk refuses.
#include <gtest/gtest.h>

#include <algorithm>

#include "demo_packet.h"
#include "reading.h"

namespace propwright::sheet {
namespace {

namespace fs = std::filesystem;

std::string bytes_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

bool any_part(const fs::path& folder) {
  for (const auto& entry : fs::recursive_directory_iterator(folder)) {
    if (entry.path().extension() == ".part") return true;
  }
  return false;
}

TEST(WritePacket, WritesPdfCsvAndSvgAndDxfOfEachTemplateInThisOrder) {
  const reading::Folder folder;
  const PacketData data = demo::packet();
  const fs::path target = folder.path() / "a" / "packet";
  const auto files = write_packet(data, demo::options(), target.string());
  ASSERT_TRUE(files.has_value());
  ASSERT_EQ(files->size(), 2 + 2 * (1 + data.form_stations.size() + data.ribs.size()));
  EXPECT_EQ((*files)[0].path, (target / "packet.pdf").string());
  EXPECT_EQ((*files)[0].kind, "pdf");
  EXPECT_EQ((*files)[1].path, (target / "stations.csv").string());
  EXPECT_EQ((*files)[2].path, (target / "svg" / "outline.svg").string());
  EXPECT_EQ((*files)[3].path, (target / "dxf" / "outline.dxf").string());
  EXPECT_EQ((*files)[3].kind, "dxf");
  for (const PacketFile& file : *files) EXPECT_GT(fs::file_size(file.path), 100u) << file.path;
  EXPECT_EQ(reading::info((*files)[0].path, "Pages"), std::to_string((*files)[0].pages));
  EXPECT_EQ(bytes_of((*files)[1].path), stations_csv(data));
  EXPECT_FALSE(any_part(folder.path()));
}

TEST(WritePacket, GivesTemplatesOfOneNameTheirOwnFiles) {
  const reading::Folder folder;
  PacketData data = demo::packet();
  data.ribs = {data.ribs[0], data.ribs[0]};
  const auto files = write_packet(data, demo::options(), folder.path().string());
  ASSERT_TRUE(files.has_value());
  EXPECT_TRUE(fs::exists(folder.path() / "svg" / "rib-1.svg"));
  EXPECT_TRUE(fs::exists(folder.path() / "svg" / "rib-1-2.svg"));
}

TEST(WritePacket, IntoAPathThatIsNoFolderIsAResourceProblemWithThePath) {
  const reading::Folder folder;
  const std::string file = folder.file("taken", "not a folder");
  const auto files = write_packet(demo::packet(), demo::options(), file + "/packet");
  ASSERT_FALSE(files.has_value());
  EXPECT_EQ(files.error().front().kind, base::Kind::resource_failed);
  EXPECT_NE(files.error().front().file.find("taken"), std::string::npos);
}

TEST(WritePacket, LeavesNothingHalfWrittenWhenAFileCannotBePlaced) {
  const reading::Folder folder;
  // A folder that is not empty stands where the PDF should go, so the last step fails.
  fs::create_directories(folder.path() / "packet.pdf" / "inside");
  const auto files = write_packet(demo::packet(), demo::options(), folder.path().string());
  ASSERT_FALSE(files.has_value());
  EXPECT_EQ(files.error().front().kind, base::Kind::resource_failed);
  EXPECT_FALSE(any_part(folder.path()));
  EXPECT_FALSE(fs::exists(folder.path() / "stations.csv"));
}

TEST(WritePacket, LeavesTheOldPacketWhenTheDataIsBad) {
  const reading::Folder folder;
  folder.file("packet.pdf", "old");
  PacketData data = demo::packet();
  data.headline.duration_s = std::numeric_limits<double>::quiet_NaN();
  ASSERT_FALSE(write_packet(data, demo::options(), folder.path().string()).has_value());
  EXPECT_EQ(bytes_of(folder.path() / "packet.pdf"), "old");
}

}  // namespace
}  // namespace propwright::sheet
