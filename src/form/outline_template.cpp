/// The blade's plan form at 1:1.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "propwright/base/constants.h"
#include "propwright/base/monotone_curve.h"
#include "template_tools.h"

namespace propwright::form {
namespace {

constexpr int steps_per_edge = 100;
constexpr double tick_m = 0.002;         // to either side of the edge
constexpr double cross_m = 0.006;        // arms of the shaft's cross
constexpr double least_chord_m = 0.002;  // ticks of a narrower place would run together

/// Both edges as smooth curves over psi, r = root + length sin(psi): a rounded tip, whose chord
/// goes with the root of the distance, is smooth in psi.
class Edges {
 public:
  explicit Edges(const std::vector<OutlineRow>& rows)
      : root_m_(rows.front().radius_m), tip_m_(rows.back().radius_m) {
    std::vector<double> lead, trail;
    for (const auto& row : rows) {
      psi_.push_back(psi(row.radius_m));
      lead.push_back(row.lead_m);
      trail.push_back(row.trail_m);
    }
    lead_ = base::MonotoneCurve::through(psi_, lead).value();
    trail_ = base::MonotoneCurve::through(psi_, trail).value();
  }

  double root_m() const { return root_m_; }
  double tip_m() const { return tip_m_; }
  double lead_m(double radius_m) const { return lead_.value(psi(radius_m)); }
  double trail_m(double radius_m) const { return trail_.value(psi(radius_m)); }

  /// The cut line: leading edge (x > 0) from root to tip, trailing edge back.
  std::vector<std::pair<double, double>> cut_line() const {
    std::vector<double> places = psi_;
    for (int i = 0; i <= steps_per_edge; ++i) {
      const double place = base::pi / 2 * i / steps_per_edge;
      const auto near = [&](double row) { return std::abs(row - place) < 1e-3; };
      if (std::none_of(psi_.begin(), psi_.end(), near)) places.push_back(place);
    }
    std::sort(places.begin(), places.end());
    std::vector<std::pair<double, double>> points;
    points.reserve(2 * places.size());
    for (const double p : places) points.emplace_back(lead_.value(p), radius_m(p));
    for (auto p = places.rbegin(); p != places.rend(); ++p) {
      const std::pair<double, double> point(-trail_.value(*p), radius_m(*p));
      if (std::abs(point.first - points.back().first) > 1e-9 ||
          point.second != points.back().second)
        points.push_back(point);
    }
    return points;
  }

 private:
  double psi(double radius_m) const {
    return std::asin(std::clamp((radius_m - root_m_) / (tip_m_ - root_m_), 0.0, 1.0));
  }
  double radius_m(double psi) const { return root_m_ + (tip_m_ - root_m_) * std::sin(psi); }

