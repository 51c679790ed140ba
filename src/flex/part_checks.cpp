// What the rows of a blade give on the bench: integrals of flexibility, row by row. Between rows
// stiffness runs straight, so that three Gauss points a stretch are exact to a millionth.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "fem.h"
#include "propwright/flex/parts.h"

namespace propwright::flex {

namespace {

constexpr double bench_offset = 0.387298334620741688;  // sqrt(0.6)/2
constexpr std::array<double, 3> bench_place{0.5 - bench_offset, 0.5, 0.5 + bench_offset};
constexpr std::array<double, 3> bench_weight{5.0 / 18, 8.0 / 18, 5.0 / 18};

/// Integral of f(row at r) over the beam out to `to_m`.
template <class F>
double along(const BladeBeam& beam, double to_m, F&& f) {
  double sum = 0;
  for (std::size_t i = 0; i + 1 < beam.rows.size(); ++i) {
    const double from = beam.rows[i].radius_m;
    const double to = std::min(beam.rows[i + 1].radius_m, to_m);
    if (!(to > from)) continue;
    for (std::size_t g = 0; g < 3; ++g) {
      const double r = from + bench_place[g] * (to - from);
      const double t = (r - from) / (beam.rows[i + 1].radius_m - from);
      sum += bench_weight[g] * (to - from) * f(mixed_row(beam.rows[i], beam.rows[i + 1], t));
    }
  }
  return sum;
}

/// 1/EI against bending in one direction of the blade's axes: the compliance turns with the axes.
double flexibility(const BeamRow& row, Strike direction) {
  const double c = std::cos(row.principal_rad), s = std::sin(row.principal_rad);
  const double across = 1 / row.flapwise_Nm2, along_chord = 1 / row.chordwise_Nm2;
  return direction == Strike::flapwise ? c * c * across + s * s * along_chord
                                       : c * c * along_chord + s * s * across;
}

base::Expected<double> factor(const char* field, double theory, double measured, bool in_range) {
  const double ratio = in_range && measured > 0 ? theory / measured : 0;
  // A blade a twentieth or twenty times as stiff as its wood says is a slip of units.
  if (ratio >= 0.05 && ratio <= 20) return ratio;
  return base::fail(
      {.field = field,
       .value = fmt::format("{:g} times the stiffness of the parts", ratio),
       .allowed = "a reading on the blade that makes it 0.05 to 20 times as stiff as its parts",
       .remedy = "check load, radius and reading",
       .message = "the test does not fit the blade"});
}

}  // namespace

double twist_compliance(const BladeBeam& beam, double radius_m) {
  return along(beam, radius_m, [](const BeamRow& row) { return 1 / row.torsion_Nm2; });
}

double bend_compliance(const BladeBeam& beam, double radius_m, Strike direction) {
  return along(beam, radius_m, [&](const BeamRow& row) {
    const double arm = radius_m - row.radius_m;
    return arm * arm * flexibility(row, direction);
  });
}

base::Expected<BladeBeam> scaled_to(const BladeBeam& beam, const TwistCheck& test) {
  const bool in_range = test.radius_m > beam.rows.front().radius_m && test.torque_Nm > 0;
  const auto ratio = factor("twist test", twist_compliance(beam, test.radius_m),
                            test.angle_rad / test.torque_Nm, in_range);
  if (!ratio) return base::fail(ratio.error());
  BladeBeam scaled = beam;
  for (BeamRow& row : scaled.rows) row.torsion_Nm2 *= *ratio;
  return scaled;
}

base::Expected<BladeBeam> scaled_to(const BladeBeam& beam, const BendCheck& test) {
  const bool in_range = test.radius_m > beam.rows.front().radius_m && test.load_N > 0;
  const auto ratio = factor("bend test", bend_compliance(beam, test.radius_m),
                            test.deflection_m / test.load_N, in_range);
  if (!ratio) return base::fail(ratio.error());
  BladeBeam scaled = beam;
  for (BeamRow& row : scaled.rows) {
    row.flapwise_Nm2 *= *ratio;
    row.chordwise_Nm2 *= *ratio;
  }
  return scaled;
}

base::Expected<TipStrike> tip_strike(const BladeBeam& beam, Strike direction) {
  const double tip = beam.rows.back().radius_m;
  TipStrike strike;
  for (std::size_t i = 0; i + 1 < beam.rows.size(); ++i) {
    if (!(beam.rows[i + 1].radius_m > beam.rows[i].radius_m)) continue;
    for (const double t : {0.0, 0.5, 1.0}) {
      const BeamRow row = mixed_row(beam.rows[i], beam.rows[i + 1], t);
      const double fibre = direction == Strike::flapwise ? row.half_depth_m : row.half_width_m;
      const double stress_per_N =
          row.modulus_Pa * (tip - row.radius_m) * flexibility(row, direction) * fibre;
      if (!(row.rupture_Pa > 0) || !(stress_per_N > 0)) continue;
      const double load = row.rupture_Pa / stress_per_N;
      if (strike.load_N > 0 && load >= strike.load_N) continue;
      strike.load_N = load;
      strike.break_radius_m = row.radius_m;
    }
  }
  if (!(strike.load_N > 0)) {
    return base::fail({.field = "beam",
                       .allowed = "rows that tell a rupture stress",
                       .remedy = "give the wood of the spar",
                       .message = "nothing is known of what breaks"});
  }
  strike.deflection_m = strike.load_N * bend_compliance(beam, tip, direction);
  strike.energy_J = strike.load_N * strike.deflection_m / 2;
  strike.mass_kg = along(beam, tip, [](const BeamRow& row) { return row.mass_kg_per_m; });
  return strike;
}

}  // namespace propwright::flex
