// The program as a process: how it starts, how it is stopped, and what is there after it was
// killed.
#include <gtest/gtest.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <map>

#include "pages.h"

namespace propwright::server::test {
namespace {

namespace fs = std::filesystem;

class Program {
 public:
  explicit Program(const fs::path& workshop) {
    int ends[2];
    if (pipe(ends) != 0) throw std::runtime_error("no pipe");
    id_ = fork();
    if (id_ == 0) {
      dup2(ends[1], STDOUT_FILENO);
      close(ends[0]);
      execl(PROPWRIGHT_PROGRAM, PROPWRIGHT_PROGRAM, "open", "--port", "0", "--workshop",
            workshop.c_str(), static_cast<char*>(nullptr));
      _exit(127);
    }
    close(ends[1]);
    std::string line;
    char c = 0;
    while (read(ends[0], &c, 1) == 1 && c != '\n') line += c;
    out_ = ends[0];
    const auto colon = line.rfind(':');
    if (!line.starts_with("http://127.0.0.1:")) throw std::runtime_error("no address: " + line);
    port_ = std::stoi(line.substr(colon + 1));
  }
  ~Program() {
    if (id_ > 0) end(SIGKILL);
    close(out_);
  }
  int port() const { return port_; }
  /// Exit status, or minus the signal.
  int end(int signal) {
    kill(id_, signal);
    int status = 0;
    waitpid(id_, &status, 0);
    id_ = 0;
    return WIFEXITED(status) ? WEXITSTATUS(status) : -WTERMSIG(status);
  }
  void kill_only() const { kill(id_, SIGKILL); }

 private:
  pid_t id_ = 0;
  int out_ = -1, port_ = 0;
};

class ProgramOnDisk : public testing::Test {
 protected:
  void SetUp() override {
    std::string name = (fs::temp_directory_path() / "propwright-server-XXXXXX").string();
    ASSERT_NE(mkdtemp(name.data()), nullptr);
    folder_ = name;
  }
  void TearDown() override { fs::remove_all(folder_); }
  fs::path workshop() const { return folder_ / "workshop.sqlite"; }
  fs::path folder_;
};

std::string hall(int number) {
  return json{{"name", "Hall " + std::to_string(number)},
              {"section", {{"hall", {{"roof_height", "8.5 m"}}}}}}
      .dump();
}

TEST_F(ProgramOnDisk, EndsOnASignalWithNothingLeftBeside) {
  for (const int signal : {SIGTERM, SIGINT}) {
    Program program(workshop());
    httplib::Client client("127.0.0.1", program.port());
    ASSERT_EQ(client.Post("/api/halls", hall(signal), "application/json")->status, 201);
    EXPECT_EQ(program.end(signal), 0);
    EXPECT_TRUE(fs::exists(workshop()));
    EXPECT_FALSE(fs::exists(workshop().string() + "-wal"));
  }
  Program again(workshop());
  httplib::Client client("127.0.0.1", again.port());
  EXPECT_EQ(json::parse(client.Get("/api/halls")->body)["total"], 2);
}

// A stop that comes before the library listens must not be forgotten.
TEST_F(ProgramOnDisk, EndsWhenItIsStoppedTheMomentItHasSaidItsAddress) {
  for (int i = 0; i < 10; ++i) EXPECT_EQ(Program(workshop()).end(SIGTERM), 0) << i;
}

TEST_F(ProgramOnDisk, EveryAcknowledgedWriteIsThereAfterAKillInTheMiddleOfAThousand) {
  std::map<std::string, std::string> acknowledged;  // id to name
  {
    Program program(workshop());
    httplib::Client client("127.0.0.1", program.port());
    client.set_keep_alive(true);
    std::atomic<int> written = 0;
    std::thread killer([&] {
      while (written < 500) std::this_thread::sleep_for(std::chrono::milliseconds(1));
      program.kill_only();
    });
    for (int i = 0; i < 1000; ++i) {
      const auto reply = client.Post("/api/halls", hall(i), "application/json");
      if (!reply || reply->status != 201) break;
      const json made = json::parse(reply->body);
      acknowledged[made["id"]] = made["name"];
      ++written;
    }
    killer.join();
  }
  ASSERT_GE(acknowledged.size(), 500);
  ASSERT_LT(acknowledged.size(), 1000) << "it was killed too late to show anything";
  Program program(workshop());
  httplib::Client client("127.0.0.1", program.port());
  client.set_keep_alive(true);
  for (const auto& [id, name] : acknowledged) {
    const auto reply = client.Get("/api/halls/" + id);
    ASSERT_TRUE(reply && reply->status == 200) << name;
    ASSERT_EQ(json::parse(reply->body)["name"], name);
  }
  // At most the one write that was under way is there besides.
  const int total = json::parse(client.Get("/api/halls?limit=0")->body)["total"];
  EXPECT_LE(total, static_cast<int>(acknowledged.size()) + 1);
}

}  // namespace
}  // namespace propwright::server::test
