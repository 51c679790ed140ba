/// Long work: one thread, a short line, and what became of each piece.
#pragma once

#include <chrono>
#include <condition_variable>
#include <deque>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>

#include "propwright/answer/json_text.h"
#include "propwright/base/problem.h"

namespace propwright::server {

enum class WorkStatus { waiting, running, done, stopped, failed };

/// What is known of a piece of work; `change` counts up with every news.
struct WorkNews {
  std::string id, kind;
  WorkStatus status = WorkStatus::waiting;
  double share = 0;
  std::optional<double> seconds_left;
  std::string result_json;  ///< once done
  base::Problems problems;  ///< once failed
  std::uint64_t change = 0;
  bool ended() const { return status > WorkStatus::running; }
};

/// What a piece of work leaves behind.
struct WorkProduct {
  std::string result_json;
  std::string file_name, file_bytes;  ///< a file to be fetched; may be empty
};

/// Told the share done, 0..1; false means stop.
using Report = std::function<bool(double)>;
using Task = std::function<base::Expected<WorkProduct>(const std::string& id, const Report&)>;

class WorkLine {
 public:
  WorkLine();
  ~WorkLine();
  WorkLine(const WorkLine&) = delete;
  WorkLine& operator=(const WorkLine&) = delete;

  /// The id; nothing when too much is waiting or the line is closed.
  std::optional<std::string> add(const std::string& kind, Task task);
  std::optional<WorkNews> news(const std::string& id) const;
  /// Waits until there is news after `change`, for at most `patience`; nothing for an unknown id.
  std::optional<WorkNews> wait(const std::string& id, std::uint64_t change,
                               std::chrono::milliseconds patience) const;
  /// False for an unknown id.
  bool stop(const std::string& id);
  struct File {
    std::string name;
    std::shared_ptr<const std::string> bytes;
  };
  /// The file of a piece of work; nothing when it left none or it is no longer kept.
  std::optional<File> file(const std::string& id) const;
  /// Stops all work and waits for it.
  void close();

 private:
  struct Piece {
    WorkNews news;
    Task task;
    File file;
    bool stop_asked = false;
    std::chrono::steady_clock::time_point began;
  };

  void run();
  void perform(Piece& piece);
  bool report(Piece& piece, double share);
  void end(Piece& piece, WorkStatus status);
  void forget_old();
  Piece* find(const std::string& id) const;

  mutable std::mutex mutex_;
  mutable std::condition_variable changed_;
  std::deque<std::unique_ptr<Piece>> pieces_;  ///< oldest first
  bool closed_ = false;
  std::once_flag joined_;
  std::thread thread_;
};

std::string to_text(WorkStatus status);

}  // namespace propwright::server
