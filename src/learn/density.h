/// The density of the parameters given the flights, and the model made linear about a point of it.
/// Symbols: those of posterior.h.
#pragma once

#include <vector>

#include "lines.h"
#include "lower_limit.h"
#include "propwright/learn/posterior.h"

namespace propwright::learn {

class Density {
 public:
  Density(std::size_t parameters, const std::vector<Observed>& flights, const Beliefs& beliefs);

  /// Deviation of a reading, its kind's scatter as it is now believed.
  double scatter(const Observed& flight, const Reading& reading) const;
  /// Weight of a flight by its misfit to the model, at most (nu + m)/nu.
  double weight(const Observed& flight, const Outcome& model) const;
  /// Minus ln of the density, without constants, of the flights flown when last solved.
  double objective(const Eigen::VectorXd& z, const std::vector<Local>& here) const;
  /// The mode of the model made linear at z, `slopes` those of each flight: weights, scatter and
  /// parameters in turn.
  Eigen::VectorXd solve_linear(const Eigen::VectorXd& z, const std::vector<Local>& here,
                               const std::vector<Eigen::MatrixXd>& slopes);
  /// For the length of steps: the curvature, with the expected information of Student's t, (nu +
  /// m)/(nu + m + 2) of the normal one.
  Eigen::MatrixXd precision(const std::vector<Local>& here,
                            const std::vector<Eigen::MatrixXd>& slopes) const;
  const std::array<double, kind_count>& scatter_factor() const { return factor_; }

 private:
  /// The exact readings of a flight, and its lower limit where it has one.
  struct Judged {
    double exact = 0, misfit = 0;
    double above = 0;  ///< the limit, in units of the scatter
    bool limited = false;
    LowerLimit limit = {};
    double weight = 1;
    void add(double residual, bool at_least);
    void weigh(double freedom);  ///< once all is added
  };
  /// What each line asks for: r = pull/weight; and of each kind the squares that tell its scatter.
  struct Pulls {
    Eigen::VectorXd weight, pull;
    std::array<double, kind_count> squares{}, number{};
  };
  void pull(const Lines& all, const Eigen::VectorXd& moved, Pulls& pulls) const;
  Judged judged(const Observed& flight, const Outcome& model) const;
  double update_scatter(const std::array<double, kind_count>& squares,
                        const std::array<double, kind_count>& number);

  Eigen::Index count_;
  const std::vector<Observed>& flights_;
  const Beliefs& beliefs_;
  std::array<double, kind_count> factor_{};
  std::vector<bool> usable_;
};

}  // namespace propwright::learn
