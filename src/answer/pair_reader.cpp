#include "pair_reader.h"

#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "propwright/base/constants.h"
#include "wish_reader.h"

namespace propwright::answer {
namespace {

using D = units::Dimension;
using asbuilt::Measured;

/// Standard deviations of the readings. Defaults: a half-degree gauge, a half-millimetre rule, a
/// scale of 1 mg, stiffness from two readings (common practice, from memory).
struct PairDoubts {
  double angle_rad = 0.5 * base::degree_rad;
  double length_m = 0.5e-3;
  double mass_kg = 1e-6;
  double camber = 0.005;
  double stiffness = 0.10;  // relative
  double spar_turn_rad = 5 * base::degree_rad;
};

constexpr std::size_t most_angles = 20;

class PairReader {
 public:
  PairReader(const Json& json, const DesignStiffness& design) : json_(json), design_(design) {}

  base::Expected<std::array<asbuilt::BladeReading, 2>> read() {
    QuantityReader top(json_, "as_built.", {"doubts", "blade"});
    take(top);
    if (!problems_.empty()) return base::fail(std::move(problems_));
    if (top.has("doubts")) doubts(json_["doubts"]);
    const bool two = top.has("blade") && json_["blade"].is_array() && json_["blade"].size() == 2;
    if (!two) {
      problems_.push_back({.field = "blade",
                           .allowed = "two blades",
                           .remedy = "give [[blade]] twice, once for each blade",
                           .message = "a pair is two blades"});
      return base::fail(std::move(problems_));
    }
    std::array<asbuilt::BladeReading, 2> readings;
    for (std::size_t i = 0; i < 2; ++i) readings[i] = blade(json_["blade"][i], i);
    if (!problems_.empty()) return base::fail(std::move(problems_));
    return readings;
  }

 private:
  void take(QuantityReader& reader) {
    problems_.insert(problems_.end(), reader.problems.begin(), reader.problems.end());
    reader.problems.clear();
  }

  void doubts(const Json& json) {
    QuantityReader r(json, "doubts.",
                     {"angle", "length", "mass", "camber", "stiffness", "spar_turn"});
    PairDoubts& d = doubts_;
    d.angle_rad = r.quantity("angle", D::angle, {0, 0.2}).value_or(d.angle_rad);
    d.length_m = r.quantity("length", D::length, {0, 0.01}).value_or(d.length_m);
    d.mass_kg = r.quantity("mass", D::mass, {0, 1e-3}).value_or(d.mass_kg);
    d.camber = r.quantity("camber", D::ratio, {0, 0.05}).value_or(d.camber);
    d.stiffness = r.quantity("stiffness", D::ratio, {0, 0.5}).value_or(d.stiffness);
    d.spar_turn_rad = r.quantity("spar_turn", D::angle, {0, 0.8}).value_or(d.spar_turn_rad);
    take(r);
  }

  asbuilt::BladeReading blade(const Json& json, std::size_t index) {
    const std::string prefix = fmt::format("blade[{}].", index + 1);
    QuantityReader r(json, prefix,
                     {"id", "length", "mass", "centre_of_mass", "camber", "flapwise_stiffness",
                      "chordwise_stiffness", "torsion_stiffness", "spar_flapwise", "spar_chordwise",
                      "bend_test", "twist_test", "spar_turn", "angle"});
    asbuilt::BladeReading b;
    b.id = r.text("id");
    if (b.id.empty()) b.id = index == 0 ? "A" : "B";
    const auto measured = [&](const char* name, D dimension, std::pair<double, double> range,
                              double sigma) -> std::optional<Measured> {
      const auto value = r.quantity(name, dimension, range);
      return value ? std::optional<Measured>(Measured{*value, sigma}) : std::nullopt;
    };
    b.length_m = measured("length", D::length, {0.02, 0.6}, doubts_.length_m);
    b.mass_kg = measured("mass", D::mass, {1e-6, 0.1}, doubts_.mass_kg);
    b.camber = measured("camber", D::ratio, {0, 0.2}, doubts_.camber);
    b.spar_turn_rad =
        measured("spar_turn", D::angle, {-base::pi / 2, base::pi / 2}, doubts_.spar_turn_rad);
    using flex::Strike;
    b.flapwise = stiffness(r, json, prefix, "flapwise_stiffness", "spar_flapwise", "bend_test",
                           Strike::flapwise);
    b.chordwise = stiffness(r, json, prefix, "chordwise_stiffness", "spar_chordwise", nullptr,
                            Strike::chordwise);
    b.torsion = stiffness(r, json, prefix, "torsion_stiffness", nullptr, "twist_test", {});
    const auto centre = measured("centre_of_mass", D::length, {0.002, 0.5}, doubts_.length_m);
    if (centre && b.mass_kg) {
      const double m = b.mass_kg->value, r_m = centre->value;
      b.moment_kgm = Measured{m * r_m, std::hypot(b.mass_kg->sigma * r_m, centre->sigma * m)};
    }
    if (r.has("angle")) b.angles = angles(json["angle"], prefix);
    take(r);
    return b;
  }

