/// Takes what was written at the bench out of its JSON. Fields that are left empty are taken as not
/// given, because the pages send them as they stand.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "wish_reader.h"

namespace propwright::answer {

using BenchRange = std::pair<double, double>;  ///< SI, both ends included

// Ranges at the bench, wide enough for any model and narrow enough to catch a wrong unit.
inline constexpr BenchRange bench_length_m{1e-3, 3}, bench_small_m{1e-6, 0.2},
    bench_radius_m{1e-3, 1}, bench_mass_kg{1e-9, 1}, bench_areal_kg_m2{1e-5, 2},
    bench_density_kg_m3{20, 12000}, bench_share{0, 1}, bench_force_N{0, 50};

class BenchReader {
 public:
  /// `place` stands for the table in problems: "tube", "stock[2]".
  BenchReader(const Json& table, std::string place, const std::vector<std::string>& known);
  BenchReader(const BenchReader&) = delete;
  BenchReader& operator=(const BenchReader&) = delete;

  std::optional<double> quantity(const char* name, units::Dimension dimension, BenchRange range);
  /// Missing is a problem; 0 is given then.
  double needed(const char* name, units::Dimension dimension, BenchRange range);
  std::optional<double> length(const char* name, BenchRange range = bench_length_m);
  std::optional<double> mass(const char* name, BenchRange range = bench_mass_kg);
  std::optional<double> angle(const char* name, double low_deg, double high_deg);
  std::optional<double> share(const char* name, BenchRange range = bench_share);
  std::vector<double> lengths(const char* name, BenchRange range);
  std::optional<int> count(const char* name, int low, int high);
  std::string word(const char* name, const std::vector<std::string>& words);
  /// The words of a list, each one of those known.
  std::vector<std::string> words(const char* name, const std::vector<std::string>& known);
  std::vector<std::pair<std::string, std::string>> texts(const char* name);
  std::string text(const char* name, const std::string& otherwise = {});
  std::optional<bool> truth(const char* name);
  bool has(const char* name) const;
  /// The elements of a list of tables with their places, "blades[2].angles[1]".
  std::vector<std::pair<Json, std::string>> tables(const char* name);
  /// A table within, or null where it is not given.
  Json table(const char* name) const;
  std::string place(const char* name) const { return prefix_ + name; }

  void wrong(const char* name, const std::string& message, const std::string& remedy);
  /// Takes over the problems of a table within.
  void add(const base::Problems& more);

  base::Problems problems() const;

 private:
  Json kept_;
  std::string prefix_;
  QuantityReader reader_;
  base::Problems own_;
};

}  // namespace propwright::answer
