/// The one table of the job file's fields: reading, range checks, writing and the reference all
/// walk it, so that each fact of a field is said once.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <type_traits>
#include <utility>
#include <variant>
#include <vector>

#include "propwright/brief/job.h"
#include "propwright/units/units.h"

namespace propwright::brief {

/// What a field holds between text and job: SI number, whole number or index of a word, yes/no,
/// text.
using Value = std::variant<double, int, bool, std::string>;

enum class Kind {
  quantity,    ///< text with a unit; a bare number too where the dimension is a ratio
  difference,  ///< temperature difference, text with a unit
  whole,       ///< TOML integer
  words,       ///< one of a few words
  flag,        ///< true or false
  text,        ///< one line, or several for a note
  file,        ///< path of another file, relative to the job file
};

/// All that is known of a field apart from where it is kept.
struct FieldFacts {
  std::string name;  ///< dotted, e.g. "propeller.hub.mass"; the bare key in the rows of a table
  Kind kind = Kind::quantity;
  units::Dimension dimension = units::Dimension::ratio;
  double low = 0, high = 0;  ///< SI; characters for a text
  bool required = false;
  std::vector<std::string> words;
  std::string when_absent;  ///< what leaving it out means, where no default says so
  std::string meaning;      ///< a sentence for the reference
};

template <class Owner>
struct Field : FieldFacts {
  std::function<std::optional<Value>(const Owner&)> get;  ///< empty for an empty optional
  std::function<void(Owner&, const Value&)> set;

  Field needed() && {
    required = true;
    return std::move(*this);
  }
  Field absent(std::string what) && {
    when_absent = std::move(what);
    return std::move(*this);
  }
};

/// Every single-valued field of the file, in the order in which it is written and documented.
const std::vector<Field<Job>>& job_fields();
/// The fields of a row of [[propeller.station]], [[propeller.measured_angle]],
/// [[propeller.measured_chord]] and [[learned.direction]].
const std::vector<Field<Station>>& station_fields();
const std::vector<Field<MeasuredAngle>>& measured_angle_fields();
const std::vector<Field<MeasuredChord>>& measured_chord_fields();
const std::vector<Field<LearnedDirection>>& learned_direction_fields();

/// The names of the tables of rows.
inline constexpr const char* station_table = "propeller.station";
inline constexpr const char* measured_angle_table = "propeller.measured_angle";
inline constexpr const char* measured_chord_table = "propeller.measured_chord";
inline constexpr const char* learned_direction_table = "learned.direction";

/// "propeller.hub" of "propeller.hub.mass"; "" without a dot.
std::string section_of(const std::string& name);
/// "mass" of "propeller.hub.mass".
std::string key_of(const std::string& name);

/// A value as a person reads it in a message or the reference: "60 mm", "0.06", "light". Plain
/// spaces and minus signs, because messages go to terminals and are searched.
std::string shown_value(const FieldFacts& field, const Value& value, units::Profile profile);
/// "60 mm to 700 mm", the words, "true or false"; "" for text.
std::string allowed_range(const FieldFacts& field, units::Profile profile);

units::Profile profile_of(const Job& job);

// How the rows of the table are made -----------------------------------------------------------

/// Way to a member through members: at(&Job::hall, &Hall::roof_height_m).
template <class... Members>
auto at(Members... members) {
  return [=](auto& owner) -> auto& {
    return (owner.*....*members);
  };
}

template <class T>
struct IsOptional : std::false_type {};
template <class T>
struct IsOptional<std::optional<T>> : std::true_type {};

/// Ties a field to the member that `way` leads to; `Stored` is the alternative of Value it uses.
template <class Stored, class Owner, class Way>
Field<Owner> field(FieldFacts facts, Way way) {
  using Member = std::remove_cvref_t<decltype(way(std::declval<Owner&>()))>;
  Field<Owner> made{std::move(facts), {}, {}};
  made.get = [way](const Owner& owner) -> std::optional<Value> {
    const auto& member = way(owner);
    if constexpr (IsOptional<Member>::value) {
      if (!member) return std::nullopt;
      return Value(static_cast<Stored>(*member));
    } else {
      return Value(static_cast<Stored>(member));
    }
  };
  made.set = [way](Owner& owner, const Value& value) {
    if constexpr (IsOptional<Member>::value) {
      way(owner) = static_cast<typename Member::value_type>(std::get<Stored>(value));
    } else {
      way(owner) = static_cast<Member>(std::get<Stored>(value));
    }
  };
  return made;
}

template <class Owner = Job, class Way>
Field<Owner> quantity(const char* name, units::Dimension dimension, double low, double high,
                      Way way, const char* meaning) {
  return field<double, Owner>({name, Kind::quantity, dimension, low, high, false, {}, {}, meaning},
                              way);
}
template <class Way>
Field<Job> difference(const char* name, double low_K, double high_K, Way way, const char* meaning) {
  const auto dimension = units::Dimension::temperature;
  return field<double, Job>(
      {name, Kind::difference, dimension, low_K, high_K, false, {}, {}, meaning}, way);
}
template <class Way>
Field<Job> whole(const char* name, int low, int high, Way way, const char* meaning) {
  return field<int, Job>({name, Kind::whole, {}, double(low), double(high), false, {}, {}, meaning},
                         way);
}
template <class Way>
Field<Job> words(const char* name, std::vector<std::string> list, Way way, const char* meaning) {
  return field<int, Job>({name, Kind::words, {}, 0, 0, false, std::move(list), {}, meaning}, way);
}
template <class Way>
Field<Job> flag(const char* name, Way way, const char* meaning) {
  return field<bool, Job>({name, Kind::flag, {}, 0, 0, false, {}, {}, meaning}, way);
}
template <class Way>
Field<Job> text(const char* name, int longest, Way way, const char* meaning) {
  return field<std::string, Job>({name, Kind::text, {}, 0, double(longest), false, {}, {}, meaning},
                                 way);
}
template <class Way>
Field<Job> file(const char* name, Way way, const char* meaning) {
  return field<std::string, Job>({name, Kind::file, {}, 0, 400, false, {}, {}, meaning}, way);
}

// The parts of the table, one file each.
std::vector<Field<Job>> site_fields();       ///< job, hall, air, model, rules
std::vector<Field<Job>> motor_fields();      ///< rubber, motor, launch
std::vector<Field<Job>> propeller_fields();  ///< propeller and below
std::vector<Field<Job>> doubt_fields();
std::vector<Field<Job>> learned_fields();

}  // namespace propwright::brief
