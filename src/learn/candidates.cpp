#include "candidates.h"

#include <fmt/format.h>

#include <cmath>

#include "propwright/base/constants.h"

namespace propwright::learn {

namespace {

using brief::BladeSource;
using brief::Job;

double pitched(double angle_rad, double factor) {
  return std::atan(factor * std::tan(angle_rad));
}

/// The whole blade on a form of another pitch.
void change_pitch(Job& job, double factor) {
  brief::Propeller& p = job.propeller;
  if (p.pitch_m) *p.pitch_m *= factor;
  if (p.form_pitch_m) *p.form_pitch_m *= factor;
  for (brief::Station& row : p.stations) row.angle_rad = pitched(row.angle_rad, factor);
  for (brief::MeasuredAngle& row : p.measured_angles)
    row.angle_rad = pitched(row.angle_rad, factor);
}

/// All blade lengths but the chord; the pitch stays, so that angles flatten towards the new tip.
void change_diameter(Job& job, double factor) {
  brief::Propeller& p = job.propeller;
  p.diameter_m *= factor;
  if (p.gauge_radius_m) *p.gauge_radius_m *= factor;
  for (brief::Station& row : p.stations) {
    row.radius_m *= factor;
    row.angle_rad = pitched(row.angle_rad, 1 / factor);
  }
  for (brief::MeasuredAngle& row : p.measured_angles) {
    row.radius_m *= factor;
    row.angle_rad = pitched(row.angle_rad, 1 / factor);
  }
  for (brief::MeasuredChord& row : p.measured_chords) row.radius_m *= factor;
}

void change_chord(Job& job, double factor) {
  brief::Propeller& p = job.propeller;
  p.widest_chord_m *= factor;
  p.root_chord_m *= factor;
  for (brief::Station& row : p.stations) row.chord_m *= factor;
  for (brief::MeasuredChord& row : p.measured_chords) row.chord_m *= factor;
}

/// The blades at hand turned in the hub.
void turn_blades(Job& job, const predict::Nominal& nominal, double turn_rad) {
  brief::Propeller& p = job.propeller;
  if (p.source == BladeSource::pitch && p.pitch_m) {
    const double radius = nominal.assembly.gauge_radius_m;
    if (!p.form_pitch_m) p.form_pitch_m = p.pitch_m;
    const double angle = std::atan(*p.pitch_m / (2 * base::pi * radius)) + turn_rad;
    p.gauge_radius_m = radius;
    p.pitch_m = 2 * base::pi * radius * std::tan(angle);
  }
  for (brief::Station& row : p.stations) row.angle_rad += turn_rad;
  for (brief::MeasuredAngle& row : p.measured_angles) row.angle_rad += turn_rad;
}

/// A thicker or thinner motor of the same mass.
void change_section(Job& job, const predict::Nominal& nominal, double factor) {
  const rubber::Motor& motor = nominal.assembly.motor;
  if (!job.motor.mass_kg) job.motor.mass_kg = motor.mass_kg;
  if (job.motor.strip_width_m) *job.motor.strip_width_m *= factor;
  job.motor.loop_length_m /= factor;
}

void change_spar(Job& job, double factor) {
  brief::Spar& spar = job.propeller.spar;
  spar.root_width_m *= factor;
  spar.root_depth_m *= factor;
  spar.tip_width_m *= factor;
  spar.tip_depth_m *= factor;
}

std::string percent(const char* what, double step) {
  return fmt::format("{} {:.0f}\u00a0% {}", what, 100 * std::abs(step), step > 0 ? "more" : "less");
}

}  // namespace

std::vector<ChangedJob> changed_jobs(const Subject& subject, const NextOptions& options) {
  std::vector<ChangedJob> all;
  const auto add = [&](const char* key, std::string change, bool new_blades, double value,
                       auto edit) {
    ChangedJob made;
    made.candidate.key = key;
    made.candidate.change = std::move(change);
    made.candidate.new_blades = new_blades;
    made.candidate.value = value;
    made.job = subject.job;
    edit(made.job);
    all.push_back(std::move(made));
  };
  const brief::Assembly& a = subject.nominal.assembly;
  for (const double side : {-1.0, 1.0}) {
    const double pitch = side * options.pitch, diameter = side * options.diameter;
    const double chord = side * options.chord, section = side * options.section;
    const double angle = side * options.angle_rad, spar = side * options.spar;
    add("pitch", percent("pitch", pitch), true, a.set_pitch_m * (1 + pitch),
        [&](Job& job) { change_pitch(job, 1 + pitch); });
    add("diameter", percent("diameter", diameter), true,
        subject.job.propeller.diameter_m * (1 + diameter),
        [&](Job& job) { change_diameter(job, 1 + diameter); });
    add("chord", percent("chord", chord), true, 1 + chord,
        [&](Job& job) { change_chord(job, 1 + chord); });
    add("set_angle",
        fmt::format("the blades set {:.0f}° {}", std::abs(angle) / base::degree_rad,
                    side > 0 ? "steeper" : "flatter"),
        false, a.gauge_angle_rad + angle,
        [&](Job& job) { turn_blades(job, subject.nominal, angle); });
    add("motor_section", percent("motor section", section) + ", same mass", false,
        a.motor.section_m2 * (1 + section),
        [&](Job& job) { change_section(job, subject.nominal, 1 + section); });
    if (!subject.nominal.flexing) continue;
    add("spar", percent("spar thickness", spar), true, 1 + spar,
        [&](Job& job) { change_spar(job, 1 + spar); });
  }
  return all;
}

}  // namespace propwright::learn
