#include <fmt/format.h>

#include <cmath>

#include "command.h"
#include "job_files.h"
#include "propwright/answer/json_answers.h"
#include "propwright/base/constants.h"
#include "text_table.h"

namespace propwright::desk {
namespace {

using D = units::Dimension;

/// A length in the job's unit.
struct LengthPrinter {
  bool inch = false;
  std::string unit() const { return inch ? "in" : "mm"; }
  std::string operator()(double si) const {
    return units::print_in(si, D::length, unit(), inch ? 3 : 1).number;
  }
};

std::string form_text(const answer::FormAnswer& answer, const sheet::PacketFiles& files,
                      bool inch) {
  const LengthPrinter length{inch};
  std::string out = answer.hand == form::Hand::clockwise ? "Clockwise, seen from behind\n\n"
                                                         : "Anticlockwise, seen from behind\n\n";
  TextTable table({"radius " + length.unit(), "chord", "form angle °", "pitch", "block width",
                   "height", "camber", "sheet width", "% of pitch a degree"});
  for (const form::FormStation& s : answer.stations) {
    table.add({length(s.radius_m), length(s.chord_m),
               fmt::format("{:.1f}", s.angle_rad / base::degree_rad), length(s.pitch_m),
               length(s.block_width_m), length(s.block_height_m), length(s.camber_height_m),
               length(s.sheet_width_m),
               fmt::format("{:.1f}", 200 * base::degree_rad / std::sin(2 * s.angle_rad))});
  }
  out += table.text(true);
  const form::FlatPattern& p = answer.pattern;
  out += fmt::format(
      "\nFlat pattern: stretched by up to {:.1f} %, squeezed by {:.1f} %, most at radius {} {}; "
      "the "
      "plain arc-length pattern is up to {} {} off.\n",
      100 * p.worst_stretch, 100 * p.worst_squeeze, length(p.worst_radius_m), length.unit(),
      units::print_in(p.arc_difference_m, D::length, length.unit(), inch ? 3 : 2).number,
      length.unit());
  if (answer.cylinder) {
    out += fmt::format(
        "Cylinder of {} {}: blade's axis turned {:.1f}° from the cylinder's, angles off by {:.1f}° "
        "(root mean square).\n",
        length(2 * answer.cylinder->cylinder_radius_m), length.unit(),
        answer.cylinder->skew_rad / base::degree_rad,
        answer.cylinder->rms_angle_error_rad / base::degree_rad);
  }
  out += bullet_list("Notes", answer.notes);
  if (files.empty()) return out;
  out += fmt::format("\n{} drawings as SVG and DXF:\n\n", files.size() / 2);
  for (const sheet::PacketFile& file : files) out += "  " + file.path + "\n";
  return out +
         "\nSharp blades, hot water, hot irons and glue: go by the product's safety data "
         "sheet, and cut away from yourself.\n";
}

std::string reset_text(const answer::ResetAnswer& answer, bool inch) {
  const LengthPrinter length{inch};
  TextTable table({"radius " + length.unit(), "angle °", "pitch " + length.unit()});
  for (const answer::ResetRow& row : answer.rows) {
    table.add({length(row.radius_m), fmt::format("{:.2f}", row.angle_rad / base::degree_rad),
               length(row.pitch_m)});
  }
  return fmt::format("Every station turns by {:+.2f}°\n\n", answer.turn_rad / base::degree_rad) +
         table.text(true);
}

base::Problems check_form_usage(const Arguments& arguments) {
  base::Problems problems;
  const bool reset = arguments.has("--reset");
  const auto needs = [&](const char* option, bool wanted) {
    if (arguments.has(option) == wanted) return;
    problems.push_back({.field = option,
                        .remedy = wanted ? "give it" : "leave it out, or add --reset",
                        .message = wanted ? "--reset needs it" : "it belongs to --reset"});
  };
  needs("--made-on", reset);
  needs("--at", reset);
  if (!reset) {
    needs("--pitch", false);
    needs("--angle", false);
    needs("--radius", false);
    if (arguments.input.empty()) {
      problems.push_back({.field = "JOB.toml",
                          .remedy = "name a job, or give --reset",
                          .message = "there is no job to make a form for"});
    }
  } else if (arguments.has("--pitch") == arguments.has("--angle")) {
    problems.push_back({.field = "--pitch",
                        .remedy = "give --pitch or --angle",
                        .message = "--reset needs what the blade is set to"});
  }
  return problems;
}

/// A quarter to seven quarters of the gauge radius.
std::vector<double> usual_radii(double gauge_radius_m) {
  std::vector<double> radii;
  for (int quarter = 1; quarter <= 7; ++quarter) radii.push_back(gauge_radius_m * quarter / 4);
  return radii;
}

Answer answer_reset(const Arguments& arguments, OptionReader& reader) {
  const auto made_on = reader.quantity("--made-on", D::length, {0.05, 2.5});
  const auto at = reader.quantity("--at", D::length, {0.005, 0.5});
  auto pitch = reader.quantity("--pitch", D::length, {0.05, 2.5});
  const auto angle =
      reader.quantity("--angle", D::angle, {5 * base::degree_rad, 85 * base::degree_rad});
  auto radii = reader.quantities("--radius", D::length, {0.005, 0.5});
  if (!reader.problems.empty()) return no_answer(std::move(reader.problems));
  if (angle) pitch = form::local_pitch_m(*angle, *at);
  if (radii.empty()) radii = usual_radii(*at);
  const auto answer = answer::reset_answer(*made_on, *pitch, *at, radii);
  const bool inch = arguments.text("--made-on").find("in") != std::string::npos;
  return arguments.json() ? answer::reset_json(answer) : reset_text(answer, inch);
}

Answer answer_form(const Arguments& arguments) {
  base::Problems misuse = check_form_usage(arguments);
  if (!misuse.empty()) return wrong_usage(std::move(misuse));
  OptionReader reader(arguments);
  if (arguments.has("--reset")) return answer_reset(arguments, reader);
  answer::FormOptions options;
  options.cylinder_diameter_m = reader.quantity("--cylinder", D::length, {0.005, 1});
  options.limit.strain =
      reader.quantity("--strain-limit", D::ratio, {0.001, 0.2}).value_or(options.limit.strain);
  if (!reader.problems.empty()) return no_answer(std::move(reader.problems));
  const auto loaded = load_job(arguments.input);
  if (!loaded) return no_answer(loaded.error());
  const auto answer = answer::form_answer(*loaded, options);
  if (!answer) return no_answer(answer.error());
  sheet::PacketFiles files;
  if (arguments.has("--output")) {
    sheet::PacketOptions how;
    how.profile = loaded->profile();
    how.date = "2026-01-01";  // asked for by the settings, printed on no drawing
    auto written = sheet::write_drawings(answer->drawings, how, arguments.text("--output"));
    if (!written) return no_answer(std::move(written.error()));
    files = std::move(*written);
  }
  if (arguments.json()) return answer::form_json(*answer, files);
  return form_text(*answer, files, loaded->profile() == units::Profile::inch);
}

}  // namespace

Command form_command() {
  const std::string output = "Output", sheet = "Sheet and cylinder", reset = "Re-setting a blade";
  return {
      .name = "form",
      .purpose =
          "The form of a blade: stations, flat pattern, drawings to cut; or what re-setting does",
      .input = "JOB.toml",
      .input_help = "The job file (docs/job-file.md); not with --reset",
      .input_required = false,
      .options = {{"--output", "DIR", output, "Folder for the drawings, SVG and DXF", false, false,
                   "-o"},
                  {"--strain-limit", "S", sheet,
                   "Strain the wet sheet takes, e.g. \"2 %\"; left out: 2 % (judgement)"},
                  {"--cylinder", "DIAMETER", sheet,
                   "Also on this can or tube: its skew, and the layout line of a true helix"},
                  {"--reset", "", reset,
                   "The pitch along a blade made on one pitch, set to another"},
                  {"--made-on", "PITCH", reset, "Pitch of the form"},
                  {"--at", "R", reset, "Radius of the gauge"},
                  {"--pitch", "PITCH", reset, "What it is set to there"},
                  {"--angle", "A", reset, "Or the angle it is set to there"},
                  {"--radius", "R", reset, "Where to tell the pitch", false, true}},
      .example =
          "  propwright form examples/lantern46.toml -o form\n"
          "  propwright form --reset --made-on \"580 mm\" --at \"90 mm\" --angle \"47 deg\"",
      .answer = answer_form};
}

}  // namespace propwright::desk
