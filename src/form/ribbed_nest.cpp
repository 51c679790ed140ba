/// Parts on pages: shelves along the longer side, the tallest part first.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <tuple>

#include "ribbed_parts.h"
#include "template_tools.h"

namespace propwright::form::ribbed {
namespace {

constexpr double words_strip_m = 0.009;  // two lines at the foot of a page

struct Extent {
  double left = 1e9, low = 1e9, right = -1e9, high = -1e9;
  double width() const { return right - left; }
  double height() const { return high - low; }
};

Extent extent_of(const Template& drawing) {
  Extent e;
  for (const TemplateLine& line : drawing.lines) {
    for (const auto& [x, y] : line.points_m) {
      e.left = std::min(e.left, x), e.right = std::max(e.right, x);
      e.low = std::min(e.low, y), e.high = std::max(e.high, y);
    }
  }
  return e;
}

/// A part to be placed, in the axes of the shelves: x along them.
struct Piece {
  std::size_t part = 0;
  Extent extent;
  bool turned = false;  ///< on the shelf
  double width = 0, height = 0;
};

struct Shelf {
  std::size_t page = 0;
  double y = 0, height = 0, used = 0;
};

struct Place {
  std::size_t page = 0;
  double x = 0, y = 0;
};

/// First fit: on the first shelf with room, else on a new one, else on a new page.
class Shelves {
 public:
  Shelves(double width, double height, double gap) : width_(width), height_(height), gap_(gap) {}

  Place put(const Piece& piece) {
    for (Shelf& shelf : shelves_) {
      if (piece.height > shelf.height || shelf.used + piece.width > width_) continue;
      const Place place{shelf.page, shelf.used, shelf.y};
      shelf.used += piece.width + gap_;
      return place;
    }
    std::size_t page = 0;
    while (page < filled_.size() && filled_[page] + piece.height > height_) ++page;
    if (page == filled_.size()) filled_.push_back(0);
    shelves_.push_back({page, filled_[page], piece.height, piece.width + gap_});
    const Place place{page, 0, filled_[page]};
    filled_[page] += piece.height + gap_;
    return place;
  }

 private:
  double width_, height_, gap_;
  std::vector<Shelf> shelves_;
  std::vector<double> filled_;
};

std::pair<double, double> moved(const PlanePoint& p, const Extent& from, const NestedPart& to) {
  const double x = p.first - from.left, y = p.second - from.low;
  // A quarter to the left: what was above is on the left.
  return to.turned ? PlanePoint{to.x_m + to.width_m - y, to.y_m + x}
                   : PlanePoint{to.x_m + x, to.y_m + y};
}

void add_part(const Template& part, const Extent& from, const NestedPart& to, Template& page) {
  for (TemplateLine line : part.lines) {
    for (auto& point : line.points_m) point = moved(point, from, to);
    page.lines.push_back(std::move(line));
  }
  for (TemplateText text : part.texts) {
    std::tie(text.x_m, text.y_m) = moved({text.x_m, text.y_m}, from, to);
    if (to.turned) text.angle_deg = text.angle_deg >= 90 ? 0 : text.angle_deg + 90;
    page.texts.push_back(std::move(text));
  }
}

/// As it lies on the shelf: turned only where it would be too long otherwise.
base::Expected<Piece> piece_of(const RibbedPart& part, std::size_t index, double width,
                               double height) {
  Piece piece{.part = index, .extent = extent_of(part.drawing)};
  piece.width = piece.extent.width(), piece.height = piece.extent.height();
  const auto fits = [&] { return piece.width <= width && piece.height <= height; };
  if (!fits()) {
    std::swap(piece.width, piece.height);
    piece.turned = true;
  }
  if (fits()) return piece;
  return base::fail(
      {.field = "ribbed.page",
       .value =
           fmt::format("{:.0f} x {:.0f} mm free of margins and words", 1e3 * width, 1e3 * height),
       .allowed = fmt::format("{:.0f} x {:.0f} mm or more", 1e3 * piece.extent.width(),
                              1e3 * piece.extent.height()),
       .remedy = "take a larger sheet, or ribs over a shorter length",
       .message = part.drawing.title + " does not fit on the page"});
}

void add_words(std::vector<RibbedPage>& pages, double margin_m, Hand hand) {
  for (std::size_t i = 0; i < pages.size(); ++i) {
    RibbedPage& page = pages[i];
    page.drawing.name = fmt::format("ribbed-page-{}", i + 1);
    page.drawing.title = fmt::format("Ribbed form, page {} of {}", i + 1, pages.size());
    page.drawing.hand = hand;
    const double x = page.width_m / 2;
    page.drawing.texts.push_back(
        {x, margin_m + 0.0060,
         fmt::format("page {} of {}; numbers of ribs face the tip", i + 1, pages.size()), 0, 0});
    page.drawing.texts.push_back({x, margin_m + 0.0018, hand_words(hand), 0, 0});
  }
}

}  // namespace

base::Expected<std::vector<RibbedPage>> nested(const std::vector<RibbedPart>& parts,
                                               const RibbedOptions& options, Hand hand) {
  const bool upright = options.page_height_m > options.page_width_m;
  const double free_x = options.page_width_m - 2 * options.margin_m;
  const double free_y = options.page_height_m - 2 * options.margin_m - words_strip_m;
  const double width = upright ? free_y : free_x, height = upright ? free_x : free_y;
  std::vector<Piece> pieces;
  base::Problems problems;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const auto piece = piece_of(parts[i], i, width, height);
    if (piece) {
      pieces.push_back(*piece);
    } else {
      problems.push_back(piece.error().front());
    }
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  std::stable_sort(pieces.begin(), pieces.end(),
                   [](const Piece& a, const Piece& b) { return a.height > b.height; });
  Shelves shelves(width, height, options.gap_m);
  std::vector<RibbedPage> pages;
  for (const Piece& piece : pieces) {
    const Place place = shelves.put(piece);
    if (place.page == pages.size()) {
      pages.push_back({options.page_width_m, options.page_height_m, {}, {}});
    }
    // Shelves run up an upright page, the first of them on its right.
    NestedPart to{.part = piece.part,
                  .width_m = piece.width,
                  .height_m = piece.height,
                  .turned = piece.turned != upright};
    if (upright) std::swap(to.width_m, to.height_m);
    to.x_m = options.margin_m + (upright ? height - place.y - piece.height : place.x);
    to.y_m = options.margin_m + words_strip_m + (upright ? place.x : place.y);
    RibbedPage& page = pages[place.page];
    add_part(parts[piece.part].drawing, piece.extent, to, page.drawing);
    page.parts.push_back(to);
  }
  add_words(pages, options.margin_m, hand);
  return pages;
}

}  // namespace propwright::form::ribbed
