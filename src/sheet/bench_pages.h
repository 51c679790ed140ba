/// The pages of the bench, one function per group, and what is drawn at true scale on them.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "form_pages.h"
#include "propwright/sheet/bench_sheets.h"

namespace propwright::sheet {

/// Something drawn at true scale: on a page, and alone as SVG.
struct Piece {
  std::string name;                          ///< of its file
  std::string title;                         ///< over it
  double width_mm = 0, height_mm = 0;        ///< as drawn
  std::function<void(Canvas&, Point)> draw;  ///< with its top left corner there
};

/// The card whole, or only the scale with a line 50 mm nearer the clamp where `most_width_mm` does
/// not hold the whole. `scale`: drawn over true length. The card must outlive the piece.
Piece deflection_piece(const Canvas& measure, const DeflectionCard& card, double scale,
                       units::Profile profile, double most_width_mm);
/// Straight between the stations, and beyond the last two.
double block_diameter(const SandingBlock& block, double along_m);
/// Every 20 mm or inch from the root, both ends, and where the taper changes.
std::vector<double> block_ticks(const SandingBlock& block, bool metric);
/// Plan and side of the part of the block from `from_m` to `to_m`.
Piece block_piece(const SandingBlock& block, double from_m, double to_m, double scale,
                  units::Profile profile);
Piece block_ends_piece(const SandingBlock& block, double scale, units::Profile profile);
/// The parts of the views, then the ends, as they stand on the pages.
std::vector<Piece> block_pieces(const Setting& setting, const SandingBlock& block);
/// The wedge, and cards of notches for at most six stations each.
std::vector<Piece> gauge_pieces(const TaperGauge& gauge, double scale, units::Profile profile);
/// Strips to be cut and folded round the spars from `first` up to `last`, as many side by side as
/// `room_mm` holds, three at most. Sheets and options must outlive the piece.
Piece tags_piece(const BenchSheets& sheets, std::size_t first, std::size_t last, double room_mm,
                 const PacketOptions& options, double scale);
std::size_t tags_per_page(const Setting& setting, const Canvas& measure);

void add_deflection_pages(const Setting& setting, const Canvas& measure, const BenchSheets& sheets,
                          Pages& pages);
void add_block_pages(const Setting& setting, const BenchSheets& sheets, Pages& pages);
void add_gauge_pages(const Setting& setting, const Canvas& measure, const BenchSheets& sheets,
                     Pages& pages);
void add_batch_pages(const Setting& setting, const Canvas& measure, const BenchSheets& sheets,
                     Pages& pages);
void add_pair_pages(const Setting& setting, const Canvas& measure, const BenchSheets& sheets,
                    Pages& pages);
void add_sanding_pages(const Setting& setting, const Canvas& measure, const BenchSheets& sheets,
                       Pages& pages);
void add_tag_pages(const Setting& setting, const Canvas& measure, const BenchSheets& sheets,
                   Pages& pages);
void add_target_pages(const Setting& setting, const Canvas& measure, const BenchSheets& sheets,
                      Pages& pages);

/// Empty when all can be printed.
base::Problems check(const BenchSheets& sheets);

}  // namespace propwright::sheet
