/// Which change promises most seconds, given what is known and what is not: expected improvement
/// (Jones, Schonlau & Welch, J. Global Optimization 13 (1998) 455-492).
#pragma once

#include <string>
#include <vector>

#include "propwright/brief/assemble.h"
#include "propwright/learn/findings.h"

namespace propwright::learn {

/// A change to a subject.
struct Candidate {
  std::string key;         ///< "pitch"
  std::string change;      ///< "pitch 5 % more", in words
  bool new_blades = true;  ///< must be built; else the propeller at hand is set or wound anew
  double value = 0;        ///< of what is changed: m, rad or m2
  double bench_hours = 0;  ///< at the bench, drying not counted; common practice
  double gain_s = 0, sigma_s = 0;     ///< over the subject as it is, both as learned
  double expected_improvement_s = 0;  ///< mean of the gain where it is one, nought where not
  double probability_10_s = 0;        ///< that it gains 10 s or more
  std::string teaches;  ///< the open doubt its flights would tell most of, in words; or ""
};

struct NextOptions {
  double pitch = 0.05, diameter = 0.04, chord = 0.08, section = 0.07, spar = 0.06;  ///< steps
  double angle_rad = 0.0175;  ///< of the set angle, 1 degree
};

/// Candidates one step either way, or less where that gains more (to a quarter of a step, by the
/// parabola through both sides and the subject), of pitch, diameter, chord, set angle, motor
/// section (same mass) and, of a flexing blade, spar size; the best of each, best expected
/// improvement first. Those that do not fly or are no job are left out. Both are launched as the
/// job plans. Where `progress` stops it, those looked at until then.
std::vector<Candidate> next_propellers(const std::vector<Subject>& subjects, std::size_t subject,
                                       const brief::Attachments& attachments, const FlownLog& log,
                                       const Posterior& posterior, const EachOf& each_of,
                                       const NextOptions& options = {},
                                       const Progress& progress = {});

}  // namespace propwright::learn
