#include "propwright/shape/shape.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "candidates.h"
#include "propwright/base/constants.h"
#include "propwright/form/form.h"
#include "propwright/predict/predict.h"

namespace propwright::shape {
namespace {

// Few enough to be read and typed; cubics between them give the same loads to a thousandth.
constexpr int blade_rows = 18;
constexpr double least_share_of_revs = 0.5, most_share_of_revs = 2;

rotor::DesignRequest design_request(const predict::Nominal& nominal, const Request& request) {
  const brief::Assembly& a = nominal.assembly;
  rotor::DesignRequest design{
      .condition = {request.speed_m_s.value_or(nominal.flight.cruise_speed_m_s),
                    request.rev_per_s.value_or(nominal.flight.cruise_rev_per_s)},
      .flow = {a.air.density_kg_m3, a.air.viscosity_Pa_s},
      .thrust_N = request.thrust_N.value_or(nominal.flight.cruise_thrust_N),
      .power_W = {},
      .lift = request.lift,
      .largest_chord_m = request.largest_chord_m};
  design.tip_radius_m =
      a.blade.tip_radius_m > 0 ? a.blade.tip_radius_m : a.blade.rows.back().radius_m;
  design.hub_radius_m =
      a.blade.hub_radius_m > 0 ? a.blade.hub_radius_m : a.blade.rows.front().radius_m;
  design.arm_diameter_m = a.blade.arm_diameter_m;
  design.blades = a.blade.blades;
  design.camber = a.form.camber;
  design.rows = blade_rows;
  return design;
}

Candidate ideal_candidate(const rotor::Design& design, const Bench& bench) {
  Candidate candidate{.kind = Kind::ideal};
  candidate.blade = bench.ideal;
  candidate.efficiency = design.efficiency;
  candidate.rev_per_s = design.condition.rev_per_s;
  candidate.torque_Nm = design.torque_Nm;
  candidate.camber = design.camber;
  candidate.gauge_radius_m = bench.gauge_radius_m;
  candidate.gauge_angle_rad = angle_at(bench.ideal, bench.gauge_radius_m);
  return candidate;
}

/// The job's blade at its own cruise.
std::optional<Candidate> present_candidate(const predict::Nominal& nominal, const Shape& shape) {
  const flight::Flight& flight = nominal.flight;
  const auto result =
      nominal.rotor.solve({flight.cruise_speed_m_s, flight.cruise_rev_per_s}, shape.flow);
  if (!result) return std::nullopt;
  const rotor::Loads& loads = result->loads;
  Candidate candidate{.kind = Kind::present};
  candidate.blade = nominal.assembly.blade;
  candidate.rev_per_s = flight.cruise_rev_per_s;
  candidate.torque_Nm = loads.torque_Nm;
  candidate.camber = camber_of(candidate.blade);
  candidate.efficiency = loads.thrust_N * flight.cruise_speed_m_s /
                         (loads.torque_Nm * 2 * base::pi * flight.cruise_rev_per_s);
  candidate.gauge_radius_m = nominal.assembly.gauge_radius_m;
  candidate.gauge_angle_rad = nominal.assembly.gauge_angle_rad;
  candidate.duration_s = flight.duration_s;
  return candidate;
}

void fly(const brief::Job& job, const brief::Attachments& attachments, Candidate& candidate) {
  const auto flown = predict::predict(with_blade(job, candidate, "shaped"), attachments);
  if (flown) {
    candidate.duration_s = flown->flight.duration_s;
    return;
  }
  candidate.notes.push_back("does not fly: " + flown.error().front().message);
}

/// Adds the candidate, or a note of why it cannot be.
void add(Shape& shape, base::Expected<Candidate> candidate, const std::string& what) {
  if (candidate) {
    shape.makeable.push_back(std::move(*candidate));
  } else {
    const base::Problem& problem = candidate.error().front();
    shape.notes.push_back(what + ": " + problem.message +
                          (problem.remedy.empty() ? "" : "; " + problem.remedy));
  }
}

base::Expected<rotor::Design> designed(const rotor::DesignRequest& wanted, const Request& request,
                                       const section::Family& family, Shape& shape) {
  if (!request.free_revs) return rotor::minimum_loss(wanted, family);
  auto best =
      rotor::minimum_loss_free_revs(wanted, least_share_of_revs * wanted.condition.rev_per_s,
                                    most_share_of_revs * wanted.condition.rev_per_s, family);
  if (!best) return tl::unexpected(best.error());
  shape.revs_at_limit = best->at_limit;
  return std::move(best->design);
}

std::string label_of(const OwnedForm& form) {
  return form.name.empty() ? fmt::format("form of {:.0f} mm", 1e3 * form.pitch_m) : form.name;
}

/// To what can be set and measured on a blade, and read in a table.
double rounded(double value, double per_unit) {
  return std::round(value * per_unit) / per_unit;
}

}  // namespace

std::string to_text(Kind kind) {
  switch (kind) {
    case Kind::ideal:
      return "ideal";
    case Kind::present:
      return "present";
    case Kind::helical:
      return "helical";
    case Kind::owned_form:
      return "form";
    case Kind::cylinder:
      break;
  }
  return "cylinder";
}

base::Expected<Shape> shape(const brief::Job& job, const brief::Attachments& attachments,
                            const Request& request) {
  const auto nominal = predict::predict(job, attachments);
  if (!nominal) return tl::unexpected(nominal.error());
  const brief::Assembly& assembly = nominal->assembly;
  const rotor::DesignRequest wanted = design_request(*nominal, request);
  Shape shape{.thrust_N = *wanted.thrust_N, .flow = wanted.flow};
  auto design = designed(wanted, request, assembly.family, shape);
  if (!design) return tl::unexpected(design.error());
  shape.design = std::move(*design);
  shape.condition = shape.design.condition;

  Bench bench{.family = &assembly.family,
              .condition = shape.condition,
              .flow = shape.flow,
              .thrust_N = shape.thrust_N,
              .ideal = shape.design.blade()};
  bench.gauge_radius_m =
      std::clamp(0.7 * wanted.tip_radius_m, wanted.hub_radius_m, wanted.tip_radius_m);
  if (job.propeller.build.kind == brief::BladeKind::sheet) {
    bench.sheet_thickness_m = job.propeller.build.sheet_thickness_m;
  }
  shape.ideal = ideal_candidate(shape.design, bench);
  shape.present = present_candidate(*nominal, shape);
  add(shape, helical(bench), "helical");
  for (const OwnedForm& form : request.forms) {
    if (form.hand.value_or(job.propeller.hand) != job.propeller.hand) {
      shape.notes.push_back(label_of(form) + ": its blades turn the other way");
    } else {
      add(shape, on_form(bench, form), label_of(form));
    }
  }
  for (const form::Cylinder& cylinder : request.cylinders) {
    add(shape, on_cylinder(bench, cylinder), cylinder.name);
  }
  if (std::any_of(shape.makeable.begin(), shape.makeable.end(), [&](const Candidate& candidate) {
        return candidate.efficiency > shape.ideal.efficiency;
      })) {
    shape.notes.push_back(
        "A blade here is a little better than the one of least loss: the condition it follows "
        "leaves out that a section's drag changes with its load.");
  }
  if (!request.fly) return shape;
  fly(job, attachments, shape.ideal);
  for (Candidate& candidate : shape.makeable) fly(job, attachments, candidate);
  shape.notes.push_back("Durations are with the motor and the launch plan of the job.");
  return shape;
}

brief::Job with_blade(const brief::Job& job, const Candidate& candidate, const std::string& name) {
  brief::Job with = job;
  brief::Propeller& propeller = with.propeller;
  propeller.name = name;
  propeller.source = brief::BladeSource::stations;
  propeller.pitch_m.reset();
  propeller.form_pitch_m.reset();
  propeller.measured_angles.clear();
  propeller.measured_chords.clear();
  const brief::Propeller usual;
  propeller.root_radius_m = usual.root_radius_m;
  propeller.widest_chord_m = usual.widest_chord_m;
  propeller.widest_at = usual.widest_at;
  propeller.root_chord_m = usual.root_chord_m;
  propeller.tip_roundness = usual.tip_roundness;
  propeller.gauge_radius_m = candidate.gauge_radius_m;
  propeller.stations.clear();
  for (const rotor::BladeRow& row : candidate.blade.rows) {
    propeller.stations.push_back({rounded(row.radius_m, 1e4), rounded(row.chord_m, 1e5),
                                  rounded(row.angle_rad / base::degree_rad, 100) * base::degree_rad,
                                  rounded(row.camber, 1e4)});
  }
  propeller.stations.back().radius_m = candidate.blade.rows.back().radius_m;
  return with;
}

}  // namespace propwright::shape