  double root_m_, tip_m_;
  std::vector<double> psi_;
  base::MonotoneCurve lead_, trail_;
};

double chosen_step_m(double length_m) {
  double best_m = 0.05;
  for (const double step_m : {0.005, 0.010, 0.015, 0.020, 0.025, 0.050}) {
    if (std::abs(length_m / step_m - 12) < std::abs(length_m / best_m - 12)) best_m = step_m;
  }
  return best_m;
}

void add_ticks(const Edges& edges, double step_m, Template& drawing) {
  // The small allowance keeps a root or tip at a round radius from being lost to rounding.
  const int first = static_cast<int>(std::ceil(edges.root_m() / step_m - 1e-9));
  const int last = static_cast<int>(std::floor(edges.tip_m() / step_m + 1e-9));
  for (int i = std::max(first, 1); i <= last; ++i) {
    const double radius_m = i * step_m;
    const double lead_m = edges.lead_m(radius_m), trail_m = edges.trail_m(radius_m);
    if (lead_m + trail_m < least_chord_m) continue;
    const std::string label = fmt::format("{:g}", std::round(1e4 * radius_m) / 10);
    for (const double edge_m : {lead_m, -trail_m}) {
      const double out = edge_m == lead_m ? 1 : -1;
      const double inside_m = std::min(tick_m, 0.3 * (lead_m + trail_m));
      drawing.lines.push_back(
          {.kind = TemplateLine::Kind::station,
           .points_m = {{edge_m - out * inside_m, radius_m}, {edge_m + out * tick_m, radius_m}},
           .label = label,
           .value_m = radius_m});
    }
  }
}

void add_centre_lines(const Edges& edges, Template& drawing) {
  const auto centre = [&](std::vector<std::pair<double, double>> points, bool dashed) {
    drawing.lines.push_back(
        {.kind = TemplateLine::Kind::centre, .points_m = std::move(points), .dashed = dashed});
  };
  centre({{0, 0}, {0, edges.tip_m() + tick_m}}, false);
  centre({{-cross_m, 0}, {cross_m, 0}}, false);
  centre({{0, -cross_m}, {0, cross_m}}, false);
  const double length_m = edges.tip_m() - edges.root_m();
  const double x = -0.5 * edges.trail_m(edges.root_m() + 0.6 * length_m);
  const double low = edges.root_m() + 0.5 * length_m, high = low + 0.2 * length_m;
  const double barb = std::min(0.0015, 0.02 * length_m);
  centre({{x, low}, {x, high}}, false);
  centre({{x - barb, high - 2 * barb}, {x, high}, {x + barb, high - 2 * barb}}, false);
  drawing.texts.push_back({x - 2 * barb, low + 0.1 * length_m, "grain", 90, 0});
}

void add_words(const Edges& edges, double radius_45_m, Template& drawing) {
  const double length_m = edges.tip_m() - edges.root_m();
  double middle = edges.root_m() + 0.55 * length_m;
  // Clear of the line across the blade at 45 degrees.
  constexpr double word_m = 0.016;
  if (std::abs(middle - radius_45_m) < word_m) middle = radius_45_m + word_m;
  drawing.texts.push_back({0.7 * edges.lead_m(middle), middle, "leading edge", 90, 0});
  drawing.texts.push_back({-0.8 * edges.trail_m(middle), middle, "trailing edge", 90, 0});
  drawing.texts.push_back({0.003, edges.root_m() + 0.3 * length_m, "spar line", 90, 0});
  drawing.texts.push_back({0, -cross_m - 0.003, "shaft axis", 0, 0});
  drawing.texts.push_back({0, -cross_m - 0.008, hand_words(drawing.hand), 0, 0});
}

}  // namespace

Template outline_template(const std::vector<OutlineRow>& rows, double radius_45_m, Hand hand,
                          double tick_step_m) {
  for (std::size_t i = 1; i < rows.size(); ++i) {
    if (!(rows[i].radius_m > rows[i - 1].radius_m)) {
      throw std::invalid_argument("outline_template: radii must rise");
    }
  }
  if (rows.size() < 2) throw std::invalid_argument("outline_template: two rows or more are needed");
  const Edges edges(rows);
  Template drawing;
  drawing.name = "outline";
  drawing.title = "Blade outline";
  drawing.hand = hand;
  drawing.lines.push_back(
      {.kind = TemplateLine::Kind::cut, .points_m = edges.cut_line(), .closed = true});
  const double step_m =
      tick_step_m > 0 ? tick_step_m : chosen_step_m(edges.tip_m() - edges.root_m());
  add_ticks(edges, step_m, drawing);
  if (radius_45_m > edges.root_m() && radius_45_m < edges.tip_m()) {
    drawing.lines.push_back({.kind = TemplateLine::Kind::station,
                             .points_m = {{-edges.trail_m(radius_45_m), radius_45_m},
                                          {edges.lead_m(radius_45_m), radius_45_m}},
                             .label = "45°",
                             .dashed = true});
  }
  add_centre_lines(edges, drawing);
  add_words(edges, radius_45_m, drawing);
  give_hand(drawing);
  return drawing;
}

}  // namespace propwright::form
