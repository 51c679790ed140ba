// own_induction_share against two lifting lines with rigid helical wakes: of two blades, the sum of
// whose circulations is held and whose difference is free. The influence of circulation G on one
// and -G on the other is twice that of one line less that of both.
#include <gtest/gtest.h>

#include <Eigen/LU>
#include <cmath>

#include "lifting_line.h"
#include "propwright/asbuilt/comparison.h"
#include "propwright/base/constants.h"

namespace propwright::asbuilt {
namespace {

using base::pi;
using rotor::LiftingLine;
using rotor::Result;

constexpr int line_points = 24;
constexpr rotor::Flow room_air{1.2, 1.81e-5};

struct LineCase {
  double pitch_m, chord_m, lift_slope;
};

/// A blade of 390 mm: even chord to 0.6 of the radius, rounded off to the tip.
rotor::Blade share_blade(const LineCase& c) {
  constexpr double tip = 0.195, hub = 0.034;
  rotor::Blade blade;
  for (int i = 0; i <= 20; ++i) {
    const double r = hub + (tip - hub) * i / 20;
    const double beyond = std::max(0.0, (r / tip - 0.6) / 0.4);
    const double chord = c.chord_m * std::sqrt(std::max(0.0, 1 - std::pow(beyond, 2.2)));
    blade.rows.push_back({r, chord, std::atan(c.pitch_m / (2 * pi * r)), 0.06});
  }
  return blade;
}

double at_radius(const Result& result, double r, double rotor::StationResult::*member) {
  const auto& s = result.stations;
  if (r <= s.front().radius_m) return s.front().*member;
  if (r >= s.back().radius_m) return s.back().*member;
  std::size_t i = 1;
  while (s[i].radius_m < r) ++i;
  const double t = (r - s[i - 1].radius_m) / (s[i].radius_m - s[i - 1].radius_m);
  return (1 - t) * (s[i - 1].*member) + t * (s[i].*member);
}

/// Thrust of a turn of the blade by 1 rad, to first order, with an induced influence or none.
class LineResponse {
 public:
  LineResponse(const LineCase& c, const Result& result, const rotor::Condition& at,
               const LiftingLine& line)
      : case_(c), result_(result), at_(at), line_(line) {}

  double thrust_N(const LiftingLine::Influence* influence) const {
    Eigen::MatrixXd m = Eigen::MatrixXd::Identity(line_points, line_points);
    Eigen::VectorXd free(line_points);
    std::vector<double> along(line_points);
    for (int i = 0; i < line_points; ++i) {
      const double r = line_.controls()[static_cast<std::size_t>(i)];
      const double inflow = at_radius(result_, r, &rotor::StationResult::inflow_rad);
      const double speed = std::hypot(2 * pi * at_.rev_per_s * r, at_.speed_m_s);
      const double chord = at_radius(result_, r, &rotor::StationResult::chord_m);
      free(i) = 0.5 * speed * chord * case_.lift_slope;
      along[static_cast<std::size_t>(i)] = speed * std::cos(inflow);
      if (influence == nullptr) continue;
      for (int j = 0; j < line_points; ++j) {
        m(i, j) +=
            free(i) / speed *
            (influence->axial(i, j) * std::cos(inflow) - influence->swirl(i, j) * std::sin(inflow));
      }
    }
    const Eigen::VectorXd circulation = m.partialPivLu().solve(free);
    double thrust = 0;
    for (int i = 0; i < line_points; ++i) {
      const auto k = static_cast<std::size_t>(i);
      thrust += room_air.density_kg_m3 * along[k] * circulation(i) * line_.loading_weights()[k];
    }
    return thrust;
  }

 private:
  const LineCase& case_;
  const Result& result_;
  const rotor::Condition& at_;
  const LiftingLine& line_;
};

/// How much of its own extra induction a blade of the case feels at 0.85 of its pitch.
double own_share(const LineCase& c) {
  const rotor::Blade blade = share_blade(c);
  const auto made = rotor::Rotor::make(blade, section::Family::thin_arc(), {}).value();
  const rotor::Condition at{1.1, 1.1 / (c.pitch_m * 0.85)};
  const Result result = made.solve(at, room_air).value();
  const double hub = blade.rows.front().radius_m, tip = blade.rows.back().radius_m;
  const LiftingLine one(1, hub, tip, line_points), two(2, hub, tip, line_points);
  const double middle = 0.7 * tip;
  const double inflow = at_radius(result, middle, &rotor::StationResult::inflow_rad);
  const std::vector<double> inverse_pitch(one.nodes().size(), 1 / (middle * std::tan(inflow)));
  const LiftingLine::Influence single = one.influence(inverse_pitch),
                               both = two.influence(inverse_pitch);
  const LiftingLine::Influence apart{2 * single.axial - both.axial, 2 * single.swirl - both.swirl};
  const LineResponse response(c, result, at, one);
  const double shared = response.thrust_N(nullptr);
  return (shared - response.thrust_N(&apart)) / (shared - response.thrust_N(&both));
}

TEST(OwnInductionShare, LiesBetweenASharedAnnulusAndHalfDiscsOverTheUsualPropellers) {
  double sum = 0;
  int count = 0;
  for (const double pitch : {0.5, 0.78, 1.2}) {
    for (const double chord : {0.04, 0.06}) {
      for (const double slope : {4.0, 5.5}) {
        const double share = own_share({pitch, chord, slope});
        EXPECT_GT(share, 0.785) << pitch << ' ' << chord << ' ' << slope;
        EXPECT_LT(share, 0.915) << pitch << ' ' << chord << ' ' << slope;
        sum += share;
        ++count;
      }
    }
  }
  // The constant has two digits.
  EXPECT_NEAR(sum / count, own_induction_share, 0.015);
}

TEST(OwnInductionShare, GrowsWithThePitchAsTheWakesLieFartherApart) {
  EXPECT_GT(own_share({1.2, 0.05, 5.5}), own_share({0.5, 0.05, 5.5}));
}

}  // namespace
}  // namespace propwright::asbuilt
