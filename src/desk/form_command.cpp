#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "command.h"
#include "console.h"
#include "job_files.h"
#include "paper.h"
#include "propwright/answer/json_answers.h"
#include "propwright/base/constants.h"
#include "text_table.h"
#include "workshop_file.h"

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

/// A table of the form's pages as text.
std::string table_text(const sheet::FormTable& source, units::Profile profile) {
  std::vector<std::string> heads;
  for (const auto& column : source.columns) {
    std::string head = column.head;
    std::replace(head.begin(), head.end(), '\n', ' ');
    const std::string unit = sheet::measure_unit(column.measure, profile);
    heads.push_back(unit.empty() ? head : head + " " + unit);
  }
  TextTable table(heads);
  for (const auto& row : source.rows) {
    std::vector<std::string> cells;
    for (std::size_t i = 0; i < row.size(); ++i) {
      cells.push_back(sheet::cell_text(row[i], source.columns[i].measure, profile));
    }
    table.add(cells);
  }
  std::string text = source.title + "\n";
  if (!source.words.empty()) text += source.words + "\n";
  return text + "\n" + table.text(true) + "\n";
}

std::string form_text(const answer::FormAnswer& answer, const sheet::PacketFiles& files) {
  const sheet::FormSheets sheets = answer::form_sheets(answer);
  std::string out = answer.hand == form::Hand::clockwise ? "Clockwise, seen from behind. "
                                                         : "Anticlockwise, seen from behind. ";
  out += sheets.sentence + "\n\n";
  for (const sheet::FormTable& table : sheets.tables) out += table_text(table, answer.profile);
  for (const sheet::StrainMap& map : sheets.maps) out += "Flat pattern\n" + map.words + "\n";
  out += bullet_list("Notes", answer.notes);
  if (files.empty()) return out;
  out += fmt::format("\n{} files:\n\n", files.size());
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

Answer answer_reset(const Arguments& arguments, OptionReader& reader) {
  const auto made_on = reader.quantity("--made-on", D::length, {0.05, 2.5});
  const auto at = reader.quantity("--at", D::length, {0.005, 0.5});
  auto pitch = reader.quantity("--pitch", D::length, {0.05, 2.5});
  const auto angle =
      reader.quantity("--angle", D::angle, {5 * base::degree_rad, 85 * base::degree_rad});
  auto radii = reader.quantities("--radius", D::length, {0.005, 0.5});
  if (!reader.problems.empty()) return no_answer(std::move(reader.problems));
  if (angle) pitch = form::local_pitch_m(*angle, *at);
  if (radii.empty()) radii = answer::usual_reset_radii_m(*at);
  const auto answer = answer::reset_answer(*made_on, *pitch, *at, radii);
  const bool inch = arguments.text("--made-on").find("in") != std::string::npos;
  return arguments.json() ? answer::reset_json(answer) : reset_text(answer, inch);
}

answer::FormOptions form_options(const Arguments& arguments, OptionReader& reader) {
  answer::FormOptions options;
  for (const std::string& word : arguments.all("--kind")) {
    if (const auto kind = answer::form_kind(word)) {
      options.kinds.push_back(*kind);
    } else {
      reader.problems.push_back({.field = "--kind",
                                 .value = word,
                                 .allowed = answer::form_kind_words(),
                                 .remedy = "use one of these words",
                                 .message = "there is no such kind of form"});
    }
  }
  options.limit.strain =
      reader.quantity("--strain-limit", D::ratio, {0.001, 0.2}).value_or(options.limit.strain);
  options.gauge_radius_m = reader.quantity("--gauge-radius", D::length, {0.005, 0.5});
  form::RibbedOptions& ribbed = options.ribbed;
  ribbed.sheet_m =
      reader.quantity("--rib-sheet", D::length, {0.0005, 0.006}).value_or(ribbed.sheet_m);
  ribbed.fit_m = reader.quantity("--slot-fit", D::length, {-0.0005, 0.0005}).value_or(ribbed.fit_m);
  options.sheet_width_m = reader.quantity("--sheet-width", D::length, {0.1, 3});
  options.sheet_height_m = reader.quantity("--sheet-height", D::length, {0.1, 3});
  options.slice_step_m = reader.quantity("--slice-step", D::length, {1e-6, 1e-3});
  options.printer_bed_m = reader.quantity("--printer-bed", D::length, {0.05, 2});
  options.solid_tolerance_m = reader.quantity("--chord-error", D::length, {2e-6, 0.002})
                                  .value_or(options.solid_tolerance_m);
  return options;
}

/// Everything is made before the first file is written.
base::Expected<sheet::PacketFiles> write_all(const answer::FormAnswer& answer,
                                             const sheet::PacketOptions& how,
                                             const std::string& directory) {
  std::vector<answer::SolidFile> solids;
  if (answer.solid) {
    Progress progress("solid form");
    const StopOnInterrupt interrupt;
    auto made = answer::solid_files(answer, {}, [&](double share) {
      progress.update(share);
      return !StopOnInterrupt::asked();
    });
    if (!made) return tl::unexpected(made.error());
    solids = std::move(*made);
  }
  auto files = sheet::write_form(answer::form_sheets(answer), how, directory);
  if (!files) return files;
  for (const answer::SolidFile& solid : solids) {
    const auto path = std::filesystem::path(directory) / "solid" / solid.name;
    auto placed = sheet::write_file(solid.bytes, solid.kind, path.string());
    if (!placed) return tl::unexpected(placed.error());
    files->push_back(std::move(*placed));
  }
  return files;
}

Answer answer_form(const Arguments& arguments) {
  base::Problems misuse = check_form_usage(arguments);
  if (!misuse.empty()) return wrong_usage(std::move(misuse));
  OptionReader reader(arguments);
  if (arguments.has("--reset")) return answer_reset(arguments, reader);
  answer::FormOptions options = form_options(arguments, reader);
  sheet::PacketOptions how = read_paper(arguments, reader);
  if (!reader.problems.empty()) return no_answer(std::move(reader.problems));
  if (arguments.has("--cylinder")) {
    const auto cylinder = cylinder_of_option(arguments, arguments.text("--cylinder"));
    if (!cylinder) return no_answer(cylinder.error());
    options.cylinder_diameter_m = cylinder->diameter_m;
  }
  const auto loaded = load_job(arguments.input);
  if (!loaded) return no_answer(loaded.error());
  const auto answer = answer::form_answer(*loaded, options);
  if (!answer) return no_answer(answer.error());
  sheet::PacketFiles files;
  if (arguments.has("--output")) {
    how.profile = loaded->profile();
    auto written = write_all(*answer, how, arguments.text("--output"));
    if (!written) return no_answer(as_paper_options(std::move(written.error())));
    files = std::move(*written);
  }
  if (arguments.json()) return answer::form_json(*answer, files);
  return form_text(*answer, files);
}

}  // namespace

