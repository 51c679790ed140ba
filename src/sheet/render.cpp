#include "render.h"

#include <algorithm>

#include "canvas.h"
#include "check.h"
#include "drawing.h"
#include "pages.h"

namespace propwright::sheet {
namespace {

Pages make_pages(const Setting& setting, const Canvas& measure) {
  Pages pages;
  add_flight_page(setting, pages);
  add_rotor_page(setting, pages);
  add_station_pages(setting, pages);
  add_outline_pages(setting, measure, pages);
  add_form_pages(setting, measure, pages);
  add_rib_pages(setting, measure, pages);
  add_spar_pages(setting, pages);
  add_weight_page(setting, pages);
  add_pitch_page(setting, pages);
  add_winding_page(setting, pages);
  return pages;
}

}  // namespace

void draw_pages(const Setting& setting, Canvas& canvas, const Pages& pages, PacketPdf& pdf) {
  const int count = static_cast<int>(pages.size());
  for (int i = 0; i < count; ++i) {
    const Page& page = pages[static_cast<std::size_t>(i)];
    page.draw(canvas);
    if (page.block_column) {
      draw_upright_block(canvas, setting, *page.block_column, page.sheet, i + 1, count);
    } else {
      draw_title_block(canvas, setting, page.sheet, i + 1, count);
    }
    canvas.next_page();
    pdf.pages.push_back(page.sheet);
  }
}

PacketPdf render_pdf(const PacketData& data, const PacketOptions& options, const Fonts& fonts) {
  const Setting setting(data, options);
  Document document(Document::Format::pdf, setting.width_mm, setting.height_mm, fonts,
                    data.job.design + ", build packet", options.date);
  Canvas& canvas = document.canvas();
  Pages pages = make_pages(setting, canvas);
  add_cover(setting, canvas, pages);
  PacketPdf pdf;
  draw_pages(setting, canvas, pages, pdf);
  pdf.bytes = document.finish();
  return pdf;
}

std::string render_svg(const form::Template& drawing, const PacketOptions& options,
                       const Fonts& fonts) {
  constexpr double margin_mm = 8, head_mm = 8, gap_mm = 6;
  const double scale = print_scale(options);
  const PrintUnits units(options.profile);
  // The extent is needed before the picture can have its size: measured on a picture of no size.
  Document scratch(Document::Format::svg, 1, 1, fonts);
  const Drawing placed(scratch.canvas(), drawing, units, {scale, false, true});
  const double width = std::max(placed.width_mm(), scale_bars_width_mm) + 2 * margin_mm;
  const double height =
      placed.height_mm() + head_mm + gap_mm + scale_bars_height_mm + 2 * margin_mm;
  Document document(Document::Format::svg, width, height, fonts);
  Canvas& canvas = document.canvas();
  canvas.text({margin_mm, margin_mm + 4}, drawing.title, {Face::semibold, strong_type_mm, black});
  placed.draw(canvas, {(width - placed.width_mm()) / 2, margin_mm + head_mm});
  draw_scale_bars(canvas, {margin_mm, height - margin_mm - scale_bars_height_mm}, scale);
  return document.finish();
}

base::Expected<PacketPdf> packet_pdf(const PacketData& data, const PacketOptions& options) {
  base::Problems problems = check(options);
  for (base::Problem& problem : check(data)) problems.push_back(std::move(problem));
  if (!problems.empty()) return base::fail(std::move(problems));
  const auto fonts = Fonts::load();
  if (!fonts) return base::fail(fonts.error());
  return render_pdf(data, options, *fonts);
}

base::Expected<std::string> template_svg(const form::Template& drawing,
                                         const PacketOptions& options) {
  base::Problems problems = check(options);
  for (base::Problem& problem : check(drawing)) problems.push_back(std::move(problem));
  if (!problems.empty()) return base::fail(std::move(problems));
  const auto fonts = Fonts::load();
  if (!fonts) return base::fail(fonts.error());
  return render_svg(drawing, options, *fonts);
}

}  // namespace propwright::sheet
