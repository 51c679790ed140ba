/// Where the scatter of a flight and the spread of the days count, as a lattice over both. Private.
#pragma once

#include "days.h"

namespace propwright::verdict {

/// What is known of one pair of scatter and spread: their logarithms lambda and kappa.
struct Place {
  double lambda = 0, kappa = 0, log_weight = 0;
  DayFit fit;
};

/// Evenly spaced.
struct Span {
  double low = 0, high = 0;
  int points = 2;
  double step() const { return (high - low) / (points - 1); }
  double at(int i) const { return low + step() * i; }
};

struct Region {
  Span lambdas, kappas;
};

/// Beyond it e^-10 of the best is lost, and a step more is kept.
Region region_that_counts(const std::vector<Flown>& all, const Beliefs& beliefs);

/// Greatest steps of a lattice.
struct Steps {
  double lambda = 0, kappa = 0;
};

/// One deviation of what the flights alone tell of lambda (Lange, Little & Taylor, appendix B), and
/// half a unit of kappa, keep odds within 4e-4 of those of a lattice three times as fine and the
/// ends of an interval within half a hundredth of its width, from a flight of each propeller on;
/// the wider steps for odds alone keep them within 1e-3.
Steps steps_for(const std::vector<Flown>& all, const Beliefs& beliefs, bool variants);

/// The places of a region, in equal steps of their logarithms, weighed with the levels taken as
/// normal. What is lost in the sum is left out.
std::vector<Place> places_in(Region region, const Steps& steps, const std::vector<Flown>& all,
                             const Beliefs& beliefs);

/// One scatter for all propellers.
std::vector<double> all_at(std::size_t propellers, double lambda);

}  // namespace propwright::verdict
