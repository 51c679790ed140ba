/// Weighing parts of a few milligrams on a scale that reads milligrams: several together, on a
/// tare, in a design of weighings; and wood at another humidity.
/// Symbols: M moisture content, h relative humidity as a share, T temperature in degC.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/bench/figure.h"

namespace propwright::bench {

struct WeighedTogether {
  int parts = 1;          ///< 1..10000
  double reading_kg = 0;  ///< all of them, on the tare if there is one
  double zero_kg = 0;     ///< scale with nothing, or with the tare alone
  int repeats = 1;        ///< reading and zero are means of so many, 1..1000
  bool on_tare = false;   ///< a steady tare of many digits lay on the scale throughout
};
struct WeighedFigures {
  Figure total_kg = {},
         each_kg = {};     ///< each: the mean; how the parts differ among themselves is not seen
  double share_sigma = 0;  ///< sigma over value
  std::vector<Question> questions = {};  ///< zero tracking; reading below the noise
};
/// Mean mass of a part with its sigma: (reading - zero)/n, sigma = sqrt(2) s/n. Repeats average the
/// scatter; the rounding to a digit only where the scatter spans half a digit or more.
/// Below 20 digits without a tare zero tracking is asked about: a scale that pulls its zero after
/// small loads swallows them (a builders' archive); weigh on a tare and check with a known mass.
/// Problem: parts, repeats, reading_kg not above zero_kg.
base::Expected<WeighedFigures> weigh_together(const WeighedTogether& weighing,
                                              const Instruments& instruments);

/// How many alike parts together bring the mean within `wanted_share` (1-sigma). 1..10000.
/// Problem: wanted_share or expected mass not above 0.
base::Expected<int> parts_for_share(double expected_mass_kg, double wanted_share,
                                    const Instruments& instruments);

/// A known mass put on the scale, as a check of the session.
struct ScaleCheck {
  double known_kg = 0, read_kg = 0;
};
struct ScaleCheckFigures {
  Figure error_kg = {};  ///< read less known
  Within within_noise = Within::cannot_tell;
  std::string sentence = {};
};
base::Expected<ScaleCheckFigures> check_scale(const ScaleCheck& check,
                                              const Instruments& instruments);

/// One weighing of a design: which parts lay on the scale (+1), which on the tare side or were
/// taken off (-1), and the net reading.
struct DesignWeighing {
  std::vector<int> parts = {};  ///< -1, 0 or +1 for each part
  double reading_kg = 0;
};
struct DesignFigures {
  std::vector<Figure> masses_kg = {};
  std::vector<std::vector<double>> covariance_kg2 = {};  ///< by rows; from the scale's own sigma
  double residual_rms_kg = 0;            ///< rms of what is left over; 0 when nothing is left over
  int spare = 0;                         ///< weighings more than parts
  std::vector<Question> questions = {};  ///< residuals larger than the scale's sigma explains
};
/// Least squares, e.g. A, B and A + B: each mass from all weighings, sigma sqrt(2/3) of one.
/// Problem: "weighings" when they cannot tell the parts apart, "weighings[i].parts" for a wrong
/// count or number.
base::Expected<DesignFigures> weigh_design(int parts, const std::vector<DesignWeighing>& weighings,
                                           const Instruments& instruments);

/// Equilibrium moisture content of wood, share of its dry mass: Hailwood-Horrobin, USDA Wood
/// Handbook FPL-GTR-190 (2010) eq. 4-5; Simpson 1998 FPL-RN-0268. Within 0.2 points of the
/// handbook's examples up to 87 % humidity. Temperature -10..60 degC, humidity 0..0.97.
base::Expected<double> wood_moisture(double temperature_C, double relative_humidity);

struct HumidityCorrection {
  double moisture_then = 0, moisture_now = 0;  ///< shares of the dry mass
  Figure factor =
      {};  ///< mass at the second state over mass at the first, for `wood_share` of wood
};
/// Mass factor of a part from one state of the air to another, after it has come to rest in it
/// (thin wood: an hour or so, common practice). Doubt: humidity read to `humidity_sigma` (two
/// readings) and 0.3 points of moisture for the species (balsa was not in the fit; ours).
base::Expected<HumidityCorrection> humidity_factor(double temperature_then_C, double humidity_then,
                                                   double temperature_now_C, double humidity_now,
                                                   double wood_share = 1,
                                                   double humidity_sigma = 0.03);

}  // namespace propwright::bench
