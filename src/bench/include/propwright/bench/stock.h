/// Stock on the shelf: mass and size of sheet, strip, film, wire and glue to density; the stiffness
/// test of a strip; which sheet for which part.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/bench/figure.h"
#include "propwright/spar/reduce.h"

namespace propwright::bench {

enum class StockKind { sheet, strip, film, tissue, wire, glue };

/// Grain cut of a balsa sheet. A: cut along the year rings (tangential), long grain lines, bends
/// across and follows a curve. B: between the two, general use. C: quarter cut, mottled, stiff
/// across, splits easily; for ribs and flat parts. Common practice.
enum class Grain { unknown, a, b, c };
/// What the cut is for, in one line.
std::string grain_use(Grain grain);

/// One piece of stock, or several alike weighed together.
struct Stock {
  std::string id = {};
  StockKind kind = StockKind::sheet;
  Grain grain = Grain::unknown;
  int pieces = 1;       ///< weighed together, 1..1000
  double mass_kg = 0;   ///< of all the pieces; glue: dried mass put on. > 0
  double length_m = 0;  ///< > 0; glue: of the joint or the area painted, 0: a drop
  /// Sheet, strip, film, tissue: > 0. Glue: width of the area painted, 0 for a line. Wire: not
  /// used.
  double width_m = 0;
  /// Sheet, strip: thickness; wire: diameter; > 0. Film, tissue: 0 when not measured.
  double thickness_m = 0;
  double wet_mass_kg = 0;  ///< glue only: mass before it dried, 0 when not weighed
};

/// Band of density in the trade's unit. Up to 5.5 lb/ft3 the bins builders sort spar stock into (a
/// builders' archive, 2005-2019), above it whole steps of ours.
struct DensityClass {
  double low_lb_ft3 = 0;   ///< 0: open downwards
  double high_lb_ft3 = 0;  ///< 0: open upwards
  std::string words = {};  ///< "4.5 to 5 lb/ft3"
  bool doubtful = false;   ///< one sigma reaches into the next class
};
DensityClass density_class(Figure density_kg_m3);

struct StockFigures {
  std::optional<Figure> density_kg_m3 = {};  ///< sheet, strip, wire; film and tissue with thickness
  std::optional<Figure> areal_mass_kg_m2 = {};  ///< sheet, film, tissue, painted glue
  std::optional<Figure> linear_mass_kg_m = {};  ///< strip, wire, glue in a line
  std::optional<Figure> solids_share = {};      ///< glue: dried over wet mass
  std::optional<Figure> film_thickness_m =
      {};  ///< film: from areal mass at 1390 kg/m3 (from memory)
  std::optional<DensityClass> density_class = {};  ///< sheet and strip
  std::vector<Question> questions = {};
};

/// Density and the like with the doubt from scale, rule and micrometer. Problem: bad_input naming
/// the member (mass_kg, length_m, width_m, thickness_m, pieces, wet_mass_kg).
base::Expected<StockFigures> stock_figures(const Stock& stock, const Instruments& instruments);

/// A strip clamped at one end, loaded at the other, the fall of the loaded end read.
struct CantileverTest {
  double load_kg = 0, length_m = 0;  ///< hung mass; clamp to load
  double deflection_m = 0;           ///< loaded less unloaded reading
  double width_m = 0, thickness_m = 0;
};

/// A strip standing between pins, pressed on a scale until it bows out and the force stays.
struct BucklingTest {
  double load_kg = 0;   ///< reading of the scale while bowed
  double length_m = 0;  ///< between the pins
  double width_m = 0, thickness_m = 0;
};

struct StripModulus {
  Figure E_Pa = {};
  std::optional<Figure> specific_J_kg = {};  ///< E/density, with a density
  std::optional<double> line_E_Pa = {};      ///< straight line through the Wood Handbook's value
  std::optional<Figure> over_line = {};      ///< E over that line; selected sheets reach 1.3
  std::vector<Question> questions = {};
};

/// E = 4 P L^3/(b t^3 deflection) for small deflections, the exact elastica for large ones (spar).
/// Weight of the strip drops out of the difference for small deflections and is left out.
/// `modulus_per_density_J_kg` is the line's slope (data/balsa.csv, modulus_per_density).
base::Expected<StripModulus> cantilever_modulus(
    const CantileverTest& test, const Instruments& instruments, std::optional<Figure> density_kg_m3,
    double modulus_per_density_J_kg = spar::usual_specific_modulus_J_kg);

/// E = 12 P L^2/(pi^2 b t^3), Euler's load of a pinned strip; bowed far out the force is a little
/// higher (1 % at a bow of 0.09 of the length), so read it at a slight bow.
base::Expected<StripModulus> buckling_modulus(
    const BucklingTest& test, const Instruments& instruments, std::optional<Figure> density_kg_m3,
    double modulus_per_density_J_kg = spar::usual_specific_modulus_J_kg);

/// What a part asks of its wood.
struct PartWish {
  enum class Want { stiff_and_light, light, bends_round, stiff_across };
  std::string part = {};
  Want want = Want::light;
  double least_density_kg_m3 = 0, greatest_density_kg_m3 = 0;
  std::vector<Grain> grains = {};  ///< that suit, best first; empty: any
  double thickness_m = 0;          ///< finished; 0: any
  double least_length_m = 0;       ///< 0: any
  std::string source = {};         ///< where the figures come from
};
/// Wood as used by builders of indoor models of about 1 g (a builders' archive, 2005-2019; where
/// that is silent, common practice, said in `source`): a start, to be overridden.
std::vector<PartWish> usual_wishes();

/// A sheet or strip on the shelf with what is known of it.
struct Shelved {
  Stock stock = {};
  Figure density_kg_m3 = {};
  std::optional<Figure> E_Pa = {};  ///< measured
};

struct Candidate {
  std::size_t index = 0;  ///< into the shelf
  bool suits = false;     ///< density, grain, thickness and length are as wished
  double penalty = 0;     ///< least first; the parts it is made of are in `reasons`
  /// Stiffness for its weight against the line's wood in the middle of the wished band: (E/rho^2)
  /// over that of the line, a spar's stiffness at a given weight.
  Figure merit = {};
  bool merit_measured = false;  ///< from a measured E; else from the line, 30 % doubtful
  std::string reason = {};      ///< in words
};
struct PickList {
  std::string part = {};
  std::vector<Candidate> candidates =
      {};  ///< all sheets and strips that can be used at all, best first
  std::vector<Candidate>
      passed_over;  ///< too thin, too short or far off in density, with the reason
};
/// Ranks the shelf for each part. Films, wire and glue on the shelf are left out.
base::Expected<std::vector<PickList>> pick_list(
    const std::vector<Shelved>& shelf, const std::vector<PartWish>& wishes,
    double modulus_per_density_J_kg = spar::usual_specific_modulus_J_kg);

}  // namespace propwright::bench
