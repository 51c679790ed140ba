#include "propwright/bench/replacement.h"

#include <fmt/format.h>

#include <cmath>

#include "check.h"
#include "propwright/bench/weighing.h"
#include "propwright/spar/deflection.h"

namespace propwright::bench {
namespace {

void check_outline(Checks& checks, const Survivor& s) {
  for (std::size_t i = 0; i < s.outline.size(); ++i) {
    const OutlineWidth& w = s.outline[i];
    const auto field = [&](const char* name) { return fmt::format("outline[{}].{}", i, name); };
    const double inner = i > 0 ? s.outline[i - 1].radius_m + 1e-6 : 0;
    checks.within(w.radius_m, inner, s.blade.length_m, field("radius_m"), in_mm(w.radius_m),
                  fmt::format("rising, at most {}", in_mm(s.blade.length_m)),
                  "give the stations from the root outwards");
    checks.within(w.lead_m, -1, 1, field("lead_m"), in_mm(w.lead_m), "-1 to 1 m",
                  "measure from the spar line to the leading edge");
    checks.within(w.trail_m, -w.lead_m, 1, field("trail_m"), in_mm(w.trail_m),
                  "a chord of 0 or more", "measure from the spar line to the trailing edge");
  }
}

void check_spar(Checks& checks, const SurvivingSpar& s, const std::optional<spar::Rig>& rig) {
  base::Problems shape = spar::problems(s.taper);
  if (rig && shape.empty()) checks.add(spar::problems(*rig, spar::length_m(s.taper)), "rig.");
  checks.add(std::move(shape), "spar.");
  check_mass(checks, s.mass_kg, "spar.mass_kg");
  for (const auto& [E, field] :
       {std::pair{s.E_0_Pa, "spar.E_0_Pa"}, std::pair{s.E_90_Pa, "spar.E_90_Pa"}}) {
    checks.within(E.value, 1e6, 1e12, field, fmt::format("{:g} GPa", E.value / 1e9),
                  "0.001 to 1000 GPa", "reduce the spar's readings first");
  }
}

base::Problems survivor_problems(const Survivor& s, const ReplacementOptions& o) {
  Checks checks;
  check_outline(checks, s);
  if (s.spar) check_spar(checks, *s.spar, o.rig);
  if (s.humidity_then.has_value() != s.humidity_now.has_value()) {
    checks.add(s.humidity_now ? "humidity_then" : "humidity_now", "missing",
               "both humidities or neither", "give the air of both days", "half a correction");
  }
  const auto share = [&](double value, const char* field) {
    checks.within(value, 1e-6, 1, field, fmt::format("{:g}", value), "above 0, at most 1",
                  "leave it out for the usual tolerance");
  };
  share(o.spar_share, "options.spar_share");
  share(o.outline_share, "options.outline_share");
  share(o.tolerances.mass_share, "options.tolerances.mass_share");
  share(o.tolerances.angle_rad, "options.tolerances.angle_rad");
  share(o.tolerances.length_m, "options.tolerances.length_m");
  share(o.tolerances.camber, "options.tolerances.camber");
  return checks.take();
}

base::Expected<Target> spar_target(const SurvivingSpar& s, spar::Bending bending,
                                   const ReplacementOptions& o) {
  const bool up = bending == spar::Bending::depth;
  const Figure E = up ? s.E_0_Pa : s.E_90_Pa;
  const char* mark = up ? "mark up" : "mark at the side";
  const double share = E.sigma / E.value;
  const spar::SecondMoments I = spar::second_moments(spar::section_at(s.taper, 0));
  const double EI = E.value * (up ? I.i_0_m4 : I.i_90_m4);
  if (!o.rig) {
    return Target{fmt::format("spar EI at the root, {}", mark),
                  "N m2",
                  {},
                  EI,
                  o.spar_share * EI,
                  share * EI};
  }
  const spar::Beam beam{.taper = s.taper, .mass_kg = s.mass_kg, .bending = bending};
  auto reading = spar::reading_m(beam, *o.rig, EI);
  if (!reading) {
    for (base::Problem& p : reading.error()) p.field = "spar." + p.field;
    return base::fail(std::move(reading.error()));
  }
  const double deflection = std::abs(*reading - o.rig->zero_reading_m);
  return Target{fmt::format("spar reading, {}", mark),
                "m",
                {},
                *reading,
                o.spar_share * deflection,
                share * deflection};
}

void add_outline(const Survivor& s, double share, std::vector<Target>& targets) {
  double lead = 0, trail = 0;
  for (std::size_t i = 0; i < s.outline.size(); ++i) {
    const OutlineWidth& w = s.outline[i];
    const double chord = w.lead_m + w.trail_m;
    targets.push_back({"chord", "m", w.radius_m, chord, share * chord, 0});
    if (i == 0) continue;
    const OutlineWidth& last = s.outline[i - 1];
    lead += std::hypot(w.radius_m - last.radius_m, w.lead_m - last.lead_m);
    trail += std::hypot(w.radius_m - last.radius_m, w.trail_m - last.trail_m);
  }
  if (s.outline.size() < 2) return;
  targets.push_back({"leading edge, length", "m", {}, lead, share * lead, 0});
  targets.push_back({"trailing edge, length", "m", {}, trail, share * trail, 0});
}

void add_blade(const BladeFigures& f, const ReplacementFigures& r, const BladeTolerances& t,
               std::vector<Target>& targets) {
  const double factor = r.humidity_factor.value;
  const auto weighed = [&](const char* name, const char* unit, Figure figure) {
    const double value = figure.value * factor;
    targets.push_back({name,
                       unit,
                       {},
                       value,
                       t.mass_share * value,
                       std::hypot(factor * figure.sigma, figure.value * r.humidity_factor.sigma)});
  };
  targets.push_back({"length", "m", {}, f.length_m.value, t.length_m, f.length_m.sigma});
  for (const BladeStation& s : f.stations) {
    targets.push_back(
        {"angle", "rad", s.radius_m, s.angle_rad.value, t.angle_rad, s.angle_rad.sigma});
  }
  for (const CamberStation& c : f.cambers) {
    targets.push_back({"camber", "1", c.radius_m, c.camber.value, t.camber, c.camber.sigma});
  }
  weighed("mass", "kg", f.mass_kg);
  if (f.moment_kgm) weighed("moment about the shaft", "kg m", *f.moment_kgm);
}

std::string shown_target(const Target& t) {
  if (t.unit == "m")
    return fmt::format("{:.2f} mm, within {:.2g}", 1e3 * t.value, 1e3 * t.tolerance);
  if (t.unit == "kg")
    return fmt::format("{:.4g} mg, within {:.2g}", 1e6 * t.value, 1e6 * t.tolerance);
  if (t.unit == "rad") {
    return fmt::format("{:.1f} degrees, within {:.2g}", t.value / base::degree_rad,
                       t.tolerance / base::degree_rad);
  }
  if (t.unit == "kg m") {
    return fmt::format("{:.4g} mg mm, within {:.2g}", 1e9 * t.value, 1e9 * t.tolerance);
  }
  if (t.unit == "N m2") {
    return fmt::format("{:.4g} N mm2, within {:.2g}", 1e6 * t.value, 1e6 * t.tolerance);
  }
  return fmt::format("{:.1f} %, within {:.2g}", 100 * t.value, 100 * t.tolerance);
}

std::vector<std::string> target_sentences(const ReplacementFigures& f) {
  std::vector<std::string> out;
  for (const Target& t : f.targets) {
    const std::string at = t.radius_m ? fmt::format(" at {}", in_mm(*t.radius_m)) : std::string();
    const bool coarse = 1.645 * t.sigma > t.tolerance;
    out.push_back(fmt::format("{}{}: {}{}.", t.name, at, shown_target(t),
                              coarse ? "; the survivor is known no better, measure it again" : ""));
  }
  if (f.humidity_factor.value != 1) {
    out.push_back(fmt::format("Masses are those of the survivor in today's air, {:+.1f} % on then.",
                              100 * (f.humidity_factor.value - 1)));
  }
  return out;
}

}  // namespace

base::Expected<ReplacementFigures> replacement(const Survivor& survivor,
                                               const Instruments& instruments,
                                               const ReplacementOptions& options) {
  Checks checks;
  const auto blade = blade_figures(survivor.blade, instruments);
  if (!blade) checks.add(blade.error(), "blade.");
  checks.add(survivor_problems(survivor, options));
  ReplacementFigures f;
  if (survivor.humidity_then && survivor.humidity_now) {
    const auto air =
        humidity_factor(survivor.temperature_then_C, *survivor.humidity_then,
                        survivor.temperature_now_C, *survivor.humidity_now, survivor.wood_share);
    if (air) {
      f.humidity_factor = air->factor;
    } else {
      checks.add(air.error());
    }
  }
  if (!checks.sound()) return base::fail(checks.take());
  if (survivor.spar) {
    for (const spar::Bending bending : {spar::Bending::depth, spar::Bending::width}) {
      const auto target = spar_target(*survivor.spar, bending, options);
      if (!target) return base::fail(target.error());
      f.targets.push_back(*target);
    }
    const double mass = survivor.spar->mass_kg;
    f.targets.push_back({"spar mass",
                         "kg",
                         {},
                         mass,
                         options.tolerances.mass_share * mass,
                         net_mass_sigma_kg(instruments)});
  }
  add_outline(survivor, options.outline_share, f.targets);
  add_blade(*blade, f, options.tolerances, f.targets);
  f.sentences = target_sentences(f);
  return f;
}

}  // namespace propwright::bench
