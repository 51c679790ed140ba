/// Drawing in millimetres, x right, y down from the top left corner of the paper.
#pragma once

#include <cairo.h>
#include <pango/pango.h>

#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "fonts.h"
#include "geometry.h"
#include "tokens.h"

namespace propwright::sheet {

enum class Face { sans, semibold, serif };
enum class Align { left, centre, right };
struct TextStyle {
  Face face = Face::sans;
  double size_mm = text_type_mm;
  Colour colour = black;
};
inline constexpr TextStyle small_text{Face::sans, small_type_mm, black};
inline constexpr TextStyle small_strong_text{Face::semibold, small_type_mm, black};

class Canvas {
 public:
  /// Draws on `surface` (kept alive), whose device unit is `units_per_mm` to the millimetre.
  Canvas(cairo_surface_t* surface, double units_per_mm, const Fonts& fonts);

  void line(Point from, Point to, const Stroke& stroke);
  void polyline(const std::vector<Point>& points, const Stroke& stroke, bool closed = false);
  void fill(const std::vector<Point>& points, Colour colour);
  void fill(const Box& box, Colour colour);
  void frame(const Box& box, const Stroke& stroke);
  void circle(Point centre, double radius_mm, const Stroke& stroke);
  void disc(Point centre, double radius_mm, Colour colour);
  /// Part of a circle, angles in radians from +x towards +y, drawn with rising angle.
  void arc(Point centre, double radius_mm, double from, double to, const Stroke& stroke);
  void arrow_head(Point tip, Point from, double length_mm, Colour colour);

  /// One line of text, its baseline at `at`. With a halo the paper shows round the letters.
  void text(Point at, const std::string& words, const TextStyle& style, Align align = Align::left,
            bool halo = false);
  /// As text, turned anticlockwise by `angle` radians about `at`.
  void turned_text(Point at, double angle, const std::string& words, const TextStyle& style,
                   Align align = Align::left);
  double text_width(const std::string& words, const TextStyle& style) const;
  /// A paragraph wrapped to `width`, its first baseline at `at`; returns the height of its lines.
  double paragraph(Point at, double width, const std::string& words, const TextStyle& style,
                   double line_mm);
  double paragraph_height(double width, const std::string& words, const TextStyle& style,
                          double line_mm) const;

  void next_page() { cairo_show_page(context_.get()); }

  /// Until it goes out of scope: draws only inside `clip`, shifted by `origin`.
  class Scope {
   public:
    Scope(Canvas& canvas, const Box& clip, Point origin);
    ~Scope() { cairo_restore(context_); }
    Scope(const Scope&) = delete;
    Scope& operator=(const Scope&) = delete;

   private:
    cairo_t* context_;
  };

  /// Until it goes out of scope: (0, 0) is at `at` and x runs `angle` radians anticlockwise.
  class Turn {
   public:
    Turn(Canvas& canvas, Point at, double angle);
    ~Turn() { cairo_restore(context_); }
    Turn(const Turn&) = delete;
    Turn& operator=(const Turn&) = delete;

   private:
    cairo_t* context_;
  };

 private:
  friend class Scope;
  friend class Turn;
  struct Destroy {
    void operator()(cairo_t* context) const { cairo_destroy(context); }
  };
  struct Unref {
    void operator()(void* object) const { g_object_unref(object); }
  };
  using Layout = std::unique_ptr<PangoLayout, Unref>;

  void path(const std::vector<Point>& points, bool closed);
  void stroke(const Stroke& stroke);
  void source(Colour colour);
  Layout layout(const std::string& words, const TextStyle& style) const;
  std::vector<std::string> wrap(double width, const std::string& words,
                                const TextStyle& style) const;

  std::unique_ptr<cairo_t, Destroy> context_;
  std::unique_ptr<PangoContext, Unref> pango_;
};

/// A surface that collects its bytes in memory.
class Document {
 public:
  enum class Format { pdf, svg };
  /// `date` is ISO 8601 and becomes the PDF's creation date.
  Document(Format format, double width_mm, double height_mm, const Fonts& fonts,
           const std::string& title = {}, const std::string& date = {});
  Canvas& canvas() { return *canvas_; }
  /// Ends the drawing; the canvas must not be used afterwards.
  std::string finish();

 private:
  struct Destroy {
    void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
  };
  Format format_;
  std::unique_ptr<std::string> bytes_;
  std::unique_ptr<cairo_surface_t, Destroy> surface_;
  std::unique_ptr<Canvas> canvas_;
};

}  // namespace propwright::sheet
