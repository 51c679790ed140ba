/// The bench's pages put together, and its true-scale drawings alone.
#include <fmt/format.h>

#include <algorithm>

#include "bench_pages.h"
#include "check.h"
#include "render.h"

namespace propwright::sheet {
namespace {

/// The title block tells the batch instead of a propeller.
struct BenchPaper {
  PacketData data;
  Setting setting;

  BenchPaper(const BenchSheets& sheets, const PacketOptions& options) : setting(data, options) {
    setting.subject = {sheets.subject, sheets.batch.empty() ? "\u2013" : sheets.batch};
  }
  BenchPaper(const BenchPaper&) = delete;
  BenchPaper& operator=(const BenchPaper&) = delete;
};

base::Problems problems_of_bench(const BenchSheets& sheets, const PacketOptions& options) {
  base::Problems problems = check(options);
  for (base::Problem& problem : check(sheets)) problems.push_back(std::move(problem));
  return problems;
}

PacketPdf render_bench(const BenchSheets& sheets, const PacketOptions& options,
                       const Fonts& fonts) {
  const BenchPaper paper(sheets, options);
  const Setting& setting = paper.setting;
  Document document(Document::Format::pdf, setting.width_mm, setting.height_mm, fonts,
                    fmt::format("Bench, {} {}", sheets.subject, sheets.batch), options.date);
  Canvas& canvas = document.canvas();
  Pages pages;
  add_batch_pages(setting, canvas, sheets, pages);
  add_pair_pages(setting, canvas, sheets, pages);
  add_sanding_pages(setting, canvas, sheets, pages);
  add_deflection_pages(setting, canvas, sheets, pages);
  add_block_pages(setting, sheets, pages);
  add_gauge_pages(setting, canvas, sheets, pages);
  add_tag_pages(setting, canvas, sheets, pages);
  add_target_pages(setting, canvas, sheets, pages);
  PacketPdf pdf;
  draw_pages(setting, canvas, pages, pdf);
  pdf.bytes = document.finish();
  return pdf;
}

std::vector<Piece> pieces_of(const Setting& setting, const Canvas& measure,
                             const BenchSheets& sheets) {
  std::vector<Piece> pieces;
  const auto add = [&](Piece piece, const std::string& kind, int number) {
    piece.name = fmt::format("{}-{}", kind, number);
    pieces.push_back(std::move(piece));
  };
  const units::Profile profile = setting.options.profile;
  int number = 0;
  for (const DeflectionCard& card : sheets.cards) {
    add(deflection_piece(measure, card, setting.scale, profile, setting.body.width),
        "deflection-card", ++number);
  }
  number = 0;
  for (const SandingBlock& block : sheets.blocks) {
    for (Piece& piece : block_pieces(setting, block)) {
      add(std::move(piece), "sanding-block", ++number);
    }
  }
  number = 0;
  for (const TaperGauge& gauge : sheets.gauges) {
    for (Piece& piece : gauge_pieces(gauge, setting.scale, profile)) {
      add(std::move(piece), "taper-gauge", ++number);
    }
  }
  number = 0;
  const std::size_t count = sheets.tags && sheets.spars ? sheets.spars->spars.size() : 0;
  const std::size_t fit = tags_per_page(setting, measure);
  for (std::size_t first = 0; first < count; first += fit) {
    add(tags_piece(sheets, first, std::min(count, first + fit), setting.body.width, setting.options,
                   setting.scale),
        "tags", ++number);
  }
  return pieces;
}

std::string piece_svg(const Piece& piece, double scale, const Fonts& fonts) {
  constexpr double margin_mm = 8, head_mm = 8, gap_mm = 6;
  const double width = std::max(piece.width_mm, scale_bars_width_mm) + 2 * margin_mm;
  const double height = piece.height_mm + head_mm + gap_mm + scale_bars_height_mm + 2 * margin_mm;
  Document document(Document::Format::svg, width, height, fonts);
  Canvas& canvas = document.canvas();
  canvas.text({margin_mm, margin_mm + 4}, piece.title, {Face::semibold, strong_type_mm, black});
  piece.draw(canvas, {(width - piece.width_mm) / 2, margin_mm + head_mm});
  draw_scale_bars(canvas, {margin_mm, height - margin_mm - scale_bars_height_mm}, scale);
  return document.finish();
}

}  // namespace

base::Expected<PacketPdf> bench_pdf(const BenchSheets& sheets, const PacketOptions& options) {
  if (base::Problems problems = problems_of_bench(sheets, options); !problems.empty()) {
    return base::fail(std::move(problems));
  }
  const auto fonts = Fonts::load();
  if (!fonts) return base::fail(fonts.error());
  return render_bench(sheets, options, *fonts);
}

base::Expected<std::vector<BenchDrawing>> bench_svgs(const BenchSheets& sheets,
                                                     const PacketOptions& options) {
  if (base::Problems problems = problems_of_bench(sheets, options); !problems.empty()) {
    return base::fail(std::move(problems));
  }
  const auto fonts = Fonts::load();
  if (!fonts) return base::fail(fonts.error());
  const BenchPaper paper(sheets, options);
  // The pieces measure words, which asks for a picture: one of no size.
  Document scratch(Document::Format::svg, 1, 1, *fonts);
  std::vector<BenchDrawing> drawings;
  for (const Piece& piece : pieces_of(paper.setting, scratch.canvas(), sheets)) {
    drawings.push_back({piece.name, piece_svg(piece, paper.setting.scale, *fonts)});
  }
  return drawings;
}

}  // namespace propwright::sheet
