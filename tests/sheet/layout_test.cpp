/// Tiles and shelves as plain arithmetic.
#include "layout.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>

namespace propwright::sheet {
namespace {

TEST(Tiling, OfADrawingThatFitsIsOneTile) {
  const Tiling tiling = tile(180, 200, {0, 0, 180, 200}, 12);
  EXPECT_EQ(tiling.count(), 1);
}

TEST(Tiling, NeedsASecondTileForAHairMore) {
  EXPECT_EQ(tile(180.1, 200, {0, 0, 180, 200}, 12).columns, 2);
  EXPECT_EQ(tile(180, 200.1, {0, 0, 180, 200}, 12).rows, 2);
}

TEST(Tiling, NeighboursShareTheirCrosses) {
  const Tiling tiling = tile(400, 500, {0, 0, 180, 200}, 12);
  const auto shared = [&](int column, int row, int column2, int row2) {
    int count = 0;
    for (const Point& a : tiling.crosses(column, row)) {
      for (const Point& b : tiling.crosses(column2, row2)) count += a.x == b.x && a.y == b.y;
    }
    return count;
  };
  EXPECT_EQ(shared(0, 0, 1, 0), 2);
  EXPECT_EQ(shared(0, 0, 0, 1), 2);
  EXPECT_EQ(shared(0, 0, 1, 1), 1);
}

RC_GTEST_PROP(Tiling, CoversTheDrawing, ()) {
  const double width = *rc::gen::inRange(10, 2000), height = *rc::gen::inRange(10, 2000);
  const Tiling tiling = tile(width, height, {0, 0, 180, 200}, 12);
  const Box last = tiling.tile(tiling.columns - 1, tiling.rows - 1);
  RC_ASSERT(last.right() >= width - 1e-6);
  RC_ASSERT(last.bottom() >= height - 1e-6);
  // And not one tile more than needed.
  if (tiling.columns > 1) RC_ASSERT(tiling.tile(tiling.columns - 2, 0).right() < width);
  if (tiling.rows > 1) RC_ASSERT(tiling.tile(0, tiling.rows - 2).bottom() < height);
}

TEST(TileName, IsRowLetterAndColumnNumber) {
  EXPECT_EQ(tile_name(0, 0), "A1");
  EXPECT_EQ(tile_name(1, 2), "C2");
}

bool apart(const Box& a, const Box& b) {
  constexpr double hair = 1e-9;
  return a.right() <= b.x + hair || b.right() <= a.x + hair || a.bottom() <= b.y + hair ||
         b.bottom() <= a.y + hair;
}

RC_GTEST_PROP(Shelves, HoldEverythingOnceWithinTheRoomAndApart, ()) {
  const auto lengths = *rc::gen::container<std::vector<int>>(rc::gen::inRange(5, 150));
  std::vector<Box> sizes;
  for (std::size_t i = 0; i + 1 < lengths.size(); i += 2) {
    sizes.push_back({0, 0, static_cast<double>(lengths[i]), static_cast<double>(lengths[i + 1])});
  }
  const auto places = pack_shelves(sizes, 180, 160, 7);
  RC_ASSERT(places.size() == sizes.size());
  std::vector<Box> boxes;
  for (std::size_t i = 0; i < places.size(); ++i) {
    boxes.push_back({places[i].at.x, places[i].at.y, sizes[i].width, sizes[i].height});
    RC_ASSERT(boxes[i].x >= 0);
    RC_ASSERT(boxes[i].y >= -1e-9);
    RC_ASSERT(boxes[i].right() <= 180);
    RC_ASSERT(boxes[i].bottom() <= 160 + 1e-9);
    for (std::size_t k = 0; k < i; ++k) {
      RC_ASSERT(places[k].sheet != places[i].sheet || apart(boxes[k], boxes[i]));
    }
  }
}

}  // namespace
}  // namespace propwright::sheet
