#include <algorithm>

#include "propwright/answer/spars.h"
#include "spars_parts.h"

namespace propwright::answer {

const SparAnswer* SparsAnswer::find(const std::string& id) const {
  const auto found = std::find_if(spars.begin(), spars.end(),
                                  [&](const SparAnswer& spar) { return spar.id == id; });
  return found == spars.end() ? nullptr : &*found;
}

SparsAnswer spars_answer(SparBatch batch) {
  SparsAnswer answer;
  answer.problems = std::move(batch.problems);
  answer.batch = std::move(batch);
  for (const SparInput& spar : answer.batch.spars) {
    answer.spars.push_back(spar_history(spar, answer.batch, answer.problems, answer.questions));
  }
  add_pairs(answer);
  answer.now = now_of(answer);
  if (answer.batch.calibration && answer.batch.calibration->freedom < 5) {
    answer.notes.emplace_back(
        "The scatter of the rig comes from few readings and is itself poorly known; five or more "
        "tell it better.");
  }
  return answer;
}

}  // namespace propwright::answer
