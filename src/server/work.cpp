#include "work.h"

#include <algorithm>

#include "random_text.h"

namespace propwright::server {
namespace {

constexpr std::size_t most_waiting = 16;
constexpr std::size_t most_kept = 40;  // pieces that have ended
constexpr std::size_t most_files = 4;  // a packet is some hundred kB

}  // namespace

std::string to_text(WorkStatus status) {
  switch (status) {
    case WorkStatus::waiting:
      return "waiting";
    case WorkStatus::running:
      return "running";
    case WorkStatus::done:
      return "done";
    case WorkStatus::stopped:
      return "stopped";
    case WorkStatus::failed:
      break;
  }
  return "failed";
}

WorkLine::WorkLine() : thread_([this] { run(); }) {}

WorkLine::~WorkLine() {
  close();
}

void WorkLine::close() {
  {
    const std::lock_guard lock(mutex_);
    closed_ = true;
    for (auto& piece : pieces_) piece->stop_asked = true;
  }
  changed_.notify_all();
  std::call_once(joined_, [this] { thread_.join(); });
}

std::optional<std::string> WorkLine::add(const std::string& kind, Task task) {
  const std::lock_guard lock(mutex_);
  const auto waiting = std::count_if(pieces_.begin(), pieces_.end(),
                                     [](const auto& piece) { return !piece->news.ended(); });
  if (closed_ || static_cast<std::size_t>(waiting) >= most_waiting) return std::nullopt;
  auto piece = std::make_unique<Piece>();
  piece->news.id = random_text(16);
  piece->news.kind = kind;
  piece->task = std::move(task);
  pieces_.push_back(std::move(piece));
  forget_old();
  changed_.notify_all();
  return pieces_.back()->news.id;
}

WorkLine::Piece* WorkLine::find(const std::string& id) const {
  const auto found = std::find_if(pieces_.begin(), pieces_.end(),
                                  [&](const auto& piece) { return piece->news.id == id; });
  return found == pieces_.end() ? nullptr : found->get();
}

std::optional<WorkNews> WorkLine::news(const std::string& id) const {
  const std::lock_guard lock(mutex_);
  const Piece* piece = find(id);
  return piece == nullptr ? std::nullopt : std::optional(piece->news);
}

std::optional<WorkNews> WorkLine::wait(const std::string& id, std::uint64_t change,
                                       std::chrono::milliseconds patience) const {
  std::unique_lock lock(mutex_);
  changed_.wait_for(lock, patience, [&] {
    const Piece* piece = find(id);
    return piece == nullptr || piece->news.change > change;
  });
  const Piece* piece = find(id);
  return piece == nullptr ? std::nullopt : std::optional(piece->news);
}

bool WorkLine::stop(const std::string& id) {
  const std::lock_guard lock(mutex_);
  Piece* piece = find(id);
  if (piece == nullptr) return false;
  piece->stop_asked = true;
  if (piece->news.status == WorkStatus::waiting) end(*piece, WorkStatus::stopped);
  return true;
}

std::optional<WorkLine::File> WorkLine::file(const std::string& id) const {
  const std::lock_guard lock(mutex_);
  const Piece* piece = find(id);
  if (piece == nullptr || !piece->file.bytes) return std::nullopt;
  return piece->file;
}

/// With the lock held.
void WorkLine::end(Piece& piece, WorkStatus status) {
  piece.news.status = status;
  piece.news.seconds_left.reset();
  piece.task = nullptr;
  ++piece.news.change;
  changed_.notify_all();
}

/// With the lock held. The oldest of what has ended go first, files before the news of them.
void WorkLine::forget_old() {
  std::size_t files = 0, ended = 0;
  for (auto at = pieces_.rbegin(); at != pieces_.rend(); ++at) {
    if ((*at)->file.bytes && ++files > most_files) (*at)->file = {};
  }
  for (const auto& piece : pieces_) ended += piece->news.ended() ? 1 : 0;
  for (auto at = pieces_.begin(); ended > most_kept && at != pieces_.end();) {
    if ((*at)->news.ended()) {
      at = pieces_.erase(at);
      --ended;
    } else {
      ++at;
    }
  }
}

bool WorkLine::report(Piece& piece, double share) {
  const std::lock_guard lock(mutex_);
  const std::chrono::duration<double> spent = std::chrono::steady_clock::now() - piece.began;
  piece.news.share = std::clamp(share, 0.0, 1.0);
  if (share > 0.02) piece.news.seconds_left = spent.count() * (1 - share) / share;
  ++piece.news.change;
  changed_.notify_all();
  return !piece.stop_asked;
}

void WorkLine::perform(Piece& piece) {
  base::Expected<WorkProduct> product = base::fail(base::Problem{
      .remedy = "please report it with the job", .message = "a fault of the program"});
  try {
    product = piece.task(piece.news.id, [&](double share) { return report(piece, share); });
  } catch (const std::exception& error) {
    product.error().front().value = error.what();
  }
  const std::lock_guard lock(mutex_);
  if (piece.stop_asked) {
    end(piece, WorkStatus::stopped);
  } else if (product) {
    piece.news.result_json = std::move(product->result_json);
    piece.news.share = 1;
    if (!product->file_bytes.empty()) {
      piece.file = {product->file_name,
                    std::make_shared<const std::string>(std::move(product->file_bytes))};
    }
    end(piece, WorkStatus::done);
    forget_old();
  } else {
    piece.news.problems = std::move(product.error());
    end(piece, WorkStatus::failed);
  }
}

void WorkLine::run() {
  std::unique_lock lock(mutex_);
  while (true) {
    Piece* next = nullptr;
    changed_.wait(lock, [&] {
      const auto found = std::find_if(pieces_.begin(), pieces_.end(), [](const auto& piece) {
        return piece->news.status == WorkStatus::waiting;
      });
      next = found == pieces_.end() ? nullptr : found->get();
      return closed_ || next != nullptr;
    });
    if (closed_) break;
    next->news.status = WorkStatus::running;
    next->began = std::chrono::steady_clock::now();
    ++next->news.change;
    changed_.notify_all();
    lock.unlock();
    perform(*next);  // a piece that has not ended is never forgotten
    lock.lock();
  }
  for (auto& piece : pieces_) {
    if (!piece->news.ended()) end(*piece, WorkStatus::stopped);
  }
}

}  // namespace propwright::server
