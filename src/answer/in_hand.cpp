// "What have I got?": a propeller in hand, from a length and a few angles.
// Symbols: r radius, theta blade angle, P = 2 pi r tan(theta) local pitch, and its doubt
// dP = 2 pi r sec^2(theta) dtheta.
#include <fmt/format.h>

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <numeric>

#include "live_parts.h"
#include "propwright/answer/document.h"
#include "propwright/answer/live.h"
#include "propwright/base/constants.h"

namespace propwright::answer {
namespace {

using D = units::Dimension;

constexpr std::size_t most_readings = 40;
constexpr double usual_doubt_rad = 0.5 * base::degree_rad;
constexpr double largest_shift_rad = 12 * base::degree_rad;  // further off it is another propeller

struct AngleReading {
  std::size_t number = 0;  ///< as sent, from 1
  std::string radius, angle;
  double radius_m = 0, angle_rad = 0, doubt_rad = usual_doubt_rad;
  double pitch_m() const { return form::local_pitch_m(angle_rad, radius_m); }
  double sigma_m() const {
    const double secant = 1 / std::cos(angle_rad);
    return 2 * base::pi * radius_m * secant * secant * doubt_rad;
  }
};

struct ChordReading {
  std::size_t number = 0;
  std::string radius, chord;
  double radius_m = 0, chord_m = 0;
};

struct Readings {
  std::optional<std::string> diameter;
  double diameter_m = 0;
  std::vector<AngleReading> angles;  ///< by radius
  std::vector<ChordReading> chords;  ///< by radius
  std::optional<double> counted_rev_per_s;
};

/// Takes the readings out of their JSON; all that is wrong is told.
class Reader {
 public:
  explicit Reader(const Json& json) : json_(json) {}

  base::Expected<Readings> read() {
    if (!json_.is_object()) {
      wrong("readings", "the readings are no object", "send an object with angles");
      return base::fail(std::move(problems_));
    }
    if (json_.contains("diameter")) {
      readings_.diameter = text("readings.diameter", json_["diameter"]);
      readings_.diameter_m =
          quantity("readings.diameter", *readings_.diameter, D::length, 0.06, 0.7);
    }
    angles();
    chords();
    if (json_.contains("counted_revs")) {
      const std::string field = "readings.counted_revs";
      readings_.counted_rev_per_s =
          quantity(field, text(field, json_["counted_revs"]), D::rotation, 0.05, 20);
    }
    if (!problems_.empty()) return base::fail(std::move(problems_));
    const auto by_radius = [](const auto& a, const auto& b) { return a.radius_m < b.radius_m; };
    std::sort(readings_.angles.begin(), readings_.angles.end(), by_radius);
    std::sort(readings_.chords.begin(), readings_.chords.end(), by_radius);
    return std::move(readings_);
  }

 private:
  void wrong(const std::string& field, const char* message, const char* remedy,
             const std::string& value = {}, const std::string& allowed = {}) {
    problems_.push_back(
        {.field = field, .value = value, .allowed = allowed, .remedy = remedy, .message = message});
  }

  std::string text(const std::string& field, const Json& value) {
    if (value.is_string()) return value.get<std::string>();
    wrong(field, "this is no text", "write a number and a unit in quotes",
          value.is_null() ? "" : value.dump());
    return {};
  }

  double quantity(const std::string& field, const std::string& written, D dimension, double low,
                  double high) {
    const bool told = std::any_of(problems_.begin(), problems_.end(),
                                  [&](const auto& problem) { return problem.field == field; });
    if (told) return low;
    const auto value = units::parse(written, dimension, field);
    if (!value) {
      for (const auto& problem : value.error()) problems_.push_back(problem);
      return low;
    }
    if (*value >= low && *value <= high) return *value;
    const auto end = [&](double si) {
      return units::to_exact_text(si, dimension, units::Profile::metric);
    };
    wrong(field, *value < low ? "the value is too small" : "the value is too large",
          "give a value in this range", written, end(low) + " to " + end(high));
    return low;
  }

  /// The rows of a list; one that is no object is told and left out.
  std::vector<std::pair<std::size_t, const Json*>> rows(const std::string& field,
                                                        const char* member) {
    std::vector<std::pair<std::size_t, const Json*>> list;
    const auto found = json_.find(member);
    if (found == json_.end()) return list;
    if (!found->is_array() || found->size() > most_readings) {
      wrong(field, "this is no list of readings", "send a list", {},
            fmt::format("up to {} readings", most_readings));
      return list;
    }
    for (std::size_t i = 0; i < found->size(); ++i) {
      if ((*found)[i].is_object()) {
        list.emplace_back(i + 1, &(*found)[i]);
      } else {
        wrong(fmt::format("{}[{}]", field, i + 1), "this is no reading", "send radius and value");
      }
    }
    return list;
  }

