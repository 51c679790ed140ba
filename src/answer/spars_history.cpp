// One spar from its first state to its last: sizes and mass carried on, readings reduced.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "spars_parts.h"

namespace propwright::answer {
namespace {

/// Names of the spar module and those of the request.
constexpr std::pair<std::string_view, const char*> request_names[] = {
    {"width_root_m", "root_width"},       {"depth_root_m", "root_depth"},
    {"width_mid_m", "middle_width"},      {"depth_mid_m", "middle_depth"},
    {"width_tip_m", "tip_width"},         {"depth_tip_m", "tip_depth"},
    {"corner_radius_m", "corner_radius"}, {"mass_kg", "mass"},
    {"reading_0_m", "reading_0"},         {"reading_90_m", "reading_90"},
    {"reading_45_m", "reading_45"}};
constexpr std::pair<std::string_view, const char*> rig_names[] = {
    {"load_kg", "load"},
    {"load_at_m", "load_at"},
    {"read_at_m", "read_at"},
    {"zero_reading_m", "zero_reading"},
    {"resolution_m", "resolution"},
    {"repeatability_m", "repeatability"},
    {"load_sigma_kg", "load_sigma"}};

class History {
 public:
  History(const SparInput& spar, const SparBatch& batch, std::vector<SparProblem>& problems,
          std::vector<SparQuestion>& questions)
      : spar_(spar), batch_(batch), problems_(problems), questions_(questions) {
    answer_.id = spar.id;
    answer_.shape = spar.shape;
    answer_.set_aside = spar.set_aside;
    if (spar.length_m > 0) answer_.length_m = spar.length_m;
  }

  SparAnswer read() {
    for (const SparStateInput& state : spar_.states) {
      answer_.history.push_back(row(state));
      if (answer_.history.back().measured) {
        answer_.latest = static_cast<int>(answer_.history.size()) - 1;
      }
      ask(state, answer_.history.back());
    }
    answer_.rounds = std::max(0, static_cast<int>(answer_.history.size()) - 1);
    if (answer_.measured() != nullptr) answer_.mark_sentence = mark_sentence(*answer_.measured());
    return std::move(answer_);
  }

 private:
  SparState row(const SparStateInput& state) {
    SparState row;
    row.step = state.step;
    row.measured_at = state.measured_at;
    row.off_0_m = state.off_0_m;
    row.off_90_m = state.off_90_m;
    row.reading_0_m = mean(state.readings.at_0_m);
    row.reading_90_m = mean(state.readings.at_90_m);
    row.reading_45_m = mean(state.readings.at_45_m);
    row.repeats =
        static_cast<int>(std::min(state.readings.at_0_m.size(), state.readings.at_90_m.size()));
    const bool read = !state.readings.at_0_m.empty() || !state.readings.at_90_m.empty() ||
                      !state.readings.at_45_m.empty();
    if (!spar_.sound || !state.sound) {
      lost_ = true;  // what follows would stand on a value that is not known
      return row;
    }
    if (lost_ && state.root_width_m && state.tip_width_m && state.mass_kg) {
      taper_.reset();  // measured anew in full
      lost_ = false;
    }
    if (lost_) return row;
    size(state, row, read);
    if (read && row.taper && row.mass_kg) reduce(state, row);
    return row;
  }

  static std::optional<double> mean(const std::vector<double>& values) {
    if (values.empty()) return std::nullopt;
    double sum = 0;
    for (const double value : values) sum += value;
    return sum / static_cast<double>(values.size());
  }

  void tell(base::Problem problem) { problems_.push_back({spar_.id, std::move(problem)}); }

  void needed(const SparStateInput& state, const char* name, const char* remedy,
              const char* message) {
    tell({.field = state.field + "." + name, .remedy = remedy, .message = message});
  }

  /// Sizes and mass: as measured, else those of the state before less what was sanded off.
  void size(const SparStateInput& state, SparState& row, bool read) {
    std::optional<spar::Taper> base;
    if (taper_) base = sanded(state);
    const bool anew = state.root_width_m || state.root_depth_m || state.middle_width_m ||
                      state.middle_depth_m || state.tip_width_m || state.tip_depth_m ||
                      state.corner_radius_m;
    if (!base && !state.root_width_m) {
      if (read) needed(state, "root_width", "measure the spar at the clamp", "the size is wanting");
      return;
    }
    const spar::Taper taper = anew || !base ? measured_taper(state, base) : *base;
    base::Problems wrong = spar::problems(taper);
    if (!wrong.empty()) {
      lost_ = true;
      return tell_all(state, std::move(wrong));
    }
    row.taper = taper;
    row.mass_kg = state.mass_kg;
    const double volume_m3 = spar::volume_m3(taper);
    if (!row.mass_kg && mass_kg_) row.mass_kg = *mass_kg_ * volume_m3 / spar::volume_m3(*taper_);
    if (!row.mass_kg && read) needed(state, "mass", "weigh the spar", "the mass is wanting");
    if (row.mass_kg) row.density_kg_m3 = *row.mass_kg / volume_m3;
    taper_ = taper;
    mass_kg_ = row.mass_kg;
  }

