/// A built propeller against its design: both blades, their balance, every flaw in seconds.
#pragma once

#include <array>
#include <deque>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "propwright/answer/json_text.h"
#include "propwright/answer/prediction.h"
#include "propwright/asbuilt/comparison.h"
#include "propwright/asbuilt/ledger.h"

namespace propwright::answer {

/// A design and what each flaw of its blades costs; made by known_design().
struct KnownDesign;
base::Expected<std::shared_ptr<const KnownDesign>> known_design(const LoadedJob& loaded);

/// Keeps the designs asked for last, so that only the first reading of a propeller waits for the
/// flights of its flaws. Any number of threads may ask.
class KnownDesigns {
 public:
  /// Problem: as known_design(); nothing is kept then.
  base::Expected<std::shared_ptr<const KnownDesign>> of(const LoadedJob& loaded);

 private:
  struct Kept {
    brief::Job job;
    brief::Attachments attachments;
    std::shared_ptr<const KnownDesign> design;
  };
  static constexpr std::size_t most = 8;
  std::mutex mutex_;
  std::deque<Kept> kept_;  // the latest first
};

/// The propeller as measured; quantities are text with units (docs/as-built-file.md).
struct PairAnswer {
  asbuilt::Design design;
  std::array<asbuilt::BladeDeviation, 2> blades;
  asbuilt::Imbalance imbalance;
  std::vector<asbuilt::PairState> states;  ///< from level flight to launch
  asbuilt::Ledger ledger;
  std::vector<asbuilt::Tolerance> tolerances;
  std::vector<std::string> notes;
};

/// `as_built` mirrors the file. Problems: those of the job, with its path as the file; those of the
/// readings, with `file`.
base::Expected<PairAnswer> pair_answer(const LoadedJob& loaded, const KnownDesign& known,
                                       const Json& as_built, const std::string& file);

/// The card alone, of a design that is not built yet.
struct ToleranceCard {
  double perfect_s = 0;
  double blade_mass_kg = 0, blade_moment_kgm = 0;  ///< of one blade as designed; 0 = not known
  std::vector<asbuilt::Tolerance> tolerances;
  std::vector<std::string> notes;
};
ToleranceCard tolerance_card(const KnownDesign& known);

/// Keys: docs/commands.md, pair.
Json pair_document(const PairAnswer& answer);
Json tolerance_document(const ToleranceCard& card);

}  // namespace propwright::answer
