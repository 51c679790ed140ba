#include "propwright/solid/mesh.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace propwright::solid {
namespace {

tl::unexpected<base::Problems> not_closed(std::string what) {
  return base::fail({.kind = base::Kind::no_solution,
                     .field = "form.solid",
                     .remedy = "try a finer tolerance, or leave out grooves and holes",
                     .message = "the form does not make a closed solid: " + std::move(what)});
}

/// Every edge as (from, to); a closed surface has each of them once, and its opposite once.
bool edges_pair_up(const Mesh& mesh) {
  std::vector<std::pair<std::uint32_t, std::uint32_t>> edges;
  edges.reserve(3 * mesh.triangles.size());
  for (const auto& t : mesh.triangles) {
    for (int i = 0; i < 3; ++i) edges.emplace_back(t[i], t[(i + 1) % 3]);
  }
  std::sort(edges.begin(), edges.end());
  if (std::adjacent_find(edges.begin(), edges.end()) != edges.end()) return false;
  return std::all_of(edges.begin(), edges.end(), [&](const auto& edge) {
    return std::binary_search(edges.begin(), edges.end(), std::pair(edge.second, edge.first));
  });
}

}  // namespace

double volume_m3(const Mesh& mesh) {
  double six = 0;
  for (const auto& t : mesh.triangles) {
    const MeshPoint &a = mesh.points_m[t[0]], &b = mesh.points_m[t[1]], &c = mesh.points_m[t[2]];
    six += a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) +
           a[2] * (b[0] * c[1] - b[1] * c[0]);
  }
  return six / 6;
}

base::Expected<void> check_closed(const Mesh& mesh) {
  for (const MeshPoint& p : mesh.points_m) {
    if (!(std::isfinite(p[0]) && std::isfinite(p[1]) && std::isfinite(p[2]))) {
      return not_closed("a point is not finite");
    }
  }
  std::vector<bool> used(mesh.points_m.size(), false);
  for (const auto& t : mesh.triangles) {
    if (t[0] == t[1] || t[1] == t[2] || t[2] == t[0]) return not_closed("a triangle is a line");
    for (const auto index : t) {
      if (index >= mesh.points_m.size()) return not_closed("an index is out of range");
      used[index] = true;
    }
  }
  if (std::find(used.begin(), used.end(), false) != used.end()) {
    return not_closed("a point belongs to no triangle");
  }
  if (!edges_pair_up(mesh)) return not_closed("an edge is open or used twice");
  if (!(volume_m3(mesh) > 0)) return not_closed("it is inside out");
  return {};
}

}  // namespace propwright::solid