  /// One stiffness over the design's, told in one of its ways: as such, by its spar's EI, by a
  /// test.
  std::optional<Measured> stiffness(QuantityReader& r, const Json& json, const std::string& prefix,
                                    const char* ratio, const char* spar, const char* test,
                                    flex::Strike direction) {
    std::vector<const char*> given;
    for (const char* name : {ratio, spar, test}) {
      if (name != nullptr && r.has(name)) given.push_back(name);
    }
    if (given.empty()) return std::nullopt;
    if (given.size() > 1) {
      problems_.push_back({.field = prefix + given[1],
                           .allowed = fmt::format("one of {} and {}", given[0], given[1]),
                           .remedy = "leave one of them out",
                           .message = "the same stiffness is given twice"});
      return std::nullopt;
    }
    base::Expected<double> found = 0.0;
    if (given[0] == test) {
      const auto tested = ratio_in_test(json[test], prefix + test + ".");
      if (!tested) return std::nullopt;
      found = *tested;
    } else {
      const bool ei = given[0] == spar;
      const auto value = ei ? r.quantity(spar, D::bending_stiffness, {1e-7, 10})
                            : r.quantity(ratio, D::ratio, {0.1, 10});
      if (!value) return std::nullopt;
      found = ei ? design_.with_spar(*value, direction) : base::Expected<double>(*value);
    }
    if (found) return Measured{*found, *found * doubts_.stiffness};
    for (base::Problem problem : found.error()) {
      problem.field = prefix + given[0];
      problems_.push_back(std::move(problem));
    }
    return std::nullopt;
  }

  /// A test of the finished blade, held at its inner end. Nothing where it cannot be read: told.
  std::optional<base::Expected<double>> ratio_in_test(const Json& json, const std::string& prefix) {
    const bool twist = prefix.find("twist") != std::string::npos;
    const char* turned = twist ? "angle" : "deflection";
    // Where the arm or the mass sits, from the shaft or, of a blade not yet in its hub, from the
    // clamp.
    const char* where = json.is_object() && json.contains("length") ? "length" : "radius";
    std::vector<std::string> names{"mass", where, turned};
    if (twist) names.emplace_back("arm");
    QuantityReader r(json, prefix, names);
    const auto mass = r.quantity("mass", D::mass, {1e-6, 0.1});
    auto radius = r.quantity(where, D::length, {0.01, 0.35});
    if (radius && std::string_view(where) == "length") *radius += design_.inner_end_m();
    const auto arm = twist ? r.quantity("arm", D::length, {0.002, 0.3}) : std::optional(1.0);
    const auto reading = twist ? r.quantity("angle", D::angle, {0.1 * base::degree_rad, 1.05})
                               : r.quantity("deflection", D::length, {1e-4, 0.1});
    for (const std::string& name : names) {
      if (r.has(name.c_str())) continue;
      r.problems.push_back({.field = prefix + name,
                            .remedy = "give " + name + " with the rest of the test",
                            .message = "part of the test is missing"});
    }
    const bool whole = r.problems.empty() && mass && radius && arm && reading;
    take(r);
    if (!whole) return std::nullopt;
    const double load_N = *mass * base::gravity_m_s2;
    if (twist) return design_.in_test(flex::TwistCheck{*radius, load_N * *arm, *reading});
    return design_.in_test(flex::BendCheck{*radius, load_N, *reading});
  }

  std::vector<asbuilt::AngleReading> angles(const Json& list, const std::string& prefix) {
    std::vector<asbuilt::AngleReading> all;
    if (!list.is_array() || list.size() > most_angles) {
      problems_.push_back({.field = prefix + "angle",
                           .allowed = fmt::format("up to {} readings", most_angles),
                           .remedy = "give a list of { radius = ..., angle = ... }",
                           .message = "this is no list of readings"});
      return all;
    }
    for (std::size_t i = 0; i < list.size(); ++i) {
      const std::string own = fmt::format("{}angle[{}].", prefix, i + 1);
      QuantityReader r(list[i], own, {"radius", "angle"});
      const auto radius = r.quantity("radius", D::length, {0.001, 0.6});
      const auto angle = r.quantity("angle", D::angle, {-base::pi / 2, base::pi / 2});
      if (r.problems.empty() && (!radius || !angle)) {
        r.problems.push_back({.field = own + (radius ? "angle" : "radius"),
                              .remedy = "give both radius and angle",
                              .message = "half of the reading is missing"});
      }
      if (radius && angle) all.push_back({*radius, {*angle, doubts_.angle_rad}});
      take(r);
    }
    return all;
  }

  const Json& json_;
  const DesignStiffness& design_;
  PairDoubts doubts_;
  base::Problems problems_;
};

}  // namespace

base::Expected<std::array<asbuilt::BladeReading, 2>> read_as_built(const Json& as_built,
                                                                   const DesignStiffness& design) {
  return PairReader(as_built, design).read();
}

}  // namespace propwright::answer
