/// What the flights of one propeller say of its level at one scatter. Private.
#pragma once

#include <optional>
#include <vector>

#include "levels.h"

namespace propwright::verdict {

// Between a flight in a thousand exact to half a second, and a factor of e.
inline constexpr double least_scatter = 5e-4, greatest_scatter = 1.0;

/// ln(share) of a flight.
struct Datum {
  double y = 0, weight = 1;
  std::size_t score = 0, day = 0;
};

/// One propeller's flights and prior.
struct Flown {
  std::vector<Datum> data;
  std::optional<LevelPrior> prior;
};
std::vector<Flown> flown_of(const std::vector<Score>& scores,
                            const std::vector<std::size_t>& active, const Beliefs& beliefs);
/// The lowest and the highest flight of a propeller: what hangs on one flight hangs on these.
std::vector<std::size_t> outermost(const Flown& flown);

/// ln of the density of one datum at a level, without constants.
double log_datum(const Datum& d, double mu, double s, const Beliefs& beliefs);
double log_scatter_prior(double lambda, const Beliefs& beliefs);
/// Information of one flight of weight 1 about its level (Lange, Little & Taylor, appendix B).
double information(double s, const Beliefs& beliefs);

/// ln of a level's density at the points of a grid, over mu.
struct Curve {
  std::vector<double> log_density;
  double log_integral = 0;
};
/// Its integral.
void finish(Curve& curve, const LevelGrid& grid);
Curve curve_of(const Flown& flown, double s, const LevelGrid& grid, const Beliefs& beliefs);
/// Densities over u, normalised, of those over mu.
std::vector<double> density_of(const std::vector<double>& log_density, const LevelGrid& grid);

/// What a grid is for: the integral over all of it, odds to some 1e-4, levels read off between its
/// points.
enum class Fineness { integral, odds, reading };
/// A grid for some propellers between two scatters. It reaches well beyond levels as doubtful as
/// `widest`.
LevelGrid grid_for(const std::vector<const Flown*>& all, double low_s, double high_s,
                   const Beliefs& beliefs, Fineness fineness = Fineness::reading,
                   double widest = 0);
/// ln of the density of a propeller's data at a level, their shifts of the day taken off.
double log_data(const Flown& flown, double mu, const std::vector<double>& shift, double s,
                const Beliefs& beliefs);

/// The scatters that count, in equal steps of their logarithm.
std::vector<double> scatters_that_count(const std::vector<const Flown*>& all,
                                        const Beliefs& beliefs);
/// Weights from their logarithms.
std::vector<double> shares_of(const std::vector<double>& logs);
Node node_of(std::vector<std::vector<double>> densities, double weight, double step);
/// Median, 5 % and 95 % of a scatter from the weights of equal steps of its logarithm.
Range scatter_range(const std::vector<double>& lambdas, const std::vector<double>& weights);

}  // namespace propwright::verdict
