// What to do about each difference between two blades.
#include <fmt/format.h>

#include <cmath>

#include "blade_tools.h"

namespace propwright::bench {
namespace {

// A blade's centre of mass where nobody measured it, share of its length: sets the tolerance of a
// level test only (ours).
constexpr double usual_centre = 0.45;

struct FindingWords {
  Finding::Subject subject;
  Verdict act;             ///< what a difference beyond the tolerance asks for
  std::string difference;  ///< "The blades differ by 0.4 mm in length"
  std::string cure;
  std::string tolerance;
};

Finding finding(const FindingWords& w, Figure difference, double tolerance) {
  Finding f{.subject = w.subject};
  switch (within(difference, tolerance)) {
    case Within::yes:
      f.verdict = Verdict::matched;
      f.sentence = fmt::format("{}: matched within {}.", w.difference, w.tolerance);
      break;
    case Within::no:
      f.verdict = w.act;
      f.sentence = fmt::format("{}: {}.", w.difference, w.cure);
      break;
    case Within::cannot_tell:
      f.verdict = Verdict::cannot_tell;
      f.readings_to_settle = readings_to_settle(difference, tolerance);
      f.sentence =
          fmt::format("{}: too near {} to tell with this reading{}.", w.difference, w.tolerance,
                      f.readings_to_settle > 0
                          ? fmt::format("; the mean of {} would settle it", f.readings_to_settle)
                          : std::string());
  }
  return f;
}

Finding unmeasured(Finding::Subject subject, const char* sentence) {
  return {.subject = subject, .verdict = Verdict::not_measured, .sentence = sentence};
}

std::string give_or_take(const std::string& value, const std::string& sigma) {
  return fmt::format("{} (give or take {})", value, sigma);
}

const char* longer_of(double difference) {
  return difference >= 0 ? "A" : "B";
}

Finding length_finding(const PairFigures& p, double tolerance_m) {
  const Figure d = p.length_difference_m;
  return finding({Finding::Subject::length, Verdict::trim,
                  fmt::format("Blade {} is longer by {}", longer_of(d.value),
                              give_or_take(in_mm(std::abs(d.value)), in_mm(d.sigma))),
                  fmt::format("shorten {} at the root", longer_of(d.value)), in_mm(tolerance_m)},
                 d, tolerance_m);
}

Finding angle_finding(const PairFigures& p, double tolerance_rad) {
  const Figure d = p.angle_difference_rad;
  return finding(
      {Finding::Subject::angle, Verdict::re_set,
       fmt::format("Blade {} stands steeper by {}", longer_of(d.value),
                   give_or_take(in_degrees(std::abs(d.value)), in_degrees(d.sigma))),
       fmt::format("turn B {} by {}, to {} at {}", d.value >= 0 ? "up" : "down",
                   in_degrees(std::abs(d.value)), in_degrees(p.reset.set_angle_rad.value),
                   in_mm(p.reset.gauge_radius_m)),
       in_degrees(tolerance_rad)},
      d, tolerance_rad);
}

Finding twist_finding(const PairFigures& p, Figure left_over, double tolerance_rad) {
  if (p.stations.size() < 2) {
    return unmeasured(Finding::Subject::twist, "Read both blades at two or more common radii.");
  }
  return finding({Finding::Subject::twist, Verdict::re_form,
                  fmt::format("Once turned the blades still differ by {} at one station",
                              give_or_take(in_degrees(std::abs(left_over.value)),
                                           in_degrees(left_over.sigma))),
                  "no turn takes that out; form one blade anew", in_degrees(tolerance_rad)},
                 left_over, tolerance_rad);
}

Finding camber_finding(const PairFigures& p, double tolerance) {
  if (!p.camber_difference) {
    return unmeasured(Finding::Subject::camber, "Hold the same template to both blades.");
  }
  const Figure d = *p.camber_difference;
  return finding(
      {Finding::Subject::camber, Verdict::re_form,
       fmt::format("Blade {} is hollower by {:.1f} % of the chord (give or take {:.1f})",
                   longer_of(d.value), 100 * std::abs(d.value), 100 * d.sigma),
       "form the flatter blade anew", fmt::format("{:g} % of the chord", 100 * tolerance)},
      d, tolerance);
}

Finding mass_finding(const PairFigures& p, double tolerance) {
  const Figure d = p.mass_difference_share;
  return finding(
      {Finding::Subject::mass, Verdict::trim,
       fmt::format("Blade {} is heavier by {}, {:.1f} %", longer_of(d.value),
                   give_or_take(in_mg(std::abs(p.mass_difference_kg.value)),
                                in_mg(p.mass_difference_kg.sigma)),
                   100 * std::abs(d.value)),
       fmt::format("sand {}, and see that the balance comes right with it", longer_of(d.value)),
       fmt::format("{:g} %", 100 * tolerance)},
      d, tolerance);
}

Finding balance_finding(const PairFigures& p, double mass_share) {
  if (!p.imbalance_kgm) {
    return unmeasured(Finding::Subject::balance,
                      "Find where each blade balances on an edge, or level the propeller on its "
                      "shaft with a known mass.");
  }
  const auto moment = [](const BladeFigures& b) {
    return b.moment_kgm ? b.moment_kgm->value : usual_centre * b.mass_kg.value * b.length_m.value;
  };
  const double tolerance = mass_share * (moment(p.a) + moment(p.b)) / 2;
  const TrimAdvice& trim = *p.trim;
  const char* light = trim.light == Blade::b ? "B" : "A";
  const char* heavy = trim.light == Blade::b ? "A" : "B";
  return finding(
      {Finding::Subject::balance, Verdict::trim,
       fmt::format("Blade {} is the heavy side by {:.4g} mg mm (give or take {:.3g})", heavy,
                   1e9 * trim.imbalance_kgm.value, 1e9 * trim.imbalance_kgm.sigma),
       fmt::format("add {} to {} at {}, or sand as much off {} there",
                   in_mg(trim.add_mass_kg.value), light, in_mm(trim.radius_m), heavy),
       fmt::format("{:.4g} mg mm", 1e9 * tolerance)},
      *p.imbalance_kgm, tolerance);
}

}  // namespace

std::vector<Finding> findings_of(const PairFigures& pair, const PairOptions& options,
                                 Figure left_over_rad) {
  const BladeTolerances& t = options.tolerances;
  return {length_finding(pair, t.length_m),
          angle_finding(pair, t.angle_rad),
          twist_finding(pair, left_over_rad, t.angle_rad),
          camber_finding(pair, t.camber),
          mass_finding(pair, t.mass_share),
          balance_finding(pair, t.mass_share)};
}

}  // namespace propwright::bench
