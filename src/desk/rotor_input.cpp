#include "rotor_input.h"

#include <fmt/format.h>

#include <algorithm>

#include "files.h"
#include "job_files.h"
#include "propwright/base/constants.h"
#include "propwright/base/table.h"
#include "propwright/brief/assemble.h"

namespace propwright::desk {
namespace {

using D = units::Dimension;

const char* const table_options[] = {"--blades", "--density", "--viscosity", "--polar",
                                     "--tip-radius"};

rotor::Options rotor_options(const Arguments& arguments, OptionReader& reader,
                             rotor::Options options) {
  const std::string tip = reader.word("--tip", {"exact", "prandtl", "none"});
  if (arguments.has("--tip")) {
    options.tip_factor = tip == "exact"     ? rotor::TipFactor::exact
                         : tip == "prandtl" ? rotor::TipFactor::prandtl
                                            : rotor::TipFactor::none;
  }
  const int most = arguments.has("--fine") ? 96 : 400;
  options.stations =
      static_cast<int>(reader.count("--stations", 8, most).value_or(options.stations));
  return options;
}

/// The blade for the modes asked for.
base::Expected<RotorInput> prepare(const rotor::Blade& blade, const section::Family& family,
                                   const rotor::Options& options, const Arguments& arguments) {
  if (arguments.has("--fine")) {
    // A job may ask for more stations in the quick mode than the fine one takes.
    const rotor::FineOptions how{.stations = std::min(options.stations, 96)};
    auto fine = rotor::FineRotor::make(blade, family, how, options);
    if (!fine) return base::fail(std::move(fine.error()));
    rotor::Rotor quick = fine->quick();
    return RotorInput{.rotor = std::move(quick), .flow = {}, .notes = {}, .fine = std::move(*fine)};
  }
  auto rotor = rotor::Rotor::make(blade, family, options);
  if (!rotor) return base::fail(std::move(rotor.error()));
  return RotorInput{.rotor = std::move(*rotor), .flow = {}, .notes = {}, .fine = {}};
}

tl::expected<RotorInput, Failure> from_job(const Arguments& arguments, OptionReader& reader) {
  const rotor::Options asked = rotor_options(arguments, reader, {});
  auto loaded = load_job(arguments.input);
  if (!loaded) {
    for (base::Problem& problem : loaded.error()) reader.problems.push_back(std::move(problem));
  }
  if (!reader.problems.empty()) return no_answer(std::move(reader.problems));
  auto made = brief::assemble(loaded->job, loaded->attachments);
  if (!made) return no_answer(answer::in_file(std::move(made.error()), arguments.input));
  rotor::Options options = made->rotor_options;
  if (arguments.has("--tip")) options.tip_factor = asked.tip_factor;
  if (arguments.has("--stations")) options.stations = asked.stations;
  auto input = prepare(made->blade, made->family, options, arguments);
  if (!input) return no_answer(answer::in_file(std::move(input.error()), arguments.input));
  input->flow = {made->air.density_kg_m3, made->air.viscosity_Pa_s};
  input->profile = loaded->profile();
  input->notes = made->air.notes;
  return std::move(*input);
}

/// Reads a table named by an option; problems go to the reader.
template <class Read>
auto table_of(const Arguments& arguments, OptionReader& reader, const std::string& option,
              Read read) -> decltype(read(std::string(), std::string())) {
  const std::string path = arguments.text(option);
  auto text = read_text(path, option);
  if (!text) {
    reader.problems.push_back(text.error().front());
    return base::fail(text.error());
  }
  auto table = read(*text, path);
  if (!table) {
    for (const base::Problem& problem : table.error()) reader.problems.push_back(problem);
  }
  return table;
}

void check_tip(const Arguments& arguments, const rotor::Blade& blade, OptionReader& reader) {
  if (blade.tip_radius_m == 0 || blade.rows.empty()) return;
  if (blade.tip_radius_m > blade.rows.front().radius_m) return;
  reader.problems.push_back({.field = "--tip-radius",
                             .value = arguments.text("--tip-radius"),
                             .allowed = fmt::format("above {:g} m, the first row of the blade",
                                                    blade.rows.front().radius_m),
                             .remedy = "give the radius of the tip, not the diameter of the hub",
                             .message = "the blade would have no length"});
}

tl::expected<RotorInput, Failure> from_tables(const Arguments& arguments, OptionReader& reader) {
  rotor::Blade blade;
  const rotor::Options options = rotor_options(arguments, reader, {});
  const bool exact = options.tip_factor == rotor::TipFactor::exact;
  blade.blades =
      static_cast<int>(reader.count("--blades", exact ? 2 : 1, exact ? 4 : 12).value_or(2));
  rotor::Flow flow;
  flow.density_kg_m3 = reader.quantity("--density", D::density, {1e-3, 2000}).value_or(1.225);
  flow.viscosity_Pa_s = reader.quantity("--viscosity", D::viscosity, {1e-7, 1}).value_or(1.8e-5);
  blade.tip_radius_m = reader.quantity("--tip-radius", D::length, {1e-3, 100}).value_or(0);
  auto rows = table_of(arguments, reader, "--blade", read_blade_table);
  section::Family family = section::Family::thin_arc();
  if (arguments.has("--polar")) {
    auto read =
        table_of(arguments, reader, "--polar", [](const std::string& csv, const std::string& path) {
          return section::Family::read(csv, path);
        });
    if (read) family = std::move(*read);
  }
  if (rows) blade.rows = std::move(*rows);
  check_tip(arguments, blade, reader);
  if (!reader.problems.empty()) return no_answer(std::move(reader.problems));
  auto input = prepare(blade, family, options, arguments);
  if (!input)
    return no_answer(answer::in_file(std::move(input.error()), arguments.text("--blade")));
  input->flow = flow;
  return std::move(*input);
}

}  // namespace

base::Expected<std::vector<rotor::BladeRow>> read_blade_table(const std::string& csv,
                                                              const std::string& file) {
  const auto table = base::Table::read(csv,
                                       {{"radius_m", true, 1e-6, 100},
                                        {"chord_m", true, 0, 100},
                                        {"angle_deg", true, -90, 180},
                                        {"camber", false, 0, 0.25}},
                                       file);
  if (!table) return base::fail(table.error());
  std::vector<rotor::BladeRow> rows;
  base::Problems problems;
  for (std::size_t i = 0; i < table->rows(); ++i) {
    rows.push_back({table->column("radius_m")[i], table->column("chord_m")[i],
                    table->column("angle_deg")[i] * base::degree_rad,
                    table->has("camber") ? table->column("camber")[i] : 0});
    if (i == 0 || rows[i].radius_m > rows[i - 1].radius_m) continue;
    problems.push_back({.file = file,
                        .line = table->line(i),
                        .field = "radius_m",
                        .value = fmt::format("{:g}", rows[i].radius_m),
                        .allowed = fmt::format("above {:g}, the row before", rows[i - 1].radius_m),
                        .remedy = "sort the rows from hub to tip and remove repeats",
                        .message = "the radii do not rise"});
  }
  if (rows.size() < 2) {
    problems.push_back({.file = file,
                        .field = "radius_m",
                        .value = fmt::format("{} rows", rows.size()),
                        .allowed = "two rows or more",
                        .remedy = "give the blade at hub and tip at least",
                        .message = "too few rows for a blade"});
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  return rows;
}

base::Problems check_rotor_usage(const Arguments& a) {
  base::Problems problems;
  const auto need = [&](const std::string& option, const std::string& why) {
    if (!a.has(option)) {
      problems.push_back({.field = option, .remedy = "add " + option, .message = why});
    }
  };
  const auto refuse = [&](const std::string& option, const std::string& why) {
    if (a.has(option)) {
      problems.push_back({.field = option, .remedy = "leave out " + option, .message = why});
    }
  };
  if (a.input.empty() && !a.has("--blade")) {
    problems.push_back({.field = "JOB.toml",
                        .remedy = "name a job file, or a blade table with --blade",
                        .message = "no propeller is given"});
  } else if (a.input.empty()) {
    for (const char* option : {"--blades", "--density", "--viscosity"}) {
      need(option, "a blade table needs it");
    }
  } else {
    refuse("--blade", "the blade is the job's");
    for (const char* option : table_options) refuse(option, "it goes with --blade, not with a job");
  }
  need("--rev", "the revs are not given");
  if (a.has("--map")) {
    refuse("--speed", "a map runs through the speeds itself");
    if (a.all("--rev").size() > 1) {
      problems.push_back({.field = "--rev",
                          .remedy = "give one --rev",
                          .message = "a map is made at one shaft speed"});
    }
  } else if (!a.has("--speed")) {
    problems.push_back({.field = "--speed",
                        .remedy = "add --speed V, or --map",
                        .message = "no flight speed is given"});
  }
  if (a.json()) refuse("--csv", "the answer is either JSON or CSV");
  return problems;
}

tl::expected<RotorInput, Failure> read_rotor(const Arguments& arguments, OptionReader& reader) {
  return arguments.input.empty() ? from_tables(arguments, reader) : from_job(arguments, reader);
}

}  // namespace propwright::desk
