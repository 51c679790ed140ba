// The request of POST /api/bench/spars: text with units into SI. Whatever is wrong is told with its
// field, rows counted from 1, and the rest of the batch is read all the same.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "propwright/answer/spars.h"
#include "spar_rig.h"
#include "spars_parts.h"
#include "wish_reader.h"

namespace propwright::answer {
namespace {

using D = units::Dimension;
using Range = std::pair<double, double>;

constexpr std::size_t most_spars = 400, most_states = 50;
constexpr Range size_range{5e-5, 0.02}, length_range{0.01, 1}, mass_range{1e-7, 0.02},
    step_range{0, 0.001}, sanded_range{0, 0.002};
constexpr double usual_size_sigma_m = 0.0005 * 0.0254;  // a caliper on soft wood (judgement)
constexpr double usual_keep_root_in_m = 0.5 * 0.0254;
constexpr double usual_step_in_m = 0.0001 * 0.0254, usual_step_mm_m = 5e-6;

class BatchReader {
 public:
  explicit BatchReader(const Json& request) : request_(request) {}

  SparBatch read() {
    settings();
    const Json none = Json::array();
    const Json& spars =
        request_.is_object() && request_.contains("spars") ? request_["spars"] : none;
    if (!spars.is_array() || spars.size() > most_spars) {
      tell("", {.field = "spars",
                .allowed = fmt::format("a list of up to {} spars", most_spars),
                .remedy = "split the batch",
                .message = "this is no list of spars"});
      return std::move(batch_);
    }
    for (std::size_t i = 0; i < spars.size(); ++i) {
      spar(spars[i], fmt::format("spars[{}]", i + 1));
    }
    kept_pairs();
    return std::move(batch_);
  }

 private:
  void tell(const std::string& id, base::Problem problem) {
    batch_.problems.push_back({id, std::move(problem)});
  }
  void take(const std::string& id, base::Problems& problems) {
    for (base::Problem& problem : problems) tell(id, std::move(problem));
  }

  void settings() {
    QuantityReader reader(request_, "",
                          {"rig", "spars", "units", "size_sigma", "tolerance", "minimum_size",
                           "keep_root", "step", "keep_pairs", "next"});
    const std::string words = reader.word("units", {"metric", "inch"});
    const Json rig = reader.has("rig") ? request_["rig"] : Json();
    if (reader.has("rig")) {
      batch_.rig = rig_of(rig, "rig", "");
    } else {
      tell("", {.field = "rig",
                .remedy = "tell what was hung where, and where it was read",
                .message = "the rig is wanting"});
    }
    const bool inches = rig.is_object() && rig.value("read_at", Json()).is_string() &&
                        rig["read_at"].get<std::string>().find("in") != std::string::npos;
    batch_.profile = words == "inch" || (words.empty() && inches) ? units::Profile::inch
                                                                  : units::Profile::metric;
    const bool inch = batch_.profile == units::Profile::inch;
    batch_.size_sigma_m =
        reader.quantity("size_sigma", D::length, {0, 0.001}).value_or(usual_size_sigma_m);
    spar::Limits& limits = batch_.limits;
    limits.tolerance =
        reader.quantity("tolerance", D::ratio, {0.001, 0.5}).value_or(limits.tolerance);
    limits.smallest_m =
        reader.quantity("minimum_size", D::length, size_range).value_or(limits.smallest_m);
    limits.keep_root_m = reader.quantity("keep_root", D::length, {0, 0.5})
                             .value_or(inch ? usual_keep_root_in_m : limits.keep_root_m);
    limits.step_m = reader.quantity("step", D::length, step_range)
                        .value_or(inch ? usual_step_in_m : usual_step_mm_m);
    batch_.next = reader.text("next");
    take("", reader.problems);
  }

