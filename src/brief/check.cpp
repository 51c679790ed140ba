// The checks that span fields of a job file.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <vector>

#include "fields.h"
#include "propwright/brief/assemble.h"
#include "source.h"

namespace propwright::brief {
namespace {

using D = units::Dimension;

/// Rounding of inch sizes, halved diameters and the like; far below what a bench can measure.
constexpr double bench_length_m = 5e-5;

class Review {
 public:
  Review(const Job& job, const Source& source, base::Problems& problems)
      : job_(job), source_(source), problems_(problems) {}

  void all() {
    air();
    wing();
    hall_and_launch();
    rubber_test();
    motor();
    blade_source();
    outline();
    stations();
    readings();
    gauge();
    spar();
    covering();
    blade_tests();
    learned_directions();
  }

 private:
  bool given(const char* name) const { return source_.given(name); }
  bool sound(std::initializer_list<const char*> names) const {
    return std::all_of(names.begin(), names.end(),
                       [this](const char* name) { return source_.sound(name); });
  }

  void report(const std::string& name, std::string allowed, std::string message,
              std::string remedy) {
    problems_.push_back({.line = source_.line(name),
                         .field = name,
                         .value = source_.text(name),
                         .allowed = std::move(allowed),
                         .remedy = std::move(remedy),
                         .message = std::move(message)});
  }

  std::string text(double si, D dimension = D::length) const {
    FieldFacts facts;
    facts.dimension = dimension;
    return shown_value(facts, si, profile_of(job_));
  }

  /// The names of a list that are given.
  std::vector<std::string> given_of(std::initializer_list<const char*> names) const {
    std::vector<std::string> found;
    for (const char* name : names) {
      if (given(name)) found.push_back(name);
    }
    return found;
  }

  void at_most_one(std::initializer_list<const char*> names, const std::string& why) {
    const auto found = given_of(names);
    for (std::size_t i = 1; i < found.size(); ++i) {
      report(found[i], {}, fmt::format("{} is given too: {}", found.front(), why),
             "keep one of them");
    }
  }

  void air() {
    if (!job_.air.pressure_is_reduced || !sound({"air.pressure", "air.altitude"})) return;
    for (const char* name : {"air.pressure", "air.altitude"}) {
      if (given(name)) continue;
      report(name, {}, "a pressure reduced to sea level needs pressure and altitude",
             fmt::format("add {} or drop air.pressure_is_reduced", name));
    }
  }

  void wing() {
    const Model& model = job_.model;
    at_most_one({"model.wing_chord", "model.wing_area"}, "both state the area of the wing");
    if (given_of({"model.wing_chord", "model.wing_area"}).empty()) {
      report("model.wing_chord", {}, "the wing's size is not stated",
             "add model.wing_chord or model.wing_area");
    }
    if (!sound({"model.wing_span", "model.wing_chord", "model.wing_area"})) return;
    const double chord_m = model.wing_chord_m   ? *model.wing_chord_m
                           : model.wing_area_m2 ? *model.wing_area_m2 / model.wing_span_m
                                                : 0;
    if (chord_m > model.wing_span_m) {
      report(model.wing_chord_m ? "model.wing_chord" : "model.wing_area", {},
             fmt::format("the mean chord of {} is larger than the span of {}", text(chord_m),
                         text(model.wing_span_m)),
             "check wing_span and the wing's size");
    }
  }

