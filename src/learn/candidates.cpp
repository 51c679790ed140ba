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

/// "pitch 5 % less".
std::string percent(const char* what, double step) {
  return fmt::format("{} {:.2g}\u00a0% {}", what, 100 * std::abs(step), step > 0 ? "more" : "less");
}

// Hours at the bench without the drying (common practice): to set the blades or tie a motor, to
// make a pair of blades on the form there is, to make the form too.
constexpr double setting_h = 0.5, blades_h = 5, form_h = 9;

}  // namespace

std::vector<const char*> changes_of(const Subject& subject) {
  std::vector<const char*> keys{"pitch", "diameter", "chord", "set_angle", "motor_section"};
  if (subject.nominal.flexing) keys.push_back("spar");
  return keys;
}

ChangedJob changed_job(const Subject& subject, const NextOptions& options, const char* key,
                       double share) {
  ChangedJob made;
  made.job = subject.job;
  Candidate& c = made.candidate;
  c.key = key;
  const brief::Assembly& a = subject.nominal.assembly;
  if (c.key == "pitch") {
    const double step = share * options.pitch;
    c.change = percent("pitch", step);
    c.value = a.set_pitch_m * (1 + step);
    c.bench_hours = form_h;
    change_pitch(made.job, 1 + step);
  } else if (c.key == "diameter") {
    const double step = share * options.diameter;
    c.change = percent("diameter", step);
    c.value = subject.job.propeller.diameter_m * (1 + step);
    c.bench_hours = form_h;
    change_diameter(made.job, 1 + step);
  } else if (c.key == "chord") {
    const double step = share * options.chord;
    c.change = percent("chord", step);
    c.value = 1 + step;
    c.bench_hours = blades_h;
    change_chord(made.job, 1 + step);
  } else if (c.key == "set_angle") {
    const double step = share * options.angle_rad;
    c.change = fmt::format("the blades set {:.2g}° {}", std::abs(step) / base::degree_rad,
                           share > 0 ? "steeper" : "flatter");
    c.value = a.gauge_angle_rad + step;
    c.new_blades = false;
    c.bench_hours = setting_h;
    turn_blades(made.job, subject.nominal, step);
  } else if (c.key == "motor_section") {
    const double step = share * options.section;
    c.change = percent("motor section", step) + ", same mass";
    c.value = a.motor.section_m2 * (1 + step);
    c.new_blades = false;
    c.bench_hours = setting_h;
    change_section(made.job, subject.nominal, 1 + step);
  } else {
    const double step = share * options.spar;
    c.change = percent("spar thickness", step);
    c.value = 1 + step;
    c.bench_hours = blades_h;
    change_spar(made.job, 1 + step);
  }
  return made;
}

}  // namespace propwright::learn
