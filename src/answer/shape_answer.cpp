#include "propwright/answer/shape_answer.h"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "propwright/answer/document.h"
#include "propwright/answer/json_answers.h"
#include "propwright/brief/file.h"
#include "propwright/data/data.h"

namespace propwright::answer {
namespace {

using D = units::Dimension;

constexpr std::size_t most_wishes = 20;

/// Takes the wishes out of their JSON; all that is wrong is told.
class WishReader {
 public:
  WishReader(const Json& json, const Shelf& shelf) : json_(json), shelf_(shelf) {}

  base::Expected<shape::Request> read() {
    shape::Request request;
    if (!json_.is_object()) {
      wrong("wishes", "the wishes are no object", "send an object, which may be empty");
      return base::fail(std::move(problems_));
    }
    for (const auto& [key, value] : json_.items()) check_name(key);
    for (const double pitch_m : lengths("form_pitches", 0.05, 2.5)) {
      request.forms.push_back({.pitch_m = pitch_m});
    }
    for (const auto& [field, text] : texts("cylinders")) {
      const auto cylinder = cylinder_of(text, shelf_, field);
      if (cylinder) {
        request.cylinders.push_back(*cylinder);
      } else {
        problems_.insert(problems_.end(), cylinder.error().begin(), cylinder.error().end());
      }
    }
    if (truth("shelf")) add_shelf(request, shelf_);
    if (truth("common_cylinders")) {
      const auto common = form::read_cylinders(data::file("cylinders.csv"), "cylinders.csv");
      if (common) {
        request.cylinders.insert(request.cylinders.end(), common->begin(), common->end());
      }
    }
    request.free_revs = truth("free_revs");
    const auto chord = json_.find("largest_chord");
    if (chord != json_.end() && !chord->is_null()) {
      request.largest_chord_m = length("wishes.largest_chord", *chord, 0.003, 0.15);
    }
    if (!problems_.empty()) return base::fail(std::move(problems_));
    return request;
  }

 private:
  void wrong(const std::string& field, const std::string& message, const std::string& remedy,
             const std::string& value = {}, const std::string& allowed = {}) {
    problems_.push_back(
        {.field = field, .value = value, .allowed = allowed, .remedy = remedy, .message = message});
  }

  void check_name(const std::string& key) {
    static const std::vector<std::string> known{"form_pitches",     "cylinders", "shelf",
                                                "common_cylinders", "free_revs", "largest_chord"};
    if (std::find(known.begin(), known.end(), key) != known.end()) return;
    const std::string near = base::nearest_name(key, known);
    wrong("wishes." + key, "there is no such wish",
          near.empty() ? "leave it out" : "did you mean " + near + "?");
  }

  void no_text(const std::string& field, const Json& json) {
    wrong(field, "this is no text", "write a length with its unit, for example \"760 mm\"",
          json.dump());
  }

  std::optional<double> length(const std::string& field, const Json& json, double low,
                               double high) {
    if (!json.is_string()) {
      no_text(field, json);
      return std::nullopt;
    }
    const auto read = units::parse(json.get<std::string>(), D::length, field);
    if (!read) {
      problems_.insert(problems_.end(), read.error().begin(), read.error().end());
      return std::nullopt;
    }
    if (*read < low || *read > high) {
      const auto text = [](double si) {
        return units::to_text(si, D::length, units::Profile::metric);
      };
      wrong(field, "the length is out of range", "check the number and its unit",
            json.get<std::string>(), text(low) + " to " + text(high));
      return std::nullopt;
    }
    return *read;
  }

  /// The texts of a list, each with its field.
  std::vector<std::pair<std::string, std::string>> texts(const std::string& name) {
    std::vector<std::pair<std::string, std::string>> all;
    const auto found = json_.find(name);
    if (found == json_.end()) return all;
    const std::string field = "wishes." + name;
    if (!found->is_array() || found->size() > most_wishes) {
      wrong(field, "this is no short list",
            fmt::format("send a list of up to {} lengths", most_wishes));
      return all;
    }
    for (std::size_t i = 0; i < found->size(); ++i) {
      const std::string one = fmt::format("{}[{}]", field, i + 1);
      const Json& value = (*found)[i];
      if (value.is_string()) {
        all.emplace_back(one, value.get<std::string>());
      } else {
        no_text(one, value);
      }
    }
    return all;
  }

  std::vector<double> lengths(const std::string& name, double low, double high) {
    std::vector<double> all;
    for (const auto& [field, text] : texts(name)) {
      if (const auto one = length(field, text, low, high)) all.push_back(*one);
    }
    return all;
  }

  bool truth(const char* name) {
    const auto found = json_.find(name);
    if (found == json_.end()) return false;
    if (found->is_boolean()) return found->get<bool>();
    wrong(std::string("wishes.") + name, "this is neither true nor false", "send true or false",
          found->dump());
    return false;
  }

  const Json& json_;
  const Shelf& shelf_;
  base::Problems problems_;
};

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
  const auto request = WishReader(wishes, shelf).read();
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
