/// A built propeller against its design: both blades, their balance, every flaw in seconds.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "propwright/answer/json_text.h"
#include "propwright/answer/prediction.h"
#include "propwright/asbuilt/comparison.h"
#include "propwright/asbuilt/ledger.h"

namespace propwright::answer {

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
base::Expected<PairAnswer> pair_answer(const LoadedJob& loaded, const Json& as_built,
                                       const std::string& file);

/// The card alone, of a design that is not built yet.
struct ToleranceCard {
  double perfect_s = 0;
  std::vector<asbuilt::Tolerance> tolerances;
  std::vector<std::string> notes;
};
base::Expected<ToleranceCard> tolerance_card(const LoadedJob& loaded);

/// Keys: docs/commands.md, pair.
Json pair_document(const PairAnswer& answer);
Json tolerance_document(const ToleranceCard& card);

}  // namespace propwright::answer
