#include "flatten.h"

#include <Eigen/Geometry>
#include <Eigen/Sparse>
#include <Eigen/SparseCholesky>
#include <cmath>

namespace propwright::form {
namespace {

constexpr int most_iterations = 200;
/// Ends when no vertex moves by more than this share of the sheet's length in a step. The method
/// converges linearly; what is left then is some ten times as much, a few thousandths of a mm.
constexpr double at_rest = 1e-6;

/// A triangle laid flat by itself, and the cotangent of the angle opposite each side.
struct Face {
  std::array<int, 3> corner{};
  std::array<Eigen::Vector2d, 3> place;
  std::array<double, 3> cotangent{};  // of the side from corner i to corner i + 1
};

Eigen::Vector3d vector_of(const Point& p) {
  return {p.x_m, p.y_m, p.z_m};
}

Face face_of(const std::vector<Point>& space, const std::array<int, 3>& corner) {
  const Eigen::Vector3d a = vector_of(space[corner[0]]), b = vector_of(space[corner[1]]),
                        c = vector_of(space[corner[2]]);
  const Eigen::Vector3d ab = b - a, ac = c - a;
  const double length = ab.norm(), along = ac.dot(ab) / length;
  const double height = ab.cross(ac).norm() / length;
  Face face{.corner = corner, .place = {}, .cotangent = {}};
  face.place = {Eigen::Vector2d{0, 0}, Eigen::Vector2d{length, 0}, Eigen::Vector2d{along, height}};
  for (int i = 0; i < 3; ++i) {
    const Eigen::Vector2d p = face.place[i] - face.place[(i + 2) % 3],
                          q = face.place[(i + 1) % 3] - face.place[(i + 2) % 3];
    face.cotangent[i] = p.dot(q) / std::abs(p.x() * q.y() - p.y() * q.x());
  }
  return face;
}

/// The rotation nearest to the map of a face from its own plane to the pattern.
Eigen::Matrix2d rotation_of(const Face& face, const std::vector<Eigen::Vector2d>& flat) {
  double cosine = 0, sine = 0;
  for (int i = 0; i < 3; ++i) {
    const int j = (i + 1) % 3;
    const Eigen::Vector2d from = face.place[i] - face.place[j];
    const Eigen::Vector2d to = flat[face.corner[i]] - flat[face.corner[j]];
    cosine += face.cotangent[i] * from.dot(to);
    sine += face.cotangent[i] * (from.x() * to.y() - from.y() * to.x());
  }
  const double length = std::hypot(cosine, sine);
  if (length == 0) return Eigen::Matrix2d::Identity();
  Eigen::Matrix2d rotation;
  rotation << cosine / length, -sine / length, sine / length, cosine / length;
  return rotation;
}

/// The cotangent Laplacian with the pinned vertex's row and column replaced by the identity.
Eigen::SparseMatrix<double> laplacian(const std::vector<Face>& faces, int count, int pinned) {
  std::vector<Eigen::Triplet<double>> entries;
  for (const Face& face : faces) {
    for (int i = 0; i < 3; ++i) {
      const int a = face.corner[i], b = face.corner[(i + 1) % 3];
      const double weight = face.cotangent[i];
      if (a != pinned) entries.emplace_back(a, a, weight);
      if (b != pinned) entries.emplace_back(b, b, weight);
      if (a == pinned || b == pinned) continue;
      entries.emplace_back(a, b, -weight);
      entries.emplace_back(b, a, -weight);
    }
  }
  entries.emplace_back(pinned, pinned, 1.0);
  Eigen::SparseMatrix<double> matrix(count, count);
  matrix.setFromTriplets(entries.begin(), entries.end());
  return matrix;
}

/// Right-hand side of the global step, places relative to the pinned vertex.
Eigen::MatrixX2d pulls(const std::vector<Face>& faces, const std::vector<Eigen::Vector2d>& flat,
                       int pinned) {
  Eigen::MatrixX2d sum = Eigen::MatrixX2d::Zero(static_cast<Eigen::Index>(flat.size()), 2);
  for (const Face& face : faces) {
    const Eigen::Matrix2d rotation = rotation_of(face, flat);
    for (int i = 0; i < 3; ++i) {
      const int j = (i + 1) % 3;
      const Eigen::Vector2d pull = face.cotangent[i] * (rotation * (face.place[i] - face.place[j]));
      sum.row(face.corner[i]) += pull.transpose();
      sum.row(face.corner[j]) -= pull.transpose();
    }
  }
  sum.row(pinned).setZero();
  return sum;
}

}  // namespace

int flatten(const std::vector<Point>& space, const std::vector<std::array<int, 3>>& triangles,
            int pinned, std::vector<FlatPoint>& flat) {
  std::vector<Face> faces;
  faces.reserve(triangles.size());
  for (const auto& corner : triangles) faces.push_back(face_of(space, corner));
  const int count = static_cast<int>(space.size());
  const Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> solver(laplacian(faces, count, pinned));
  const FlatPoint origin = flat[pinned];
  std::vector<Eigen::Vector2d> at;
  double extent = 0;
  for (const FlatPoint& p : flat) {
    at.emplace_back(p.along_m - origin.along_m, p.across_m - origin.across_m);
    extent = std::max(extent, at.back().norm());
  }
  int iteration = 0;
  for (double moved = extent; moved > at_rest * extent && iteration < most_iterations;
       ++iteration) {
    const Eigen::MatrixX2d next = solver.solve(pulls(faces, at, pinned));
    moved = 0;
    for (int i = 0; i < count; ++i) {
      const Eigen::Vector2d place = next.row(i).transpose();
      moved = std::max(moved, (place - at[i]).norm());
      at[i] = place;
    }
  }
  for (int i = 0; i < count; ++i) {
    flat[i] = {origin.along_m + at[i].x(), origin.across_m + at[i].y()};
  }
  return iteration;
}

}  // namespace propwright::form
