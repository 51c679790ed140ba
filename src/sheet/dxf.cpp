// Group codes after the public reference of release 12 (AC1009): 0 begins an entity, 8 names its
// layer, 10/20/30 are coordinates, 40 a height, 50 an angle in degrees, 66 announces vertices, 70
// flags, 72/73 how text stands on its place 11/21.
#include "propwright/sheet/dxf.h"

#include <fmt/format.h>

#include <cmath>

namespace propwright::sheet {
namespace {

constexpr double inch_m = 0.0254;
constexpr double letter_m = 0.0028;

class Writer {
 public:
  explicit Writer(DxfUnit unit) : unit_(unit) {}

  void pair(int code, const std::string& value) {
    text_ += fmt::format("{:>3}\n{}\n", code, value);
  }
  void pair(int code, int value) { pair(code, std::to_string(value)); }
  void length(int code, double si) { pair(code, number(si / unit_m())); }
  void plain(int code, double value) { pair(code, number(value)); }
  double unit_m() const { return unit_ == DxfUnit::inch ? inch_m : 1e-3; }
  DxfUnit unit() const { return unit_; }
  std::string text() && { return std::move(text_); }

 private:
  static std::string number(double value) {
    // No minus before a nought: two hands would differ in words that mean the same.
    const double rounded = std::round(value * 1e6) / 1e6 + 0.0;
    return fmt::format("{:.6f}", rounded);
  }
  DxfUnit unit_;
  std::string text_;
};

const char* layer_of(form::TemplateLine::Kind kind) {
  switch (kind) {
    case form::TemplateLine::Kind::cut:
      return "CUT";
    case form::TemplateLine::Kind::score:
      return "SCORE";
    case form::TemplateLine::Kind::centre:
    case form::TemplateLine::Kind::station:
      break;
  }
  return "MARK";
}

/// The letters that release 12 has: the degree sign by its own name, others that are no ASCII left
/// out, the sign for times as x.
std::string ascii(const std::string& utf8) {
  std::string out;
  for (std::size_t i = 0; i < utf8.size(); ++i) {
    const auto byte = static_cast<unsigned char>(utf8[i]);
    if (byte < 0x20) continue;
    if (byte < 0x80) {
      out += utf8[i];
    } else if (utf8.compare(i, 2, "°") == 0) {
      out += "%%d";
    } else if (utf8.compare(i, 2, "×") == 0) {
      out += 'x';
    } else if (utf8.compare(i, 3, "−") == 0) {
      out += '-';
    }
  }
  return out;
}

void header(Writer& w) {
  w.pair(0, "SECTION");
  w.pair(2, "HEADER");
  w.pair(9, "$ACADVER");
  w.pair(1, "AC1009");
  // Younger than release 12, but what readers go by.
  w.pair(9, "$INSUNITS");
  w.pair(70, w.unit() == DxfUnit::inch ? 1 : 4);
  w.pair(0, "ENDSEC");
}

void tables(Writer& w) {
  w.pair(0, "SECTION");
  w.pair(2, "TABLES");
  w.pair(0, "TABLE");
  w.pair(2, "LTYPE");
  w.pair(70, 1);
  w.pair(0, "LTYPE");
  w.pair(2, "CONTINUOUS");
  w.pair(70, 0);
  w.pair(3, "Solid line");
  w.pair(72, 65);
  w.pair(73, 0);
  w.plain(40, 0);
  w.pair(0, "ENDTAB");
  w.pair(0, "TABLE");
  w.pair(2, "LAYER");
  w.pair(70, 3);
  const std::pair<const char*, int> layers[] = {{"CUT", 1}, {"SCORE", 5}, {"MARK", 8}};
  for (const auto& [name, colour] : layers) {
    w.pair(0, "LAYER");
    w.pair(2, name);
    w.pair(70, 0);
    w.pair(62, colour);
    w.pair(6, "CONTINUOUS");
  }
  w.pair(0, "ENDTAB");
  w.pair(0, "ENDSEC");
}

void polyline(Writer& w, const form::TemplateLine& line) {
  const char* layer = layer_of(line.kind);
  w.pair(0, "POLYLINE");
  w.pair(8, layer);
  w.pair(66, 1);
  w.pair(70, line.closed ? 1 : 0);
  w.length(10, 0);
  w.length(20, 0);
  w.length(30, 0);
  for (const auto& [x, y] : line.points_m) {
    w.pair(0, "VERTEX");
    w.pair(8, layer);
    w.length(10, x);
    w.length(20, y);
    w.length(30, 0);
  }
  w.pair(0, "SEQEND");
  w.pair(8, layer);
}

void words(Writer& w, const std::string& text, double x_m, double y_m, double angle_deg) {
  if (text.empty()) return;
  w.pair(0, "TEXT");
  w.pair(8, "MARK");
  w.length(10, x_m);
  w.length(20, y_m);
  w.length(30, 0);
  w.length(40, letter_m);
  w.pair(1, text);
  w.plain(50, angle_deg);
  w.pair(72, 1);
  w.length(11, x_m);
  w.length(21, y_m);
  w.length(31, 0);
}

/// A length that the template tells, in the drawing's unit.
std::string told_length(double value_m, DxfUnit unit) {
  return unit == DxfUnit::inch ? fmt::format("{:.3f} in", value_m / inch_m)
                               : fmt::format("{:g} mm", std::round(1e4 * value_m) / 10);
}

void entities(Writer& w, const form::Template& drawing) {
  for (const form::TemplateLine& line : drawing.lines) {
    if (line.points_m.size() < 2) continue;
    polyline(w, line);
    if (line.label.empty()) continue;
    const auto& [x, y] = line.points_m.back();
    const std::string label =
        line.value_m > 0 ? told_length(line.value_m, w.unit()) : ascii(line.label);
    words(w, label, x, y, 0);
  }
  for (const form::TemplateText& text : drawing.texts) {
    std::string told = ascii(text.text);
    if (text.value_m > 0) told += " " + told_length(text.value_m, w.unit());
    words(w, told, text.x_m, text.y_m, text.angle_deg);
  }
}

}  // namespace

std::string dxf(const form::Template& drawing, DxfUnit unit) {
  Writer w(unit);
  header(w);
  tables(w);
  w.pair(0, "SECTION");
  w.pair(2, "ENTITIES");
  entities(w, drawing);
  w.pair(0, "ENDSEC");
  w.pair(0, "EOF");
  return std::move(w).text();
}

}  // namespace propwright::sheet
