// The answer of the spars as JSON; docs/openapi.yaml and docs/commands.md have the keys.
#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "propwright/base/constants.h"
#include "propwright/spar/section.h"
#include "spars_parts.h"

namespace propwright::answer {
namespace {

constexpr int places_along = 11;

Json spar_number(const std::optional<double>& value) {
  return value ? Json(*value) : Json(nullptr);
}
Json spar_word(const std::string& word) {
  return word.empty() ? Json(nullptr) : Json(word);
}
Json spar_range_json(const SparRange& range) {
  return {{"low_m", range.low_m}, {"high_m", range.high_m}};
}

Json rig_calibration_json(const SparBatch& batch) {
  if (!batch.calibration) return nullptr;
  const spar::Calibration& found = *batch.calibration;
  const SparWords words(batch.profile);
  return {{"readings", batch.calibration_readings},
          {"sigma_m", found.reading_sigma_m},
          {"sigma_low_m", found.low_m},
          {"sigma_high_m", found.high_m},
          {"sentence", "One reading is good to " + words.size(found.reading_sigma_m) +
                           "; from so few that it may be " + words.size(found.low_m) + " to " +
                           words.size(found.high_m) + "."}};
}

Json spar_rig_json(const SparBatch& batch) {
  if (!batch.rig) return nullptr;
  const spar::Rig& rig = *batch.rig;
  return {{"name", rig.name},
          {"load_kg", rig.load_kg},
          {"load_at_m", rig.load_at_m},
          {"read_at_m", rig.read_at_m},
          {"follows", rig.follows == spar::Follows::fixed_distance ? "fixed" : "spar"},
          {"zero", rig.zero == spar::Zero::unloaded_spar ? "unloaded" : "straight"},
          {"zero_reading_m", rig.zero_reading_m},
          {"resolution_m", rig.resolution_m},
          {"repeatability_m", rig.repeatability_m},
          {"load_sigma_kg", rig.load_sigma_kg},
          {"calibration", rig_calibration_json(batch)},
          {"sentence", rig_sentence(rig, batch.profile)}};
}

void add_sizes(const std::optional<spar::Taper>& taper, Json& json) {
  const std::pair<const char*, double> places[] = {{"root", 0.0}, {"mid", 0.5}, {"tip", 1.0}};
  for (const auto& [name, share] : places) {
    std::optional<double> width, depth;
    if (taper) {
      const spar::Section section = spar::section_at(*taper, share * spar::length_m(*taper));
      width = section.width_m;
      depth = section.depth_m;
    }
    json[std::string("width_") + name + "_m"] = spar_number(width);
    json[std::string("depth_") + name + "_m"] = spar_number(depth);
  }
}

/// The figures of a reduction; null without one.
void add_stiffness(const spar::Measured* measured, Json& json) {
  const auto figure = [&](const char* name, auto value) {
    json[name] = measured != nullptr ? Json(value(*measured)) : Json(nullptr);
  };
  figure("modulus_0_Pa", [](const spar::Measured& m) { return m.at_0.modulus_Pa.value; });
  figure("modulus_90_Pa", [](const spar::Measured& m) { return m.at_90.modulus_Pa.value; });
  figure("ei_0_Nm2", [](const spar::Measured& m) { return m.at_0.ei_Nm2; });
  figure("ei_90_Nm2", [](const spar::Measured& m) { return m.at_90.ei_Nm2; });
  figure("ei_root_0_Nm2", [](const spar::Measured& m) { return m.at_0.ei_root_Nm2; });
  figure("ei_root_90_Nm2", [](const spar::Measured& m) { return m.at_90.ei_root_Nm2; });
  figure("sigma_0_relative", [](const spar::Measured& m) { return m.at_0.ei_sigma_relative; });
  figure("sigma_90_relative", [](const spar::Measured& m) { return m.at_90.ei_sigma_relative; });
}

Json spar_state_json(const SparState& state) {
  Json json{{"step", state.step},
            {"measured_at", state.measured_at},
            {"to_come", state.to_come},
            {"measured", state.measured.has_value()},
            {"mass_kg", spar_number(state.mass_kg)},
            {"density_kg_m3", spar_number(state.density_kg_m3)}};
  add_sizes(state.taper, json);
  json["off_each_face_0_m"] = state.off_0_m;
  json["off_each_face_90_m"] = state.off_90_m;
  json["reading_0_m"] = spar_number(state.reading_0_m);
  json["reading_90_m"] = spar_number(state.reading_90_m);
  json["reading_45_m"] = spar_number(state.reading_45_m);
  json["repeats"] = state.repeats;
  add_stiffness(state.measured ? &*state.measured : nullptr, json);
  json["stiffer_relative"] = state.stiffer ? Json(state.stiffer->log_ratio) : Json(nullptr);
  json["stiffer_sigma_relative"] = state.stiffer ? Json(state.stiffer->sigma) : Json(nullptr);
  return json;
}

Json principal_json(const spar::Measured* measured) {
  if (measured == nullptr || !measured->axes.from_third_reading) return nullptr;
  const spar::Axes& axes = measured->axes;
  return {{"soft_axis_deg", axes.soft_axis_deg},
          {"sigma_deg", axes.soft_axis_sigma_deg},
          {"ei_soft_Nm2", axes.ei_soft_Nm2},
          {"ei_stiff_Nm2", axes.ei_stiff_Nm2},
          {"clear", axes.has_direction}};
}

Json expect_json(const SparAnswer& spar, const SparsAnswer& answer) {
  for (const SparSanding& sanding : answer.sanding) {
    if (sanding.id != spar.id) continue;
    const SparState& now = spar.history[static_cast<std::size_t>(spar.latest)];
    return {{"step", sanding.step},
            {"off_each_face_0_m", sanding.cut.remove_0_per_face_m},
            {"off_each_face_90_m", sanding.cut.remove_90_per_face_m},
            {"sanded_from_m", sanding.cut.from_m},
            {"sanded_to_m", sanding.cut.to_m},
            {"reading_0", spar_range_json(sanding.band_0)},
            {"reading_90", spar_range_json(sanding.band_90)},
            {"last_0_m", *now.reading_0_m},
            {"last_90_m", *now.reading_90_m},
            {"sentence", spar.expect_sentence}};
  }
  return nullptr;
}

Json along_json(const spar::Measured* measured) {
  Json list = Json::array();
  if (measured == nullptr) return list;
  const double length_m = spar::length_m(measured->spar.taper);
  for (int i = 0; i < places_along; ++i) {
    const double at_m = length_m * i / (places_along - 1);
    list.push_back({{"at_m", at_m},
                    {"ei_0_Nm2", spar::ei_at_Nm2(*measured, spar::Bending::depth, at_m)},
                    {"ei_90_Nm2", spar::ei_at_Nm2(*measured, spar::Bending::width, at_m)}});
  }
  return list;
}

Json spar_json(const SparAnswer& spar, const SparsAnswer& answer) {
  const spar::Measured* const measured = spar.measured();
  Json json{{"id", spar.id},
            {"shape", shape_word(spar.shape)},
            {"length_m", spar_number(spar.length_m)},
            {"measured", measured != nullptr},
            {"set_aside", spar.set_aside},
            {"mass_kg", measured != nullptr ? Json(measured->spar.mass_kg) : Json(nullptr)},
            {"density_kg_m3", measured != nullptr ? Json(measured->density_kg_m3) : Json(nullptr)}};
  add_stiffness(measured, json);
  const auto larger = [&](auto sigma_of) {
    return measured != nullptr ? Json(std::max(sigma_of(measured->at_0), sigma_of(measured->at_90)))
                               : Json(nullptr);
  };
  json["sigma_relative"] = larger([](const spar::Direction& d) { return d.ei_sigma_relative; });
  json["sigma_modulus_relative"] =
      larger([](const spar::Direction& d) { return d.modulus_sigma_relative; });
  const bool soft = measured != nullptr && measured->axes.has_direction;
  json["soft_axis_deg"] = soft ? Json(measured->axes.soft_axis_deg) : Json(nullptr);
  json["principal"] = principal_json(measured);
  json["mark_sentence"] = spar.mark_sentence;
  json["partner"] = spar_word(spar.partner);
  json["expect"] = expect_json(spar, answer);
  json["rounds"] = spar.rounds;
  Json history = Json::array();
  for (const SparState& state : spar.history) history.push_back(spar_state_json(state));
  json["history"] = std::move(history);
  json["ei_along"] = along_json(measured);
  return json;
}

Json end_view_json(const std::string& id, double turn_deg, const SparsAnswer& answer) {
  const SparAnswer& spar = *answer.find(id);
  const spar::Section root = spar.measured()->spar.taper.stations.front().section;
  Json json{{"id", id},
            {"shape", shape_word(spar.shape)},
            {"width_m", root.width_m},
            {"depth_m", root.depth_m},
            {"turn_deg", turn_deg},
            {"sand_0_m", 0.0},
            {"sand_90_m", 0.0}};
  for (const SparSanding& sanding : answer.sanding) {
    if (sanding.id != id) continue;
    json["sand_0_m"] = sanding.cut.remove_0_per_face_m;
    json["sand_90_m"] = sanding.cut.remove_90_per_face_m;
  }
  return json;
}

/// EI at the root of a spar turned so, for bending towards the front: that of the uniform spar in
/// this direction, with what the taper makes of it in the two directions that were read.
double mounted_root_ei_Nm2(const spar::Measured& spar, double turn_deg) {
  const double c = std::cos(turn_deg * base::degree_rad);
  const double at_0 = std::log(spar.at_0.ei_root_Nm2 / spar.at_0.ei_Nm2);
  const double at_90 = std::log(spar.at_90.ei_root_Nm2 / spar.at_90.ei_Nm2);
  return spar::turned(spar, turn_deg).ei_Nm2 * std::exp(c * c * at_0 + (1 - c * c) * at_90);
}

/// Of both spars of a pair.
Json mounted_ei_json(const spar::Pair& pair, const SparsAnswer& answer, double more_deg) {
  return {mounted_root_ei_Nm2(*answer.find(pair.a)->measured(), pair.turn_a_deg + more_deg),
          mounted_root_ei_Nm2(*answer.find(pair.b)->measured(), pair.turn_b_deg + more_deg)};
}

Json spar_pair_json(const SparPair& judged, const SparsAnswer& answer) {
  const spar::Pair& pair = judged.pair;
  return {{"a", pair.a},
          {"b", pair.b},
          {"turn_a_deg", pair.turn_a_deg},
          {"turn_b_deg", pair.turn_b_deg},
          {"mismatch_relative", pair.mismatch},
          {"sigma_relative", pair.sigma},
          {"front_relative", pair.flap.log_ratio},
          {"side_relative", pair.edge.log_ratio},
          {"ei_root_front_Nm2", mounted_ei_json(pair, answer, 0)},
          {"ei_root_side_Nm2", mounted_ei_json(pair, answer, 90)},
          {"verdict", verdict_word(pair.verdict)},
          {"verdict_word", judged.verdict_word},
          {"stiffer", spar_word(judged.stiffer)},
          {"more_repeats", pair.verdict == spar::Verdict::cannot_tell && pair.more_readings
                               ? Json(*pair.more_readings)
                               : Json(nullptr)},
          {"kept", judged.kept},
          {"sentence", judged.sentence},
          {"mount_sentence", judged.mount_sentence},
          {"end_views",
           {end_view_json(pair.a, pair.turn_a_deg, answer),
            end_view_json(pair.b, pair.turn_b_deg, answer)}}};
}

Json sanding_json(const SparSanding& sanding, const SparsAnswer& answer) {
  const spar::Cut& cut = sanding.cut;
  const bool round = answer.find(sanding.id)->shape == spar::Shape::round;
  const auto faces = [&](double off_m) {
    return !(off_m > 0) ? "" : round ? "all round" : "top and bottom";
  };
  return {{"id", sanding.id},
          {"partner", sanding.partner},
          {"step", sanding.step},
          {"remove_0_per_face_m", cut.remove_0_per_face_m},
          {"remove_90_per_face_m", cut.remove_90_per_face_m},
          {"target_reading_0_m", cut.target_reading_0_m},
          {"target_reading_90_m", cut.target_reading_90_m},
          {"band_0", spar_range_json(sanding.band_0)},
          {"band_90", spar_range_json(sanding.band_90)},
          {"from_m", cut.from_m},
          {"to_m", cut.to_m},
          {"faces_0", faces(cut.remove_0_per_face_m)},
          {"faces_90", faces(cut.remove_90_per_face_m)},
          {"goal_ei_0_Nm2", sanding.goal_ei_0_Nm2},
          {"goal_ei_90_Nm2", sanding.goal_ei_90_Nm2},
          {"expected_mismatch_relative", sanding.expected_mismatch},
          {"first_step", cut.is_first_step},
          {"sentences", sanding.sentences}};
}

Json now_json(const std::optional<SparNow>& now) {
  if (!now) return nullptr;
  return {{"what", now->what},
          {"id", spar_word(now->id)},
          {"partner", spar_word(now->partner)},
          {"headline", now->headline},
          {"number", now->number},
          {"unit", now->unit},
          {"direction", now->direction ? Json(*now->direction) : Json(nullptr)},
          {"per_face_m", spar_number(now->per_face_m)},
          {"from_m", spar_number(now->from_m)},
          {"to_m", spar_number(now->to_m)},
          {"target_reading_m", spar_number(now->target_reading_m)},
          {"band", now->band ? spar_range_json(*now->band) : Json(nullptr)},
          {"sentence", now->sentence},
          {"caution", now->caution}};
}

template <class List, class Make>
Json spar_list_json(const List& list, Make make) {
  Json json = Json::array();
  for (const auto& each : list) json.push_back(make(each));
  return json;
}

Json problem_of_spar_json(const SparProblem& problem) {
  Json json{{"id", problem.id}};
  json.update(problem_json(problem.problem));
  return json;
}

}  // namespace

Json spars_json(const SparsAnswer& answer) {
  const SparBatch& batch = answer.batch;
  const auto measured =
      std::count_if(answer.spars.begin(), answer.spars.end(),
                    [](const SparAnswer& spar) { return spar.measured() != nullptr; });
  return {{"rig", spar_rig_json(batch)},
          {"units", batch.profile == units::Profile::inch ? "inch" : "metric"},
          {"tolerance_relative", batch.limits.tolerance},
          {"minimum_size_m", batch.limits.smallest_m},
          {"keep_root_m", batch.limits.keep_root_m},
          {"step_m", batch.limits.step_m},
          {"spar_count", answer.spars.size()},
          {"measured_count", measured},
          {"spars",
           spar_list_json(answer.spars, [&](const auto& each) { return spar_json(each, answer); })},
          {"pairs", spar_list_json(answer.pairs,
                                   [&](const auto& each) { return spar_pair_json(each, answer); })},
          {"unpaired", answer.unpaired},
          {"sanding", spar_list_json(answer.sanding,
                                     [&](const auto& each) { return sanding_json(each, answer); })},
          {"now", now_json(answer.now)},
          {"notes", answer.notes},
          {"problems", spar_list_json(answer.problems, problem_of_spar_json)},
          {"questions", spar_list_json(answer.questions, [](const SparQuestion& each) {
             return Json{{"id", each.id}, {"field", each.field}, {"message", each.message}};
           })}};
}

}  // namespace propwright::answer
