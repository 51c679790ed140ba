#include <filesystem>

#include "command.h"
#include "files.h"
#include "job_files.h"
#include "propwright/answer/json_answers.h"
#include "propwright/answer/shelf.h"
#include "propwright/brief/file.h"
#include "propwright/data/data.h"
#include "shape_text.h"
#include "workshop_file.h"

namespace propwright::desk {
namespace {

using D = units::Dimension;

shape::Request read_shape_request(const Arguments& arguments, OptionReader& reader) {
  shape::Request request;
  request.speed_m_s = reader.quantity("--speed", D::speed, {0.05, 20});
  request.rev_per_s = reader.quantity("--rev", D::rotation, {0.05, 100});
  request.thrust_N = reader.quantity("--thrust", D::force, {1e-5, 10});
  request.free_revs = arguments.has("--free-revs");
  request.largest_chord_m = reader.quantity("--largest-chord", D::length, {0.003, 0.15});
  request.lift = reader.quantity("--lift", D::ratio, {0.05, 1.5});
  for (const double pitch_m : reader.quantities("--form", D::length, {0.05, 2.5})) {
    request.forms.push_back({.pitch_m = pitch_m});
  }
  request.fly = !arguments.has("--no-flight");
  return request;
}

/// Adds what is on the shelf and in the lists, and the notes of the shelf.
base::Expected<void> add_at_hand(const Arguments& arguments, shape::Request& request,
                                 std::vector<std::string>& notes) {
  for (const std::string& text : arguments.all("--cylinder")) {
    const auto cylinder = cylinder_of_option(arguments, text);
    if (!cylinder) return tl::unexpected(cylinder.error());
    request.cylinders.push_back(*cylinder);
  }
  if (arguments.has("--shelf")) {
    const auto shelf = shelf_of(arguments);
    if (!shelf) return tl::unexpected(shelf.error());
    answer::add_shelf(request, *shelf);
    notes = shelf->notes;
  }
  if (!arguments.has("--cylinders")) return {};
  const auto listed = form::read_cylinders(data::file("cylinders.csv"), "cylinders.csv");
  if (!listed) return tl::unexpected(listed.error());
  request.cylinders.insert(request.cylinders.end(), listed->begin(), listed->end());
  return {};
}

/// The blade that --take names: the first of its kind.
const shape::Candidate* taken(const shape::Shape& shape, const std::string& kind) {
  if (kind == "ideal") return &shape.ideal;
  for (const shape::Candidate& candidate : shape.makeable) {
    if (shape::to_text(candidate.kind) == kind) return &candidate;
  }
  return nullptr;
}

/// A table that the job names relative to its own folder, as the new file must name it.
std::string seen_from(const std::string& table, const std::string& job, const std::string& other) {
  namespace fs = std::filesystem;
  if (table.empty() || fs::path(table).is_absolute()) return table;
  const fs::path from = fs::absolute(fs::path(other)).parent_path();
  return (fs::absolute(fs::path(job)).parent_path() / table).lexically_proximate(from).string();
}

base::Expected<void> write_job(const LoadedJob& loaded, const shape::Shape& shape,
                               const std::string& kind, const std::string& path) {
  const shape::Candidate* candidate = taken(shape, kind);
  if (candidate == nullptr) {
    return base::fail({.field = "--take",
                       .value = kind,
                       .allowed = "a kind that the answer holds",
                       .remedy = "give the form or the cylinder too, or take another kind",
                       .message = "there is no blade of this kind to write"});
  }
  const std::string name =
      loaded.job.propeller.name.empty() ? kind : loaded.job.propeller.name + " " + kind;
  brief::Job job = shape::with_blade(loaded.job, *candidate, name);
  job.rubber.test_file = seen_from(job.rubber.test_file, loaded.path, path);
  job.propeller.polar_file = seen_from(job.propeller.polar_file, loaded.path, path);
  return write_whole(path, brief::write_job(job));
}

Answer answer_shape(const Arguments& arguments) {
  OptionReader reader(arguments);
  shape::Request request = read_shape_request(arguments, reader);
  const std::string kind = reader.word("--take", {"helical", "ideal", "form", "cylinder"});
  if (request.free_revs && request.rev_per_s) {
    return wrong_usage({{.field = "--rev",
                         .remedy = "leave one of the two out",
                         .message = "--rev and --free-revs contradict each other"}});
  }
  if (!reader.problems.empty()) return no_answer(std::move(reader.problems));
  std::vector<std::string> notes;
  if (auto added = add_at_hand(arguments, request, notes); !added) {
    return no_answer(std::move(added.error()));
  }
  const auto loaded = load_job(arguments.input);
  if (!loaded) return no_answer(loaded.error());
  auto shape = shape::shape(loaded->job, loaded->attachments, request);
  if (!shape) return no_answer(answer::in_file(shape.error(), arguments.input));
  shape->notes.insert(shape->notes.end(), notes.begin(), notes.end());
  if (arguments.has("--output")) {
    auto written = write_job(*loaded, *shape, kind, arguments.text("--output"));
    if (!written) return no_answer(std::move(written.error()));
  }
  return arguments.json() ? answer::shape_json(*shape) : shape_text(*shape, loaded->profile());
}

}  // namespace

Command shape_command() {
  const std::string flight = "For another state than the flight's own", hand = "At hand",
                    limits = "Limits", output = "Output";
  return {
      .name = "shape",
      .purpose = "The blade of least loss for the flight, and the nearest blades one can make",
      .input = "JOB.toml",
      .input_help = "The job file (docs/job-file.md)",
      .input_required = true,
      .options = {{"--speed", "V", flight, "Flight speed; left out: that of cruise"},
                  {"--rev", "N", flight, "Shaft speed; left out: that of cruise"},
                  {"--free-revs", "", flight, "The shaft speed of least loss"},
                  {"--thrust", "T", flight, "Of the propeller; left out: that of cruise"},
                  {"--largest-chord", "C", limits, "No chord wider than this"},
                  {"--lift", "CL", limits,
                   "Lift coefficient of every section; left out: each at its best"},
                  {"--form", "PITCH", hand, "Pitch of a helical form you own", false, true},
                  {"--cylinder", "DIAMETER", hand,
                   "Of a can, bottle or tube you own, or its name in the list", false, true},
                  {"--shelf", "", hand, "The forms and cylinders on the shelf of your workshop"},
                  {"--cylinders", "", hand, "Every cylinder of the program's list of common sizes"},
                  workshop_option(hand),
                  {"--no-flight", "", output, "Efficiencies alone, without the durations"},
                  {"--output", "NEW.toml", output, "Writes the job with the blade of --take", false,
                   false, "-o"},
                  {"--take", "KIND", output,
                   "helical, ideal, form or cylinder; left out: helical"}},
      .example =
          "  propwright shape examples/lantern46.toml --form \"760 mm\" --cylinder \"4 in\"\n"
          "  propwright shape examples/lantern46.toml --free-revs --no-flight",
      .answer = answer_shape};
}

}  // namespace propwright::desk
