#include "questions.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace propwright::spar {
namespace {

bool outside(double value, double low, double high) {
  return value < low || value > high;
}

Question density_question(const Measured& m) {
  return {.field = "mass_kg",
          .value = m.spar.mass_kg,
          .implied = m.density_kg_m3,
          .low = least_density_kg_m3,
          .high = most_density_kg_m3,
          .density_kg_m3 = m.density_kg_m3,
          .message = fmt::format("{:.1f} mg at these sizes means a density of {:.0f} kg/m3: too {} "
                                 "for balsa, {:.0f} to {:.0f} kg/m3",
                                 1e6 * m.spar.mass_kg, m.density_kg_m3,
                                 m.density_kg_m3 < least_density_kg_m3 ? "light" : "heavy",
                                 least_density_kg_m3, most_density_kg_m3),
          .remedy = "check the weight and the sizes"};
}

Question modulus_question(const Measured& m, const Direction& direction, const char* field,
                          double reading_m) {
  const double low = least_specific_modulus_J_kg * m.density_kg_m3;
  const double high = most_specific_modulus_J_kg * m.density_kg_m3;
  const double modulus = direction.modulus_Pa.value;
  return {.field = field,
          .value = reading_m,
          .implied = modulus,
          .low = low,
          .high = high,
          .density_kg_m3 = m.density_kg_m3,
          .message = fmt::format("{:.2f} mm would mean E = {:.2g} GPa: too {} for balsa of {:.0f} "
                                 "kg/m3, usually {:.1f} to {:.1f} GPa",
                                 1e3 * reading_m, 1e-9 * modulus, modulus < low ? "soft" : "stiff",
                                 m.density_kg_m3, 1e-9 * low, 1e-9 * high),
          .remedy = "check the reading, the hung weight and the sizes"};
}

/// The wood is the same both ways, so the two moduli are alike: within a quarter in one piece with
/// a straight grain (common practice), and within this factor in any.
constexpr double most_modulus_ratio = 1.6;

Question ratio_question(const Measured& m, double reading_90_m) {
  const double ratio = m.at_0.modulus_Pa.value / m.at_90.modulus_Pa.value;
  return {.field = "reading_90_m",
          .value = reading_90_m,
          .implied = ratio,
          .low = 1 / most_modulus_ratio,
          .high = most_modulus_ratio,
          .density_kg_m3 = m.density_kg_m3,
          .message = fmt::format("the same wood would have E = {:.2g} GPa with the mark up and "
                                 "{:.2g} GPa with the mark at the side",
                                 1e-9 * m.at_0.modulus_Pa.value, 1e-9 * m.at_90.modulus_Pa.value),
          .remedy = "check whether width and depth, or the two readings, are exchanged"};
}

/// Repeats that lie further apart than the rig scatters. For two to ten normal readings a range of
/// 4.5 sigma or more comes by chance in less than five batches of a hundred.
void ask_about_scatter(const std::vector<double>& readings, const Rig& rig, const char* field,
                       std::vector<Question>& questions) {
  const double sigma = mean_sigma_m(rig, 1);
  if (readings.size() < 2 || !(rig.repeatability_m > 0)) return;
  const auto [least, most] = std::minmax_element(readings.begin(), readings.end());
  const double range = *most - *least;
  if (range <= 4.5 * sigma) return;
  questions.push_back(
      {.field = field,
       .value = *most,
       .implied = range,
       .low = 0,
       .high = 4.5 * sigma,
       .message = fmt::format("repeats lie {:.2f} mm apart; this rig scatters by {:.2f} mm",
                              1e3 * range, 1e3 * sigma),
       .remedy = "read that direction once more and leave out the one that does not fit"});
}

}  // namespace

std::vector<Question> questions_about(const Measured& m, const Readings& readings, const Rig& rig) {
  std::vector<Question> questions;
  const double reading_0 = m.at_0.deflection_m + rig.zero_reading_m;
  const double reading_90 = m.at_90.deflection_m + rig.zero_reading_m;
  const double low = least_specific_modulus_J_kg * m.density_kg_m3;
  const double high = most_specific_modulus_J_kg * m.density_kg_m3;
  if (outside(m.density_kg_m3, least_density_kg_m3, most_density_kg_m3)) {
    // Against a wrong density no modulus can be judged.
    questions.push_back(density_question(m));
  } else {
    if (outside(m.at_0.modulus_Pa.value, low, high)) {
      questions.push_back(modulus_question(m, m.at_0, "reading_0_m", reading_0));
    }
    if (outside(m.at_90.modulus_Pa.value, low, high)) {
      questions.push_back(modulus_question(m, m.at_90, "reading_90_m", reading_90));
    }
  }
  if (outside(m.at_0.modulus_Pa.value / m.at_90.modulus_Pa.value, 1 / most_modulus_ratio,
              most_modulus_ratio)) {
    questions.push_back(ratio_question(m, reading_90));
  }
  ask_about_scatter(readings.at_0_m, rig, "reading_0_m", questions);
  ask_about_scatter(readings.at_90_m, rig, "reading_90_m", questions);
  ask_about_scatter(readings.at_45_m, rig, "reading_45_m", questions);
  return questions;
}

}  // namespace propwright::spar
