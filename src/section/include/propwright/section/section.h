/// Section polars at very low Reynolds number: smooth, for every angle of attack, with their doubt.
/// Symbols: alpha angle of attack from the chord, Re chord Reynolds number, camber height/chord.
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "propwright/base/problem.h"

namespace propwright::section {

/// Section coefficients and their derivatives at one state.
struct Coefficients {
  double cl = 0, cd = 0;
  double cl_alpha = 0, cd_alpha = 0;  ///< per rad, at constant Re
  double cl_ln_re = 0, cd_ln_re = 0;  ///< per unit of ln Re, at constant alpha
};

/// 1-sigma doubt of a polar family. Relative values are fractions of the quantity.
struct Uncertainty {
  double lift_slope = 0.06;
  double zero_lift_rad = 0.0087;  ///< 0.5 degree
  double cd_min = 0.06;
  double cl_max = 0.12;
};

/// One draw of that doubt: how far a polar is moved from nominal. All zero = nominal.
struct Shift {
  double lift_slope = 0;     ///< relative change of lift, |.| < 0.5
  double zero_lift_rad = 0;  ///< added to the zero-lift angle
  double drag = 0;           ///< relative change of drag, > -0.9
  double cl_max = 0;         ///< relative change of the lift near and past stall
};

/// A family at one camber: a surface cl, cd (alpha, ln Re), once continuously differentiable, for
/// every alpha in (-pi, pi] and Re > 0. Past the table's angles it goes over to a plate whose force
/// is normal to its surface; past the table's Re it follows the trend, bounded (see in_table()).
class Polar {
 public:
  Coefficients at(double alpha_rad, double ln_re) const;

  /// Moment about the quarter chord, nose-up positive; 0 where the family has no cm.
  double cm(double alpha_rad, double ln_re) const;
  bool has_cm() const { return has_cm_; }

  /// Where the numbers are the table's own and not an extension.
  bool in_table(double alpha_rad, double ln_re) const;
  /// Lowest positive alpha at which lift stops rising at the nearest table Re, rad: below it a
  /// section is attached and a blade station has one solution only.
  double stall_onset_rad() const { return stall_onset_rad_; }

 private:
  friend class Family;
  struct Node {
    double cl, cl_a, cl_r, cl_ar;  // value, d/dalpha, d/dlnRe, cross derivative
    double cs, cs_a, cs_r, cs_ar;  // the same of cd sqrt(Re)
  };
  struct MomentNode {
    double cm, cm_a, cm_r, cm_ar;
  };
  struct Cell;
  Cell locate(double alpha_rad, double ln_re) const;

  std::vector<double> alpha_;          // node angles, rad, -pi..pi
  std::vector<double> ln_re_;          // node ln Re
  std::array<unsigned char, 361> first_node_at_degree_{};
  std::vector<Node> nodes_;            // [re][alpha]
  std::vector<MomentNode> moments_;    // [re][alpha]; empty without cm
  double alpha_shift_ = 0;
  double table_low_rad_ = 0, table_high_rad_ = 0;
  double stall_onset_rad_ = 0;
  bool has_cm_ = false;
};

/// A family of polars over camber, Re and alpha.
class Family {
 public:
  /// Reads the built-in layout or an imported table: columns alpha_deg, cl, cd and optionally re,
  /// camber, cm, and (built-in) sigma_cl, sigma_cd, flag. A missing or single-valued re or camber
  /// means no dependence. Alpha nodes must be whole or half degrees or are resampled to whole ones.
  /// `normal_plate_cd`: drag coefficient of the section square to the flow, 1.0..2.1; default 1.2,
  /// a finite blade (Viterna & Janetzke 1982, from memory: 1.11 + 0.018 AR).
  /// Problem: bad_input with file, line, column.
  static base::Expected<Family> read(std::string_view csv, const std::string& file,
                                     double normal_plate_cd = 1.2);

  /// The built-in family of thin circular arcs (data/polars/thin_arc_ns2d.csv, computed by us).
  static const Family& thin_arc();

  /// The family at one camber, 0..0.15; beyond the table's cambers the end is held.
  Polar at_camber(double camber, const Shift& shift = {}) const;

  const Uncertainty& uncertainty() const { return uncertainty_; }
  double camber_low() const { return cambers_.front(); }
  double camber_high() const { return cambers_.back(); }
  double re_low() const;
  double re_high() const;
  const std::string& source() const { return source_; }
  bool has_cm() const { return has_cm_; }

 private:
  struct Plane;  // one camber's Hermite data and its derivative along camber
  friend struct FamilyBuilder;

  std::string source_;
  std::vector<double> cambers_;
  std::vector<double> alpha_, ln_re_;
  std::vector<double> values_, camber_slopes_;  // [camber][re][alpha][12 Hermite members]
  double table_low_rad_ = 0, table_high_rad_ = 0;
  Uncertainty uncertainty_;
  bool has_cm_ = false;
};

}  // namespace propwright::section
