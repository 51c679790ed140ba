// The twist test.
#include "propwright/bench/twist_test.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "bench_parts.h"
#include "bench_section.h"
#include "propwright/base/constants.h"

namespace propwright::answer {
namespace {

using D = units::Dimension;

bench::TwistTest read_twist(BenchReader& reader) {
  bench::TwistTest test;
  test.length_m = reader.needed("length", D::length, {0.01, 1});
  test.arm_m = reader.needed("arm", D::length, {1e-3, 1});
  test.second_arm_m = reader.length("second_arm", {0, 1}).value_or(0);
  test.rest_angle_rad = reader.angle("rest_angle", -80, 80).value_or(0);
  for (const auto& [row, place] : reader.tables("readings")) {
    BenchReader cells(row, place, {"mass", "angle"});
    if (!cells.has("mass") && !cells.has("angle")) continue;
    bench::TwistReading reading;
    reading.mass_kg = cells.needed("mass", D::mass, bench_mass_kg);
    reading.angle_rad =
        cells.needed("angle", D::angle, {0.05 * base::degree_rad, 89.9 * base::degree_rad});
    reader.add(cells.problems());
    test.readings.push_back(reading);
  }
  if (test.readings.empty() && reader.problems().empty()) {
    reader.wrong("readings", "there is no reading yet", "give a mass and the angle it turned");
  }
  return test;
}

Json twist_readings(const bench::TwistTest& test, const bench::TwistFigures& figures) {
  Json list = Json::array();
  for (const bench::TwistReading& reading : test.readings) {
    const double torque_Nm = bench::twist_torque_Nm(test, reading);
    list.push_back({{"torque_Nm", torque_Nm},
                    {"angle_deg", bench_degrees(reading.angle_rad)},
                    {"line_deg", bench_degrees(figures.compliance_rad_Nm.value * torque_Nm)}});
  }
  return list;
}

/// "16.2 ± 0.8": the number to the second digit of its doubt.
std::string to_its_doubt(double value, double sigma) {
  const int digits =
      sigma > 0 ? std::clamp(1 - static_cast<int>(std::floor(std::log10(sigma))), 0, 4) : 2;
  return fmt::format("{:.{}f} ± {:.{}f}", value, digits, sigma, digits);
}

std::vector<std::string> twist_sentences(const bench::TwistFigures& f) {
  // A torque that turns it by degrees, not by whole turns.
  double torque_Nm = 1e-3;
  while (torque_Nm > 1e-7 && f.compliance_rad_Nm.value * torque_Nm > 1) torque_Nm /= 10;
  std::vector<std::string> sentences{
      fmt::format("GJ is {} N·mm²; {:g} mN·m turns the whole length by {:.1f} ± {:.1f}°.",
                  to_its_doubt(1e6 * f.GJ_Nm2.value, 1e6 * f.GJ_Nm2.sigma), 1e3 * torque_Nm,
                  bench_degrees(torque_Nm * f.compliance_rad_Nm.value),
                  bench_degrees(torque_Nm * f.compliance_rad_Nm.sigma))};
  if (f.G_Pa) {
    sentences.push_back(fmt::format("The wood's shear modulus is {:.0f} ± {:.0f} MPa.",
                                    1e-6 * f.G_Pa->value, 1e-6 * f.G_Pa->sigma));
  }
  return sentences;
}

}  // namespace

Json bench_twist(const Json& table, BenchContext& context) {
  std::vector<std::string> known{"length",     "arm",      "second_arm",
                                 "rest_angle", "readings", "density"};
  known.insert(known.end(), bench_section_members.begin(), bench_section_members.end());
  BenchReader reader(table, "twist_test", known);
  const bench::TwistTest test = read_twist(reader);
  const auto density = reader.quantity("density", D::density, bench_density_kg_m3);
  std::optional<spar::Taper> taper;
  if (reader.has("shape") || reader.has("root_width")) taper = read_taper(reader, test.length_m);
  if (const auto wrong = reader.problems(); !wrong.empty()) {
    context.add(wrong);
    return nullptr;
  }
  std::optional<bench::Figure> integral_m3;
  if (taper) {
    const double sigma_m = bench::reading_sigma(context.instruments.micrometer_resolution_m, 0);
    const auto found = bench::torsion_integral_per_m3(*taper, test.length_m, sigma_m);
    if (!found) {
      context.add(bench_fields(found.error(), "twist_test", bench_taper_names));
      return nullptr;
    }
    integral_m3 = *found;
  }
  const auto figures = bench::twist_figures(test, context.instruments, integral_m3, density);
  if (!figures) {
    context.add(bench_fields(figures.error(), "twist_test"));
    return nullptr;
  }
  return {{"readings", twist_readings(test, *figures)},
          {"gj_Nm2", figures->GJ_Nm2.value},
          {"gj_sigma_Nm2", figures->GJ_Nm2.sigma},
          {"compliance_deg_mNm", bench_degrees(1e-3 * figures->compliance_rad_Nm.value)},
          {"compliance_sigma_deg_mNm", bench_degrees(1e-3 * figures->compliance_rad_Nm.sigma)},
          {"straightness_deg", bench_degrees(figures->straightness)},
          {"shear_modulus_Pa", value_or_null(figures->G_Pa)},
          {"shear_modulus_sigma_Pa", sigma_or_null(figures->G_Pa)},
          {"questions", context.worded(messages_of(figures->questions))},
          {"sentences", twist_sentences(*figures)}};
}

}  // namespace propwright::answer
