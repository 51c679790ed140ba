/// The parts of the bench's answer, one file each, and what they share. Each takes its table as it
/// was sent and gives its answer, or null with problems.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "bench_reader.h"
#include "mass_cost.h"
#include "propwright/answer/prediction.h"
#include "propwright/bench/blade.h"
#include "propwright/bench/hub.h"
#include "propwright/units/units.h"

namespace propwright::answer {

/// The job of the question, flown.
struct BenchJob {
  LoadedJob loaded;
  predict::Nominal nominal;
  std::optional<double> relative_sigma;  ///< as sent
};

/// What the parts share. Later parts use what earlier ones found.
struct BenchContext {
  units::Profile profile = units::Profile::metric;
  bench::Instruments instruments;
  std::optional<BenchJob> job;
  base::Problems problems;

  std::vector<std::optional<bench::BladeReading>> blades;  ///< one for each entry sent
  std::vector<std::optional<bench::BladeFigures>> blade_figures;
  std::optional<bench::PairFigures> pair;
  std::optional<bench::HubFigures> hub;

  void add(const base::Problems& more);

  // Numbers in words, in the units of the profile.
  std::string length(double si) const;  ///< of blades, sheets, radii: 0.1 mm, 0.01 in
  std::string fine(double si) const;    ///< of sizes: 0.01 mm, 0.001 in
  std::string mass(double si) const;    ///< always mg, which both worlds use
  std::string angle(double rad) const;  ///< "0.8°"
  std::string density(double si) const;
  /// A sentence of the bench, which tells all lengths in mm and many digits, as the pages print it.
  std::string worded(const std::string& sentence) const;
  std::vector<std::string> worded(std::vector<std::string> sentences) const;
  /// "12.3 ± 0.2 mg": number and doubt in one unit.
  std::string doubtful_mass(bench::Figure mass_kg) const;
  std::string doubtful_size(bench::Figure size_m) const;
  std::string doubtful_length(bench::Figure length_m) const;
  std::string doubtful_density(bench::Figure density_kg_m3) const;
};

/// Renames of a computation's members: {"mandrel_diameter_m", "mandrel"}.
using BenchNames = std::vector<std::pair<std::string_view, std::string_view>>;
/// A computation's problems put into the fields of the question: units are taken off the names,
/// rows count from 1, and `place` stands before them.
base::Problems bench_fields(base::Problems problems, const std::string& place,
                            const BenchNames& names = {});

std::vector<std::string> messages_of(const std::vector<bench::Question>& questions);
Json number_or_null(const std::optional<double>& value);
Json value_or_null(const std::optional<bench::Figure>& figure);
Json sigma_or_null(const std::optional<bench::Figure>& figure);
double bench_degrees(double rad);

Json bench_stock(const Json& stock, const Json& pick, BenchContext& context);
Json bench_blades(const Json& blades, const Json& pair, BenchContext& context);
Json bench_twist(const Json& table, BenchContext& context);
Json bench_tube(const Json& table, BenchContext& context);
Json bench_hub(const Json& table, BenchContext& context);
Json bench_weighings(const Json& table, BenchContext& context);
Json bench_ledger(const Json& table, BenchContext& context);
Json bench_shaking(const Json& table, BenchContext& context);
Json bench_replacement(const Json& table, BenchContext& context);

/// One blade of a question. `place` as "blades[2]".
std::optional<bench::BladeReading> read_blade(const Json& entry, const std::string& place,
                                              const std::string& name, BenchContext& context);
BenchNames blade_names();
bench::BladeTolerances read_tolerances(BenchReader& reader);

}  // namespace propwright::answer
