/// B straight radial lifting lines and the helical vortices they shed.
// theta   0 at the hub, pi at the tip: r = middle - half cos(theta)
#pragma once

#include <Eigen/Core>
#include <vector>

namespace propwright::rotor {

/// The places of a lifting line: control points where theta is (i + 1/2) pi/N, and nodes, where the
/// vortices are shed, at j pi/N. Circulation is zero at hub and tip and a sine series between.
class LiftingLine {
 public:
  /// 0 < hub < tip; 4 stations or more.
  LiftingLine(int blades, double hub, double tip, int stations);

  int stations() const { return static_cast<int>(controls_.size()); }
  const std::vector<double>& controls() const { return controls_; }
  const std::vector<double>& nodes() const { return nodes_; }

  /// Values at the nodes from those at the control points, for a smooth function of r.
  std::vector<double> at_nodes(const std::vector<double>& at_controls) const;

  /// Velocity at every control point per circulation at every control point.
  struct Influence {
    Eigen::MatrixXd axial, swirl;
  };
  /// `inverse_pitch` 1/h of the vortex shed at each node. The velocity is singular twice over at
  /// the control point: the rule of staggered points takes A/(a - r) to all orders, ln|a - r| is
  /// corrected for, and an error of the third order of the spacing is left.
  Influence influence(const std::vector<double>& inverse_pitch) const;

  /// Weights of an integral along the blade: of what falls to the ends like the circulation, and of
  /// what does not (Fejer's rule).
  const std::vector<double>& loading_weights() const { return loading_weights_; }
  const std::vector<double>& plain_weights() const { return plain_weights_; }

  /// Circulation at any radius between hub and tip from that at the control points.
  double circulation(const Eigen::VectorXd& at_controls, double r) const;
  /// Circulation shed downstream at every node from that at the control points.
  const Eigen::MatrixXd& shed() const { return shed_; }

 private:
  int blades_;
  double middle_, half_;
  std::vector<double> controls_, nodes_, loading_weights_, plain_weights_;
  Eigen::MatrixXd series_;         // sine coefficients from circulation
  Eigen::MatrixXd shed_;           // nodes x controls
  Eigen::MatrixXd shed_at_point_;  // -dGamma/dtheta at the control points
};

}  // namespace propwright::rotor
