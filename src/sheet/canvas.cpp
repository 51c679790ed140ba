#include "canvas.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <pango/pangocairo.h>

#include <cmath>
#include <stdexcept>

#include "propwright/base/constants.h"

namespace propwright::sheet {
namespace {

constexpr double points_per_mm = 72.0 / 25.4;
constexpr double halo_mm = 0.6;

cairo_status_t append(void* closure, const unsigned char* data, unsigned length) {
  static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

/// Cairo names the drawing by a count of all surfaces of the process ("surface41"), which would
/// make the same drawing differ from call to call; here it is always the first.
void number_surface(std::string& svg) {
  const std::string name = "surface";
  std::size_t at = 0;
  while ((at = svg.find(name, at)) != std::string::npos) {
    at += name.size();
    std::size_t end = at;
    while (end < svg.size() && svg[end] >= '0' && svg[end] <= '9') ++end;
    if (end > at) svg.replace(at, end - at, "1");
  }
}

double units_to_mm(int pango_units) {
  return static_cast<double>(pango_units) / PANGO_SCALE;
}

}  // namespace

Canvas::Canvas(cairo_surface_t* surface, double units_per_mm, const Fonts& fonts)
    : context_(cairo_create(surface)), pango_(pango_font_map_create_context(fonts.map())) {
  cairo_scale(context_.get(), units_per_mm, units_per_mm);
  cairo_set_line_join(context_.get(), CAIRO_LINE_JOIN_ROUND);
  // Hinting and rounding work in whole user units, which are millimetres here.
  cairo_font_options_t* options = cairo_font_options_create();
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options(pango_.get(), options);
  cairo_font_options_destroy(options);
  pango_context_set_round_glyph_positions(pango_.get(), FALSE);
  pango_context_set_language(pango_.get(), pango_language_from_string("en"));
}

void Canvas::source(Colour colour) {
  cairo_set_source_rgb(context_.get(), colour.red, colour.green, colour.blue);
}

void Canvas::stroke(const Stroke& stroke) {
  source(stroke.colour);
  cairo_set_line_width(context_.get(), stroke.width_mm);
  cairo_set_dash(context_.get(), stroke.dash_mm.data(), static_cast<int>(stroke.dash_mm.size()), 0);
  cairo_stroke(context_.get());
}

void Canvas::path(const std::vector<Point>& points, bool closed) {
  cairo_new_path(context_.get());
  for (const Point& point : points) cairo_line_to(context_.get(), point.x, point.y);
  if (closed) cairo_close_path(context_.get());
}

void Canvas::line(Point from, Point to, const Stroke& with) {
  polyline({from, to}, with);
}

void Canvas::polyline(const std::vector<Point>& points, const Stroke& with, bool closed) {
  if (points.size() < 2) return;
  path(points, closed);
  stroke(with);
}

void Canvas::fill(const std::vector<Point>& points, Colour colour) {
  path(points, true);
  source(colour);
  cairo_fill(context_.get());
}

void Canvas::fill(const Box& box, Colour colour) {
  fill({{box.x, box.y}, {box.right(), box.y}, {box.right(), box.bottom()}, {box.x, box.bottom()}},
       colour);
}

void Canvas::frame(const Box& box, const Stroke& with) {
  polyline(
      {{box.x, box.y}, {box.right(), box.y}, {box.right(), box.bottom()}, {box.x, box.bottom()}},
      with, true);
}

void Canvas::circle(Point centre, double radius_mm, const Stroke& with) {
  arc(centre, radius_mm, 0, 2 * base::pi, with);
}

void Canvas::disc(Point centre, double radius_mm, Colour colour) {
  cairo_new_path(context_.get());
  cairo_arc(context_.get(), centre.x, centre.y, radius_mm, 0, 2 * base::pi);
  source(colour);
  cairo_fill(context_.get());
}

void Canvas::arc(Point centre, double radius_mm, double from, double to, const Stroke& with) {
  cairo_new_path(context_.get());
  cairo_arc(context_.get(), centre.x, centre.y, radius_mm, from, to);
  stroke(with);
}

void Canvas::arrow_head(Point tip, Point from, double length_mm, Colour colour) {
  const double angle = std::atan2(tip.y - from.y, tip.x - from.x);
  constexpr double half_angle = 0.3;
  const auto corner = [&](double side) {
    return Point{tip.x - length_mm * std::cos(angle + side * half_angle),
                 tip.y - length_mm * std::sin(angle + side * half_angle)};
  };
  fill({tip, corner(1), corner(-1)}, colour);
}

Canvas::Layout Canvas::layout(const std::string& words, const TextStyle& style) const {
  Layout made(pango_layout_new(pango_.get()));
  PangoFontDescription* font = pango_font_description_new();
  pango_font_description_set_family_static(
      font, style.face == Face::serif ? "Source Serif 4" : "Source Sans 3");
  pango_font_description_set_weight(
      font, style.face == Face::semibold ? PANGO_WEIGHT_SEMIBOLD : PANGO_WEIGHT_NORMAL);
  pango_font_description_set_absolute_size(font, style.size_mm * PANGO_SCALE);
  pango_layout_set_font_description(made.get(), font);
  pango_font_description_free(font);
  PangoAttrList* attributes = pango_attr_list_new();
  pango_attr_list_insert(attributes, pango_attr_font_features_new("tnum=1, lnum=1"));
  pango_layout_set_attributes(made.get(), attributes);
  pango_attr_list_unref(attributes);
  pango_layout_set_text(made.get(), words.data(), static_cast<int>(words.size()));
  return made;
}

double Canvas::text_width(const std::string& words, const TextStyle& style) const {
  int width = 0;
  pango_layout_get_size(layout(words, style).get(), &width, nullptr);
  return units_to_mm(width);
}

void Canvas::text(Point at, const std::string& words, const TextStyle& style, Align align,
                  bool halo) {
  if (words.empty()) return;
  const Layout made = layout(words, style);
  int width = 0;
  pango_layout_get_size(made.get(), &width, nullptr);
  const double share = align == Align::left ? 0 : align == Align::centre ? 0.5 : 1;
  const Point corner{at.x - share * units_to_mm(width),
                     at.y - units_to_mm(pango_layout_get_baseline(made.get()))};
  if (halo) {
    cairo_new_path(context_.get());
    cairo_move_to(context_.get(), corner.x, corner.y);
    pango_cairo_layout_path(context_.get(), made.get());
    stroke({2 * halo_mm, white, {}});
  }
  cairo_new_path(context_.get());
  cairo_move_to(context_.get(), corner.x, corner.y);
  source(style.colour);
  pango_cairo_show_layout(context_.get(), made.get());
}

void Canvas::turned_text(Point at, double angle, const std::string& words, const TextStyle& style,
                         Align align) {
  const Turn turn(*this, at, angle);
  text({0, 0}, words, style, align);
}

std::vector<std::string> Canvas::wrap(double width, const std::string& words,
                                      const TextStyle& style) const {
  const Layout made = layout(words, style);
  pango_layout_set_width(made.get(), static_cast<int>(std::lround(width * PANGO_SCALE)));
  pango_layout_set_wrap(made.get(), PANGO_WRAP_WORD_CHAR);
  std::vector<std::string> lines;
  for (GSList* item = pango_layout_get_lines_readonly(made.get()); item; item = item->next) {
    const auto* line = static_cast<const PangoLayoutLine*>(item->data);
    std::string text = words.substr(static_cast<std::size_t>(line->start_index),
                                    static_cast<std::size_t>(line->length));
    while (!text.empty() && text.back() == ' ') text.pop_back();
    lines.push_back(std::move(text));
  }
  return lines;
}

double Canvas::paragraph(Point at, double width, const std::string& words, const TextStyle& style,
                         double line_mm) {
  double y = at.y;
  for (const std::string& line : wrap(width, words, style)) {
    text({at.x, y}, line, style);
    y += line_mm;
  }
  return y - at.y;
}

double Canvas::paragraph_height(double width, const std::string& words, const TextStyle& style,
                                double line_mm) const {
  return static_cast<double>(wrap(width, words, style).size()) * line_mm;
}

Canvas::Scope::Scope(Canvas& canvas, const Box& clip, Point origin)
    : context_(canvas.context_.get()) {
  cairo_save(context_);
  cairo_rectangle(context_, clip.x, clip.y, clip.width, clip.height);
  cairo_clip(context_);
  cairo_translate(context_, origin.x, origin.y);
}

Canvas::Turn::Turn(Canvas& canvas, Point at, double angle) : context_(canvas.context_.get()) {
  cairo_save(context_);
  cairo_translate(context_, at.x, at.y);
  cairo_rotate(context_, -angle);
}

Document::Document(Format format, double width_mm, double height_mm, const Fonts& fonts,
                   const std::string& title, const std::string& date)
    : format_(format), bytes_(std::make_unique<std::string>()) {
  if (format == Format::pdf) {
    surface_.reset(cairo_pdf_surface_create_for_stream(
        append, bytes_.get(), width_mm * points_per_mm, height_mm * points_per_mm));
    cairo_pdf_surface_set_metadata(surface_.get(), CAIRO_PDF_METADATA_TITLE, title.c_str());
    const std::string created = date + "T00:00:00Z";
    cairo_pdf_surface_set_metadata(surface_.get(), CAIRO_PDF_METADATA_CREATE_DATE, created.c_str());
    canvas_ = std::make_unique<Canvas>(surface_.get(), points_per_mm, fonts);
  } else {
    surface_.reset(cairo_svg_surface_create_for_stream(append, bytes_.get(), width_mm, height_mm));
    cairo_svg_surface_set_document_unit(surface_.get(), CAIRO_SVG_UNIT_MM);
    canvas_ = std::make_unique<Canvas>(surface_.get(), 1, fonts);
  }
}

std::string Document::finish() {
  canvas_.reset();
  cairo_surface_finish(surface_.get());
  if (cairo_surface_status(surface_.get()) != CAIRO_STATUS_SUCCESS) {
    throw std::runtime_error(cairo_status_to_string(cairo_surface_status(surface_.get())));
  }
  if (format_ == Format::svg) number_surface(*bytes_);
  return std::move(*bytes_);
}

}  // namespace propwright::sheet
