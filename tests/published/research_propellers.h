/// Measured small propellers of the UIUC Propeller Data Site, vol. 2 (sources in the data files),
/// and our prediction of the same conditions. Their aerofoils (SDA1075; Clark Y for NR640, both
/// from memory) are not in any table of ours: a thin arc of 3 % camber stands in. It was chosen on
/// one number, the advance ratio of zero thrust of DA4002 5x3.75; nothing else is fitted.
#pragma once

#include <cmath>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "propwright/base/constants.h"
#include "propwright/rotor/rotor.h"
#include "test_data.h"

namespace propwright::test {

/// Air of the added Reynolds numbers, nu = 1.508e-5 m2/s.
inline constexpr rotor::Flow laboratory{1.225, 1.225 * 1.508e-5};
inline constexpr double stand_in_camber = 0.03;

struct Measured {
  std::string name;
  int blades;
  double rev_per_s, j, ct, cp;
};

inline std::vector<Measured> research_measurements() {
  const auto t = published_table("research_propellers.csv", {"B", "rpm", "J", "CT", "CP"});
  std::vector<Measured> rows;
  for (std::size_t i = 0; i < t.rows(); ++i) {
    rows.push_back({t.text(i, "name"), static_cast<int>(t.column("B")[i]), t.column("rpm")[i] / 60,
                    t.column("J")[i], t.column("CT")[i], t.column("CP")[i]});
  }
  return rows;
}

inline rotor::Rotor research_rotor(const std::string& name, int blades,
                                   const section::Shift& shift = {}) {
  const auto t =
      published_table("research_propellers_geometry.csv", {"D_in", "r_R", "c_R", "beta_deg"});
  rotor::Blade blade;
  blade.blades = blades;
  for (std::size_t i = 0; i < t.rows(); ++i) {
    if (t.text(i, "name") != name) continue;
    const double tip = t.column("D_in")[i] * 0.0254 / 2;
    blade.tip_radius_m = tip;
    blade.rows.push_back({t.column("r_R")[i] * tip, t.column("c_R")[i] * tip,
                          t.column("beta_deg")[i] * base::degree_rad, stand_in_camber});
  }
  return rotor::Rotor::make(blade, section::Family::thin_arc(), {}, shift).value();
}

inline rotor::Coefficients research_prediction(const rotor::Rotor& rotor, double j,
                                               double rev_per_s) {
  const rotor::Condition condition{j * rev_per_s * rotor.diameter_m(), rev_per_s};
  return rotor::coefficients(rotor.solve(condition, laboratory).value().loads, condition,
                             rotor.diameter_m(), laboratory.density_kg_m3);
}

/// Root mean square and mean difference, predicted less measured.
struct Difference {
  int count = 0;
  double ct_rms = 0, cp_rms = 0, ct_mean = 0, cp_mean = 0, measured_ct = 0, measured_cp = 0;
};

/// By (name, blades, whether at rest).
inline std::map<std::tuple<std::string, int, bool>, Difference> research_differences() {
  std::map<std::pair<std::string, int>, rotor::Rotor> rotors;
  std::map<std::tuple<std::string, int, bool>, Difference> result;
  for (const Measured& m : research_measurements()) {
    auto rotor = rotors.find({m.name, m.blades});
    if (rotor == rotors.end()) {
      rotor = rotors.emplace(std::pair{m.name, m.blades}, research_rotor(m.name, m.blades)).first;
    }
    const rotor::Coefficients c = research_prediction(rotor->second, m.j, m.rev_per_s);
    Difference& d = result[{m.name, m.blades, m.j == 0}];
    ++d.count;
    d.ct_rms += std::pow(c.ct - m.ct, 2);
    d.cp_rms += std::pow(c.cp - m.cp, 2);
    d.ct_mean += c.ct - m.ct;
    d.cp_mean += c.cp - m.cp;
    d.measured_ct += m.ct;
    d.measured_cp += m.cp;
  }
  for (auto& [key, d] : result) {
    d.ct_rms = std::sqrt(d.ct_rms / d.count);
    d.cp_rms = std::sqrt(d.cp_rms / d.count);
    for (double* sum : {&d.ct_mean, &d.cp_mean, &d.measured_ct, &d.measured_cp}) *sum /= d.count;
  }
  return result;
}

/// Measured value at an advance ratio, straight between the run's rows.
inline double measured_at(const std::string& name, int blades, double rev_per_s, double j,
                          double Measured::*member) {
  const Measured* before = nullptr;
  static const std::vector<Measured> rows = research_measurements();
  for (const Measured& m : rows) {
    if (m.name != name || m.blades != blades || std::abs(m.rev_per_s - rev_per_s) > 0.4) continue;
    if (m.j == 0) continue;
    if (before && before->j <= j && m.j >= j) {
      return before->*member + (m.*member - before->*member) * (j - before->j) / (m.j - before->j);
    }
    before = &m;
  }
  return std::nan("");
}

}  // namespace propwright::test