  void hall_and_launch() {
    const Launch& launch = job_.launch;
    at_most_one({"launch.margin", "launch.turns", "launch.torque"},
                "each of them decides how many turns are backed off");
    at_most_one({"launch.wind_fraction", "launch.wound_turns"},
                "both state how far the motor is wound");
    if (launch.turns && launch.wound_turns && *launch.turns > *launch.wound_turns) {
      report("launch.turns", fmt::format("up to {:.6g}", *launch.wound_turns),
             "more turns at launch than were wound", "lower it or raise launch.wound_turns");
    }
    if (!sound({"hall.roof_height", "launch.height", "launch.margin"})) return;
    const double roof_m = job_.hall.roof_height_m;
    if (launch.height_m >= roof_m) {
      report("launch.height", fmt::format("below {}", text(roof_m)),
             "the launch is not below the roof", "check launch.height and hall.roof_height");
    } else if (launch.margin_m && launch.height_m + *launch.margin_m >= roof_m) {
      report("launch.margin", fmt::format("below {}", text(roof_m - launch.height_m)),
             "no height for a climb is left between launch and margin", "lower it");
    }
  }

  void rubber_test() {
    const auto needed = {"rubber.test_section", "rubber.test_length", "rubber.test_mass"};
    if (given("rubber.test_file")) {
      for (const char* name : needed) {
        if (!given(name)) {
          report(name, {}, "a bench test needs the size of the tested motor", "add it");
        }
      }
      for (const char* name : {"rubber.energy", "rubber.turns_constant", "rubber.density"}) {
        if (!given(name)) continue;
        report(name, {}, "the bench test in rubber.test_file states this", "remove it");
      }
      return;
    }
    for (const auto& name : given_of({"rubber.test_section", "rubber.test_length",
                                      "rubber.test_mass", "rubber.test_temperature"})) {
      report(name, {}, "there is no test this belongs to", "add rubber.test_file or remove it");
    }
  }

  void motor() {
    if (given_of({"motor.strip_width", "motor.mass"}).empty()) {
      report("motor.strip_width", {}, "the size of the motor is not stated",
             "add motor.strip_width or motor.mass");
    }
  }

  void blade_source() {
    const auto sources = given_of({"propeller.pitch", station_table, measured_angle_table});
    for (std::size_t i = 1; i < sources.size(); ++i) {
      report(sources[i], {},
             fmt::format("{} is given too: both state the angles of the blade", sources.front()),
             "keep one of propeller.pitch, [[propeller.station]], [[propeller.measured_angle]]");
    }
    if (sources.empty()) {
      report("propeller.pitch", {}, "nothing states the angles of the blade",
             "add propeller.pitch with an outline, [[propeller.station]] or "
             "[[propeller.measured_angle]]");
    }
    if (sources.size() != 1) return;
    if (!sound({station_table, measured_angle_table, measured_chord_table})) return;
    const bool chords = given(measured_chord_table);
    if (chords && job_.propeller.source != BladeSource::measured) {
      report(measured_chord_table, {}, "chord readings belong to angle readings",
             "add [[propeller.measured_angle]] or state the outline another way");
      return;
    }
    if (job_.propeller.source == BladeSource::stations) {
      unused_outline("the stations state the outline");
    } else if (chords) {
      unused_outline("the chord readings state the outline");
    } else {
      needed_outline();
    }
  }

  static constexpr std::initializer_list<const char*> outline_names = {
      "propeller.outline.root_radius", "propeller.outline.widest_chord",
      "propeller.outline.root_chord", "propeller.outline.widest_at",
      "propeller.outline.tip_roundness"};

  void unused_outline(const std::string& why) {
    for (const auto& name : given_of(outline_names)) report(name, {}, why, "remove it");
  }

  void needed_outline() {
    for (const char* name : {"propeller.outline.root_radius", "propeller.outline.widest_chord",
                             "propeller.outline.root_chord"}) {
      if (given(name)) continue;
      report(name, {}, "the outline of the blade needs this field", "add it");
    }
  }

