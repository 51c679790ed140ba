// The ribbed form: its parts against the surface, against each other and on their pages.
#include "propwright/form/ribbed.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "plane_shapes.h"
#include "propwright/units/units.h"
#include "random_blades.h"

namespace propwright::form {
namespace {

Surface ribbed_surface(Hand hand, double camber = 0.06, double pitch_m = 0.6) {
  const auto rows = outline({.tip_radius_m = 0.2,
                             .root_radius_m = 0.035,
                             .widest_chord_m = 0.05,
                             .root_chord_m = 0.016},
                            40)
                        .value();
  const Form form{.pitch_m = pitch_m,
                  .camber = camber,
                  .angle_overbend = 1.05,
                  .camber_overbend = 1.2,
                  .hand = hand};
  return Surface::make(surface_rows(form, rows), hand, Lay::across).value();
}

Surface random_surface() {
  return ribbed_surface(*rc::gen::element(Hand::clockwise, Hand::anticlockwise), *between(0, 0.08),
                        *between(0.3, 0.7));
}

RibbedOptions random_options() {
  RibbedOptions options;
  options.spacing_m = *between(0.015, 0.03);
  options.sheet_m = *between(0.001, 0.0024);
  options.fit_m = *between(-0.0002, 0.0003);
  options.spines = *rc::gen::inRange(0, 3);
  options.least_height_m = *between(0.012, 0.03);
  options.page_width_m = *between(0.25, 0.6);
  options.page_height_m = *between(0.25, 0.6);
  return options;
}

const RibbedPart& part_of(const Ribbed& form, RibbedKind kind, std::size_t number) {
  return *std::find_if(form.parts.begin(), form.parts.end(), [&](const RibbedPart& p) {
    return p.kind == kind && p.number == static_cast<int>(number);
  });
}

const PlaneShape& outline_of(const Ribbed& form, RibbedKind kind, std::size_t number) {
  return part_of(form, kind, number).drawing.lines.front().points_m;
}

/// The sign that brings a drawing's x to a clockwise form's.
double side_of(Hand hand) {
  return hand == Hand::clockwise ? 1 : -1;
}

/// Distance of a point from the section of the surface in the plane at its x, between two lengths
/// along the arc: thirds of a distance that falls and rises again.
double off_the_section(const Surface& surface, const Point& p, double low, double high) {
  const auto distance = [&](double arc) {
    const Point q = surface.along_arc(p.x_m, arc);
    return std::hypot(q.y_m - p.y_m, q.z_m - p.z_m);
  };
  // From some millimetres to 1e-13 m.
  for (int i = 0; i < 60; ++i) {
    const double a = low + (high - low) / 3, b = high - (high - low) / 3;
    if (distance(a) < distance(b)) {
      high = b;
    } else {
      low = a;
    }
  }
  return distance((low + high) / 2);
}

RC_GTEST_PROP(Ribbed, TopsAreTheSectionsOfTheSurfaceFromEndToEnd, ()) {
  const Surface surface = random_surface();
  const RibbedOptions options = random_options();
  const Ribbed form = ribbed_form(surface, options).value();
  for (const AssembledPart& part : assembled(form)) {
    if (part.kind != RibbedKind::rib) continue;
    const auto& loop = part.loops.front();
    const double r = loop.front().x_m, width = surface.sheet_width_m(r);
    const double low = -surface.spar_share(r) * width - options.edge_allowance_m;
    const double high = (1 - surface.spar_share(r)) * width + options.edge_allowance_m;
    const auto at = [&](double arc) {
      const Point end = surface.along_arc(r, arc);
      return std::find_if(loop.begin(), loop.end(), [&](const Point& p) {
        return std::hypot(p.y_m - end.y_m, p.z_m - end.z_m) < 1e-9;
      });
    };
    const auto lead = at(high), trail = at(low);
    RC_ASSERT(lead != loop.end() && trail != loop.end());
    RC_ASSERT(trail - lead >= 60);
    for (auto p = lead + 1; p <= trail; ++p) {
      // Between its points the top is straight: steps of a chord of 60 mm at most over 60.
      RC_ASSERT(std::hypot(p->y_m - (p - 1)->y_m, p->z_m - (p - 1)->z_m) < 0.001);
    }
    for (auto p = lead; p <= trail; p += std::min<std::ptrdiff_t>(7, trail - p + 1)) {
      const double share = static_cast<double>(p - lead) / static_cast<double>(trail - lead);
      const double arc = high - share * (high - low), reach = (high - low) / 20;
      RC_ASSERT(off_the_section(surface, *p, arc - reach, arc + reach) < 1e-9);
    }
  }
}

RC_GTEST_PROP(Ribbed, LapsFillEveryCrossingOfRibAndSpineOnce, ()) {
  const Surface surface = random_surface();
  RibbedOptions options = random_options();
  options.fit_m = std::abs(options.fit_m);
  const Ribbed form = ribbed_form(surface, options).value();
  const double side = side_of(form.hand), half = form.sheet_m / 2 * (1 - 1e-6);
  for (std::size_t k = 0; k < form.spines.size(); ++k) {
    const RibbedSpine& spine = form.spines[k];
    const PlaneShape& wall = outline_of(form, RibbedKind::spine, k + 1);
    for (std::size_t i = spine.first; i <= spine.last; ++i) {
      const PlaneShape& rib = outline_of(form, RibbedKind::rib, i + 1);
      const double lap = spine.lap_height_m[i - spine.first];
      const double edge = spine.edge_height_m[i - spine.first];
      RC_ASSERT(std::abs(lap - edge / 2) < 1e-12);
      for (const double across : {-half, 0.0, half}) {
        const double u = side * (spine.offset_m + across);
        const double x = side * (form.ribs[i].radius_m + across);
        for (int n = 0; n < 40; ++n) {
          const double z = edge * (n + 0.5) / 40;
          RC_ASSERT(holds(rib, u, z) == (z > lap));
          RC_ASSERT(holds(wall, x, z) == (z < lap));
        }
        // The two halves meet: no gap and no overlap at the lap itself.
        RC_ASSERT(holds(rib, u, lap + 1e-9) && !holds(rib, u, lap - 1e-9));
        RC_ASSERT(!holds(wall, x, lap + 1e-9) && holds(wall, x, lap - 1e-9));
      }
    }
  }
}

TEST(Ribbed, SlotsAreAsWideAsTheSheetAndItsFit) {
  for (const double fit : {-0.00015, 0.0, 0.0002}) {
    RibbedOptions options;
    options.fit_m = fit;
    const Ribbed form = ribbed_form(ribbed_surface(Hand::clockwise), options).value();
    const double half = (options.sheet_m + fit) / 2;
    const PlaneShape& rib = outline_of(form, RibbedKind::rib, 5);
    const PlaneShape& wall = outline_of(form, RibbedKind::spine, 1);
    const double r = form.ribs[4].radius_m, lap = form.spines[0].lap_height_m[4];
    for (const double side : {-1.0, 1.0}) {
      EXPECT_FALSE(holds(rib, side * (half - 1e-9), lap / 2));
      EXPECT_TRUE(holds(rib, side * (half + 1e-9), lap / 2));
      EXPECT_FALSE(holds(wall, r + side * (half - 1e-9), 1.5 * lap));
      EXPECT_TRUE(holds(wall, r + side * (half + 1e-9), 1.5 * lap));
    }
  }
}

RC_GTEST_PROP(Ribbed, EveryTabHasItsHoleInTheBaseAndEveryHoleItsTab, ()) {
  const Surface surface = random_surface();
  RibbedOptions options = random_options();
  options.fit_m = std::abs(options.fit_m);
  const Ribbed form = ribbed_form(surface, options).value();
  const double side = side_of(form.hand), below = -form.sheet_m / 2;
  const Template& base = part_of(form, RibbedKind::base, 1).drawing;
  std::size_t tabs = 0, holes = 0;
  const auto hole_at = [&](double x, double u) {
    return std::any_of(base.lines.begin() + 1, base.lines.end(), [&](const TemplateLine& line) {
      return line.closed && holds(line.points_m, side * x, u);
    });
  };
  for (const auto& line : base.lines) holes += line.closed ? 1 : 0;
  for (const RibbedPart& part : form.parts) {
    if (part.kind == RibbedKind::base) continue;
    const bool is_rib = part.kind == RibbedKind::rib;
    const PlaneShape& shape = part.drawing.lines.front().points_m;
    bool was = false;
    for (double a = is_rib ? -0.1 : 0; a < 0.25; a += 1e-4) {
      const bool tab = holds(shape, side * a, below);
      tabs += tab && !was ? 1 : 0;
      was = tab;
      if (!tab) continue;
      for (const double t : {-0.499 * form.sheet_m, 0.499 * form.sheet_m}) {
        RC_ASSERT((is_rib ? hole_at(part.place_m + t, a) : hole_at(a, part.place_m + t)));
      }
    }
  }
  RC_ASSERT(tabs == holes - 1);  // the outline of the base is no hole
  for (const RibbedRib& rib : form.ribs) {
    const auto index = static_cast<std::size_t>(&rib - form.ribs.data());
    const PlaneShape& shape = outline_of(form, RibbedKind::rib, index + 1);
    RC_ASSERT(std::any_of(shape.begin(), shape.end(), [](const auto& p) { return p.second < 0; }));
  }
}

RC_GTEST_PROP(Ribbed, PartsAreClosedLinesThatNeverCrossThemselvesNorTheirHoles, ()) {
  const Ribbed form = ribbed_form(random_surface(), random_options()).value();
  for (const RibbedPart& part : form.parts) {
    std::vector<PlaneShape> loops;
    for (const TemplateLine& line : part.drawing.lines) {
      if (line.kind != TemplateLine::Kind::cut) continue;
      RC_ASSERT(line.closed);
      loops.push_back(line.points_m);
    }
    RC_ASSERT(!any_crossing(loops));
    for (std::size_t i = 1; i < loops.size(); ++i) {
      RC_ASSERT(holds(loops[0], loops[i][0].first, loops[i][0].second));
    }
    double area = std::abs(area_m2(loops[0]));
    for (std::size_t i = 1; i < loops.size(); ++i) area -= std::abs(area_m2(loops[i]));
    RC_ASSERT(std::abs(area - part.area_m2) < 1e-12);
  }
}

TEST(Ribbed, AreaOfARibIsTheIntegralUnderItsSectionWithTabsLessItsSlot) {
  const Surface surface = ribbed_surface(Hand::clockwise);
  RibbedOptions options;
  options.stations_m = {0.08, 0.1, 0.12};
  const Ribbed form = ribbed_form(surface, options).value();
  const double r = 0.1, width = surface.sheet_width_m(r), share = surface.spar_share(r);
  const double from = -share * width - options.edge_allowance_m;
  const double length = width + 2 * options.edge_allowance_m;
  double sum = 0;
  Point last = surface.along_arc(r, from);
  const double left = last.y_m;
  for (int i = 1; i <= 20000; ++i) {
    const Point p = surface.along_arc(r, from + length * i / 20000);
    sum += (p.y_m - last.y_m) * ((p.z_m + last.z_m) / 2 + form.spar_height_m);
    last = p;
  }
  const double sheet = options.sheet_m, slot = form.slot_m;
  // Each tab: the piece of foot less one thickness, at most 12 mm.
  for (const double piece : {-slot / 2 - left, last.y_m - slot / 2}) {
    sum += sheet * std::min(0.012, piece - sheet);
  }
  sum -= slot * form.spines[0].lap_height_m[1];
  // The cut top has 80 straight steps s of 0.7 mm over an arc of 80 mm: s^2/(12 R) times 60 mm.
  EXPECT_NEAR(form.parts[1].area_m2, sum, 4e-8);
}

TEST(Ribbed, LowestTopIsTheLeastHeightAboveTheBase) {
  RibbedOptions options;
  options.least_height_m = 0.015;
  const Surface surface = ribbed_surface(Hand::clockwise);
  const Ribbed form = ribbed_form(surface, options).value();
  double lowest = 1;
  for (const RibbedRib& rib : form.ribs) {
    const double r = rib.radius_m, width = surface.sheet_width_m(r);
    const double arc = -surface.spar_share(r) * width - options.edge_allowance_m;
    lowest = std::min(lowest, surface.along_arc(r, arc).z_m);
  }
  EXPECT_NEAR(lowest + form.spar_height_m, 0.015, 1e-12);
}

TEST(Ribbed, SparMarkEndsOnTheSparLine) {
  const Ribbed form = ribbed_form(ribbed_surface(Hand::clockwise), {}).value();
  for (std::size_t i = 0; i < form.ribs.size(); ++i) {
    const TemplateLine& mark = form.parts[i].drawing.lines.at(1);
    EXPECT_EQ(mark.kind, TemplateLine::Kind::score);
    EXPECT_EQ(mark.points_m.back().first, 0);
    EXPECT_EQ(mark.points_m.back().second, form.spar_height_m);
  }
}

TEST(Ribbed, SpineStaysUnderTheSheet) {
  const Surface surface = ribbed_surface(Hand::clockwise);
  const Ribbed form = ribbed_form(surface, {}).value();
  for (const auto& [x, z] : outline_of(form, RibbedKind::spine, 1)) {
    if (x < surface.root_m() || x > surface.tip_m()) continue;
    for (const double u : {-0.001, 0.001}) {
      // Here the surface is so close to its tangent plane that an arc of u/cos(angle) is at u.
      const Point p = surface.along_arc(x, u / std::cos(surface.angle_rad(x)));
      EXPECT_LT(z, p.z_m + form.spar_height_m) << x;
    }
  }
}

TEST(Ribbed, BevelOfAFlatHelicoidIsThatOfItsTwist) {
  // Without camber z = u tan(angle) at x, so a face at t/2 stands out by u d(tan)/dx cos^... : the
  // height u P/(2 pi r^2) t/2, square to the edge times cos(angle).
  const auto rows = outline_from_chords({0.05, 0.1, 0.15}, {0.04, 0.04, 0.04}, 0.4);
  const double pitch = 0.5, r = 0.1;
  const Surface surface =
      Surface::make(surface_rows({.pitch_m = pitch, .hand = Hand::clockwise}, rows),
                    Hand::clockwise, Lay::across)
          .value();
  RibbedOptions options;
  options.stations_m = {0.07, r, 0.13};
  const RibbedRib rib = ribbed_form(surface, options).value().ribs[1];
  const double angle = blade_angle_rad(pitch, r), u = 0.6 * 0.04 * std::cos(angle);
  const double expected =
      u * pitch / (2 * base::pi * r * r) * options.sheet_m / 2 * std::cos(angle);
  // Central differences over 10 micron: relative 1e-7.
  EXPECT_NEAR(rib.bevel_m / expected, 1, 1e-6);
}

TEST(Ribbed, HandsAreMirrorImages) {
  const Ribbed right = ribbed_form(ribbed_surface(Hand::clockwise), {}).value();
  const Ribbed left = ribbed_form(ribbed_surface(Hand::anticlockwise), {}).value();
  ASSERT_EQ(right.parts.size(), left.parts.size());
  for (std::size_t i = 0; i < right.parts.size(); ++i) {
    const PlaneShape &a = right.parts[i].drawing.lines[0].points_m,
                     &b = left.parts[i].drawing.lines[0].points_m;
    ASSERT_EQ(a.size(), b.size());
    for (std::size_t k = 0; k < a.size(); ++k) {
      EXPECT_EQ(a[k].first, -b[k].first);
      EXPECT_EQ(a[k].second, b[k].second);
    }
  }
  const auto a = assembled(right), b = assembled(left);
  for (std::size_t i = 0; i < a.size(); ++i) {
    ASSERT_EQ(a[i].loops.size(), b[i].loops.size());
    for (std::size_t k = 0; k < a[i].loops[0].size(); ++k) {
      EXPECT_EQ(a[i].loops[0][k].x_m, b[i].loops[0][k].x_m);
      EXPECT_EQ(a[i].loops[0][k].y_m, -b[i].loops[0][k].y_m);
      EXPECT_EQ(a[i].loops[0][k].z_m, b[i].loops[0][k].z_m);
    }
  }
}

TEST(Ribbed, IsTheSameFromInchesAsFromMillimetres) {
  RibbedOptions inch, metric;
  inch.sheet_m = units::parse("3/32 in", units::Dimension::length).value();
  metric.sheet_m = units::parse("2.38125 mm", units::Dimension::length).value();
  inch.spacing_m = units::parse("0.75 in", units::Dimension::length).value();
  metric.spacing_m = units::parse("19.05 mm", units::Dimension::length).value();
  inch.page_width_m = units::parse("8.5 in", units::Dimension::length).value();
  metric.page_width_m = units::parse("215.9 mm", units::Dimension::length).value();
  inch.page_height_m = units::parse("11 in", units::Dimension::length).value();
  metric.page_height_m = units::parse("279.4 mm", units::Dimension::length).value();
  const Surface surface = ribbed_surface(Hand::anticlockwise);
  const Ribbed a = ribbed_form(surface, inch).value(), b = ribbed_form(surface, metric).value();
  EXPECT_NEAR(a.slot_m, 0.00238125, 1e-15);
  ASSERT_EQ(a.parts.size(), b.parts.size());
  ASSERT_EQ(a.pages.size(), b.pages.size());
  for (std::size_t i = 0; i < a.parts.size(); ++i) {
    EXPECT_NEAR(a.parts[i].area_m2, b.parts[i].area_m2, 1e-15);
  }
}

}  // namespace
}  // namespace propwright::form
