// What the pages wish of a form, and the re-set calculator.
#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "propwright/answer/form_document.h"
#include "propwright/base/constants.h"
#include "propwright/data/data.h"
#include "wish_reader.h"

namespace propwright::answer {
namespace {

using D = units::Dimension;

constexpr std::pair<double, double> pitch_range_m{0.05, 2.5}, radius_range_m{0.005, 0.5};

std::vector<std::string> kind_words() {
  std::vector<std::string> words;
  for (const FormKind kind : all_form_kinds) words.push_back(to_text(kind));
  return words;
}

double degrees_from(double rad) {
  return rad / base::degree_rad;
}

}  // namespace

base::Expected<FormWishes> read_form_wishes(const Json& json, const Shelf& shelf) {
  QuantityReader reader(json, "wishes.",
                        {"kind", "cylinder", "strain_limit", "gauge_radius", "rib_sheet",
                         "slice_step", "printer_bed"});
  FormWishes wishes;
  FormOptions& options = wishes.options;
  wishes.kind = form_kind(reader.word("kind", kind_words())).value_or(FormKind::ribbed);
  options.kinds = {wishes.kind};
  if (const std::string text = reader.text("cylinder"); !text.empty()) {
    const auto cylinder = cylinder_of(text, shelf, "wishes.cylinder");
    if (cylinder) {
      options.cylinder_diameter_m = cylinder->diameter_m;
    } else {
      reader.problems.insert(reader.problems.end(), cylinder.error().begin(),
                             cylinder.error().end());
    }
  }
  if (!shelf.cylinders.empty()) {
    options.cylinders = shelf.cylinders;
    const auto common = form::read_cylinders(data::file("cylinders.csv"), "cylinders.csv");
    if (common) {
      options.cylinders.insert(options.cylinders.end(), common->begin(), common->end());
    }
  }
  options.limit.strain =
      reader.quantity("strain_limit", D::ratio, {0.001, 0.2}).value_or(options.limit.strain);
  options.gauge_radius_m = reader.quantity("gauge_radius", D::length, radius_range_m);
  options.ribbed.sheet_m =
      reader.quantity("rib_sheet", D::length, {0.0005, 0.006}).value_or(options.ribbed.sheet_m);
  options.slice_step_m = reader.quantity("slice_step", D::length, {1e-6, 1e-3});
  options.printer_bed_m = reader.quantity("printer_bed", D::length, {0.05, 2});
  if (!reader.problems.empty()) return base::fail(std::move(reader.problems));
  return wishes;
}

base::Expected<Json> reset_document(const Json& question) {
  QuantityReader reader(question, "", {"made_on", "at", "pitch", "angle", "radii"});
  const auto made_on = reader.quantity("made_on", D::length, pitch_range_m);
  const auto at = reader.quantity("at", D::length, radius_range_m);
  auto pitch = reader.quantity("pitch", D::length, pitch_range_m);
  const auto angle =
      reader.quantity("angle", D::angle, {5 * base::degree_rad, 85 * base::degree_rad});
  auto radii = reader.quantities("radii", D::length, radius_range_m);
  for (const char* name : {"made_on", "at"}) {
    if (question.is_object() && !reader.has(name)) {
      reader.problems.push_back({.field = name,
                                 .remedy = "give it with its unit, for example \"90 mm\"",
                                 .message = "this is needed"});
    }
  }
  if (question.is_object() && reader.has("pitch") == reader.has("angle")) {
    reader.problems.push_back({.field = "angle",
                               .remedy = "give either the angle or the pitch",
                               .message = "what the blade is set to must be told once"});
  }
  if (!reader.problems.empty()) return base::fail(std::move(reader.problems));
  if (angle) pitch = form::local_pitch_m(*angle, *at);
  if (radii.empty()) radii = usual_reset_radii_m(*at);
  const ResetAnswer answer = reset_answer(*made_on, *pitch, *at, radii);
  Json rows = Json::array();
  for (const ResetRow& row : answer.rows) {
    rows.push_back({{"radius_m", row.radius_m},
                    {"angle_deg", degrees_from(row.angle_rad)},
                    {"pitch_m", row.pitch_m}});
  }
  return Json{{"form_pitch_m", answer.form_pitch_m},
              {"gauge_radius_m", answer.gauge_radius_m},
              {"turn_deg", degrees_from(answer.turn_rad)},
              {"stations", rows}};
}

}  // namespace propwright::answer