  void outline() {
    const Propeller& p = job_.propeller;
    if (!given("propeller.outline") || !sound(outline_names) || !sound({"propeller.diameter"})) {
      return;
    }
    const double tip_m = p.diameter_m / 2;
    if (p.root_radius_m >= tip_m) {
      report("propeller.outline.root_radius", fmt::format("below {}", text(tip_m)),
             "the root is not inside the tip", "check the diameter and the root radius");
    } else if (p.widest_at * tip_m <= p.root_radius_m || p.widest_at >= 1) {
      report("propeller.outline.widest_at", fmt::format("{:.3g} to 1", p.root_radius_m / tip_m),
             "the widest chord is not between root and tip",
             "give it as a fraction of the tip radius");
    }
    if (p.widest_chord_m >= tip_m) {
      report("propeller.outline.widest_chord", fmt::format("below {}", text(tip_m)),
             "the blade is wider than it is long", "check the chord and the diameter");
    }
    if (p.root_chord_m > p.widest_chord_m) {
      report("propeller.outline.root_chord", fmt::format("up to {}", text(p.widest_chord_m)),
             "the root is wider than the widest chord", "check the two chords");
    }
  }

  /// Radii of a table of rows increase and end on the blade. True when they can be used further.
  template <class Row>
  bool radii_increase(const char* table, const std::vector<Row>& rows) {
    bool good = !rows.empty() && sound({"propeller.diameter"});
    for (std::size_t i = 0; i < rows.size(); ++i) {
      const std::string name = fmt::format("{}[{}].radius", table, i + 1);
      if (!source_.sound(name)) return false;
      if (i > 0 && rows[i].radius_m <= rows[i - 1].radius_m) {
        report(name, fmt::format("above {}", text(rows[i - 1].radius_m)),
               "the radii do not increase", "sort the rows from the root to the tip");
        good = false;
      }
    }
    const double tip_m = job_.propeller.diameter_m / 2;
    if (good && rows.back().radius_m > tip_m + bench_length_m) {
      report(fmt::format("{}[{}].radius", table, rows.size()), fmt::format("up to {}", text(tip_m)),
             "the radius is outside the tip", "check it and propeller.diameter");
      good = false;
    }
    return good;
  }

  void stations() {
    if (!given(station_table) || !radii_increase(station_table, job_.propeller.stations)) return;
    const auto& rows = job_.propeller.stations;
    if (rows.size() < 3) {
      report(station_table, "three rows or more", "the table is too short for a blade",
             "add stations");
    } else if (rows.back().radius_m < job_.propeller.diameter_m / 2 - bench_length_m) {
      report(fmt::format("{}[{}].radius", station_table, rows.size()),
             text(job_.propeller.diameter_m / 2), "the last station is not the tip",
             "add the tip or correct propeller.diameter");
    }
  }

  void readings() {
    const Propeller& p = job_.propeller;
    if (given(measured_angle_table)) radii_increase(measured_angle_table, p.measured_angles);
    if (!given(measured_chord_table)) return;
    if (!radii_increase(measured_chord_table, p.measured_chords)) return;
    if (p.measured_chords.size() < 3) {
      report(measured_chord_table, "three rows or more", "too few readings for an outline",
             "measure more chords, the first at the root");
    }
  }

  /// Root radius of the blade, however it is stated; 0 when unknown.
  double root_m() const {
    const Propeller& p = job_.propeller;
    if (!p.stations.empty()) return p.stations.front().radius_m;
    if (!p.measured_chords.empty()) return p.measured_chords.front().radius_m;
    return p.root_radius_m;
  }

  void learned_directions() {
    const auto& rows = job_.learned.directions;
    if (rows.size() > learned_count) {
      report(learned_direction_table, fmt::format("up to {} rows", learned_count),
             "there are more directions than parameters", "learn anew");
    }
    for (std::size_t i = 0; i < rows.size(); ++i) {
      double squares = 0;
      for (const LearnedKey& key : learned_keys()) {
        squares += rows[i].*(key.component) * rows[i].*(key.component);
      }
      if (std::abs(std::sqrt(squares) - 1) < 0.01) continue;
      report(fmt::format("{}[{}]", learned_direction_table, i + 1), "0.99 to 1.01",
             fmt::format("the direction's length, root of the sum of its components squared, is "
                         "{:.3f}",
                         std::sqrt(squares)),
             "learn anew, or remove this direction");
    }
  }