  spar::Taper sanded(const SparStateInput& state) const {
    if (!(state.off_0_m > 0 || state.off_90_m > 0)) return *taper_;
    spar::Cut cut;
    cut.remove_0_per_face_m = state.off_0_m;
    cut.remove_90_per_face_m = state.off_90_m;
    cut.from_m = state.sanded_from_m;
    cut.to_m = state.sanded_to_m.value_or(spar_.length_m);
    return spar::sanded(*taper_, cut);
  }

  spar::Taper measured_taper(const SparStateInput& state,
                             const std::optional<spar::Taper>& base) const {
    const auto section = [&](const std::optional<double>& width, const std::optional<double>& depth,
                             const spar::Section& otherwise) {
      spar::Section sized = otherwise;
      sized.shape = spar_.shape;
      sized.width_m = width.value_or(depth ? *depth : otherwise.width_m);
      sized.depth_m = depth.value_or(width ? *width : otherwise.depth_m);
      if (state.corner_radius_m) sized.corner_radius_m = *state.corner_radius_m;
      return sized;
    };
    const auto before = [&](double share, const spar::Section& otherwise) {
      return base ? spar::section_at(*base, share * spar_.length_m) : otherwise;
    };
    const spar::Section root = section(state.root_width_m, state.root_depth_m, before(0, {}));
    const spar::Section tip = section(state.tip_width_m, state.tip_depth_m, before(1, root));
    std::optional<spar::Section> middle;
    const bool had_middle = base && base->stations.size() > 2;
    if (state.middle_width_m || state.middle_depth_m || had_middle) {
      middle = section(state.middle_width_m, state.middle_depth_m, before(0.5, root));
    }
    return spar::taper(root, middle, tip, spar_.length_m);
  }

  void reduce(const SparStateInput& state, SparState& row) {
    const auto& rig = state.rig ? state.rig : batch_.rig;
    if (!rig) return;
    const spar::Spar spar{spar_.id, *row.taper, *row.mass_kg, batch_.size_sigma_m};
    auto measured = spar::reduce(spar, state.readings, *rig);
    if (measured) {
      row.measured = std::move(*measured);
    } else {
      tell_all(state, std::move(measured.error()));
    }
  }

  /// Problems of the spar module under the fields of the request, with what was written there.
  void tell_all(const SparStateInput& state, base::Problems wrong) {
    for (base::Problem& problem : wrong) {
      const std::string name = problem.field.substr(0, problem.field.find('['));
      place(state, name, problem);
      reword(problem);
      tell(std::move(problem));
    }
  }

  /// The module tells metres; the builder reads his own unit.
  void reword(base::Problem& problem) const {
    const SparWords words(batch_.profile);
    const bool place = problem.field.ends_with(".length") || problem.field.ends_with("_at");
    for (std::string* text : {&problem.value, &problem.allowed, &problem.message}) {
      *text = words.worded(*text, place);
    }
  }

  void place(const SparStateInput& state, const std::string& name, base::Problem& problem) const {
    if (name == "length_m") {
      problem.field = spar_.field + ".length";
      return;
    }
    for (const auto& [own, requested] : rig_names) {
      if (name == own) {
        problem.field = (state.rig ? state.field + ".rig." : "rig.") + std::string(requested);
        return;
      }
    }
    for (const auto& [own, requested] : request_names) {
      if (name != own) continue;
      std::string there = requested;
      if (there.starts_with("reading")) there += which_reading(state, there);
      problem.field = state.field + "." + there;
      const auto written = state.written.find(there);
      if (written != state.written.end()) problem.value = written->second;
      return;
    }
    problem.field = state.field;
  }

  /// "[2]": the reading that is farthest from the others, counted from 1, or the only one; "" for
  /// none.
  static std::string which_reading(const SparStateInput& state, const std::string& name) {
    const auto& readings = name == "reading_0"    ? state.readings.at_0_m
                           : name == "reading_90" ? state.readings.at_90_m
                                                  : state.readings.at_45_m;
    if (readings.empty()) return {};
    const double middle = *mean(readings);
    const auto farthest = std::max_element(
        readings.begin(), readings.end(),
        [&](double a, double b) { return std::abs(a - middle) < std::abs(b - middle); });
    return fmt::format("[{}]", farthest - readings.begin() + 1);
  }

  void ask(const SparStateInput& state, const SparState& row) {
    if (!row.measured) return;
    for (const spar::Question& question : row.measured->questions) {
      base::Problem there{.field = question.field};
      place(state, question.field.substr(0, question.field.find('[')), there);
      std::string message = SparWords(batch_.profile).worded(question.message, false);
      // In the builder's own unit where it speaks of the reading.
      const auto meaning = message.find(" would mean E");
      if (meaning != message.npos && !there.value.empty()) {
        message = there.value + message.substr(meaning);
      }
      if (!question.remedy.empty()) message += "; " + question.remedy;
      questions_.push_back({spar_.id, there.field, message + "."});
    }
  }

  const SparInput& spar_;
  const SparBatch& batch_;
  std::vector<SparProblem>& problems_;
  std::vector<SparQuestion>& questions_;
  SparAnswer answer_;
  std::optional<spar::Taper> taper_;  ///< of the state before
  std::optional<double> mass_kg_;
  bool lost_ = false;
};

}  // namespace

SparAnswer spar_history(const SparInput& spar, const SparBatch& batch,
                        std::vector<SparProblem>& problems, std::vector<SparQuestion>& questions) {
  return History(spar, batch, problems, questions).read();
}

}  // namespace propwright::answer
