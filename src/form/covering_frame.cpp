#include <algorithm>
#include <array>
#include <cmath>

#include "propwright/base/constants.h"
#include "propwright/form/covering.h"
#include "range_check.h"

namespace propwright::form {
namespace {

/// The form's angle, its end pitches going on outside the blade.
double angle_beyond(const Surface& blade, double radius_m) {
  const double inside = std::clamp(radius_m, blade.root_m(), blade.tip_m());
  return blade_angle_rad(blade.pitch_m(inside), radius_m);
}

/// Angle of film between two crosses at a share of the bay, its corners on straight lines.
double film_angle(const FrameCross& a, const FrameCross& b, double share) {
  return std::atan2((1 - share) * std::sin(a.angle_rad) + share * std::sin(b.angle_rad),
                    (1 - share) * std::cos(a.angle_rad) + share * std::cos(b.angle_rad));
}

std::vector<FrameCross> crosses_of(const Surface& blade, double from_m, double to_m, int bays) {
  std::vector<FrameCross> crosses;
  for (int i = 0; i <= bays; ++i) {
    const double radius = from_m + (to_m - from_m) * i / bays;
    crosses.push_back({radius, angle_beyond(blade, radius)});
  }
  return crosses;
}

/// Worst angle of the film over the blade itself, and where.
void measure_film(const Surface& blade, CoveringFrame& frame) {
  constexpr int places = 24;
  frame.worst_angle_error_rad = 0;
  for (std::size_t i = 1; i < frame.crosses.size(); ++i) {
    const FrameCross &a = frame.crosses[i - 1], &b = frame.crosses[i];
    for (int j = 0; j <= places; ++j) {
      const double share = static_cast<double>(j) / places;
      const double radius = a.radius_m + share * (b.radius_m - a.radius_m);
      if (radius < blade.root_m() || radius > blade.tip_m()) continue;
      const double error = std::abs(film_angle(a, b, share) - blade.angle_rad(radius));
      if (error <= frame.worst_angle_error_rad) continue;
      frame.worst_angle_error_rad = error;
      frame.worst_at_m = radius;
    }
  }
}

/// Pieces of the rail that runs `reach_m` (signed, positive leading) from the spar line.
std::vector<FrameRail> rail_of(const std::vector<FrameCross>& crosses, double reach_m) {
  std::vector<FrameRail> rail;
  for (std::size_t i = 1; i < crosses.size(); ++i) {
    const FrameCross &a = crosses[i - 1], &b = crosses[i];
    const std::array<double, 3> piece{b.radius_m - a.radius_m,
                                      reach_m * (std::cos(b.angle_rad) - std::cos(a.angle_rad)),
                                      reach_m * (std::sin(b.angle_rad) - std::sin(a.angle_rad))};
    const double length = std::hypot(piece[0], piece[1], piece[2]);
    // Towards the spar along the cross, from this rail.
    const auto angle_to = [&](const FrameCross& cross, double along) {
      const double side = reach_m > 0 ? -1 : 1;
      return std::acos(
          along * side *
          (piece[1] * std::cos(cross.angle_rad) + piece[2] * std::sin(cross.angle_rad)) / length);
    };
    rail.push_back({length, angle_to(a, 1), angle_to(b, -1)});
  }
  return rail;
}

base::Problems problems_of_frame(const FrameOptions& options) {
  base::Problems problems;
  check_length("frame.margin", options.margin_m, 0.001, 0.05, problems);
  check_count("frame.bays", options.most_bays, 1, 40, problems);
  if (!(options.angle_limit_rad > 0)) {
    problems.push_back({.field = "frame.angle_limit",
                        .value = fmt::format("{:g}°", options.angle_limit_rad / base::degree_rad),
                        .allowed = "above 0",
                        .remedy = "give 0.5 deg",
                        .message = "the limit of the angle is not positive"});
  }
  return problems;
}

}  // namespace

base::Expected<CoveringFrame> covering_frame(const Surface& blade, const FrameOptions& options) {
  if (base::Problems problems = problems_of_frame(options); !problems.empty()) {
    return base::fail(std::move(problems));
  }
  const double from_m = blade.root_m() - options.margin_m, to_m = blade.tip_m() + options.margin_m;
  if (from_m <= 0) {
    return base::fail({.kind = base::Kind::no_solution,
                       .field = "frame.margin",
                       .value = fmt::format("{:g} mm", 1e3 * options.margin_m),
                       .allowed = fmt::format("below {:g} mm", 1e3 * blade.root_m()),
                       .remedy = "let the frame end nearer to the blade",
                       .message = "the frame would reach over the shaft"});
  }
  CoveringFrame frame;
  frame.hand = blade.hand();
  constexpr int places = 200;
  for (int i = 0; i <= places; ++i) {
    const double radius = blade.root_m() + (blade.tip_m() - blade.root_m()) * i / places;
    frame.lead_m = std::max(frame.lead_m, blade.lead_m(radius));
    frame.trail_m = std::max(frame.trail_m, blade.trail_m(radius));
  }
  frame.lead_m += options.margin_m;
  frame.trail_m += options.margin_m;
  for (int bays = 1; bays <= options.most_bays; ++bays) {
    frame.crosses = crosses_of(blade, from_m, to_m, bays);
    measure_film(blade, frame);
    if (frame.worst_angle_error_rad <= options.angle_limit_rad) break;
  }
  frame.lead = rail_of(frame.crosses, frame.lead_m);
  frame.trail = rail_of(frame.crosses, -frame.trail_m);
  return frame;
}

}  // namespace propwright::form
