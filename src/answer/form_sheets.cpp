// The form's answer as pages: tables, map, groups of drawings.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "propwright/answer/form_answer.h"
#include "propwright/base/constants.h"

namespace propwright::answer {
namespace {

using sheet::FormTable;
using sheet::Measure;
using D = units::Dimension;

std::string length_text(double si, const FormAnswer& answer) {
  return units::to_text(si, D::length, answer.profile);
}

FormTable stations_table(const FormAnswer& answer) {
  FormTable table{
      .title = "Stations",
      .words =
          "Radii from the shaft axis, angles from the disc plane. Form: to make it with, "
          "over-bend included. Set: what a gauge reads once the blade is set. One degree wrong "
          "changes the pitch there by so much. Block: the chord across and along the shaft.",
      .columns = {{"radius", Measure::radius},
                  {"chord", Measure::length},
                  {"form\nangle", Measure::angle},
                  {"form\npitch", Measure::pitch},
                  {"set\nangle", Measure::angle},
                  {"set\npitch", Measure::pitch},
                  {"a degree\nis", Measure::percent},
                  {"block\nwidth", Measure::length},
                  {"block\nheight", Measure::length},
                  {"camber", Measure::stock},
                  {"sheet\nwidth", Measure::length}}};
  for (std::size_t i = 0; i < answer.stations.size(); ++i) {
    const FormRow& row = answer.stations[i];
    const form::FormStation& s = row.form;
    if (row.at_45) table.strong_row = static_cast<int>(i);
    table.rows.push_back({{s.radius_m},
                          {s.chord_m},
                          {s.angle_rad},
                          {s.pitch_m},
                          {row.set_angle_rad},
                          {row.set_pitch_m},
                          {row.pitch_per_degree},
                          {s.block_width_m},
                          {s.block_height_m},
                          {s.camber_height_m},
                          {s.sheet_width_m}});
  }
  return table;
}

FormTable pitches_table(const FormAnswer& answer) {
  FormTable table{.title = "Three pitches, kept apart",
                  .columns = {{"pitch of", Measure::word},
                              {"pitch", Measure::pitch},
                              {"at radius", Measure::radius},
                              {"how it is known", Measure::word}}};
  if (answer.form_pitch_m > 0) {
    table.rows.push_back({{0, "the form"}, {answer.form_pitch_m}, {0, "all"}, {0, "cut to it"}});
  }
  table.rows.push_back(
      {{0, "the set blade"},
       {answer.set_pitch_m},
       {answer.gauge_radius_m},
       {0, fmt::format("gauge at {:.1f}°", answer.gauge_angle_rad / base::degree_rad)}});
  if (answer.flying_pitch_m > 0) {
    table.rows.push_back(
        {{0, "the flight"}, {answer.flying_pitch_m}, {0, "–"}, {0, "advance a turn"}});
  }
  return table;
}

FormTable block_table(const FormAnswer& answer) {
  const form::Block& block = *answer.block;
  FormTable table{
      .title = "Carved block",
      .words = fmt::format("Block of {} by {} by {} (length, width, height). Heights "
                           "stand over the bench, edges from the spar line in plan.",
                           length_text(block.length_m, answer), length_text(block.width_m, answer),
                           length_text(block.height_m, answer)),
      .columns = {{"radius", Measure::radius},
                  {"angle", Measure::angle},
                  {"width", Measure::length},
                  {"depth", Measure::length},
                  {"leading\nedge", Measure::length},
                  {"trailing\nedge", Measure::length},
                  {"height,\nleading", Measure::length},
                  {"height,\ntrailing", Measure::length},
                  {"height,\nspar", Measure::length}}};
  for (const form::BlockStation& s : block.stations) {
    table.rows.push_back({{s.radius_m},
                          {s.angle_rad},
                          {s.width_m},
                          {s.depth_m},
                          {s.lead_m},
                          {s.trail_m},
                          {s.lead_height_m},
                          {s.trail_height_m},
                          {s.spar_height_m}});
  }
  return table;
}

FormTable ribbed_table(const FormAnswer& answer) {
  const form::Ribbed& ribbed = *answer.ribbed;
  FormTable table{.title = "Ribs of the form",
                  .words = fmt::format(
                      "Sheet of {}, slots drawn {} wide; the spar line stands {} over the base. "
                      "Bevel: sand the rib's top down by so much to the middle of its edge.",
                      length_text(ribbed.sheet_m, answer), length_text(ribbed.slot_m, answer),
                      length_text(ribbed.spar_height_m, answer)),
                  .columns = {{"rib", Measure::count},
                              {"radius", Measure::radius},
                              {"angle", Measure::angle},
                              {"width", Measure::length},
                              {"height", Measure::length},
                              {"bevel", Measure::stock}}};
  double number = 0;
  for (const form::RibbedRib& rib : ribbed.ribs) {
    table.rows.push_back({{++number},
                          {rib.radius_m},
                          {rib.angle_rad},
                          {rib.width_m},
                          {rib.height_m},
                          {rib.bevel_m}});
  }
  return table;
}

FormTable cylinder_table(const FormAnswer& answer) {
  const form::CylinderFit& fit = *answer.cylinder;
  FormTable table{
      .title = "Cylinder",
      .words = fmt::format(
          "{} of {} across; the blade's spar line turned {:.1f}° from the cylinder's axis. It "
          "twists "
          "evenly: angles are off by {:.1f}° (root mean square, weighted by chord and radius).",
          answer.cylinder_name.empty() ? "Cylinder" : answer.cylinder_name,
          length_text(2 * fit.cylinder_radius_m, answer), fit.skew_rad / base::degree_rad,
          fit.rms_angle_error_rad / base::degree_rad),
      .columns = {{"radius", Measure::radius},
                  {"angle", Measure::angle},
                  {"off by", Measure::angle},
                  {"pitch", Measure::pitch},
                  {"camber, of\nthe chord", Measure::percent}}};
  for (const form::FormedStation& s : fit.stations) {
    table.rows.push_back(
        {{s.radius_m}, {s.angle_rad}, {s.angle_error_rad}, {s.pitch_m}, {s.camber}});
  }
  return table;
}

FormTable ribs_table(const FormAnswer& answer) {
  const BuiltUp& built = *answer.built_up;
  FormTable table{
      .title = "Ribs of the blade",
      .words = fmt::format(
          "{} slices from sheet of {}, {} deep: {} cuts along the template, {} steps of {} each. "
          "Arc from edge to edge; trimmed: between the strips. From one template the camber is as "
          "in the last column.",
          built.slices.slices, length_text(built.wood.thickness_m, answer),
          length_text(built.slices.depth_m, answer), built.slices.cuts, built.slices.steps,
          length_text(built.slice_step_m, answer)),
      .columns = {{"rib", Measure::count},
                  {"radius", Measure::radius},
                  {"chord", Measure::length},
                  {"arc", Measure::length},
                  {"trimmed", Measure::length},
                  {"cut at\nleading", Measure::angle},
                  {"cut at\ntrailing", Measure::angle},
                  {"slot from\nspar root", Measure::length},
                  {"slot\nwidth", Measure::stock},
                  {"camber", Measure::percent},
                  {"from one\ntemplate", Measure::percent}}};
  for (std::size_t i = 0; i < built.ribs.size(); ++i) {
    const form::Rib& rib = built.ribs[i];
    const auto slot =
        std::find_if(built.slots.begin(), built.slots.end(),
                     [&](const form::SparSlot& each) { return each.rib == rib.number; });
    const bool slotted = slot != built.slots.end();
    table.rows.push_back({{static_cast<double>(rib.number)},
                          {rib.radius_m},
                          {rib.chord_m},
                          {rib.arc_m},
                          {rib.trimmed_m},
                          {rib.lead_cut_rad},
                          {rib.trail_cut_rad},
                          {slotted ? slot->along_m : 0, slotted ? "" : "–"},
                          {slotted ? slot->width_m : 0, slotted ? "" : "–"},
                          {rib.camber},
                          {built.slices.cambers[i]}});
  }
  return table;
}

FormTable wood_table(const FormAnswer& answer) {
  const BuiltUp& built = *answer.built_up;
  const form::OutlineStrip& strip = built.strip;
  const auto row = [](const char* what, double length, const std::string& words) {
    return std::vector<sheet::FormCell>{{0, what}, {length}, {0, words}};
  };
  FormTable table{
      .title = "Strip, covering, frame",
      .columns = {
          {"part", Measure::word}, {"length", Measure::length}, {"what to know", Measure::word}}};
  table.rows.push_back(row("outline strip", strip.length_m, "round the edge of one blade"));
  table.rows.push_back(row("strip to cut", strip.cut_length_m, "with ends to hold it by"));
  table.rows.push_back(
      row("tightest bend", strip.tightest_radius_m,
          fmt::format("{:.1f} % of strain in the strip, at radius {}{}", 100 * strip.bending_strain,
                      length_text(strip.tightest_at_m, answer),
                      strip.bending_strain > answer.strain_limit
                          ? "; steam it or glue it up from thinner strips"
                          : "")));
  const form::CoveringFrame& frame = built.frame;
  table.rows.push_back(
      row("cross sticks", frame.cross_length_m(),
          fmt::format("{} of them; the film is off by {:.1f}° at most", frame.crosses.size(),
                      frame.worst_angle_error_rad / base::degree_rad)));
  const auto total = [](const std::vector<form::FrameRail>& rail) {
    double length = 0;
    for (const form::FrameRail& piece : rail) length += piece.length_m;
    return length;
  };
  table.rows.push_back(
      row("leading rail", total(frame.lead), fmt::format("in {} pieces", frame.lead.size())));
  table.rows.push_back(
      row("trailing rail", total(frame.trail), fmt::format("in {} pieces", frame.trail.size())));
  return table;
}

FormTable covering_table(const FormAnswer& answer) {
  const BuiltUp& built = *answer.built_up;
  FormTable table{
      .title = "Film of one blade",
      .columns = {
          {"area", Measure::area}, {"to cut", Measure::area}, {"mass", Measure::part_mass}}};
  table.rows.push_back(
      {{built.covering.area_m2}, {built.covering.cut_area_m2}, {built.covering_mass_kg}});
  return table;
}

sheet::StrainMap strain_map(const FormAnswer& answer) {
  const form::FlatPattern& pattern = answer.pattern;
  sheet::StrainMap map;
  map.limit = answer.strain_limit;
  // As the drawings: leading edge on the right for clockwise.
  const double side = answer.hand == form::Hand::clockwise ? 1 : -1;
  const auto place = [side](const form::FlatPoint& p) {
    return std::pair<double, double>(side * p.across_m, p.along_m);
  };
  for (const form::FlatPoint& p : pattern.flat) map.points_m.push_back(place(p));
  map.triangles = pattern.triangles;
  for (const form::Stretch& s : pattern.stretch) {
    const double stretched = s.largest - 1, squeezed = 1 - s.smallest;
    map.strain.push_back(stretched >= squeezed ? stretched : -squeezed);
  }
  const auto edge = [&](bool plain) {
    std::vector<std::pair<double, double>> line;
    for (const auto& s : pattern.stations) line.push_back(place(plain ? s.arc_lead : s.lead));
    for (auto s = pattern.stations.rbegin(); s != pattern.stations.rend(); ++s) {
      line.push_back(place(plain ? s->arc_trail : s->trail));
    }
    return line;
  };
  map.edge_m = edge(false);
  map.plain_edge_m = edge(true);
  map.worst_m = place(pattern.worst_at);
  const double worst = std::max(pattern.worst_stretch, pattern.worst_squeeze);
  map.words = fmt::format(
      "Worst {:.2f} % at radius {}: {} the {:.1f} % set for wet sheet (your figure; 2 % is the "
      "upper "
      "end of what softened wood takes along the grain). The plain pattern is up to {} off.",
      100 * worst, length_text(pattern.worst_radius_m, answer),
      pattern.within_limit ? "inside" : "beyond", 100 * answer.strain_limit,
      length_text(pattern.arc_difference_m, answer));
  return map;
}

}  // namespace

std::string form_sentence(const FormAnswer& answer) {
  const auto degrees = [](double rad) { return rad / base::degree_rad; };
  const double share = form::pitch_error_per_degree(answer.gauge_angle_rad);
  const bool least = std::abs(degrees(answer.gauge_angle_rad) - 45) < 0.5;
  std::string words =
      fmt::format("Set both blades to {:.1f}° at {}: a degree wrong there is {:.1f} % of pitch{}.",
                  degrees(answer.gauge_angle_rad), length_text(answer.gauge_radius_m, answer),
                  100 * share, least ? ", the least anywhere on the blade" : "");
  if (answer.form_pitch_m > 0) {
    words += fmt::format(" The form is cut to {}", length_text(answer.form_pitch_m, answer));
    const double turn = degrees(answer.reset_turn_rad);
    words += std::abs(turn) < 0.05 ? "; the blades are set as they come off it."
                                   : fmt::format("; turn each blade {:.1f}° {} from it.",
                                                 std::abs(turn), turn > 0 ? "up" : "down");
  }
  return words;
}

sheet::FormSheets form_sheets(const FormAnswer& answer) {
  sheet::FormSheets sheets{.job = answer.job,
                           .hand = answer.hand,
                           .blades = answer.blades,
                           .sentence = form_sentence(answer),
                           .outline = answer.outline,
                           .tables = {},
                           .maps = {},
                           .groups = {},
                           .notes = answer.notes};
  sheets.tables = {stations_table(answer), pitches_table(answer)};
  if (answer.block) sheets.tables.push_back(block_table(answer));
  if (answer.ribbed) sheets.tables.push_back(ribbed_table(answer));
  if (answer.cylinder) sheets.tables.push_back(cylinder_table(answer));
  if (answer.built_up) {
    if (!answer.built_up->ribs.empty()) sheets.tables.push_back(ribs_table(answer));
    sheets.tables.push_back(wood_table(answer));
    sheets.tables.push_back(covering_table(answer));
  }
  sheets.maps.push_back(strain_map(answer));
  for (const FormDrawings& each : answer.drawings) sheets.groups.push_back(each.group);
  return sheets;
}

}  // namespace propwright::answer
