#include "propwright/answer/known_learning.h"

#include <algorithm>
#include <chrono>
#include <condition_variable>
#include <list>

#include "learned_log.h"

namespace propwright::answer {
namespace {

// A log of 5000 flights takes some 30 MB.
constexpr std::size_t most_known_logs = 6, most_known_flights = 12000;
constexpr std::chrono::milliseconds look_up_at{50};

/// All that the posterior depends on.
bool same_learning(const FlightsQuestion& a, const FlightsQuestion& b) {
  const auto same_job = [](const LoadedJob& one, const LoadedJob& other) {
    return one.job == other.job && one.attachments == other.attachments;
  };
  return a.scatter == b.scatter && a.beliefs == b.beliefs && a.flights == b.flights &&
         std::equal(a.loaded.begin(), a.loaded.end(), b.loaded.begin(), b.loaded.end(), same_job);
}

void learn_from(LearnedLog& learned, const StillWanted& wanted) {
  const learn::FlownLog& log = learned.log;
  if (log.used().empty()) return;
  learned.posterior = learn::learn(
      log.parameters().size(), log.observed(),
      [&](const std::vector<learn::Query>& queries) { return log.fly(queries); },
      learned.asked.beliefs, wanted);
}

}  // namespace

ReferenceFlights reference_flights(const FlightsQuestion& asked, const learn::FlownLog& log,
                                   const Eigen::VectorXd& z) {
  ReferenceFlights made;
  made.seconds.resize(asked.flights.size());
  std::vector<std::size_t> timed;
  timed.reserve(asked.flights.size());
  for (std::size_t i = 0; i < asked.flights.size(); ++i) {
    if (asked.flights[i].duration_s) timed.push_back(i);
  }
  const auto seconds = log.durations_with(0, z, timed);
  for (std::size_t i = 0; i < timed.size(); ++i) made.seconds[timed[i]] = seconds[i];
  made.left_out.reserve(log.entries().size());
  for (const learn::Entry& entry : log.entries()) made.left_out.push_back(entry.left_out);
  made.own = log.own_flights(0, {z}).front();
  return made;
}

const ReferenceFlights& LearnedLog::reference() const {
  std::call_once(flown_, [&] { reference_ = reference_flights(asked, log, posterior->mode); });
  return reference_;
}

struct KnownLearning::Impl {
  struct Kept {
    std::shared_ptr<LearnedLog> learned;
    bool done = false;
    int waiting = 0;  ///< askers other than the one that learns
    double share = 0;
  };

  std::mutex mutex;
  std::condition_variable changed;
  std::list<std::shared_ptr<Kept>> kept;  // the latest first
  int times = 0;

  /// With the lock held.
  std::shared_ptr<Kept> find(const FlightsQuestion& asked) {
    const auto found = std::find_if(kept.begin(), kept.end(), [&](const auto& one) {
      return same_learning(one->learned->asked, asked);
    });
    if (found == kept.end()) return nullptr;
    kept.splice(kept.begin(), kept, found);
    return kept.front();
  }

  /// With the lock held. What is being learned stays.
  void forget_old() {
    std::size_t logs = 0, flights = 0;
    for (auto at = kept.begin(); at != kept.end();) {
      flights += (*at)->learned->asked.flights.size();
      const bool over = ++logs > most_known_logs || (logs > 1 && flights > most_known_flights);
      at = over && (*at)->done ? kept.erase(at) : std::next(at);
    }
  }

  /// Takes one out that will not be finished; whoever waits for it begins anew.
  void drop(const std::shared_ptr<Kept>& one) {
    kept.remove(one);
    one->learned.reset();
    changed.notify_all();
  }

  void learn(const std::shared_ptr<Kept>& mine, const StillWanted& wanted) {
    bool given_up = false;
    const auto go_on = [&](double share) {
      const bool here = !wanted || wanted(share);
      const std::lock_guard lock(mutex);
      mine->share = share;
      if (here || mine->waiting > 0) return true;
      given_up = true;
      drop(mine);
      return false;
    };
    const std::shared_ptr<LearnedLog> learned = mine->learned;
    try {
      learn_from(*learned, go_on);
    } catch (...) {
      const std::lock_guard lock(mutex);
      drop(mine);
      throw;
    }
    if (given_up) return;
    const std::lock_guard lock(mutex);
    mine->done = true;
    changed.notify_all();
    forget_old();
  }

  /// With the lock held: waits for another's work. Null when that came to nothing; a problem when
  /// nobody waits for it here any more.
  base::Expected<std::shared_ptr<const LearnedLog>> wait_for(const std::shared_ptr<Kept>& other,
                                                             const StillWanted& wanted,
                                                             std::unique_lock<std::mutex>& lock) {
    ++other->waiting;
    bool here = true;
    while (here && !other->done && other->learned) {
      changed.wait_for(lock, look_up_at);
      const double share = other->share;
      lock.unlock();
      here = !wanted || wanted(share);
      lock.lock();
    }
    --other->waiting;
    if (!here) return base::fail(learn::learning_stopped());
    return std::shared_ptr<const LearnedLog>(other->learned);
  }
};

KnownLearning::KnownLearning() : impl_(std::make_unique<Impl>()) {}
KnownLearning::~KnownLearning() = default;

int KnownLearning::times_learned() const {
  const std::lock_guard lock(impl_->mutex);
  return impl_->times;
}

base::Expected<std::shared_ptr<const LearnedLog>> KnownLearning::of(const FlightsQuestion& asked,
                                                                    const StillWanted& wanted) {
  std::unique_lock lock(impl_->mutex);
  while (const auto other = impl_->find(asked)) {
    if (other->done) return std::shared_ptr<const LearnedLog>(other->learned);
    auto waited = impl_->wait_for(other, wanted, lock);
    if (!waited || *waited) return waited;
  }
  const auto mine = std::make_shared<Impl::Kept>();
  mine->learned = std::make_shared<LearnedLog>(asked);
  impl_->kept.push_front(mine);
  ++impl_->times;
  const std::shared_ptr<const LearnedLog> learned = mine->learned;
  lock.unlock();
  impl_->learn(mine, wanted);
  lock.lock();
  if (!mine->learned) return base::fail(learn::learning_stopped());
  return learned;
}

base::Expected<std::shared_ptr<const LearnedLog>> learned_log(const FlightsQuestion& asked,
                                                              KnownLearning* known,
                                                              const StillWanted& wanted) {
  if (known != nullptr) return known->of(asked, wanted);
  const auto learned = std::make_shared<LearnedLog>(asked);
  bool stopped = false;
  learn_from(*learned, [&](double share) {
    if (wanted && !wanted(share)) stopped = true;
    return !stopped;
  });
  if (stopped) return base::fail(learn::learning_stopped());
  return std::shared_ptr<const LearnedLog>(learned);
}

}  // namespace propwright::answer
