#include "form_scene.h"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "propwright/base/constants.h"

namespace propwright::answer {
namespace {

using form::Point;

constexpr int rows_drawn = 33, across_drawn = 13, stations_drawn = 12;

Json point_json(const Point& p) {
  return {drawn_m(p.x_m), drawn_m(p.y_m), drawn_m(p.z_m)};
}

Json loop_json(const std::vector<Point>& points) {
  Json list = Json::array();
  for (const Point& p : points) list.push_back(point_json(p));
  return list;
}

Json part_json(const std::string& part, const std::string& label, double radius_m,
               const std::vector<Point>& points) {
  return {{"part", part},
          {"label", label},
          {"radius_m", radius_m > 0 ? Json(drawn_m(radius_m)) : Json(nullptr)},
          {"closed", true},
          {"points_m", loop_json(points)}};
}

/// Where a point of the blade lies: its radius and its length along the arc from the spar line.
using Place = std::function<Point(double radius_m, double share)>;

Json surface_json(const FormAnswer& answer, const Place& place) {
  Json rows = Json::array();
  const form::Surface& s = answer.surface;
  for (int i = 0; i < rows_drawn; ++i) {
    // Closer together towards both ends, where the outline turns.
    const double share = 0.5 - 0.5 * std::cos(base::pi * i / (rows_drawn - 1));
    const double radius = s.root_m() + share * (s.tip_m() - s.root_m());
    std::vector<Point> points;
    points.reserve(across_drawn);
    for (int j = 0; j < across_drawn; ++j) {
      points.push_back(place(radius, static_cast<double>(j) / (across_drawn - 1)));
    }
    rows.push_back({{"radius_m", drawn_m(radius)},
                    {"angle_deg", s.angle_rad(radius) / base::degree_rad},
                    {"points_m", loop_json(points)}});
  }
  std::vector<Point> spar;
  for (int i = 0; i < rows_drawn; ++i) {
    const double radius = s.root_m() + (s.tip_m() - s.root_m()) * i / (rows_drawn - 1);
    spar.push_back(place(radius, s.spar_share(radius)));
  }
  return {{"rows", rows}, {"spar_m", loop_json(spar)}};
}

double lowest_z(const form::Surface& s) {
  double lowest = 0;
  for (int i = 0; i <= 100; ++i) {
    const double radius = s.root_m() + (s.tip_m() - s.root_m()) * i / 100;
    lowest = std::min({lowest, s.at(radius, 0).z_m, s.at(radius, 1).z_m});
  }
  return lowest;
}

/// Upright sections, each from the base up to the surface.
Json upright_sections(const form::Surface& s, const std::vector<double>& radii,
                      const std::string& part, double base_z) {
  Json scene = Json::array();
  int number = 0;
  for (const double radius : radii) {
    std::vector<Point> loop;
    loop.reserve(across_drawn + 2);
    for (int j = 0; j < across_drawn; ++j) {
      loop.push_back(s.at(radius, static_cast<double>(j) / (across_drawn - 1)));
    }
    const Point first = loop.front(), last = loop.back();
    loop.push_back({last.x_m, last.y_m, base_z});
    loop.push_back({first.x_m, first.y_m, base_z});
    scene.push_back(part_json(part, std::to_string(++number), radius, loop));
  }
  return scene;
}

std::vector<double> even_radii(const form::Surface& s) {
  std::vector<double> radii;
  radii.reserve(stations_drawn);
  for (int i = 0; i < stations_drawn; ++i) {
    radii.push_back(s.root_m() + (s.tip_m() - s.root_m()) * i / (stations_drawn - 1));
  }
  return radii;
}

/// Four walls round a body under the surface and its floor.
void add_walls(const form::Surface& s, double base_z, Json& scene) {
  std::vector<Point> floor;
  for (const double side : {0.0, 1.0}) {
    std::vector<Point> wall;
    wall.reserve(std::size_t{2} * rows_drawn);
    for (int i = 0; i < rows_drawn; ++i) {
      wall.push_back(s.at(s.root_m() + (s.tip_m() - s.root_m()) * i / (rows_drawn - 1), side));
    }
    std::vector<Point> low = wall;
    for (Point& p : low) p.z_m = base_z;
    // Round the floor: the trailing side inwards, the leading side outwards.
    floor.insert(floor.end(), low.begin(), low.end());
    if (side == 0) std::reverse(floor.begin(), floor.end());
    wall.insert(wall.end(), low.rbegin(), low.rend());
    scene.push_back(part_json("wall", side > 0 ? "leading" : "trailing", 0, wall));
  }
  scene.push_back(part_json("base", "", 0, floor));
}

Json block_scene(const FormAnswer& answer, double base_z) {
  const form::Block& block = *answer.block;
  const double hand = answer.hand == form::Hand::clockwise ? 1 : -1;
  const double x0 = block.near_end_m, x1 = x0 + block.length_m;
  const double y0 = -hand * std::abs(block.trail_side_m), y1 = hand * std::abs(block.lead_side_m);
  const double z0 = base_z, z1 = base_z + block.height_m;
  Json scene = Json::array();
  const auto face = [&](const char* label, std::vector<Point> loop) {
    scene.push_back(part_json("block", label, 0, loop));
  };
  face("bench side", {{x0, y0, z0}, {x1, y0, z0}, {x1, y1, z0}, {x0, y1, z0}});
  face("top", {{x0, y0, z1}, {x1, y0, z1}, {x1, y1, z1}, {x0, y1, z1}});
  face("trailing side", {{x0, y0, z0}, {x1, y0, z0}, {x1, y0, z1}, {x0, y0, z1}});
  face("leading side", {{x0, y1, z0}, {x1, y1, z0}, {x1, y1, z1}, {x0, y1, z1}});
  for (const form::BlockStation& s : block.stations) {
    const double radius = std::clamp(s.radius_m, answer.across.root_m(), answer.across.tip_m());
    std::vector<Point> loop{answer.across.at(radius, 0), answer.across.at(radius, 1)};
    loop.push_back({radius, loop[1].y_m, z0});
    loop.push_back({radius, loop[0].y_m, z0});
    scene.push_back(part_json("station", "", radius, loop));
  }
  return scene;
}

Json ribbed_scene(const FormAnswer& answer) {
  Json scene = Json::array();
  for (const form::AssembledPart& part : form::assembled(*answer.ribbed)) {
    const bool rib = part.kind == form::RibbedKind::rib;
    const char* name = rib ? "rib" : part.kind == form::RibbedKind::spine ? "spine" : "base";
    const double radius =
        rib ? answer.ribbed->ribs[static_cast<std::size_t>(part.number - 1)].radius_m : 0;
    if (part.loops.empty()) continue;
    scene.push_back(
        part_json(name, rib ? std::to_string(part.number) : "", radius, part.loops.front()));
  }
  return scene;
}

/// The blade on the cylinder, x along the cylinder's axis, z outwards at the blade's middle. Seen
/// from outside, tip up, a clockwise blade's spar line leans to the left and its leading edge is on
/// the left, which is +y.
Place on_cylinder(const FormAnswer& answer) {
  const form::CylinderFit fit = *answer.cylinder;
  const form::Surface& s = answer.surface;
  const double middle = (s.root_m() + s.tip_m()) / 2, a = fit.cylinder_radius_m;
  const double hand = answer.hand == form::Hand::clockwise ? 1 : -1;
  return [=, &s](double radius, double share) -> Point {
    const double arc = (share - s.spar_share(radius)) * s.sheet_width_m(radius);
    const double along = radius - middle;
    const double x = along * std::cos(fit.skew_rad) - arc * std::sin(fit.skew_rad);
    const double round = along * std::sin(fit.skew_rad) + arc * std::cos(fit.skew_rad);
    return {x, hand * a * std::sin(round / a), a * std::cos(round / a)};
  };
}

Json cylinder_scene(const FormAnswer& answer) {
  constexpr int rings = 7, corners = 48;
  const double a = answer.cylinder->cylinder_radius_m;
  const double half = 0.6 * (answer.surface.tip_m() - answer.surface.root_m());
  Json scene = Json::array();
  for (int i = 0; i < rings; ++i) {
    const double x = half * (2.0 * i / (rings - 1) - 1);
    std::vector<Point> ring;
    for (int j = 0; j < corners; ++j) {
      const double turn = 2 * base::pi * j / corners;
      ring.push_back({x, a * std::sin(turn), a * std::cos(turn)});
    }
    scene.push_back(part_json("ring", "", 0, ring));
  }
  return scene;
}

}  // namespace

double drawn_m(double length_m) {
  return std::round(length_m * 1e7) / 1e7;
}

void add_form_scene(FormKind kind, const FormAnswer& answer, Json& document) {
  const form::Surface& flat = answer.across;
  Place place = [&flat](double radius, double share) { return flat.at(radius, share); };
  double base_z = lowest_z(flat) - 0.006;
  Json scene = Json::array();
  switch (kind) {
    case FormKind::templates: {
      std::vector<double> radii;
      for (const FormRow& row : answer.stations) {
        if (row.form.chord_m > 0) radii.push_back(row.form.radius_m);
      }
      scene = upright_sections(flat, radii, "station", base_z);
      break;
    }
    case FormKind::block:
      if (!answer.block) break;
      base_z = -answer.block->stations.front().spar_height_m;
      scene = block_scene(answer, base_z);
      break;
    case FormKind::ribbed:
      if (!answer.ribbed) break;
      base_z = -answer.ribbed->spar_height_m;
      scene = ribbed_scene(answer);
      break;
    case FormKind::solid:
      if (answer.solid) base_z = lowest_z(flat) - answer.solid->base_thickness_m;
      scene = upright_sections(flat, even_radii(flat), "section", base_z);
      add_walls(flat, base_z, scene);
      break;
    case FormKind::cylinder:
      if (!answer.cylinder) break;
      place = on_cylinder(answer);
      scene = cylinder_scene(answer);
      break;
  }
  document["surface"] = surface_json(answer, place);
  document["scene"] = std::move(scene);
  document["base_z_m"] = kind == FormKind::cylinder ? Json(nullptr) : Json(drawn_m(base_z));
}

}  // namespace propwright::answer
