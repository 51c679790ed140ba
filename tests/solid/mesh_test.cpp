// The check of closed meshes, on a tetrahedron of known volume and on what can be wrong with it.
#include "propwright/solid/mesh.h"

#include <gtest/gtest.h>

#include <limits>

namespace propwright::solid {
namespace {

/// Corners (0,0,0), (2,0,0), (0,3,0), (0,0,4): volume 2 * 3 * 4 / 6 = 4.
Mesh tetrahedron() {
  return {{{0, 0, 0}, {2, 0, 0}, {0, 3, 0}, {0, 0, 4}},
          {{0, 2, 1}, {0, 1, 3}, {0, 3, 2}, {1, 2, 3}}};
}

TEST(Mesh, TetrahedronIsClosedAndHasASixthOfTheBox) {
  EXPECT_TRUE(check_closed(tetrahedron()));
  EXPECT_DOUBLE_EQ(volume_m3(tetrahedron()), 4);
}

TEST(Mesh, VolumeDoesNotDependOnThePlace) {
  Mesh mesh = tetrahedron();
  for (auto& p : mesh.points_m) p = {p[0] + 7, p[1] - 5, p[2] + 3};
  EXPECT_NEAR(volume_m3(mesh), 4, 1e-12);  // rounding of products of about 100
}

TEST(Mesh, WithATriangleMissingIsOpen) {
  Mesh mesh = tetrahedron();
  mesh.triangles.pop_back();
  EXPECT_FALSE(check_closed(mesh));
}

TEST(Mesh, WithOneTriangleTurnedIsRefused) {
  Mesh mesh = tetrahedron();
  std::swap(mesh.triangles[2][0], mesh.triangles[2][1]);
  EXPECT_FALSE(check_closed(mesh));
}

TEST(Mesh, InsideOutIsRefused) {
  Mesh mesh = tetrahedron();
  for (auto& t : mesh.triangles) std::swap(t[0], t[1]);
  EXPECT_LT(volume_m3(mesh), 0);
  EXPECT_FALSE(check_closed(mesh));
}

TEST(Mesh, WithAPointNoTriangleUsesIsRefused) {
  Mesh mesh = tetrahedron();
  mesh.points_m.push_back({1, 1, 1});
  EXPECT_FALSE(check_closed(mesh));
}

TEST(Mesh, WithAnIndexOutOfRangeOrAPointNotFiniteIsRefused) {
  Mesh mesh = tetrahedron();
  mesh.triangles[0][0] = 9;
  EXPECT_FALSE(check_closed(mesh));
  mesh = tetrahedron();
  mesh.points_m[1][2] = std::numeric_limits<double>::quiet_NaN();
  EXPECT_FALSE(check_closed(mesh));
}

}  // namespace
}  // namespace propwright::solid