  void gauge() {
    const auto& gauge_m = job_.propeller.gauge_radius_m;
    if (!gauge_m || !sound({"propeller.diameter", "propeller.outline.root_radius"})) return;
    const double tip_m = job_.propeller.diameter_m / 2;
    if (*gauge_m >= root_m() && *gauge_m <= tip_m) return;
    report("propeller.gauge_radius", fmt::format("{} to {}", text(root_m()), text(tip_m)),
           "the gauge radius is not on the blade", "give a radius between root and tip");
  }

  /// A test is given whole or not at all.
  void whole(const char* test, std::initializer_list<const char*> names) {
    const bool any =
        std::any_of(names.begin(), names.end(), [this](const char* name) { return given(name); });
    if (!any) return;
    for (const char* name : names) {
      if (given(name)) continue;
      report(name, {}, fmt::format("the {} of the blade is incomplete without it", test),
             "add it, or leave the whole test out");
    }
  }

  void blade_tests() {
    whole("twist test", {"propeller.flex.twist_mass", "propeller.flex.twist_arm",
                         "propeller.flex.twist_radius", "propeller.flex.twist_angle"});
    whole("bend test", {"propeller.flex.bend_mass", "propeller.flex.bend_radius",
                        "propeller.flex.bend_deflection"});
    const double tip_m = job_.propeller.diameter_m / 2;
    const FlexTests& tests = job_.propeller.flex;
    if (!sound({"propeller.diameter"})) return;
    const auto on_blade = [&](const char* name, const std::optional<double>& radius_m) {
      if (!sound({name}) || !radius_m || *radius_m <= tip_m + bench_length_m) return;
      report(name, fmt::format("up to {}", text(tip_m)), "the place lies outside the tip",
             "check it and propeller.diameter");
    };
    on_blade("propeller.flex.twist_radius", tests.twist_radius_m);
    on_blade("propeller.flex.bend_radius", tests.bend_radius_m);
  }

  void spar() {
    const auto sizes = {"propeller.spar.root_width", "propeller.spar.root_depth",
                        "propeller.spar.tip_width", "propeller.spar.tip_depth"};
    const Spar& spar = job_.propeller.spar;
    if (!sound({"propeller.spar.length", "propeller.spar.root_radius", "propeller.diameter"}) ||
        !sound(sizes)) {
      return;
    }
    const double values_m[] = {spar.root_width_m, spar.root_depth_m, spar.tip_width_m,
                               spar.tip_depth_m};
    const double* value_m = values_m;
    for (const char* name : sizes) {
      const bool sized = *value_m++ > 0;
      if (spar.length_m > 0 && !sized) {
        report(name, "above 0", "the spar has a length but this size is missing", "add it");
      } else if (spar.length_m == 0 && sized) {
        report(name, {}, "the spar has sizes but no length", "add propeller.spar.length");
        return;
      }
    }
    const double tip_m = job_.propeller.diameter_m / 2;
    if (spar.root_radius_m + spar.length_m <= tip_m + bench_length_m) return;
    report("propeller.spar.length",
           fmt::format("up to {}", text(std::max(0.0, tip_m - spar.root_radius_m))),
           "the spar ends outside the tip", "shorten it or check propeller.spar.root_radius");
  }

  void covering() {
    const BladeBuild& build = job_.propeller.build;
    if (build.kind != BladeKind::built_up || !sound({"propeller.blade.covering"})) return;
    if (build.covering_kg_m2 > 0) return;
    report("propeller.blade.covering", "above 0", "a built-up blade needs a covering",
           "add what your film or tissue weighs per area, for example \"0.6 g/m2\"");
  }

  const Job& job_;
  const Source& source_;
  base::Problems& problems_;
};

}  // namespace

void check_together(const Job& job, const Source& source, base::Problems& problems) {
  Review(job, source, problems).all();
}

}  // namespace propwright::brief
