/// The printable build packet: a PDF, one SVG per template, a CSV of the stations.
/// Everything here is plain page data in SI; the sheet module prints it in the user's units, works
/// nothing out about flight or rubber, reads no clock and asks for no installed font.
/// A page whose data is empty (no spar, no ribs, no curve) is left out and the pages renumber.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/base/problem.h"
#include "propwright/form/form.h"
#include "propwright/units/units.h"

namespace propwright::sheet {

enum class Paper { a4, letter };

struct PacketOptions {
  Paper paper = Paper::a4;
  units::Profile profile = units::Profile::metric;
  /// What the 100 mm bar of an earlier print measured; all true-scale drawing is scaled by
  /// 0.100/measured. 0.095..0.105 m.
  std::optional<double> bar_measured_m;
  std::string date;  ///< "2026-11-25", printed as "25 Nov 2026"; also the PDF's creation date
};

/// A line of a chart: as many y as x, x rising.
struct Series {
  std::vector<double> x, y;
};

/// What the packet is for.
struct JobLine {
  std::string design;  ///< name of the propeller: "P14"
  int version = 1;
  std::string model, hall;  ///< names
  double roof_m = 0;        ///< lowest obstacle above the floor, > 0
};

/// The predicted flight in one sentence.
struct Headline {
  double duration_s = 0;
  double sigma_s = 0;            ///< the "±"; 0 = not computed, left out
  double low_s = 0, high_s = 0;  ///< 5 % and 95 % of the samples; both 0 = left out
  double bound_s = 0;            ///< the longest any propeller could fly it; 0 = left out
  double top_height_m = 0, top_time_s = 0;
  double turns_left = 0;
  std::string sentence;  ///< empty = composed from the numbers above
};

struct PropellerFacts {
  double diameter_m = 0;
  int blades = 2;
  form::Hand hand = form::Hand::anticlockwise;
  std::string kind;         ///< "sheet", "built-up": printed as it is
  double form_pitch_m = 0;  ///< the form the blades are made on; 0 = not made on a form
  double set_pitch_m = 0;   ///< local pitch at the gauge radius once set
  double gauge_radius_m = 0, gauge_angle_rad = 0;  ///< where and how the blade is set; (0, pi/2)
  double turn_rad = 0;     ///< every station turns by this from the form; + = more pitch
  double radius_45_m = 0;  ///< where the set blade stands at 45 degrees; 0 = nowhere
  double widest_chord_m = 0;
  double camber = 0;   ///< height over chord; of the blade as planned
  double mass_kg = 0;  ///< whole propeller, planned; 0 = left out
};

struct MotorFacts {
  std::string rubber;                               ///< name of the batch; may be empty
  double strip_width_m = 0, strip_thickness_m = 0;  ///< 0 = not known, left out
  int strands = 2;
  double loop_length_m = 0;
  double mass_kg = 0;
  double breaking_turns = 0;
  double wind_turns = 0;      ///< wind to
  double wind_torque_Nm = 0;  ///< the meter's reading there; 0 = left out
  double backed_off_turns = 0;
  double launch_turns = 0;  ///< = wound - backed off
  double launch_torque_Nm = 0;
  double wait_s = 0;  ///< wound, before the launch
};

struct FlightCurves {
  Series height_m, rev_per_s, torque_Nm;                     ///< over time_s; torque is the motor's
  std::vector<double> band_time_s, band_low_m, band_high_m;  ///< 5 % and 95 %; may be empty
};

/// Whose energy a part of the ledger is; decides its hue.
enum class EnergyOwner { motor, propeller, airframe, other };
struct EnergyPart {
  std::string label;    ///< "left in the motor"; short
  double energy_J = 0;  ///< signed; negative parts are listed, not drawn in the bar
  EnergyOwner owner = EnergyOwner::other;
};

/// One instant at which the blade is looked at closely: launch, cruise, let-down.
struct Condition {
  std::string name;
  double advance_ratio = 0;
  double efficiency = 0;
  double rev_per_s = 0;
  double motor_torque_Nm = 0;  ///< at the shaft, what the rotor is given
  Series alpha_rad;            ///< angle of attack over radius_m
};

struct RotorCurves {
  Series efficiency;                     ///< over advance ratio V/(n D)
  double flown_low = 0, flown_high = 0;  ///< advance ratios met in the flight
  double speed_m_s = 0;                  ///< flight speed of the torque line below
  Series torque_Nm;                      ///< rotor torque over rev_per_s at that speed
  std::vector<Condition> conditions;     ///< in order of the flight; at most 4
};

/// One row of the station table.
struct StationRow {
  double radius_m = 0, chord_m = 0;
  double angle_rad = 0;        ///< blade angle from the disc plane, as it flies
  double pitch_m = 0;          ///< local geometric pitch, 2 pi r tan(angle)
  double gauge_angle_rad = 0;  ///< what a gauge reads there once the blade is set
  double form_angle_rad = 0;   ///< of the form, over-bend included
  double block_height_m = 0, block_width_m = 0;
  double camber_height_m = 0;
  double sheet_width_m = 0;        ///< along the cambered surface
  double lead_m = 0, trail_m = 0;  ///< spar line to leading and trailing edge
};

/// A template that belongs to a radius.
struct RadiusTemplate {
  form::Template drawing;
  double radius_m = 0;
  double angle_rad = 0;  ///< of the form there; 0 = not told (ribs)
};

struct SparRow {
  double along_m = 0;               ///< from the root end
  double width_m = 0, depth_m = 0;  ///< as the job states them
};
struct CutItem {
  std::string name;  ///< "spar blank", "rib", "outline strip"
  int count = 0;
  double length_m = 0, width_m = 0, depth_m = 0;  ///< 0 = left out
  double mass_kg = 0;                             ///< of all of them together; 0 = left out
};
struct SparData {
  /// Rows at every 20 mm (metric) or 1 in (inch) and the two ends; empty = no spar page.
  std::vector<SparRow> rows;
  int count = 2;
  double density_kg_m3 = 0;
  double mass_kg = 0;  ///< of one
  std::vector<CutItem> cut_list;
};

struct WeightRow {
  std::string part;  ///< "blades, two"
  double mass_kg = 0;
};

/// One choice of how many turns to back off.
struct BackOffRow {
  double backed_off_turns = 0, launch_turns = 0, launch_torque_Nm = 0;
  std::optional<double> top_height_m, duration_s;
};

struct WindingData {
  Series unwinding_Nm;               ///< torque over turns, 0 to breaking
  Series winding_Nm;                 ///< the same while winding; may be empty
  std::vector<BackOffRow> back_off;  ///< may be empty
};

struct PacketData {
  JobLine job;
  Headline headline;
  PropellerFacts propeller;
  MotorFacts motor;
  FlightCurves flight;
  std::vector<EnergyPart> energy;  ///< parts of what the motor would give from breaking turns
  RotorCurves rotor;
  std::vector<StationRow> stations;  ///< radius rising
  std::optional<form::Template> outline;
  std::vector<std::string> outline_notes;  ///< "Sheet 0.6 mm, 80 kg/m³, pair within 2 mg."
  std::vector<RadiusTemplate> form_stations;
  std::vector<RadiusTemplate> ribs;  ///< built-up blades only
  SparData spar;
  std::vector<WeightRow> weights;
  WindingData winding;
  std::vector<std::string> warnings, notes, assumptions;  ///< of the job, one sentence each
};

/// A drawn PDF.
struct PacketPdf {
  std::string bytes;
  std::vector<std::string> pages;  ///< sheet name of each page, in order
};

/// The PDF. Same data and options: same bytes, on every machine with the same libraries.
/// Problems: bad_input (a number that is not finite, a series of unequal lengths, the bar or the
/// date out of range), resource_failed (no temporary folder for the fonts).
base::Expected<PacketPdf> packet_pdf(const PacketData& data, const PacketOptions& options);

/// One template as SVG in mm, 1:1 with a margin, with both scale bars; text as paths.
/// Problems as packet_pdf.
base::Expected<std::string> template_svg(const form::Template& drawing,
                                         const PacketOptions& options);

/// The station table as CSV: '#' lines with design and units, then SI columns radius_m, chord_m,
/// angle_deg, pitch_m, gauge_angle_deg, form_angle_deg, block_height_m, block_width_m,
/// camber_height_m, sheet_width_m, lead_m, trail_m. Lines end in LF.
std::string stations_csv(const PacketData& data);

struct PacketFile {
  std::string path;  ///< directory/name
  std::string kind;  ///< "pdf", "csv", "svg"
  int pages = 0;     ///< 1 for csv and svg
};
using PacketFiles = std::vector<PacketFile>;

/// Writes packet.pdf, stations.csv and, for each template, svg/<name>.svg and dxf/<name>.dxf, in
/// that order, making the directory where needed. Each file is written beside its place and
/// renamed, so that none is ever half there. Problems as packet_pdf; resource_failed with the path
/// when the disk refuses.
base::Expected<PacketFiles> write_packet(const PacketData& data, const PacketOptions& options,
                                         const std::string& directory);

}  // namespace propwright::sheet
