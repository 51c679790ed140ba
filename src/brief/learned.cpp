// What flights taught, put into what the computations take.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <cmath>

#include "parts.h"
#include "propwright/base/constants.h"

namespace propwright::brief {
namespace {

bool in_force(const Job& job) {
  return job.learned.use && job.learned.any();
}

/// "drag of the model +8 %".
struct Spoken {
  const char* what;
  double change;  ///< relative, or degrees
  bool degrees = false;
};

std::string said(const Spoken& spoken) {
  const char* const minus = "\u2212";
  const double size = std::abs(spoken.change);
  const char* const sign = spoken.change < 0 ? minus : "+";
  return spoken.degrees ? fmt::format("{} {}{:.1f}°", spoken.what, sign, size)
                        : fmt::format("{} {}{:.0f}\u00a0%", spoken.what, sign, 100 * size);
}

/// What moved by half a percent or a tenth of a degree and more.
std::vector<std::string> changes(const Learned& l, bool flexing) {
  std::vector<Spoken> all{{"drag of the model", l.airframe_drag.factor - 1},
                          {"trim", l.trim_lift.factor - 1},
                          {"circle flown", l.circle_radius.factor - 1},
                          {"energy of the rubber", l.rubber_energy.factor - 1},
                          {"turns the rubber takes", l.rubber_turns.factor - 1},
                          {"lift slope of the blade sections", l.polar_lift_slope.factor - 1},
                          {"drag of the blade sections", l.polar_drag.factor - 1},
                          {"greatest lift of the blade sections", l.polar_cl_max.factor - 1},
                          {"zero-lift angle of the blade sections",
                           l.polar_zero_lift.angle_rad / base::degree_rad, true},
                          {"blade angle", l.blade_angle.angle_rad / base::degree_rad, true}};
  if (flexing) {
    all.push_back({"stiffness of the blade", l.blade_stiffness.factor - 1});
    all.push_back({"moment of the blade sections", l.blade_moment.factor - 1});
  }
  std::vector<std::string> moved;
  for (const Spoken& spoken : all) {
    if (std::abs(spoken.change) >= (spoken.degrees ? 0.1 : 0.005)) moved.push_back(said(spoken));
  }
  return moved;
}

}  // namespace

bool Learned::any() const {
  Learned sheet;
  sheet.use = use;
  sheet.from = from;
  return !(*this == sheet);
}

Doubts doubts_in_force(const Job& job) {
  Doubts doubts = job.doubts;
  if (!in_force(job)) return doubts;
  const Learned& l = job.learned;
  doubts.airframe_drag = l.airframe_drag.doubt.value_or(doubts.airframe_drag);
  doubts.trim_lift = l.trim_lift.doubt.value_or(doubts.trim_lift);
  doubts.circle_radius = l.circle_radius.doubt.value_or(doubts.circle_radius);
  doubts.rubber_energy = l.rubber_energy.doubt.value_or(doubts.rubber_energy);
  doubts.rubber_turns = l.rubber_turns.doubt.value_or(doubts.rubber_turns);
  doubts.blade_angle_rad = l.blade_angle.doubt_rad.value_or(doubts.blade_angle_rad);
  doubts.blade_stiffness = l.blade_stiffness.doubt.value_or(doubts.blade_stiffness);
  doubts.blade_moment = l.blade_moment.doubt.value_or(doubts.blade_moment);
  doubts.polar_scale = 1;  // learned_family() holds what it scales
  return doubts;
}

const std::array<LearnedKey, learned_count>& learned_keys() {
  using D = LearnedDirection;
  static const std::array<LearnedKey, learned_count> keys{
      {{"polar_lift_slope", &D::polar_lift_slope},
       {"polar_zero_lift", &D::polar_zero_lift},
       {"polar_drag", &D::polar_drag},
       {"polar_cl_max", &D::polar_cl_max},
       {"blade_angle", &D::blade_angle},
       {"airframe_drag", &D::airframe_drag},
       {"trim_lift", &D::trim_lift},
       {"rubber_energy", &D::rubber_energy},
       {"rubber_turns", &D::rubber_turns},
       {"circle_radius", &D::circle_radius},
       {"blade_stiffness", &D::blade_stiffness},
       {"blade_moment", &D::blade_moment}}};
  return keys;
}

std::optional<LearnedAxes> learned_axes(const Job& job) {
  if (!in_force(job) || job.learned.directions.empty()) return std::nullopt;
  const auto& keys = learned_keys();
  LearnedAxes axes{};
  for (std::size_t i = 0; i < learned_count; ++i) axes[i][i] = 1;
  for (const LearnedDirection& v : job.learned.directions) {
    for (std::size_t i = 0; i < learned_count; ++i) {
      for (std::size_t j = 0; j < learned_count; ++j) {
        axes[i][j] -= (1 - v.left) * v.*(keys[i].component) * v.*(keys[j].component);
      }
    }
  }
  for (std::size_t i = 0; i < learned_count; ++i) {
    double squares = 0;
    for (const double a : axes[i]) squares += a * a;
    if (squares > 0) {
      for (double& a : axes[i]) a /= std::sqrt(squares);
    } else {
      axes[i][i] = 1;
    }
  }
  return axes;
}

section::Family learned_family(const Job& job, const section::Family& family) {
  if (!in_force(job)) return family;
  const Learned& l = job.learned;
  const double scale = job.doubts.polar_scale;
  const section::Uncertainty usual = family.uncertainty();
  // Sections whose lift begins at a greater angle and blades set to a lesser one are the same.
  const section::Shift shift{.lift_slope = l.polar_lift_slope.factor - 1,
                             .zero_lift_rad = l.polar_zero_lift.angle_rad - l.blade_angle.angle_rad,
                             .drag = l.polar_drag.factor - 1,
                             .cl_max = l.polar_cl_max.factor - 1};
  return family.moved(
      shift, {.lift_slope = l.polar_lift_slope.doubt.value_or(scale * usual.lift_slope),
              .zero_lift_rad = l.polar_zero_lift.doubt_rad.value_or(scale * usual.zero_lift_rad),
              .drag = l.polar_drag.doubt.value_or(scale * usual.drag),
              .cl_max = l.polar_cl_max.doubt.value_or(scale * usual.cl_max)});
}

void apply_learned(const Job& job, rubber::Motor& motor) {
  if (!in_force(job)) return;
  rubber::scale(motor, job.learned.rubber_energy.factor, job.learned.rubber_turns.factor);
}

void apply_learned(const Job& job, flight::Airframe& airframe) {
  if (!in_force(job)) return;
  airframe.drag.scale(job.learned.airframe_drag.factor);
  airframe.trim_cl *= job.learned.trim_lift.factor;
  airframe.circle_radius_m *= job.learned.circle_radius.factor;
}

void apply_learned(const Job& job, Assembly& made) {
  const Learned& l = job.learned;
  if (!l.any()) return;
  if (!l.use) {
    made.notes.push_back(
        "Predictions are as the sheet has it: what flights taught is switched off (learned.use).");
    return;
  }
  if (made.beam) {
    for (flex::BeamRow& row : made.beam->rows) {
      row.flapwise_Nm2 *= l.blade_stiffness.factor;
      row.chordwise_Nm2 *= l.blade_stiffness.factor;
      row.torsion_Nm2 *= l.blade_stiffness.factor;
    }
    made.flex_options.moment_factor = l.blade_moment.factor;
  }
  const auto moved = changes(l, made.beam.has_value());
  const std::string from = l.from.empty() ? std::string("flights") : l.from;
  made.notes.push_back(
      moved.empty()
          ? fmt::format("Predictions use what {} taught: the sheet was right.", from)
          : fmt::format("Predictions use what {} taught: {}.", from, fmt::join(moved, ", ")));
  if (l.directions.empty()) {
    made.notes.push_back(
        "The doubts that flights left are taken one by one. What flights tell better of two "
        "together than of each alone is lost in that, so the interval is wider than where the "
        "flights are at hand (learn, verdict).");
  }
}

}  // namespace propwright::brief
