#include "propwright/sheet/propeller_labels.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cautions.h"
#include "check.h"
#include "pages.h"
#include "render.h"

namespace propwright::sheet {
namespace {

constexpr double label_width_mm = 88, label_height_mm = 37, code_mm = 27;
/// Light border that readers ask for, in squares.
constexpr int quiet_squares = 4;

const std::string label_words =
    "Cut on the solid lines and stick them on the boxes. The code opens the propeller\u2019s page "
    "while the program answers at the address it was printed with.";

/// Rows of dark squares run together, so that no hairline of paper shows between them.
void draw_code(Canvas& canvas, Point at, const LabelCode& code) {
  const double square = code_mm / (code.across + 2 * quiet_squares);
  const double x0 = at.x + quiet_squares * square, y0 = at.y + quiet_squares * square;
  for (int row = 0; row < code.across; ++row) {
    for (int from = 0; from < code.across;) {
      const auto is_dark = [&](int column) {
        return code.dark[static_cast<std::size_t>(row) * static_cast<std::size_t>(code.across) +
                         static_cast<std::size_t>(column)];
      };
      int to = from;
      while (to < code.across && is_dark(to) == is_dark(from)) ++to;
      if (is_dark(from)) {
        canvas.fill(Box{x0 + from * square, y0 + row * square, (to - from) * square, square},
                    black);
      }
      from = to;
    }
  }
}

struct LabelFact {
  std::string what, value;
};

std::vector<LabelFact> facts_of(const PropellerLabel& label, const PrintUnits& units) {
  const auto text = [](const PrintUnit& unit, const std::optional<double>& si) {
    return si ? unit.text(*si) : std::string("\u2013");
  };
  std::string set = text(units.angle, label.set_angle_rad);
  if (label.set_angle_rad && label.set_radius_m)
    set += " at " + units.radius.text(*label.set_radius_m);
  return {{"mass", text(units.part_mass, label.mass_kg)},
          {"diameter", text(units.length, label.diameter_m)},
          {"pitch", text(units.pitch, label.pitch_m)},
          {"set to", set}};
}

void draw_label(Canvas& canvas, Point at, const PropellerLabel& label, const PrintUnits& units) {
  constexpr double pad = 3, name_line = 7.4, fact_line = 5.2;
  canvas.frame({at.x, at.y, label_width_mm, label_height_mm}, cut_line());
  const double room = label_width_mm - code_mm - 2 * pad - 1;
  fitted_text(canvas, {at.x + pad, at.y + name_line}, room, label.name,
              {Face::serif, head_type_mm, black});
  double y = at.y + name_line + 6.2;
  for (const LabelFact& fact : facts_of(label, units)) {
    canvas.text({at.x + pad, y}, fact.what, {Face::sans, small_type_mm, ink2});
    fitted_text(canvas, {at.x + pad + 15, y}, room - 15, fact.value,
                {Face::semibold, text_type_mm, black});
    y += fact_line;
  }
  const double foot = at.y + label_height_mm - 2.2;
  canvas.text({at.x + label_width_mm - pad, foot}, date_text(label.day),
              {Face::sans, small_type_mm, ink2}, Align::right);
  fitted_text(canvas, {at.x + pad, foot}, room, label.id, small_text);
  draw_code(canvas, {at.x + label_width_mm - code_mm - 0.5, at.y + 1.5}, label.code);
}

double labels_top(const Setting& setting, const Canvas& measure) {
  return setting.body.y + title_height(measure, setting, label_words) + 2 +
         cautions_height(measure, setting.body.width, {cautions::knife}) + 5;
}

Pages label_pages(const Setting& setting, const Canvas& measure,
                  const std::vector<PropellerLabel>& labels) {
  const double top = labels_top(setting, measure);
  const auto across = static_cast<std::size_t>(setting.body.width / label_width_mm);
  const auto down = static_cast<std::size_t>((setting.body.bottom() - top - 2) / label_height_mm);
  const std::size_t fit = std::max<std::size_t>(1, across) * std::max<std::size_t>(1, down);
  Pages pages;
  pages.reserve(labels.size() / fit + 1);
  for (std::size_t first = 0; first < labels.size(); first += fit) {
    const std::size_t last = std::min(labels.size(), first + fit);
    const auto draw = [&setting, &labels, first, last, across, top](Canvas& canvas) {
      const Box& body = setting.body;
      const double y = draw_title(canvas, setting, "Labels of propellers", label_words) + 2;
      draw_cautions(canvas, {body.x, y}, body.width, {cautions::knife});
      for (std::size_t i = first; i < last; ++i) {
        const std::size_t place = i - first, row = place / across, column = place % across;
        draw_label(canvas,
                   {body.x + static_cast<double>(column) * label_width_mm,
                    top + static_cast<double>(row) * label_height_mm},
                   labels[i], setting.units);
      }
    };
    pages.push_back({"labels", draw});
  }
  return pages;
}

base::Problems label_problems(const std::vector<PropellerLabel>& labels,
                              const PacketOptions& options) {
  base::Problems problems = check(options);
  const auto wrong = [&](const std::string& field, const char* remedy) {
    problems.push_back({.field = field, .remedy = remedy, .message = "no label can be drawn"});
  };
  if (labels.empty()) wrong("labels", "give one propeller at least");
  for (std::size_t i = 0; i < labels.size(); ++i) {
    const PropellerLabel& label = labels[i];
    const std::string place = fmt::format("labels[{}]", i + 1);
    const auto squares = static_cast<std::size_t>(std::max(0, label.code.across));
    if (squares < 21 || squares * squares != label.code.dark.size()) {
      wrong(place + ".code", "give the squares of a QR code");
    }
    bool finite = true;
    for (const auto& value : {label.mass_kg, label.diameter_m, label.pitch_m, label.set_angle_rad,
                              label.set_radius_m}) {
      finite = finite && std::isfinite(value.value_or(0));
    }
    if (!finite) wrong(place, "give finite numbers");
  }
  return problems;
}

}  // namespace

base::Expected<PacketPdf> propeller_labels_pdf(const std::vector<PropellerLabel>& labels,
                                               const PacketOptions& options) {
  if (base::Problems problems = label_problems(labels, options); !problems.empty()) {
    return base::fail(std::move(problems));
  }
  const auto fonts = Fonts::load();
  if (!fonts) return base::fail(fonts.error());
  const PacketData data;
  Setting setting(data, options);
  setting.subject = {"propellers", fmt::format("{}", labels.size())};
  Document document(Document::Format::pdf, setting.width_mm, setting.height_mm, *fonts,
                    "Labels of propellers", options.date);
  PacketPdf pdf;
  draw_pages(setting, document.canvas(), label_pages(setting, document.canvas(), labels), pdf);
  pdf.bytes = document.finish();
  return pdf;
}

}  // namespace propwright::sheet
