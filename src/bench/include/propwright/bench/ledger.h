/// The weight ledger: planned against weighed, part by part, and what the difference costs in
/// seconds of flight.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/bench/figure.h"

namespace propwright::bench {

/// Seconds are told to a tenth: a difference that rounds to none is said to be none, s.
inline constexpr double least_told_s = 0.05;

struct LedgerPart {
  std::string name = {};
  std::optional<double> planned_kg = {};  ///< >= 0
  std::optional<Figure> weighed_kg = {};  ///< >= 0
  bool propeller = false;                 ///< belongs to the propeller
};

/// Duration gained by one kilogram more of it, s/kg: negative for mass that costs time. From
/// `predict`; nothing when no job was flown.
struct LedgerRates {
  std::optional<Figure> propeller_s_kg = {}, model_s_kg = {};
};

struct LedgerRow {
  std::string name = {};
  bool propeller = false;
  std::optional<double> planned_kg = {};
  std::optional<Figure> weighed_kg = {};
  std::optional<Figure> over_kg = {};     ///< weighed less planned
  std::optional<double> over_share = {};  ///< of the planned mass
  Figure running_kg = {};                 ///< sum so far: weighed where weighed, else planned
  double running_planned_kg = 0;          ///< sum of the plan so far
  std::optional<Figure> cost_s = {};      ///< duration lost by being over; negative: gained
  std::optional<double> cost_low_s = {}, cost_high_s = {};  ///< 90 % interval
};

struct LedgerFigures {
  std::vector<LedgerRow> rows = {};
  Figure total_kg = {};  ///< weighed where weighed, else planned
  double total_planned_kg = 0;
  int unweighed = 0, unplanned = 0;
  Figure propeller_kg = {};
  std::optional<double> propeller_share = {};  ///< of the total, without the motor
  std::optional<Figure> over_kg = {};          ///< over the rows that have both
  std::optional<Figure> cost_s = {};  ///< of those; one rate serves many rows, so its doubt adds up
  std::optional<double> cost_low_s = {}, cost_high_s = {};
  /// The dearest row, index; nothing when none costs seconds that could be told.
  std::optional<std::size_t> dearest = {};
  std::vector<std::string> sentences = {};
};
/// Problem: "parts" when empty, "parts[i].name" for an empty or repeated name,
/// "parts[i].planned_kg", "parts[i].weighed_kg", "parts[i]" when it has neither.
base::Expected<LedgerFigures> ledger(const std::vector<LedgerPart>& parts,
                                     const LedgerRates& rates);

}  // namespace propwright::bench
