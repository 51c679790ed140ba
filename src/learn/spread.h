/// The posterior about its mode, all that is not known integrated over, the scatter and the weights
/// of the flights too, of the model made linear at the mode. A Gibbs sampler (Geman & Geman, IEEE
/// PAMI 6 (1984) 721-741); each step adds the exact mean and covariance given the rest (Gelfand &
/// Smith, J. American Statistical Association 85 (1990) 398-409), so that few steps do. Symbols:
/// those of posterior.h.
#pragma once

#include <vector>

#include "density.h"

namespace propwright::learn {

struct Spread {
  Eigen::MatrixXd covariance;                       ///< about the mode
  std::array<double, kind_count> scatter_factor{};  ///< its median
};

/// The model at the mode z, where `here` is flown and the slopes hold.
struct About {
  const Eigen::VectorXd& z;
  const std::vector<Observed>& flights;
  const std::vector<Local>& here;
  const std::vector<Eigen::MatrixXd>& slopes;
  const Beliefs& beliefs;
  std::array<double, kind_count> factor;  ///< of the scatter there
};

/// The same numbers are drawn for the same log; of few flights its deviations are good to
/// some 2 %.
Spread spread_about(const About& about);

}  // namespace propwright::learn
