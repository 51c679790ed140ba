#include <fmt/format.h>

#include <algorithm>

#include "canvas.h"
#include "cautions.h"
#include "check.h"
#include "form_pages.h"
#include "group_pages.h"
#include "layout.h"
#include "pages.h"
#include "render.h"

namespace propwright::sheet {

const char* caution_of(Hazard hazard) {
  switch (hazard) {
    case Hazard::knife:
      return cautions::knife;
    case Hazard::heat:
      return cautions::heat;
    case Hazard::solvent:
      return cautions::solvent;
    case Hazard::instant_glue:
      return cautions::instant_glue;
    case Hazard::spray_glue:
      return cautions::spray_glue;
    case Hazard::dust:
      return cautions::dust;
    case Hazard::wire:
      return cautions::wire;
  }
  return cautions::knife;
}

std::vector<std::string> cautions_of(const std::vector<Hazard>& hazards) {
  std::vector<std::string> words;
  words.reserve(hazards.size());
  for (const Hazard hazard : hazards) words.emplace_back(caution_of(hazard));
  return words;
}

namespace {

/// Every hazard of the groups, once.
std::vector<std::string> all_cautions(const FormSheets& sheets) {
  std::vector<std::string> all;
  for (const FormGroup& group : sheets.groups) {
    for (const Hazard hazard : group.hazards) {
      const std::string words = caution_of(hazard);
      if (std::find(all.begin(), all.end(), words) == all.end()) all.push_back(words);
    }
  }
  return all;
}

void add_first_pages(const Setting& setting, const Canvas& measure, const FormSheets& sheets,
                     Pages& pages) {
  const Box& body = setting.body;
  const std::string title = "Form of " + sheets.job.design;
  const std::string words = "Turns " + hand_text(sheets.hand) + ". " + sheets.sentence;
  const std::vector<std::string> cautions = all_cautions(sheets);
  double top = body.y + title_height(measure, setting, words) + 2;
  const double cautions_top = top;
  if (!cautions.empty()) top += cautions_height(measure, body.width, cautions) + 5;
  std::vector<double> note_y;
  for (const std::string& note : sheets.notes) {
    note_y.push_back(top + 4);
    top += measure.paragraph_height(body.width, note, {}, 4.6) + 1;
  }
  if (!note_y.empty()) top += 4;
  std::vector<std::function<void(Canvas&)>> on_first;
  Pages more;
  add_table_pages(setting, measure, sheets.tables, top, more, on_first);
  pages.push_back(
      {"form",
       [&setting, &sheets, title, words, cautions, cautions_top, note_y, on_first](Canvas& canvas) {
         draw_title(canvas, setting, title, words);
         if (!cautions.empty()) {
           draw_cautions(canvas, {setting.body.x, cautions_top}, setting.body.width, cautions);
         }
         for (std::size_t i = 0; i < note_y.size(); ++i) {
           canvas.paragraph({setting.body.x, note_y[i]}, setting.body.width, sheets.notes[i], {},
                            4.6);
         }
         for (const auto& draw : on_first) draw(canvas);
       }});
  for (Page& page : more) pages.push_back(std::move(page));
}

void add_group_pages(const Setting& setting, const Canvas& measure, form::Hand hand,
                     const FormGroup& source, Pages& pages) {
  std::string sheet = source.title;
  if (!sheet.empty()) sheet[0] = static_cast<char>(std::tolower(sheet[0]));
  Group group{source.title, sheet, source.words, {}, true};
  group.cautions = cautions_of(source.hazards);
  std::vector<const form::Template*> drawings;
  std::vector<std::vector<std::string>> captions;
  for (const form::Template& drawing : source.drawings) {
    drawings.push_back(&drawing);
    captions.push_back({drawing.title});
    // What serves either hand is drawn for one and says so itself.
    if (drawing.hand == hand) captions.back().push_back(hand_text(hand));
  }
  add_group(setting, measure, group, drawings, captions, pages);
}

base::Problems problems_of_sheets(const FormSheets& sheets, const PacketOptions& options) {
  base::Problems problems = check(options);
  for (const FormGroup& group : sheets.groups) {
    for (const form::Template& drawing : group.drawings) {
      for (base::Problem& problem : check(drawing)) problems.push_back(std::move(problem));
    }
  }
  return problems;
}

}  // namespace

PacketPdf render_form(const FormSheets& sheets, const PacketOptions& options, const Fonts& fonts) {
  PacketData data;  // the title block reads the job's line
  data.job = sheets.job;
  data.propeller.blades = sheets.blades;
  data.outline = sheets.outline;
  const Setting setting(data, options);
  Document document(Document::Format::pdf, setting.width_mm, setting.height_mm, fonts,
                    sheets.job.design + ", form", options.date);
  Canvas& canvas = document.canvas();
  Pages pages;
  add_first_pages(setting, canvas, sheets, pages);
  for (const StrainMap& map : sheets.maps) add_strain_page(setting, map, pages);
  add_outline_pages(setting, canvas, pages);
  for (const FormGroup& group : sheets.groups)
    add_group_pages(setting, canvas, sheets.hand, group, pages);
  PacketPdf pdf;
  draw_pages(setting, canvas, pages, pdf);
  pdf.bytes = document.finish();
  return pdf;
}

base::Expected<PacketPdf> form_pdf(const FormSheets& sheets, const PacketOptions& options) {
  if (base::Problems problems = problems_of_sheets(sheets, options); !problems.empty()) {
    return base::fail(std::move(problems));
  }
  const auto fonts = Fonts::load();
  if (!fonts) return base::fail(fonts.error());
  return render_form(sheets, options, *fonts);
}

form::Template gathered(const std::vector<form::Template>& drawings, const std::string& name,
                        double width_m) {
  constexpr double gap_mm = 8, caption_mm = 8;
  form::Template all;
  all.name = name;
  all.title = name;
  if (drawings.empty()) return all;
  all.hand = drawings.front().hand;
  std::vector<Box> extents, sizes;
  double room = 1e3 * width_m;
  for (const form::Template& drawing : drawings) {
    double left = 1e9, right = -1e9, low = 1e9, high = -1e9;
    for (const form::TemplateLine& line : drawing.lines) {
      for (const auto& [x, y] : line.points_m) {
        left = std::min(left, 1e3 * x);
        right = std::max(right, 1e3 * x);
        low = std::min(low, 1e3 * y);
        high = std::max(high, 1e3 * y);
      }
    }
    for (const form::TemplateText& text : drawing.texts) {
      low = std::min(low, 1e3 * text.y_m - 2);
      high = std::max(high, 1e3 * text.y_m + 2);
    }
    extents.push_back({left, low, right - left, high - low});
    sizes.push_back({0, 0, right - left, high - low + caption_mm});
    room = std::max(room, right - left);
  }
  const std::vector<Placed> places = pack_shelves(sizes, room, 1e9, gap_mm);
  for (std::size_t i = 0; i < drawings.size(); ++i) {
    const Box& extent = extents[i];
    // Shelves run down the paper, templates up.
    const double x = (places[i].at.x - extent.x) / 1e3;
    const double y = (-places[i].at.y - extent.y - extent.height) / 1e3;
    for (form::TemplateLine line : drawings[i].lines) {
      for (auto& point : line.points_m) point = {point.first + x, point.second + y};
      all.lines.push_back(std::move(line));
    }
    for (form::TemplateText text : drawings[i].texts) {
      text.x_m += x;
      text.y_m += y;
      all.texts.push_back(std::move(text));
    }
    all.texts.push_back({(extent.x + extent.width / 2) / 1e3 + x,
                         (extent.y - caption_mm / 2) / 1e3 + y, drawings[i].title, 0, 0});
  }
  return all;
}

}  // namespace propwright::sheet
