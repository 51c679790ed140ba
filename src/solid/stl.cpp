// Binary STL.
#include <array>
#include <bit>
#include <cmath>
#include <cstdint>
#include <cstring>

#include "propwright/solid/files.h"

namespace propwright::solid {
namespace {

static_assert(std::endian::native == std::endian::little, "STL is little-endian");

constexpr std::size_t title_bytes = 80;

template <class T>
void append(std::string& out, const T& value) {
  std::array<char, sizeof(T)> bytes;
  std::memcpy(bytes.data(), &value, sizeof(T));
  out.append(bytes.data(), bytes.size());
}

void append_vector(std::string& out, const MeshPoint& p, double scale) {
  for (const double each : p) append(out, static_cast<float>(scale * each));
}

MeshPoint normal_of(const MeshPoint& a, const MeshPoint& b, const MeshPoint& c) {
  const MeshPoint u{b[0] - a[0], b[1] - a[1], b[2] - a[2]};
  const MeshPoint v{c[0] - a[0], c[1] - a[1], c[2] - a[2]};
  const MeshPoint n{u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2],
                    u[0] * v[1] - u[1] * v[0]};
  const double length = std::sqrt(n[0] * n[0] + n[1] * n[1] + n[2] * n[2]);
  if (length == 0) return {0, 0, 0};
  return {n[0] / length, n[1] / length, n[2] / length};
}

}  // namespace

std::string stl_bytes(const FormPart& part) {
  std::string out = (part.title + ", mm").substr(0, title_bytes);
  out.resize(title_bytes, ' ');
  out.reserve(title_bytes + 4 + 50 * part.mesh.triangles.size());
  append(out, static_cast<std::uint32_t>(part.mesh.triangles.size()));
  for (const auto& t : part.mesh.triangles) {
    const auto& points = part.mesh.points_m;
    append_vector(out, normal_of(points[t[0]], points[t[1]], points[t[2]]), 1);
    for (const auto corner : t) append_vector(out, points[corner], 1e3);
    append(out, std::uint16_t{0});
  }
  return out;
}

}  // namespace propwright::solid