Command form_command() {
  const std::string output = "Output", kinds = "Kinds of form", sheet = "Sheet and parts",
                    reset = "Re-setting a blade";
  std::vector<Option> options{
      {"--output", "DIR", output, "Folder for form.pdf, SVG, DXF, STL, 3MF, STEP", false, false,
       "-o"},
      {"--kind", "KIND", kinds,
       "templates, block, ribbed, solid or cylinder; left out: all that can be made", false, true},
      {"--cylinder", "DIAMETER", kinds,
       "Can or tube, or its name in the list; left out: the one of the common sizes that fits "
       "best"},
      workshop_option(kinds),
      {"--rib-sheet", "T", kinds, "Thickness of the ribbed form's sheet; left out: 2 mm"},
      {"--slot-fit", "L", kinds, "Slots wider than the sheet by this; below 0 for a laser's beam"},
      {"--sheet-width", "W", kinds, "Sheet or laser's bed; left out: what one printed page holds"},
      {"--sheet-height", "H", kinds, "Its other side"},
      {"--printer-bed", "L", kinds, "A solid longer than this is split in two"},
      {"--chord-error", "E", kinds, "Of the solid's triangles; left out: 0.2 mm"},
      {"--strain-limit", "S", sheet,
       "Strain the wet sheet takes, e.g. \"2 %\"; left out: 2 % (judgement)"},
      {"--slice-step", "S", sheet,
       "Of the rib slicer, e.g. \"0.001 in\"; left out: 0.01 mm, or 0.001 in"},
      {"--gauge-radius", "R", sheet, "A further gauge card at this radius"},
      {"--reset", "", reset, "The pitch along a blade made on one pitch, set to another"},
      {"--made-on", "PITCH", reset, "Pitch of the form"},
      {"--at", "R", reset, "Radius of the gauge"},
      {"--pitch", "PITCH", reset, "What it is set to there"},
      {"--angle", "A", reset, "Or the angle it is set to there"},
      {"--radius", "R", reset, "Where to tell the pitch", false, true}};
  for (Option& option : paper_options()) options.push_back(std::move(option));
  return {.name = "form",
          .purpose =
              "The form of a blade in every kind, flat pattern, ribs and covering, drawings to "
              "cut; or what re-setting does",
          .input = "JOB.toml",
          .input_help = "The job file (docs/job-file.md); not with --reset",
          .input_required = false,
          .options = std::move(options),
          .example =
              "  propwright form examples/lantern46.toml -o form\n"
              "  propwright form examples/lantern46.toml --kind solid --printer-bed \"120 mm\" -o "
              "form\n"
              "  propwright form --reset --made-on \"580 mm\" --at \"90 mm\" --angle \"47 deg\"",
          .answer = answer_form};
}

}  // namespace propwright::desk