  static const Json& member(const Json& row, const char* name) {
    static const Json none;
    const auto found = row.find(name);
    return found == row.end() ? none : *found;
  }

  void angles() {
    const std::string list = "readings.angles";
    for (const auto& [number, row] : rows(list, "angles")) {
      const std::string at = fmt::format("{}[{}]", list, number);
      AngleReading reading{.number = number,
                           .radius = text(at + ".radius", member(*row, "radius")),
                           .angle = text(at + ".angle", member(*row, "angle"))};
      reading.radius_m = quantity(at + ".radius", reading.radius, D::length, 0.005, 0.35);
      reading.angle_rad =
          quantity(at + ".angle", reading.angle, D::angle, base::degree_rad, 80 * base::degree_rad);
      if (row->contains("doubt")) {
        const std::string field = at + ".doubt";
        reading.doubt_rad = quantity(field, text(field, (*row)["doubt"]), D::angle,
                                     0.01 * base::degree_rad, 10 * base::degree_rad);
      }
      readings_.angles.push_back(reading);
    }
    if (readings_.angles.empty() && problems_.empty()) {
      wrong(list, "no angle was read", "read the blade angle at two or three radii");
    }
  }

  void chords() {
    const std::string list = "readings.chords";
    for (const auto& [number, row] : rows(list, "chords")) {
      const std::string at = fmt::format("{}[{}]", list, number);
      ChordReading reading{.number = number,
                           .radius = text(at + ".radius", member(*row, "radius")),
                           .chord = text(at + ".chord", member(*row, "chord"))};
      reading.radius_m = quantity(at + ".radius", reading.radius, D::length, 0.001, 0.35);
      reading.chord_m = quantity(at + ".chord", reading.chord, D::length, 0, 0.15);
      readings_.chords.push_back(reading);
    }
  }

