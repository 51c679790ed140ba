/// The batch of spars on paper: what is printed of an answer.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/answer/spars.h"
#include "propwright/sheet/bench_sheets.h"

namespace propwright::answer {

/// What the builder wishes on paper beside the batch.
struct SparPrintWishes {
  std::string batch = {};  ///< its name: "7"
  /// Sizes across a spar to be made, root first: for the sanding block and the gauge. Empty: the
  /// smallest of the batch's, so that all can be brought to it.
  std::vector<sheet::SizeStation> wanted = {};
  bool tags = true;
};

/// Reads {"batch": "7", "tags": true, "wanted": {"root": "63 thou", "middle": "45 thou",
/// "tip": "28 thou", "length": "7.5 in"}}; the middle may be left out. Problems with the field, all
/// at once.
base::Expected<SparPrintWishes> read_spar_print_wishes(const Json& wishes);

/// Pages for the batch: table, scatter, pairs and sanding; the rig's deflection card with the shape
/// of the spar that reads most; a sanding block where spars are round or sizes are wished; a taper
/// gauge for square and round ones; tags.
sheet::BenchSheets spars_sheets(const SparsAnswer& answer, const SparPrintWishes& wishes);

}  // namespace propwright::answer
