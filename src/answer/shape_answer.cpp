#include "propwright/answer/shape_answer.h"

#include <nlohmann/json.hpp>

#include "propwright/answer/document.h"
#include "propwright/answer/json_answers.h"
#include "propwright/brief/file.h"
#include "propwright/data/data.h"
#include "wish_reader.h"

namespace propwright::answer {
namespace {

using D = units::Dimension;

base::Expected<shape::Request> read_wishes(const Json& wishes, const Shelf& shelf) {
  QuantityReader reader(
      wishes, "wishes.",
      {"form_pitches", "cylinders", "shelf", "common_cylinders", "free_revs", "largest_chord"});
  shape::Request request;
  for (const double pitch_m : reader.quantities("form_pitches", D::length, {0.05, 2.5})) {
    request.forms.push_back({.pitch_m = pitch_m});
  }
  for (const auto& [field, text] : reader.texts("cylinders")) {
    const auto cylinder = cylinder_of(text, shelf, field);
    if (cylinder) {
      request.cylinders.push_back(*cylinder);
    } else {
      reader.problems.insert(reader.problems.end(), cylinder.error().begin(),
                             cylinder.error().end());
    }
  }
  if (reader.truth("shelf")) add_shelf(request, shelf);
  if (reader.truth("common_cylinders")) {
    const auto common = form::read_cylinders(data::file("cylinders.csv"), "cylinders.csv");
    if (common) {
      request.cylinders.insert(request.cylinders.end(), common->begin(), common->end());
    }
  }
  request.free_revs = reader.truth("free_revs");
  request.largest_chord_m = reader.quantity("largest_chord", D::length, {0.003, 0.15});
  if (!reader.problems.empty()) return base::fail(std::move(reader.problems));
  return request;
}

/// The job document with a blade in it, named after what it is.
base::Expected<Json> job_with(const LoadedJob& loaded, const shape::Candidate& candidate) {
  const std::string kind = shape::to_text(candidate.kind);
  const std::string own = loaded.job.propeller.name;
  const brief::Job job =
      shape::with_blade(loaded.job, candidate, own.empty() ? kind : own + " " + kind);
  return job_json(brief::write_job(job), "job");
}

bool wants_shelf(const Json& wishes) {
  const auto found = wishes.find("shelf");
  return found != wishes.end() && found->is_boolean() && found->get<bool>();
}

}  // namespace

base::Expected<Json> shape_answer(const Json& job, const Json& attachments, const Json& wishes,
                                  const Shelf& shelf) {
  const auto request = read_wishes(wishes, shelf);
  if (!request) return tl::unexpected(request.error());
  const auto loaded = load_document(job, attachments);
  if (!loaded) return tl::unexpected(loaded.error());
  auto shape = shape::shape(loaded->job, loaded->attachments, *request);
  if (!shape) return tl::unexpected(in_file(shape.error(), "job"));
  if (wants_shelf(wishes)) {
    shape->notes.insert(shape->notes.end(), shelf.notes.begin(), shelf.notes.end());
  }
  Json answer = shape_document(*shape);
  if (!shape->present) answer.erase("present");
  const auto add_job = [&](Json& to, const shape::Candidate& candidate) -> base::Expected<void> {
    auto with = job_with(*loaded, candidate);
    if (!with) return tl::unexpected(with.error());
    to["label_inch"] = shape_label(candidate, units::Profile::inch);
    to["job"] = std::move(*with);
    return {};
  };
  if (auto added = add_job(answer["ideal"], shape->ideal); !added) {
    return tl::unexpected(added.error());
  }
  for (std::size_t i = 0; i < shape->makeable.size(); ++i) {
    if (auto added = add_job(answer["makeable"][i], shape->makeable[i]); !added) {
      return tl::unexpected(added.error());
    }
  }
  return answer;
}

}  // namespace propwright::answer