  const Json& json_;
  Readings readings_;
  base::Problems problems_;
};

std::string mm_text(double length_m) {
  return units::to_exact_text(std::round(length_m * 1e6) / 1e6, D::length, units::Profile::metric);
}

/// The job's own outline for a blade of other length: every size along and across in proportion.
void scale_outline(const brief::Propeller& known, double factor, Json& propeller) {
  Json& outline = propeller["outline"];
  if (!outline.is_object()) outline = Json::object();
  outline["root_radius"] = mm_text(known.root_radius_m * factor);
  outline["widest_chord"] = mm_text(known.widest_chord_m * factor);
  outline["root_chord"] = mm_text(known.root_chord_m * factor);
}

/// The job's blade of stations or readings, as chord readings of a blade of other length.
template <class Row>
void chords_from(const std::vector<Row>& rows, double factor, Json& propeller) {
  Json list = Json::array();
  for (const Row& row : rows) {
    list.push_back(
        {{"radius", mm_text(row.radius_m * factor)}, {"chord", mm_text(row.chord_m * factor)}});
  }
  propeller["measured_chord"] = std::move(list);
  propeller.erase("outline");
}

void put_outline(const Readings& readings, const brief::Propeller& known, Json& propeller) {
  const double factor = readings.diameter_m > 0 ? readings.diameter_m / known.diameter_m : 1;
  propeller.erase("measured_chord");
  if (!readings.chords.empty()) {
    propeller.erase("outline");
    Json list = Json::array();
    for (const ChordReading& row : readings.chords) {
      list.push_back({{"radius", row.radius}, {"chord", row.chord}});
    }
    propeller["measured_chord"] = std::move(list);
  } else if (known.source == brief::BladeSource::stations) {
    chords_from(known.stations, factor, propeller);
  } else if (!known.measured_chords.empty()) {
    chords_from(known.measured_chords, factor, propeller);
  } else if (factor != 1) {
    scale_outline(known, factor, propeller);
  }
  // A spar for another length: in proportion as well, so that it ends on the blade.
  if (factor == 1 || known.spar.length_m <= 0 || !propeller["spar"].is_object()) return;
  propeller["spar"]["length"] = mm_text(known.spar.length_m * factor);
  propeller["spar"]["root_radius"] = mm_text(known.spar.root_radius_m * factor);
}

/// The job with the measured blade in the place of its own.
Json measured_job(const Json& job, const Readings& readings, const brief::Propeller& known) {
  Json measured = job;
  Json& propeller = measured["propeller"];
  for (const char* name : {"pitch", "form_pitch", "gauge_radius", "station"}) propeller.erase(name);
  if (readings.diameter) propeller["diameter"] = *readings.diameter;
  Json angles = Json::array();
  for (const AngleReading& row : readings.angles) {
    angles.push_back({{"radius", row.radius}, {"angle", row.angle}});
  }
  propeller["measured_angle"] = std::move(angles);
  put_outline(readings, known, propeller);
  return measured;
}

/// Problems of the rows this made, put down to the readings they were made of.
base::Problems as_readings(base::Problems problems, const Readings& readings) {
  const auto renamed = [](const std::string& field, const std::string& table,
                          const std::string& list, const auto& rows) {
    if (!field.starts_with(table + "[")) return field;
    const std::size_t row = std::strtoul(field.c_str() + table.size() + 1, nullptr, 10);
    const auto close = field.find(']');
    if (row < 1 || row > rows.size() || close == std::string::npos) return field;
    return fmt::format("{}[{}]{}", list, rows[row - 1].number, field.substr(close + 1));
  };
  for (base::Problem& problem : problems) {
    problem.field =
        renamed(problem.field, "propeller.measured_angle", "readings.angles", readings.angles);
    problem.field =
        renamed(problem.field, "propeller.measured_chord", "readings.chords", readings.chords);
    if (problem.field == "propeller.diameter" && readings.diameter) {
      problem.field = "readings.diameter";
    }
  }
  return problems;
}

struct Pitch {
  double mean_m = 0, sigma_m = 0;
  bool helical = true;
};

Pitch pitch_of(const std::vector<AngleReading>& angles) {
  double weight = 0, sum = 0;
  for (const AngleReading& row : angles) {
    const double w = 1 / (row.sigma_m() * row.sigma_m());
    weight += w;
    sum += w * row.pitch_m();
  }
  Pitch pitch{.mean_m = sum / weight, .sigma_m = std::sqrt(1 / weight)};
  for (const AngleReading& row : angles) {
    if (std::abs(row.pitch_m() - pitch.mean_m) > 2 * row.sigma_m()) pitch.helical = false;
  }
  return pitch;
}

std::string pitch_sentence(const Readings& readings, const Pitch& pitch, units::Profile profile) {
  const bool inch = profile == units::Profile::inch;
  const auto text = [&](double m) {  // no reading is good to more than a millimetre of pitch
    const auto printed = units::print_in(m, D::length, inch ? "in" : "mm", inch ? 2 : 0);
    return printed.number + " " + printed.unit;
  };
  const auto& angles = readings.angles;
  if (angles.size() == 1) {
    return fmt::format(
        "One angle gives a pitch of {} ± {}; whether the blade is a true helix it "
        "cannot tell.",
        text(pitch.mean_m), text(pitch.sigma_m));
  }
  if (pitch.helical) {
    return fmt::format("The {} readings agree with one pitch, {} ± {}.", angles.size(),
                       text(pitch.mean_m), text(pitch.sigma_m));
  }
  return fmt::format("Not a helix: the pitch goes from {} at {} to {} at {}.",
                     text(angles.front().pitch_m()), text(angles.front().radius_m),
                     text(angles.back().pitch_m()), text(angles.back().radius_m));
}

/// Common turn of the blades that makes the predicted mean revs the counted ones.
class ShiftSearch {
 public:
  ShiftSearch(const LoadedJob& loaded, double at_zero_rev_per_s, double counted_rev_per_s)
      : loaded_(loaded), counted_(counted_rev_per_s), off_at_zero_(at_zero_rev_per_s - counted_) {}

  std::optional<double> find() const {
    if (off_at_zero_ == 0) return 0;
    // More pitch turns slower.
    const double towards = off_at_zero_ > 0 ? 1 : -1;
    double near = 0, off_near = off_at_zero_;
    for (double step = 1 * base::degree_rad; step <= largest_shift_rad; step += base::degree_rad) {
      const double far = towards * step;
      const std::optional<double> off_far = off(far);
      if (!off_far) return std::nullopt;
      if (*off_far * off_near <= 0) return between(near, far, off_near, *off_far);
      near = far;
      off_near = *off_far;
    }
    return std::nullopt;
  }

