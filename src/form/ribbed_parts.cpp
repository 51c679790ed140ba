/// The parts of a ribbed form as outlines.
#include "ribbed_parts.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "template_tools.h"

namespace propwright::form::ribbed {
namespace {

constexpr double longest_tab_m = 0.012;
constexpr double spar_mark_m = 0.003;
constexpr double letter_m = 0.0028, letter_width_m = 0.0016;
constexpr double radius_words_m = 0.020;  // room for "12 at 120.0 mm"
constexpr double strip_m = 0.006;         // edge of the base, with words on it
constexpr double spine_end_m = 0.006;     // beyond its last rib, with a number on it
constexpr double edge_step_m = 0.002;     // along a spine's top

double twice_area_m2(const PlanePoints& points) {
  double sum = 0;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const PlanePoint &a = points[i], &b = points[(i + 1) % points.size()];
    sum += a.first * b.second - b.first * a.second;
  }
  return std::abs(sum);
}

/// An edge at height 0 from left to right with its notches, which must be sorted and apart.
PlanePoints notched(double from_m, double to_m, const std::vector<Notch>& notches) {
  PlanePoints points{{from_m, 0}};
  for (const Notch& n : notches) {
    points.insert(points.end(),
                  {{n.from_m, 0}, {n.from_m, n.level_m}, {n.to_m, n.level_m}, {n.to_m, 0}});
  }
  points.emplace_back(to_m, 0);
  return points;
}

TemplateLine closed_cut(PlanePoints points) {
  return {.kind = TemplateLine::Kind::cut, .points_m = std::move(points), .closed = true};
}

PlanePoints rectangle(double x0, double y0, double x1, double y1) {
  return {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}};
}

/// The slots of a rib, from the trailing side.
std::vector<Notch> rib_slots(const Layout& layout, std::size_t index) {
  std::vector<Notch> slots;
  for (const RibbedSpine& s : layout.spines) {
    if (index < s.first || index > s.last) continue;
    slots.push_back({s.offset_m - layout.slot_m / 2, s.offset_m + layout.slot_m / 2,
                     s.lap_height_m[index - s.first]});
  }
  std::sort(slots.begin(), slots.end(),
            [](const Notch& a, const Notch& b) { return a.from_m < b.from_m; });
  return slots;
}

/// A rib's foot: a tab in the middle of every piece between slots that has room for one.
std::vector<Notch> rib_notches(const Layout& layout, std::size_t index) {
  const Section& section = layout.sections[index];
  const double sheet = layout.options.sheet_m;
  std::vector<Notch> notches;
  double from = section.foot_trail_m;
  const auto add_tab = [&](double to) {
    const double tab = std::min(longest_tab_m, to - from - sheet), middle = (from + to) / 2;
    // Rounding must not take the tab from a foot that was widened to hold just one.
    if (tab > 2 * sheet - 1e-9) notches.push_back({middle - tab / 2, middle + tab / 2, -sheet});
  };
  for (const Notch& slot : rib_slots(layout, index)) {
    add_tab(slot.from_m);
    notches.push_back(slot);
    from = slot.to_m;
  }
  add_tab(section.foot_lead_m);
  return notches;
}

/// A spine's ends along the radius.
PlanePoint spine_ends(const Layout& layout, const RibbedSpine& spine) {
  const double over = std::max(3.5 * layout.options.sheet_m, spine_end_m);
  return {layout.sections[spine.first].radius_m - over,
          layout.sections[spine.last].radius_m + over};
}

/// A tab in the middle of every bay.
std::vector<Notch> spine_tabs(const Layout& layout, const RibbedSpine& spine) {
  std::vector<Notch> tabs;
  const double sheet = layout.options.sheet_m;
  for (std::size_t i = spine.first; i < spine.last; ++i) {
    const double a = layout.sections[i].radius_m, b = layout.sections[i + 1].radius_m;
    const double tab = std::min(longest_tab_m, b - a - 4 * sheet), middle = (a + b) / 2;
    tabs.push_back({middle - tab / 2, middle + tab / 2, -sheet});
  }
  return tabs;
}

