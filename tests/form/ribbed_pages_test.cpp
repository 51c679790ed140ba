// Pages of a ribbed form, and what cannot be made.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "plane_shapes.h"
#include "propwright/form/ribbed.h"
#include "random_blades.h"

namespace propwright::form {
namespace {

Surface paged_surface(Hand hand, double root_m = 0.035, double pitch_m = 0.6, Lay lay = Lay::across,
                      double camber = 0.06) {
  const auto rows = outline({.tip_radius_m = 0.2,
                             .root_radius_m = root_m,
                             .widest_chord_m = 0.05,
                             .root_chord_m = 0.016},
                            40)
                        .value();
  const Form form{.pitch_m = pitch_m, .camber = camber, .hand = hand};
  return Surface::make(surface_rows(form, rows), hand, lay).value();
}

RC_GTEST_PROP(RibbedPages, HoldAllPartsInsideTheMarginsAndApart, ()) {
  RibbedOptions options;
  options.page_width_m = *between(0.21, 0.7);
  options.page_height_m = *between(0.21, 0.7);
  options.margin_m = *between(0, 0.005);
  options.gap_m = *between(0.001, 0.01);
  options.spacing_m = *between(0.013, 0.03);
  const Ribbed form = ribbed_form(paged_surface(Hand::anticlockwise), options).value();
  std::vector<int> seen(form.parts.size(), 0);
  for (const RibbedPage& page : form.pages) {
    std::vector<PlaneShape> boxes;
    for (const NestedPart& p : page.parts) {
      ++seen[p.part];
      RC_ASSERT(p.x_m >= options.margin_m - 1e-12);
      RC_ASSERT(p.y_m >= options.margin_m - 1e-12);
      RC_ASSERT(p.x_m + p.width_m <= options.page_width_m - options.margin_m + 1e-12);
      RC_ASSERT(p.y_m + p.height_m <= options.page_height_m - options.margin_m + 1e-12);
    }
    for (std::size_t i = 0; i < page.parts.size(); ++i) {
      for (std::size_t k = i + 1; k < page.parts.size(); ++k) {
        const NestedPart &a = page.parts[i], &b = page.parts[k];
        const double x = std::max(b.x_m - a.x_m - a.width_m, a.x_m - b.x_m - b.width_m);
        const double y = std::max(b.y_m - a.y_m - a.height_m, a.y_m - b.y_m - b.height_m);
        RC_ASSERT(std::max(x, y) >= options.gap_m - 1e-12);
      }
    }
  }
  RC_ASSERT(std::all_of(seen.begin(), seen.end(), [](int n) { return n == 1; }));
}

/// The pages' own lines, not what is said of them.
RC_GTEST_PROP(RibbedPages, DrawEveryPartAtItsSizeInItsBox, ()) {
  RibbedOptions options;
  options.page_width_m = *between(0.21, 0.7);
  options.page_height_m = *between(0.21, 0.7);
  options.margin_m = 0.005;
  const Ribbed form = ribbed_form(paged_surface(Hand::clockwise), options).value();
  for (const RibbedPage& page : form.pages) {
    auto line = page.drawing.lines.begin();
    for (const NestedPart& nested : page.parts) {
      double left = 1, low = 1, right = -1, high = -1;
      for (const TemplateLine& drawn : form.parts[nested.part].drawing.lines) {
        RC_ASSERT(line != page.drawing.lines.end() &&
                  line->points_m.size() == drawn.points_m.size());
        RC_ASSERT(line->kind == drawn.kind && line->closed == drawn.closed);
        // A turn keeps the area and its sign; a mirror image would not.
        if (drawn.closed) {
          RC_ASSERT(std::abs(area_m2(line->points_m) - area_m2(drawn.points_m)) < 1e-12);
        }
        for (const auto& [x, y] : line->points_m) {
          left = std::min(left, x), right = std::max(right, x);
          low = std::min(low, y), high = std::max(high, y);
        }
        ++line;
      }
      RC_ASSERT(std::abs(left - nested.x_m) + std::abs(low - nested.y_m) < 1e-12);
      RC_ASSERT(std::abs(right - left - nested.width_m) < 1e-12);
      RC_ASSERT(std::abs(high - low - nested.height_m) < 1e-12);
    }
    RC_ASSERT(line == page.drawing.lines.end());
  }
}

TEST(RibbedPages, SayTheHandAndTheirNumber) {
  for (const auto& [hand, word] : {std::pair{Hand::clockwise, "clockwise, seen from behind"},
                                   std::pair{Hand::anticlockwise, "anticlockwise, seen"}}) {
    const Ribbed form = ribbed_form(paged_surface(hand), {}).value();
    for (std::size_t i = 0; i < form.pages.size(); ++i) {
      const auto& texts = form.pages[i].drawing.texts;
      const auto says = [&](const std::string& words) {
        return std::any_of(texts.begin(), texts.end(),
                           [&](const auto& t) { return t.text.rfind(words, 0) == 0; });
      };
      EXPECT_TRUE(says(word));
      EXPECT_TRUE(
          says("page " + std::to_string(i + 1) + " of " + std::to_string(form.pages.size())));
    }
  }
}

TEST(RibbedPages, WordsOfAPartLieOnThePartAndEachRibSaysItsNumber) {
  const Ribbed form = ribbed_form(paged_surface(Hand::clockwise), {}).value();
  for (const RibbedPart& part : form.parts) {
    const PlaneShape& shape = part.drawing.lines.front().points_m;
    for (const TemplateText& text : part.drawing.texts) {
      EXPECT_TRUE(holds(shape, text.x_m, text.y_m)) << part.drawing.name << " " << text.text;
    }
    if (part.kind != RibbedKind::rib) continue;
    EXPECT_EQ(std::stoi(part.drawing.texts.at(0).text), part.number);
  }
  const Template& base = form.parts.back().drawing;
  for (const RibbedRib& rib : form.ribs) {
    EXPECT_TRUE(std::any_of(base.texts.begin(), base.texts.end(),
                            [&](const auto& t) { return t.value_m == rib.radius_m; }));
  }
}

TEST(RibbedPages, NoRoomForTheBaseSaysHowMuchItNeeds) {
  RibbedOptions options;
  options.page_width_m = options.page_height_m = 0.15;
  const auto form = ribbed_form(paged_surface(Hand::clockwise), options);
  ASSERT_FALSE(form);
  const auto& problem = form.error().back();
  EXPECT_EQ(problem.field, "ribbed.page");
  EXPECT_NE(problem.message.find("Form base"), std::string::npos);
  EXPECT_NE(problem.allowed.find("mm or more"), std::string::npos);
  EXPECT_FALSE(problem.remedy.empty());
}

std::string first_field(const RibbedOptions& options) {
  const auto form = ribbed_form(paged_surface(Hand::clockwise), options);
  if (form) return "made";
  for (const auto& problem : form.error()) {
    EXPECT_FALSE(problem.value.empty() || problem.allowed.empty() || problem.remedy.empty() ||
                 problem.message.empty());
  }
  return form.error().front().field;
}

TEST(RibbedInput, NamesWhatIsOutOfRange) {
  EXPECT_EQ(first_field({}), "made");
  EXPECT_EQ(first_field({.stations_m = {0.02, 0.1, 0.15}}), "ribbed.stations");
  EXPECT_EQ(first_field({.stations_m = {0.05, 0.1, 0.21}}), "ribbed.stations");
  EXPECT_EQ(first_field({.stations_m = {0.1, 0.05, 0.15}}), "ribbed.stations");
  EXPECT_EQ(first_field({.stations_m = {0.05, 0.1}}), "ribbed.stations");
  EXPECT_EQ(first_field({.stations_m = {0.05, 0.1, std::nan("")}}), "ribbed.stations");
  EXPECT_EQ(first_field({.ribs = 2}), "ribbed.ribs");
  EXPECT_EQ(first_field({.ribs = -1}), "ribbed.ribs");
  EXPECT_EQ(first_field({.ribs = 1000000000}), "ribbed.ribs");
  EXPECT_EQ(first_field({.ribs = 40}), "ribbed.spacing");
  EXPECT_EQ(first_field({.spacing_m = 0.001}), "ribbed.spacing");
  EXPECT_EQ(first_field({.spines = 3}), "ribbed.spines");
  EXPECT_EQ(first_field({.sheet_m = 0}), "ribbed.sheet");
  EXPECT_EQ(first_field({.sheet_m = std::nan("")}), "ribbed.sheet");
  EXPECT_EQ(first_field({.fit_m = 0.002}), "ribbed.fit");
  EXPECT_EQ(first_field({.sheet_m = 0.0005, .fit_m = -0.0003}), "ribbed.fit");
  EXPECT_EQ(first_field({.least_height_m = 0}), "ribbed.least_height");
  EXPECT_EQ(first_field({.edge_allowance_m = -0.001}), "ribbed.edge_allowance");
  EXPECT_EQ(first_field({.edge_allowance_m = 0}), "ribbed.edge_allowance");
  EXPECT_EQ(first_field({.page_width_m = 0.01}), "ribbed.page");
  EXPECT_EQ(first_field({.margin_m = 0.1}), "ribbed.margin");
  EXPECT_EQ(first_field({.gap_m = 0}), "ribbed.gap");
}

TEST(RibbedInput, ABladeTooSteepForTheBaseIsRefusedWithItsRadius) {
  const auto form = ribbed_form(paged_surface(Hand::clockwise, 0.012), {});
  ASSERT_FALSE(form);
  EXPECT_EQ(form.error().front().field, "ribbed.angle");
  EXPECT_NE(form.error().front().value.find("12.0 mm"), std::string::npos);
  // Further out the same blade stands on ribs.
  RibbedOptions options;
  options.stations_m = {0.04, 0.08, 0.12, 0.16};
  EXPECT_TRUE(ribbed_form(paged_surface(Hand::clockwise, 0.012), options));
}

TEST(RibbedInput, ASpineTooLowForItsLapsAsksForMoreHeight) {
  RibbedOptions options;
  options.least_height_m = 0.005;
  options.sheet_m = 0.004;
  options.stations_m = {0.1, 0.15, 0.18};
  const auto form =
      ribbed_form(paged_surface(Hand::clockwise, 0.035, 0.1, Lay::across, 0.02), options);
  ASSERT_FALSE(form);
  EXPECT_EQ(form.error().front().field, "ribbed.least_height");
}

TEST(RibbedInput, PitchOfNoughtIsRefusedBeforeThereIsASurface) {
  const auto rows = outline_from_chords({0.05, 0.1, 0.15}, {0.04, 0.04, 0.04}, 0.4);
  const auto surface =
      Surface::make(surface_rows({.pitch_m = 0}, rows), Hand::clockwise, Lay::across);
  ASSERT_FALSE(surface);
  EXPECT_EQ(surface.error().front().field, "form.pitch");
}

TEST(RibbedInput, ASurfaceBentRoundTheShaftHasNoFlatRibs) {
  EXPECT_THROW((void)ribbed_form(paged_surface(Hand::clockwise, 0.035, 0.6, Lay::helical), {}),
               std::invalid_argument);
}

}  // namespace
}  // namespace propwright::form
