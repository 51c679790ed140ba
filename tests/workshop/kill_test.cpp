// Killed in the middle of writing: everything that was acknowledged is there afterwards.
#include <fcntl.h>
#include <gtest/gtest.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <random>
#include <sstream>

#include "support.h"

namespace propwright::workshop::test {
namespace {

namespace fs = std::filesystem;

/// Runs the writer with its answers in a file; kills it when that file has so many bytes.
class Writer {
 public:
  Writer(const fs::path& file, const fs::path& answers) : answers_(answers) {
    process_ = fork();
    if (process_ != 0) return;
    const int out = ::open(answers.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
    dup2(out, STDOUT_FILENO);
    execl(PROPWRIGHT_WRITER, PROPWRIGHT_WRITER, file.c_str(), "1000", nullptr);
    _exit(127);
  }
  /// False when it ended by itself before that.
  bool kill_after(std::uintmax_t bytes, int microseconds) {
    std::error_code error;
    int status = 0;
    while (waitpid(process_, &status, WNOHANG) == 0) {
      const auto size = fs::file_size(answers_, error);
      if (!error && size >= bytes) {
        usleep(static_cast<useconds_t>(microseconds));
        kill(process_, SIGKILL);
        waitpid(process_, &status, 0);
        return WIFSIGNALED(status);
      }
      usleep(500);
    }
    return false;
  }

 private:
  pid_t process_ = 0;
  fs::path answers_;
};

TEST(Kill, EveryAcknowledgedWriteIsThereAfterwards) {
  std::mt19937 random(std::random_device{}());
  std::uniform_int_distribution<int> answered(0, 400), microseconds(0, 5000);
  for (int round = 0; round < 8; ++round) {
    const Folder folder;
    Writer writer(folder / "w.sqlite", folder / "answers.txt");
    // 17 bytes are one id and the end of its line.
    ASSERT_TRUE(
        writer.kill_after(17u * static_cast<unsigned>(answered(random)), microseconds(random)));
    Workshop workshop = open(folder / "w.sqlite");
    std::istringstream answers(read(folder / "answers.txt"));
    int count = 0;
    for (std::string id; std::getline(answers, id); ++count) {
      const auto design = value_of(workshop.get_design(id));
      ASSERT_TRUE(design) << "lost: " << id;
      EXPECT_EQ(design->row.version, 2) << id;
      EXPECT_EQ(design->versions.size(), 2) << id;
    }
    // At most the one design that was under way when the end came is there besides.
    const auto total = value_of(workshop.list_designs()).total;
    EXPECT_GE(total, count);
    EXPECT_LE(total, count + 1);
    EXPECT_TRUE(value_of(workshop.check()).problems.empty());
    EXPECT_TRUE(workshop.create_design(design("Goes on")));
  }
}

}  // namespace
}  // namespace propwright::workshop::test