/// From the tip end back, slots cut down to their laps.
PlanePoints spine_top(const Layout& layout, const RibbedSpine& spine) {
  const auto [from, to] = spine_ends(layout, spine);
  const auto edge = [&](double x) { return spine_edge_m(layout, x, spine.offset_m); };
  PlanePoints points;
  const auto run = [&](double x0, double x1) {  // x0 > x1
    const int steps = std::max(1, static_cast<int>(std::ceil((x0 - x1) / edge_step_m)));
    for (int i = 0; i <= steps; ++i) {
      const double x = i == steps ? x1 : x0 + (x1 - x0) * i / steps;
      points.emplace_back(x, edge(x));
    }
  };
  double x = to;
  for (std::size_t i = spine.last + 1; i-- > spine.first;) {
    const double right = layout.sections[i].radius_m + layout.slot_m / 2;
    const double left = layout.sections[i].radius_m - layout.slot_m / 2;
    const double lap = spine.lap_height_m[i - spine.first];
    run(x, right);
    points.emplace_back(right, lap);
    points.emplace_back(left, lap);
    x = left;
  }
  run(x, from);
  return points;
}

/// Number in the widest piece of the foot, with the radius where there is room.
void add_rib_words(const Layout& layout, std::size_t index, Template& drawing) {
  const Section& section = layout.sections[index];
  double from = section.foot_trail_m, best = 0, middle = 0;
  const auto offer = [&](double to) {
    if (to - from > best) best = to - from, middle = (from + to) / 2;
  };
  for (const Notch& slot : rib_slots(layout, index)) {
    offer(slot.from_m);
    from = slot.to_m;
  }
  offer(section.foot_lead_m);
  const bool roomy = best > radius_words_m + 2 * letter_m;
  const double y = std::min(letter_m, section.shoulder_m / 2);
  drawing.texts.push_back({middle, y, fmt::format("{}{}", index + 1, roomy ? " at" : ""), 0,
                           roomy ? section.radius_m : 0});
}

/// Where the words beside the ribs begin: clear of the spines' holes.
double words_from_m(const Layout& layout) {
  double from = 0;
  for (const RibbedSpine& s : layout.spines) from = std::max(from, s.offset_m);
  return from + 1.5 * layout.options.sheet_m;
}

void add_base_words(const Layout& layout, double left, double right, double low, double high,
                    Template& drawing) {
  const double sheet = layout.options.sheet_m, middle = (left + right) / 2;
  for (std::size_t i = 0; i < layout.sections.size(); ++i) {
    const double radius = layout.sections[i].radius_m;
    drawing.texts.push_back({radius + layout.slot_m / 2 + 1.1 * letter_m,
                             words_from_m(layout) + radius_words_m / 2, fmt::format("{} at", i + 1),
                             90, radius});
  }
  drawing.texts.push_back({middle, high - strip_m / 2, "leading edge", 0, 0});
  drawing.texts.push_back({middle, low + strip_m / 2, hand_words(layout.surface->hand()), 0, 0});
  for (const double end : {left, right}) {
    const double inward = end == left ? 1 : -1;
    drawing.lines.push_back({.kind = TemplateLine::Kind::centre,
                             .points_m = {{end, 0}, {end + inward * 1.5 * sheet, 0}}});
  }
}

}  // namespace

double surface_height_m(const Layout& layout, double radius_m, double u_m) {
  const Surface& surface = *layout.surface;
  const double r = std::clamp(radius_m, surface.root_m(), surface.tip_m());
  const double side = surface.hand() == Hand::clockwise ? 1 : -1;
  const double width = surface.sheet_width_m(r), share = surface.spar_share(r);
  double low = -share * width - layout.options.edge_allowance_m;
  double high = (1 - share) * width + layout.options.edge_allowance_m;
  for (const double end : {low, high}) {
    const Point p = surface.along_arc(r, end);
    const bool outside = end == low ? u_m <= side * p.y_m : u_m >= side * p.y_m;
    if (outside) return p.z_m;
  }
  // Halves a chord of 60 mm to less than a picometre.
  for (int i = 0; i < 36; ++i) {
    const double arc = (low + high) / 2;
    (side * surface.along_arc(r, arc).y_m < u_m ? low : high) = arc;
  }
  return surface.along_arc(r, (low + high) / 2).z_m;
}

double spine_edge_m(const Layout& layout, double radius_m, double offset_m) {
  constexpr double clear_m = 0.0005;
  const double half = layout.options.sheet_m / 2;
  double least = 1e9;
  for (const double u : {offset_m - half, offset_m, offset_m + half}) {
    least = std::min(least, surface_height_m(layout, radius_m, u));
  }
  return layout.spar_height_m + least - clear_m;
}

