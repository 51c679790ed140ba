/// The ribbed form: what is asked for, checked and laid out.
#include "propwright/form/ribbed.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <stdexcept>

#include "propwright/base/constants.h"
#include "ribbed_parts.h"

namespace propwright::form {
namespace ribbed {
namespace {

constexpr int top_points = 81, least_ribs = 3, most_ribs = 80;
constexpr double steepest_rad = 80 * base::degree_rad;   // at the spar line
constexpr double overhang_rad = 110 * base::degree_rad;  // tangent at the section's ends
constexpr double least_bay = 6;                          // sheets from rib to rib: a tab between
constexpr double least_bay_m = 0.008;                    // and room for its number
constexpr double least_crossing = 3;                     // sheets a spine is high at a rib
constexpr double two_spines_from_m = 0.080;

base::Problem problem(const char* field, std::string value, std::string allowed, const char* remedy,
                      const char* message) {
  return {.field = field,
          .value = std::move(value),
          .allowed = std::move(allowed),
          .remedy = remedy,
          .message = message};
}

std::string mm(double length_m) {
  return fmt::format("{:.1f} mm", 1e3 * length_m);
}

bool within(double value, double low, double high) {
  return value >= low && value <= high;
}

void check_lengths(const RibbedOptions& o, base::Problems& problems) {
  const auto check = [&](const char* field, double value, double low, double high,
                         const char* allowed, const char* remedy) {
    if (within(value, low, high)) return;
    problems.push_back(
        problem(field, fmt::format("{:.2f} mm", 1e3 * value), allowed, remedy, "out of range"));
  };
  check("ribbed.sheet", o.sheet_m, 0.0005, 0.006, "0.5 to 6 mm", "2 mm plywood is usual");
  check("ribbed.fit", o.fit_m, -0.0005, 0.0005, "-0.5 to 0.5 mm",
        "cut a slot in a scrap and measure how much wider it came out");
  check("ribbed.least_height", o.least_height_m, 0.005, 0.1, "5 to 100 mm", "12 mm is usual");
  check("ribbed.edge_allowance", o.edge_allowance_m, 0, 0.03, "0 to 30 mm", "4 mm is usual");
  check("ribbed.margin", o.margin_m, 0, 0.05, "0 to 50 mm", "10 mm is usual on a printer");
  check("ribbed.gap", o.gap_m, 0.0005, 0.02, "0.5 to 20 mm", "4 mm is usual");
  check("ribbed.page", std::min(o.page_width_m, o.page_height_m), 0.1, 3, "100 mm to 3 m",
        "give the size of the sheet or of the laser's bed");
  check("ribbed.page", std::max(o.page_width_m, o.page_height_m), 0.1, 3, "100 mm to 3 m",
        "give the size of the sheet or of the laser's bed");
  if (o.stations_m.empty() && o.ribs == 0) {
    check("ribbed.spacing", o.spacing_m, least_bay_m, 0.1, "8 to 100 mm", "20 mm is usual");
  }
  if (o.spines < 0 || o.spines > 2) {
    problems.push_back(problem("ribbed.spines", fmt::format("{}", o.spines), "1 or 2, 0 to choose",
                               "one is enough for most blades", "out of range"));
  }
}

std::vector<double> station_radii(const Surface& surface, const RibbedOptions& o) {
  if (!o.stations_m.empty()) return o.stations_m;
  const double root = surface.root_m(), tip = surface.tip_m();
  // A length that is a whole number of spacings must not gain a rib by rounding.
  const double bays = (tip - root) / o.spacing_m - 1e-9;
  const int count =
      o.ribs != 0 ? o.ribs : std::max(least_ribs, static_cast<int>(std::ceil(bays)) + 1);
  std::vector<double> radii;
  for (int i = 0; i < std::min(count, most_ribs + 1); ++i) {
    radii.push_back(i == count - 1 ? tip : root + (tip - root) * i / (count - 1));
  }
  return radii;
}

double least_bay_of(const RibbedOptions& o) {
  return std::max(least_bay * o.sheet_m, least_bay_m);
}

void check_stations(const Surface& surface, const RibbedOptions& o, base::Problems& problems) {
  const std::vector<double> radii = station_radii(surface, o);
  const bool given = !o.stations_m.empty();
  if (o.ribs < 0 || !within(static_cast<double>(radii.size()), least_ribs, most_ribs)) {
    problems.push_back(problem(
        given ? "ribbed.stations" : "ribbed.ribs",
        fmt::format("{}", o.ribs < 0 ? o.ribs : static_cast<int>(radii.size())),
        fmt::format("{} to {} ribs", least_ribs, most_ribs), "a rib every 15 to 25 mm is usual",
        "the sheet needs ribs to lie on, and room for them"));
    return;
  }
  for (std::size_t i = 0; i < radii.size(); ++i) {
    if (!within(radii[i], surface.root_m(), surface.tip_m())) {
      problems.push_back(problem("ribbed.stations", mm(radii[i]),
                                 fmt::format("{} to {}", mm(surface.root_m()), mm(surface.tip_m())),
                                 "leave out the stations off the blade",
                                 "there is no blade at this radius"));
    }
    if (i == 0 || radii[i] - radii[i - 1] >= least_bay_of(o) - 1e-9) continue;
    problems.push_back(problem(
        given ? "ribbed.stations" : "ribbed.spacing", mm(radii[i] - radii[i - 1]),
        fmt::format("rising by {} or more", mm(least_bay_of(o))),
        "take fewer ribs or thinner sheet", "no tab of the spine has room between two ribs"));
    return;
  }
}

/// The top still in heights over the spar line.
Section section_of(const Surface& surface, double radius_m, double allowance_m) {
  const double share = surface.spar_share(radius_m), width = surface.sheet_width_m(radius_m);
  const double from = -share * width - allowance_m, to = (1 - share) * width + allowance_m;
  const double side = surface.hand() == Hand::clockwise ? 1 : -1;
  Section section;
  section.radius_m = radius_m;
  if (!(to > from)) return section;
  for (int i = 0; i < top_points; ++i) {
    const Point p = surface.along_arc(radius_m, from + (to - from) * i / (top_points - 1));
    section.top.emplace_back(side * p.y_m, p.z_m);
  }
  section.trail_m = section.top.front().first;
  section.lead_m = section.top.back().first;
  return section;
}

std::optional<base::Problem> steepness_problem(const Section& s, double angle_rad) {
  double steepest = 0;
  for (std::size_t i = 1; i < s.top.size(); ++i) {
    steepest = std::max(steepest, std::atan2(s.top[i].second - s.top[i - 1].second,
                                             s.top[i].first - s.top[i - 1].first));
  }
  const bool at_spar = angle_rad > steepest_rad;
  if (!at_spar && steepest <= overhang_rad) return std::nullopt;
  return problem("ribbed.angle",
                 fmt::format("{:.1f} degrees at radius {}",
                             (at_spar ? angle_rad : steepest) / base::degree_rad, mm(s.radius_m)),
                 at_spar ? "up to 80 degrees at the spar line" : "up to 110 degrees at an edge",
                 "begin the ribs further out, or print or carve the form",
                 "the blade is too steep there for ribs standing on a base");
}

/// Feet widened so that each has a slot in the middle and a tab to either side.
void give_foot(Section& s, double slot_m, double sheet_m) {
  const double half = slot_m / 2 + 3 * sheet_m;
  s.foot_lead_m = s.lead_m >= half ? s.lead_m : std::max(half, s.lead_m + sheet_m / 2);
  s.foot_trail_m = s.trail_m <= -half ? s.trail_m : std::min(-half, s.trail_m - sheet_m / 2);
  s.shoulder_m = 0.75 * std::min(s.top.front().second, s.top.back().second);
}

std::optional<base::Problem> lay_out_sections(Layout& layout) {
  const RibbedOptions& o = layout.options;
  double lowest = 0;
  for (const double radius : station_radii(*layout.surface, o)) {
    Section section = section_of(*layout.surface, radius, o.edge_allowance_m);
    if (section.top.empty()) {
      return problem("ribbed.edge_allowance", mm(o.edge_allowance_m), "above 0 for a pointed tip",
                     "give 2 mm or more, or end the ribs short of the tip",
                     "the rib at the tip has no width");
    }
    if (auto steep = steepness_problem(section, layout.surface->angle_rad(radius))) return steep;
    for (const PlanePoint& p : section.top) lowest = std::min(lowest, p.second);
    layout.sections.push_back(std::move(section));
  }
  layout.spar_height_m = o.least_height_m - lowest;
  for (Section& s : layout.sections) {
    for (PlanePoint& p : s.top) p.second += layout.spar_height_m;
    give_foot(s, layout.slot_m, o.sheet_m);
  }
  return std::nullopt;
}

/// Beside the slot the rib keeps half a thickness, unless its widened foot holds the whole slot.
bool is_crossed(const Layout& layout, const Section& s, double offset_m) {
  const double lap = spine_edge_m(layout, s.radius_m, offset_m) / 2;
  const double kept = lap < s.shoulder_m ? 0.1 : 0.5;
  const double half = layout.slot_m / 2 + kept * layout.options.sheet_m;
  return s.trail_m <= offset_m - half && s.lead_m >= offset_m + half;
}

/// The longest run of ribs wide enough for a spine at this offset.
RibbedSpine spine_at(const Layout& layout, double offset_m) {
  RibbedSpine spine;
  spine.offset_m = offset_m;
  std::size_t best = 0, begun = 0;
  for (std::size_t i = 0; i < layout.sections.size(); ++i) {
    if (!is_crossed(layout, layout.sections[i], offset_m)) {
      begun = i + 1;
    } else if (i + 1 - begun > best) {
      best = i + 1 - begun, spine.first = begun, spine.last = i;
    }
  }
  if (best == 0) return spine;
  for (std::size_t i = spine.first; i <= spine.last; ++i) {
    const double edge = spine_edge_m(layout, layout.sections[i].radius_m, offset_m);
    spine.edge_height_m.push_back(edge);
    spine.lap_height_m.push_back(edge / 2);
  }
  return spine;
}

std::optional<base::Problem> lay_out_spines(Layout& layout) {
  const auto widest = std::max_element(layout.sections.begin(), layout.sections.end(),
                                       [](const Section& a, const Section& b) {
                                         return a.lead_m - a.trail_m < b.lead_m - b.trail_m;
                                       });
  int count = layout.options.spines;
  if (count == 0) count = widest->lead_m - widest->trail_m > two_spines_from_m ? 2 : 1;
  std::vector<double> offsets{0};
  if (count == 2) offsets = {widest->trail_m / 2, widest->lead_m / 2};
  const double sheet = layout.options.sheet_m;
  for (const double offset : offsets) {
    RibbedSpine spine = spine_at(layout, offset);
    if (spine.lap_height_m.size() < 2) {
      return problem("ribbed.spines", fmt::format("{} of {} thickness", count, mm(sheet)),
                     "ribs wide enough to be crossed by each",
                     "take one spine, thinner sheet or more edge allowance",
                     "fewer than two ribs in a row are wide enough for a spine");
    }
    const double least = *std::min_element(spine.edge_height_m.begin(), spine.edge_height_m.end());
    if (least < least_crossing * sheet) {
      return problem("ribbed.least_height", mm(layout.options.least_height_m),
                     fmt::format("{} or more here", mm(layout.options.least_height_m +
                                                       least_crossing * sheet - least)),
                     "raise the ribs", "a spine is too low for its laps");
    }
    layout.spines.push_back(std::move(spine));
  }
  return std::nullopt;
}

/// How far the faces of a rib stand out of the surface in the rib's plane, from the surface's
/// normal over the blade's width: to first order in the thickness.
double bevel_m(const Surface& surface, double radius_m, double sheet_m) {
  constexpr double step_m = 1e-5;
  const double low = std::max(surface.root_m(), radius_m - step_m);
  const double high = std::min(surface.tip_m(), radius_m + step_m);
  const double share = surface.spar_share(radius_m), width = surface.sheet_width_m(radius_m);
  double most = 0;
  for (int i = 0; i <= top_points; ++i) {
    const double arc = width * (static_cast<double>(i) / top_points - share);
    const Point a = surface.along_arc(low, arc), b = surface.along_arc(high, arc);
    const Point c = surface.along_arc(radius_m, arc - step_m);
    const Point d = surface.along_arc(radius_m, arc + step_m);
    const double ux = b.x_m - a.x_m, uy = b.y_m - a.y_m, uz = b.z_m - a.z_m;
    const double vy = d.y_m - c.y_m, vz = d.z_m - c.z_m;  // in the rib's plane
    most = std::max(most, std::abs(uy * vz - uz * vy) / (ux * std::hypot(vy, vz)));
  }
  return most * sheet_m / 2;
}

RibbedRib measured(const Layout& layout, const Section& s) {
  const Surface& surface = *layout.surface;
  RibbedRib rib{.radius_m = s.radius_m, .angle_rad = surface.angle_rad(s.radius_m)};
  double low = 0, high = 0;
  for (const PlanePoint& p : s.top) {
    low = std::min(low, p.first), high = std::max(high, p.first);
    rib.height_m = std::max(rib.height_m, p.second);
  }
  rib.width_m = high - low;
  rib.bevel_m = bevel_m(surface, s.radius_m, layout.options.sheet_m);
  return rib;
}

}  // namespace
}  // namespace ribbed

base::Expected<Ribbed> ribbed_form(const Surface& surface, const RibbedOptions& options) {
  if (surface.lay() != Lay::across) {
    throw std::invalid_argument("ribbed_form: ribs are flat, the surface must be laid across");
  }
  base::Problems problems;
  ribbed::check_lengths(options, problems);
  if (problems.empty()) ribbed::check_stations(surface, options, problems);
  if (!problems.empty()) return base::fail(std::move(problems));

  ribbed::Layout layout;
  layout.surface = &surface;
  layout.options = options;
  layout.slot_m = options.sheet_m + options.fit_m;
  if (!(layout.slot_m >= options.sheet_m / 2)) {
    return base::fail(ribbed::problem("ribbed.fit", ribbed::mm(options.fit_m),
                                      "less than half the sheet's thickness",
                                      "give a smaller allowance", "the slots would close"));
  }
  if (auto problem = ribbed::lay_out_sections(layout)) return base::fail(*problem);
  if (auto problem = ribbed::lay_out_spines(layout)) return base::fail(*problem);

  Ribbed form;
  form.hand = surface.hand();
  form.sheet_m = options.sheet_m;
  form.slot_m = layout.slot_m;
  form.spar_height_m = layout.spar_height_m;
  form.spines = layout.spines;
  for (std::size_t i = 0; i < layout.sections.size(); ++i) {
    form.ribs.push_back(ribbed::measured(layout, layout.sections[i]));
    form.parts.push_back(ribbed::rib_part(layout, i));
  }
  for (std::size_t i = 0; i < layout.spines.size(); ++i) {
    form.parts.push_back(ribbed::spine_part(layout, i));
  }
  form.parts.push_back(ribbed::base_part(layout));
  auto pages = ribbed::nested(form.parts, options, form.hand);
  if (!pages) return base::fail(pages.error());
  form.pages = std::move(*pages);
  return form;
}

std::vector<AssembledPart> assembled(const Ribbed& form) {
  const double side = form.hand == Hand::clockwise ? 1 : -1;
  std::vector<AssembledPart> parts;
  for (const RibbedPart& part : form.parts) {
    AssembledPart placed{part.kind, part.number, form.sheet_m, {}, {}};
    const auto place = [&](const ribbed::PlanePoint& p) -> Point {
      const double z = p.second - form.spar_height_m;
      if (part.kind == RibbedKind::rib) return {part.place_m, p.first, z};
      if (part.kind == RibbedKind::spine) return {side * p.first, side * part.place_m, z};
      return {side * p.first, side * p.second, -form.spar_height_m - form.sheet_m / 2};
    };
    if (part.kind == RibbedKind::rib) placed.normal = {1, 0, 0};
    if (part.kind == RibbedKind::spine) placed.normal = {0, 1, 0};
    if (part.kind == RibbedKind::base) placed.normal = {0, 0, 1};
    for (const TemplateLine& line : part.drawing.lines) {
      if (line.kind != TemplateLine::Kind::cut) continue;
      std::vector<Point> loop;
      for (const auto& p : line.points_m) loop.push_back(place(p));
      placed.loops.push_back(std::move(loop));
    }
    parts.push_back(std::move(placed));
  }
  return parts;
}

}  // namespace propwright::form
