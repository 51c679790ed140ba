// Measured research propellers: UIUC Propeller Data Site, vol. 2 (Brandt, Deters, Ananda, Dantsker,
// Selig), companion paper Deters, Ananda & Selig, AIAA 2014-2151 (abstract). Their sections are
// unknown to us; see research_propellers.h for the stand-in and docs/validation.md for the errors.
#include "research_propellers.h"

#include <gtest/gtest.h>

namespace propwright::test {
namespace {

double best_efficiency(const rotor::Rotor& rotor, double rev_per_s) {
  double best = 0;
  for (double j = 0.2; j < 1.1; j += 0.01) {
    const auto c = research_prediction(rotor, j, rev_per_s);
    if (c.efficiency_defined) best = std::max(best, c.efficiency);
  }
  return best;
}

// eta_max 0.551, 0.589, 0.632 measured at 4,031, 5,039 and 6,045 rpm (Re 15,700 to 23,700 at 0.75
// R). The measured blades have a thick aerofoil, which suffers far more at such Re than a thin
// plate (Laitone, Exp. Fluids 23 (1997) 405, abstract). So the stand-in must lie above, the
// efficiency must rise, and the gap must close as Re rises. By how much it misses:
// docs/validation.md.
TEST(ResearchPropellers, EfficiencyRisesWithReynoldsNumberAndTheThickSectionCatchesUp) {
  const auto rotor = research_rotor("da4002_5.0x3.75", 2);
  const double rpm[] = {4031, 5039, 6045}, measured[] = {0.551, 0.589, 0.632};
  double predicted[3], gap[3];
  for (int i = 0; i < 3; ++i) {
    predicted[i] = best_efficiency(rotor, rpm[i] / 60);
    gap[i] = predicted[i] - measured[i];
    EXPECT_GT(gap[i], 0) << rpm[i];
    RecordProperty("eta_" + std::to_string(i), std::to_string(predicted[i]));
  }
  EXPECT_GT(predicted[1], predicted[0]);
  EXPECT_GT(predicted[2], predicted[1]);
  EXPECT_LT(gap[1], gap[0]);
  EXPECT_LT(gap[2], gap[1]);
}

// J of zero thrust: 0.6431, 0.8466 and 1.1182 at about 4,000 rpm for three pitches of one blade.
// Half a degree of zero-lift angle (the table's doubt) is worth 3 %; 5 % with the blade's measured
// angles.
TEST(ResearchPropellers, ZeroThrustMovesWithPitchAsMeasured) {
  const struct {
    const char* name;
    double rpm, j;
  } cases[] = {{"da4002_5.0x2.65", 3991, 0.6431},
               {"da4002_5.0x3.75", 4031, 0.8466},
               {"da4002_5.0x4.92", 4049, 1.1182}};
  for (const auto& c : cases) {
    const double j =
        rotor::zero_thrust_advance_ratio(research_rotor(c.name, 2), laboratory, c.rpm / 60).value();
    EXPECT_NEAR(j / c.j, 1, 0.05) << c.name;
    RecordProperty(std::string("j0_") + c.name, std::to_string(j / c.j - 1));
  }
}

// Blade-count trend of DA4022 at rest and at J 0.5: the ratio of CT at 3 and 4 blades to that at 2.
// The section cancels; left are the circulation factor and the root. 10 %.
TEST(ResearchPropellers, ThrustGrowsWithTheNumberOfBladesAsMeasured) {
  const char* name = "da4022_5.0x3.75";
  const auto differences = research_differences();
  const auto predicted_mean = [&](int blades) {
    const Difference& d = differences.at({name, blades, true});
    return d.measured_ct + d.ct_mean;
  };
  for (const int blades : {3, 4}) {
    const double measured = differences.at({name, blades, true}).measured_ct /
                            differences.at({name, 2, true}).measured_ct;
    const double predicted = predicted_mean(blades) / predicted_mean(2);
    EXPECT_NEAR(predicted / measured, 1, 0.10) << blades;
    RecordProperty("static_ratio_" + std::to_string(blades),
                   std::to_string(predicted / measured - 1));
  }
}

// At rest, DA4002: the section works at large angles, past the stall at the steepest pitch. CT to
// within 10 % of the measured mean.
TEST(ResearchPropellers, StaticThrustIsOfTheMeasuredSize) {
  const auto differences = research_differences();
  for (const char* name :
       {"da4002_5.0x2.65", "da4002_5.0x3.75", "da4002_5.0x4.92", "da4002_9.0x6.75"}) {
    const Difference& d = differences.at({name, 2, true});
    EXPECT_NEAR(d.ct_mean / d.measured_ct, 0, 0.10) << name;
  }
}

// Advancing, DA4002, the family whose zero thrust the stand-in was chosen on: CT within 10 % of its
// mean, and CP within 20 %, because the stand-in's drag is that of a thin plate (both RMS).
TEST(ResearchPropellers, AdvancingLoadsOfTheBladeFamilyTheStandInWasChosenOn) {
  const auto differences = research_differences();
  for (const char* name :
       {"da4002_5.0x2.65", "da4002_5.0x3.75", "da4002_5.0x4.92", "da4002_9.0x6.75"}) {
    const Difference& d = differences.at({name, 2, false});
    EXPECT_LT(d.ct_rms, 0.10 * d.measured_ct) << name;
    EXPECT_LT(d.cp_rms, 0.20 * d.measured_cp) << name;
  }
}

}  // namespace
}  // namespace propwright::test