  /// Empty where it is not sound; the problems are told.
  std::optional<spar::Rig> rig_of(const Json& json, const std::string& field,
                                  const std::string& id) {
    base::Problems problems;
    RigRead read = read_rig(json, field, problems);
    take(id, problems);
    if (id.empty()) {
      batch_.calibration = read.calibration;
      batch_.calibration_readings = read.calibration_readings;
    }
    return read.sound ? std::optional(std::move(read.rig)) : std::nullopt;
  }

  std::string spar_id(const Json& json, const std::string& field) {
    const auto found = json.find("id");
    const bool text = found != json.end() && found->is_string();
    const std::string id = text ? found->get<std::string>() : std::string();
    if (id.empty() || id.size() > 80) {
      tell(id, {.field = field + ".id",
                .allowed = "1 to 80 letters",
                .remedy = "give the spar a number or a name",
                .message = "the spar has no id"});
      return {};
    }
    if (!ids_.insert(id).second) {
      tell(id, {.field = field + ".id",
                .value = id,
                .allowed = "each id once",
                .remedy = "give one of them another id",
                .message = "two spars of the batch have this id; the first is taken"});
      return {};
    }
    return id;
  }

  void spar(const Json& json, const std::string& field) {
    SparInput spar;
    spar.field = field;
    if (!json.is_object()) {
      return tell("", {.field = field, .remedy = "send an object", .message = "this is no spar"});
    }
    spar.id = spar_id(json, field);
    if (spar.id.empty()) return;
    QuantityReader reader(json, field + ".",
                          {"id", "shape", "length", "states", "set_aside", "notes"});
    const std::string shape = reader.word("shape", shape_words());
    spar.shape = shape_of(shape).value_or(spar::Shape::square);
    spar.set_aside = reader.truth("set_aside");
    reader.text("notes");
    if (reader.has("length")) {
      spar.length_m = reader.quantity("length", D::length, length_range).value_or(0);
    } else {
      reader.problems.push_back({.field = field + ".length",
                                 .allowed = units::accepted_units(D::length),
                                 .remedy = "measure from the clamp to the tip",
                                 .message = "the length is wanting"});
    }
    spar.sound = reader.problems.empty();
    take(spar.id, reader.problems);
    if (json.contains("states")) states(json["states"], spar);
    batch_.spars.push_back(std::move(spar));
  }

  void states(const Json& list, SparInput& spar) {
    const std::string field = spar.field + ".states";
    if (!list.is_array() || list.size() > most_states) {
      return tell(spar.id, {.field = field,
                            .allowed = fmt::format("a list of up to {} states", most_states),
                            .remedy = "send a list, oldest first",
                            .message = "this is no list of states"});
    }
    for (std::size_t i = 0; i < list.size(); ++i) {
      spar.states.push_back(state(list[i], fmt::format("{}[{}]", field, i + 1), i, spar.id));
    }
  }