RibbedPart rib_part(const Layout& layout, std::size_t index) {
  const Section& s = layout.sections[index];
  RibbedPart part{RibbedKind::rib, static_cast<int>(index) + 1, s.radius_m, 0, {}};
  PlanePoints points = notched(s.foot_trail_m, s.foot_lead_m, rib_notches(layout, index));
  if (s.foot_lead_m > s.lead_m) {
    points.emplace_back(s.foot_lead_m, s.shoulder_m);
    points.emplace_back(s.lead_m, s.shoulder_m);
  }
  points.insert(points.end(), s.top.rbegin(), s.top.rend());
  if (s.foot_trail_m < s.trail_m) {
    points.emplace_back(s.trail_m, s.shoulder_m);
    points.emplace_back(s.foot_trail_m, s.shoulder_m);
  }
  part.area_m2 = twice_area_m2(points) / 2;
  Template& drawing = part.drawing;
  drawing.name = fmt::format("ribbed-rib-{}", part.number);
  drawing.title = fmt::format("Form rib {}", part.number);
  drawing.hand = layout.surface->hand();
  drawing.lines.push_back(closed_cut(std::move(points)));
  drawing.lines.push_back(
      {.kind = TemplateLine::Kind::score,
       .points_m = {{0, layout.spar_height_m - spar_mark_m}, {0, layout.spar_height_m}}});
  add_rib_words(layout, index, drawing);
  give_hand(drawing);
  return part;
}

RibbedPart spine_part(const Layout& layout, std::size_t index) {
  const RibbedSpine& spine = layout.spines[index];
  RibbedPart part{RibbedKind::spine, static_cast<int>(index) + 1, spine.offset_m, 0, {}};
  const auto [from, to] = spine_ends(layout, spine);
  PlanePoints points = notched(from, to, spine_tabs(layout, spine));
  const PlanePoints top = spine_top(layout, spine);
  points.insert(points.end(), top.begin(), top.end());
  part.area_m2 = twice_area_m2(points) / 2;
  Template& drawing = part.drawing;
  drawing.name = fmt::format("ribbed-spine-{}", part.number);
  drawing.title = fmt::format("Form spine {}", part.number);
  drawing.hand = layout.surface->hand();
  drawing.lines.push_back(closed_cut(std::move(points)));
  for (std::size_t i = spine.first; i <= spine.last; ++i) {
    const double lap = spine.lap_height_m[i - spine.first];
    if (lap < 1.6 * letter_m) continue;  // no room over the words below
    drawing.texts.push_back({layout.sections[i].radius_m + layout.slot_m / 2 + 1.5 * letter_width_m,
                             lap + letter_m / 2, fmt::format("{}", i + 1), 0, 0});
  }
  drawing.texts.push_back(
      {(from + to) / 2, letter_m, fmt::format("spine {}, trailing side", part.number), 0, 0});
  give_hand(drawing);
  return part;
}

RibbedPart base_part(const Layout& layout) {
  RibbedPart part{RibbedKind::base, 1, 0, 0, {}};
  const double sheet = layout.options.sheet_m, fit = layout.options.fit_m;
  const double half = layout.slot_m / 2;
  std::vector<PlanePoints> holes;
  double left = layout.sections.front().radius_m - half;
  double right = layout.sections.back().radius_m + half + 2 * letter_m;
  // Room on the leading side for the words beside every rib.
  double low = 0, high = words_from_m(layout) + radius_words_m;
  for (std::size_t i = 0; i < layout.sections.size(); ++i) {
    const Section& s = layout.sections[i];
    low = std::min(low, s.foot_trail_m), high = std::max(high, s.foot_lead_m);
    for (const Notch& n : rib_notches(layout, i)) {
      if (n.level_m > 0) continue;
      holes.push_back(
          rectangle(s.radius_m - half, n.from_m - fit / 2, s.radius_m + half, n.to_m + fit / 2));
    }
  }
  for (const RibbedSpine& spine : layout.spines) {
    const auto [from, to] = spine_ends(layout, spine);
    left = std::min(left, from), right = std::max(right, to);
    for (const Notch& n : spine_tabs(layout, spine)) {
      holes.push_back(rectangle(n.from_m - fit / 2, spine.offset_m - half, n.to_m + fit / 2,
                                spine.offset_m + half));
    }
  }
  left -= 2 * sheet, right += 2 * sheet, low -= strip_m, high += strip_m;
  Template& drawing = part.drawing;
  drawing.name = "ribbed-base";
  drawing.title = "Form base";
  drawing.hand = layout.surface->hand();
  drawing.lines.push_back(closed_cut(rectangle(left, low, right, high)));
  part.area_m2 = (right - left) * (high - low);
  for (PlanePoints& hole : holes) {
    part.area_m2 -= twice_area_m2(hole) / 2;
    drawing.lines.push_back(closed_cut(std::move(hole)));
  }
  add_base_words(layout, left, right, low, high, drawing);
  give_hand(drawing);
  return part;
}

}  // namespace propwright::form::ribbed
