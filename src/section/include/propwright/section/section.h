/// Section polars at very low Reynolds number: smooth, for every angle of attack, with their doubt.
/// Symbols: alpha angle of attack from the chord, Re chord Reynolds number, camber height/chord.
#pragma once

#include <array>
#include <memory>
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

/// Moment coefficient about the quarter chord, nose-up positive, and its derivative.
struct Moment {
  double cm = 0, cm_alpha = 0;  ///< per rad, at constant Re
};

/// 1-sigma doubt of a polar family. Relative values are fractions of the quantity.
struct Uncertainty {
  double lift_slope = 0.06;
  double zero_lift_rad = 0.0087;  ///< 0.5 degree
  double drag = 0.06;             ///< of cd_min and, alike, of the drag at every angle
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
/// every alpha and Re > 0. Past the table's angles it goes over to a plate whose force is normal to
/// its surface; past the table's Re it follows the trend, bounded (see in_table()). Immutable.
class Polar {
 public:
  /// Coefficients at alpha (rad, any; taken modulo 2 pi) and ln Re.
  Coefficients at(double alpha_rad, double ln_re) const;

  /// Moment coefficient about the quarter chord, nose-up positive; 0 where the family has no cm.
  double cm(double alpha_rad, double ln_re) const { return moment(alpha_rad, ln_re).cm; }
  Moment moment(double alpha_rad, double ln_re) const;
  bool has_cm() const { return !moments_.empty(); }

  /// Where the numbers are the table's own and not an extension.
  bool in_table(double alpha_rad, double ln_re) const;
  /// Lowest positive alpha at which lift stops rising at some table Re, rad: below it a section is
  /// attached and a blade station has one solution only.
  double stall_onset_rad() const { return stall_onset_rad_; }

  /// cl and cd sqrt(Re) side by side in one machine vector, so that one pass evaluates both.
  using Pair = double __attribute__((vector_size(16)));
  struct Node {
    Pair value, by_alpha, by_ln_re, cross;
  };

 private:
  friend class Family;
  struct Cell;
  Cell locate(double alpha_rad, double ln_re) const;
  void index_angles();

  std::vector<double> alpha_;  // node angles, rad, from -pi to pi
  std::vector<double> ln_re_;  // node ln Re, at least one
  std::array<unsigned short, 362> node_below_degree_{};
  std::vector<Node> nodes_;    // [re][alpha]
  std::vector<Node> moments_;  // [re][alpha], cm in [0]; empty without cm
  double alpha_shift_ = 0;
  double table_low_rad_ = 0, table_high_rad_ = 0;
  double stall_onset_rad_ = 0;
};

/// A family of polars over camber, Re and alpha.
class Family {
 public:
  /// Reads the built-in layout or an imported table: columns alpha_deg, cl, cd and optionally re,
  /// camber, cm, and (built-in) sigma_cl, sigma_cd, flag. A missing or single-valued re or camber
  /// means no dependence. Each (camber, re) curve needs at least two angles; a family at camber 0
  /// given for alpha >= 0 alone is mirrored. `normal_plate_cd`: drag coefficient of the section
  /// square to the flow, 1.0..2.1; default 1.2, a finite blade (Viterna & Janetzke 1982, from
  /// memory: 1.11 + 0.018 AR). Problem: bad_input with file, line, column.
  static base::Expected<Family> read(std::string_view csv, const std::string& file,
                                     double normal_plate_cd = 1.2);

  /// The built-in family of thin circular arcs (data/polars/thin_arc_ns2d.csv, computed by us;
  /// method, validation and limits: docs/method.md).
  static const Family& thin_arc();

  /// The family at one camber >= 0, C1 in camber; beyond the table's cambers the end is held.
  Polar at_camber(double camber, const Shift& shift = {}) const;

  /// The family with a lasting shift, as flights taught it, and the doubt that is left; what
  /// at_camber() is asked to shift comes on top.
  Family moved(const Shift& shift, const Uncertainty& uncertainty) const;

  const Uncertainty& uncertainty() const { return uncertainty_; }
  double camber_low() const { return cambers_.front(); }
  double camber_high() const { return cambers_.back(); }
  double re_low() const;
  double re_high() const;
  bool has_cm() const { return has_cm_; }

 private:
  friend class FamilyBuilder;
  struct Plane {                                          // one camber
    std::vector<Polar::Node> nodes, nodes_by_camber;      // [re][alpha]
    std::vector<Polar::Node> moments, moments_by_camber;  // [re][alpha]; empty without cm
  };
  std::vector<double> cambers_;
  std::vector<double> alpha_, ln_re_;
  std::shared_ptr<const std::vector<Plane>> planes_;  // one per camber; shared by copies
  double table_low_rad_ = 0, table_high_rad_ = 0;
  Uncertainty uncertainty_;
  std::vector<Shift> lasting_;
  bool has_cm_ = false;
};

}  // namespace propwright::section