  SparStateInput state(const Json& json, const std::string& field, std::size_t number,
                       const std::string& id) {
    SparStateInput state;
    state.field = field;
    QuantityReader reader(json, field + ".",
                          {"step", "measured_at", "relative_humidity", "root_width", "root_depth",
                           "middle_width", "middle_depth", "tip_width", "tip_depth",
                           "corner_radius", "mass", "reading_0", "reading_90", "reading_45", "rig",
                           "sanded_from", "sanded_to", "off_each_face_0", "off_each_face_90"});
    state.step = reader.text("step");
    if (state.step.empty()) state.step = round_name(static_cast<int>(number));
    state.measured_at = reader.text("measured_at");
    reader.quantity("relative_humidity", D::ratio, {0, 1});
    const auto size = [&](const char* name) {
      return reader.quantity(name, D::length, size_range);
    };
    state.root_width_m = size("root_width");
    state.root_depth_m = size("root_depth");
    state.middle_width_m = size("middle_width");
    state.middle_depth_m = size("middle_depth");
    state.tip_width_m = size("tip_width");
    state.tip_depth_m = size("tip_depth");
    state.corner_radius_m = reader.quantity("corner_radius", D::length, {0, 0.01});
    state.mass_kg = reader.quantity("mass", D::mass, mass_range);
    state.sanded_from_m = reader.quantity("sanded_from", D::length, {0, 1}).value_or(0);
    state.sanded_to_m = reader.quantity("sanded_to", D::length, {0, 1});
    state.off_0_m = reader.quantity("off_each_face_0", D::length, sanded_range).value_or(0);
    state.off_90_m = reader.quantity("off_each_face_90", D::length, sanded_range).value_or(0);
    const std::pair<const char*, std::vector<double>*> readings[] = {
        {"reading_0", &state.readings.at_0_m},
        {"reading_90", &state.readings.at_90_m},
        {"reading_45", &state.readings.at_45_m}};
    for (const auto& [name, into] : readings) {
      if (reader.has(name)) *into = read_lengths(json[name], field + "." + name, reader.problems);
    }
    if (reader.has("rig")) {
      const std::size_t before = batch_.problems.size();
      state.rig = rig_of(json["rig"], field + ".rig", id);
      state.sound = batch_.problems.size() == before;
    }
    keep_texts(json, state);
    state.sound = state.sound && reader.problems.empty();
    take(id, reader.problems);
    return state;
  }

  static void keep_texts(const Json& json, SparStateInput& state) {
    if (!json.is_object()) return;
    for (const auto& [name, value] : json.items()) {
      if (value.is_string()) state.written[name] = value.get<std::string>();
      if (!value.is_array()) continue;
      for (std::size_t i = 0; i < value.size(); ++i) {
        if (value[i].is_string()) {
          state.written[fmt::format("{}[{}]", name, i + 1)] = value[i].get<std::string>();
        }
      }
    }
  }

  void kept_pairs() {
    if (!request_.is_object() || !request_.contains("keep_pairs")) return;
    const Json& list = request_["keep_pairs"];
    if (list.is_null()) return;
    std::set<std::string> taken;
    const std::size_t count = list.is_array() ? list.size() : 1;
    for (std::size_t i = 0; i < count; ++i) {
      const std::string field =
          list.is_array() ? fmt::format("keep_pairs[{}]", i + 1) : "keep_pairs";
      const Json pair = list.is_array() ? list[i] : Json();
      const bool two = pair.is_array() && pair.size() == 2 && pair[0].is_string() &&
                       pair[1].is_string() && pair[0] != pair[1];
      if (!two) {
        tell("", {.field = field,
                  .allowed = "two ids",
                  .remedy = "send a list of pairs of ids",
                  .message = "this is no pair"});
        continue;
      }
      const std::string a = pair[0], b = pair[1];
      if (!ids_.contains(a) || !ids_.contains(b) || taken.contains(a) || taken.contains(b)) {
        tell("", {.field = field,
                  .value = a + ", " + b,
                  .allowed = "ids of the batch, each in one pair",
                  .remedy = "leave this pair out",
                  .message = "these two cannot be kept together"});
        continue;
      }
      taken.insert({a, b});
      batch_.keep_pairs.emplace_back(a, b);
    }
  }

  const Json& request_;
  SparBatch batch_;
  std::set<std::string> ids_;
};

}  // namespace

const std::vector<std::string>& shape_words() {
  static const std::vector<std::string> words{"square", "rectangular", "round", "rounded square"};
  return words;
}

std::string shape_word(spar::Shape shape) {
  return shape_words()[static_cast<std::size_t>(shape)];
}

std::optional<spar::Shape> shape_of(const std::string& word) {
  const auto& words = shape_words();
  const auto found = std::find(words.begin(), words.end(), word);
  if (found == words.end()) return std::nullopt;
  return static_cast<spar::Shape>(found - words.begin());
}

std::string round_name(int number) {
  return number == 0 ? "as stripped" : fmt::format("round {}", number);
}

SparBatch read_spars(const Json& request) {
  return BatchReader(request).read();
}

}  // namespace propwright::answer
