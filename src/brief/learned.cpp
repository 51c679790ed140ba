// What flights taught, put into what the computations take.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <numeric>
#include <string>
#include <vector>

#include "parts.h"
#include "propwright/base/constants.h"

namespace propwright::brief {
namespace {

bool in_force(const Job& job) {
  return job.learned.use && job.learned.any();
}

/// Whether what was learned of something is of the job's own.
bool is_own(const Job& job, LearnedOf of) {
  const Learned& l = job.learned;
  const auto fits = [](const std::string& learned, const std::string& own) {
    return learned.empty() || learned == own;
  };
  switch (of) {
    case LearnedOf::sections:
      return !l.named() || l.sections == job.propeller.polar_file;
    case LearnedOf::propeller:
      return fits(l.propeller, job.propeller.name);
    case LearnedOf::model:
      return fits(l.model, job.model.name);
    case LearnedOf::rubber:
      return fits(l.rubber, job.rubber.name);
  }
  return true;
}

/// What of it is the job's own and in use; the rest is as on the sheet. Directions stay whole.
Learned used_of(const Job& job) {
  if (!in_force(job)) return {};
  Learned l = job.learned;
  if (!is_own(job, LearnedOf::sections)) {
    l.polar_lift_slope = l.polar_drag = l.polar_cl_max = {};
    l.polar_zero_lift = {};
  }
  if (!is_own(job, LearnedOf::propeller)) {
    l.blade_angle = {};
    l.blade_stiffness = l.blade_moment = {};
  }
  if (!is_own(job, LearnedOf::model)) l.airframe_drag = l.trim_lift = l.circle_radius = {};
  if (!is_own(job, LearnedOf::rubber)) l.rubber_energy = l.rubber_turns = {};
  return l;
}

std::string name_or_none(const std::string& name) {
  return name.empty() ? "none by name" : name;
}

/// What is not used, and why.
void note_not_own(const Job& job, std::vector<std::string>& notes) {
  const Learned& l = job.learned;
  const auto note = [&](LearnedOf of, const char* what, const std::string& learned,
                        const std::string& own) {
    if (is_own(job, of)) return;
    notes.push_back(fmt::format("What flights taught of the {} ({}) is not used: this job has {}.",
                                what, learned, own));
  };
  note(LearnedOf::model, "model", l.model, name_or_none(job.model.name));
  note(LearnedOf::rubber, "rubber", l.rubber, name_or_none(job.rubber.name));
  note(LearnedOf::propeller, "propeller", l.propeller, name_or_none(job.propeller.name));
  const auto polars = [](const std::string& file) {
    return file.empty() ? "polars built in" : file;
  };
  note(LearnedOf::sections, "blade sections", polars(l.sections), polars(job.propeller.polar_file));
  if (!l.named()) {
    notes.push_back(
        "What flights taught does not tell of which model, rubber and propeller: it is taken for "
        "this job's.");
  }
}

/// Root of the covariance of the job's own parameters; the others are moved by themselves alone.
/// `axes` is the root of the whole covariance.
LearnedAxes own_axes(const Job& job, const LearnedAxes& axes) {
  const auto& keys = learned_keys();
  std::vector<std::size_t> own;
  own.reserve(learned_count);
  for (std::size_t i = 0; i < learned_count; ++i) {
    if (is_own(job, keys[i].of)) own.push_back(i);
  }
  if (own.size() == learned_count) return axes;
  LearnedAxes made{};
  for (std::size_t i = 0; i < learned_count; ++i) made[i][i] = 1;
  if (own.empty()) return made;
  const auto n = static_cast<Eigen::Index>(own.size());
  Eigen::MatrixXd covariance(n, n);
  for (Eigen::Index i = 0; i < n; ++i) {
    for (Eigen::Index j = 0; j < n; ++j) {
      const auto& a = axes[own[static_cast<std::size_t>(i)]];
      const auto& b = axes[own[static_cast<std::size_t>(j)]];
      covariance(i, j) = std::inner_product(a.begin(), a.end(), b.begin(), 0.0);
    }
  }
  const Eigen::MatrixXd root =
      Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd>(covariance).operatorSqrt();
  for (Eigen::Index i = 0; i < n; ++i) {
    for (Eigen::Index j = 0; j < n; ++j) {
      made[own[static_cast<std::size_t>(i)]][own[static_cast<std::size_t>(j)]] = root(i, j);
    }
  }
  return made;
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
  sheet.model = model;
  sheet.rubber = rubber;
  sheet.propeller = propeller;
  sheet.sections = sections;
  return !(*this == sheet);
}

Doubts doubts_in_force(const Job& job) {
  Doubts doubts = job.doubts;
  if (!in_force(job)) return doubts;
  const Learned l = used_of(job);
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
  using O = LearnedOf;
  static const std::array<LearnedKey, learned_count> keys{
      {{"polar_lift_slope", &D::polar_lift_slope, O::sections},
       {"polar_zero_lift", &D::polar_zero_lift, O::sections},
       {"polar_drag", &D::polar_drag, O::sections},
       {"polar_cl_max", &D::polar_cl_max, O::sections},
       {"blade_angle", &D::blade_angle, O::propeller},
       {"airframe_drag", &D::airframe_drag, O::model},
       {"trim_lift", &D::trim_lift, O::model},
       {"rubber_energy", &D::rubber_energy, O::rubber},
       {"rubber_turns", &D::rubber_turns, O::rubber},
       {"circle_radius", &D::circle_radius, O::model},
       {"blade_stiffness", &D::blade_stiffness, O::propeller},
       {"blade_moment", &D::blade_moment, O::propeller}}};
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
  axes = own_axes(job, axes);
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
  const Learned l = used_of(job);
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
  const Learned l = used_of(job);
  rubber::scale(motor, l.rubber_energy.factor, l.rubber_turns.factor);
}

void apply_learned(const Job& job, flight::Airframe& airframe) {
  if (!in_force(job)) return;
  const Learned l = used_of(job);
  airframe.drag.scale(l.airframe_drag.factor);
  airframe.trim_cl *= l.trim_lift.factor;
  airframe.circle_radius_m *= l.circle_radius.factor;
}

void apply_learned(const Job& job, Assembly& made) {
  if (!job.learned.any()) return;
  if (!job.learned.use) {
    made.notes.push_back(
        "Predictions are as the sheet has it: what flights taught is switched off (learned.use).");
    return;
  }
  const Learned l = used_of(job);
  if (made.beam) {
    for (flex::BeamRow& row : made.beam->rows) {
      row.flapwise_Nm2 *= l.blade_stiffness.factor;
      row.chordwise_Nm2 *= l.blade_stiffness.factor;
      row.torsion_Nm2 *= l.blade_stiffness.factor;
    }
    made.flex_options.moment_factor = l.blade_moment.factor;
  }
  const auto& keys = learned_keys();
  note_not_own(job, made.notes);
  if (std::none_of(keys.begin(), keys.end(), [&](const auto& k) { return is_own(job, k.of); })) {
    return;
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