 private:
  std::optional<double> off(double turn_rad) const {
    brief::Job job = loaded_.job;
    for (brief::MeasuredAngle& row : job.propeller.measured_angles) row.angle_rad += turn_rad;
    const auto nominal = predict::predict(job, loaded_.attachments);
    if (!nominal) return std::nullopt;
    return nominal->flight.mean_rev_per_s - counted_;
  }

  std::optional<double> between(double a, double b, double off_a, double off_b) const {
    if (off_b == 0) return b;
    if (a > b) {
      std::swap(a, b);
      std::swap(off_a, off_b);
    }
    std::uintmax_t steps = 40;
    // An angle to 1e-5 rad is finer than any protractor.
    const auto close = [](double x, double y) { return std::abs(x - y) < 1e-5; };
    const auto bracket = boost::math::tools::toms748_solve(
        [&](double x) { return off(x).value_or(0); }, a, b, off_a, off_b, close, steps);
    return (bracket.first + bracket.second) / 2;
  }

  const LoadedJob& loaded_;
  double counted_, off_at_zero_;
};

std::string shift_sentence(double predicted, double counted, const std::optional<double>& shift) {
  const auto rpm = [](double rev_per_s) {
    return units::to_text(rev_per_s, D::rotation, units::Profile::metric);
  };
  const std::string heard = fmt::format("Counted {}, predicted {}", rpm(counted), rpm(predicted));
  if (!shift) {
    return fmt::format("{}: no turn of the blades within {:.0f}° explains the difference.", heard,
                       largest_shift_rad / base::degree_rad);
  }
  const double degrees = *shift / base::degree_rad;
  if (std::abs(degrees) < 0.25) return heard + ": the angles are as read.";
  return fmt::format("{}: as if both blades stood {:.1f}° {} than read.", heard, std::abs(degrees),
                     degrees > 0 ? "steeper" : "flatter");
}

Json angles_json(const std::vector<AngleReading>& angles) {
  Json list = Json::array();
  for (const AngleReading& row : angles) {
    list.push_back({{"radius_m", six_digits(row.radius_m)},
                    {"angle_deg", six_digits(row.angle_rad / base::degree_rad)},
                    {"pitch_m", six_digits(row.pitch_m())},
                    {"sigma_m", six_digits(row.sigma_m())}});
  }
  return list;
}

void add_counted(const LoadedJob& loaded, const predict::Nominal& nominal,
                 const std::optional<double>& counted, Json& json) {
  json["counted_rev_per_s"] = counted ? Json(six_digits(*counted)) : Json(nullptr);
  json["angle_shift_deg"] = nullptr;
  json["shift_sentence"] = "";
  if (!counted) return;
  const double predicted = nominal.flight.mean_rev_per_s;
  const auto shift = ShiftSearch(loaded, predicted, *counted).find();
  if (shift) json["angle_shift_deg"] = six_digits(*shift / base::degree_rad);
  json["shift_sentence"] = shift_sentence(predicted, *counted, shift);
}

}  // namespace

base::Expected<Json> in_hand(const Json& job, const Json& attachments, const Json& readings_json,
                             std::optional<double> relative_sigma) {
  const auto readings = Reader(readings_json).read();
  if (!readings) return base::fail(readings.error());
  const auto known = load_document(job, attachments);
  if (!known) return base::fail(known.error());
  const Json measured = measured_job(job, *readings, known->job.propeller);
  const auto loaded = load_document(measured, attachments);
  if (!loaded) return base::fail(as_readings(loaded.error(), *readings));
  const auto nominal = predict::predict(loaded->job, loaded->attachments);
  if (!nominal) return base::fail(as_readings(in_file(nominal.error(), "job"), *readings));
  const Pitch pitch = pitch_of(readings->angles);
  Json json{{"pitch_m", six_digits(pitch.mean_m)},
            {"pitch_sigma_m", six_digits(pitch.sigma_m)},
            {"angles", angles_json(readings->angles)},
            {"helical", pitch.helical},
            {"sentence_metric", pitch_sentence(*readings, pitch, units::Profile::metric)},
            {"sentence_inch", pitch_sentence(*readings, pitch, units::Profile::inch)}};
  add_counted(*loaded, *nominal, readings->counted_rev_per_s, json);
  json["job"] = measured;
  json["flight"] = live_flight(*loaded, *nominal, relative_sigma);
  return json;
}

}  // namespace propwright::answer
