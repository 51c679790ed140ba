// The reference of the job file: prose around tables made from the fields themselves.
#include <fmt/format.h>

#include <map>

#include "fields.h"
#include "propwright/brief/file.h"

namespace propwright::brief {
namespace {

constexpr const char* introduction = R"(# The job file

A job file states one flight: the hall, the air, the model, its rules, the rubber, the motor, how it
is launched, and the propeller. It is plain text in [TOML](https://toml.io): sections in square
brackets, below them one `name = value` a line, and `#` before a remark. `examples/` holds complete
jobs with remarks; copy the nearest one and change it.

```toml
[job]
name = "Lantern 46"
version = 3

[hall]
roof_height = "8.5 m"

[propeller]
diameter = "15 in"          # inches and millimetres may stand side by side
camber = 0.06               # a pure number needs no quotes; "6 %" is the same
hand = "anticlockwise"
```

**Quantities** are text with a unit: `"305 mm"`, `"12 in"`, `"1 1/2 in"`, `"40 thou"`, `"0.42 in-oz"`,
`"5 lb/ft3"`, `"21 degC"`. A bare number is refused where a unit is needed, because 12 inches and
12 mm are both propellers. Where the table says *number*, a bare number or a percentage is right.
A spelling that is not known is refused together with the list of those that are.

**What you leave out** takes the default of the table. *Needed* fields have none.

**The blade** is stated in one of three ways:

1. `propeller.pitch` with `[propeller.outline]`: a blade made on a helical form and set to that pitch.
   `propeller.form_pitch` is the pitch of the form where it differs: the whole blade is then turned,
   and its pitch is no longer the same at every radius.
2. `[[propeller.station]]`, a table of radius, chord and angle from root to tip.
3. `[[propeller.measured_angle]]`, readings on a propeller in hand, with either
   `[[propeller.measured_chord]]` or `[propeller.outline]`.

**All problems** of a file are reported at once, each with its line, the field, what was written, what
is allowed, and what to do. Besides the ranges below it is checked that the fields agree: the root
lies inside the tip, stations increase and end at the tip, the spar ends on the blade, at most one of
`launch.margin`, `launch.turns` and `launch.torque` is given, and so on. A model or motor outside
`[rules]` is not a problem: it is flown and noted.

**Doubts** are 1-sigma, relative unless a unit stands with them. Every interval in the packet comes
from them. Defaults marked guess or judgement are ours; replace them by what you know.

**What flights taught** is written by `propwright learn`: factors on what the sheet says, angles added
to it, and the doubt that is left. Every prediction uses them; `learned.use = false` switches them off.
The table keeps whose they are (`model`, `rubber`, `propeller`, `sections`): with another batch in the box, or another propeller on the hook,
that part is left on the sheet and a note says so. A table without these names, as older ones are, is taken for the job's own.
Flights tell some of these better together than each alone. The rows `[[learned.direction]]` hold that:
the directions in which flights left less doubt, and how much.
)";

const std::map<std::string, std::string> headings = {
    {"job", "The job"},
    {"hall", "The hall"},
    {"air", "The air"},
    {"model", "The model"},
    {"rules", "The rules"},
    {"rubber", "The rubber"},
    {"motor", "The motor"},
    {"launch", "The launch"},
    {"propeller", "The propeller"},
    {"propeller.outline", "The outline of the blade"},
    {"propeller.blade", "What the blade is made of"},
    {"propeller.spar", "The spar"},
    {"propeller.flex", "The flexing blade and its tests"},
    {"propeller.hub", "Hub and shaft"},
    {"doubts", "Doubts"},
    {"learned", "What flights taught"},
};

std::string default_text(const FieldFacts& field, const std::optional<Value>& value) {
  if (field.required) return "*needed*";
  if (!field.when_absent.empty() || !value) return field.when_absent;
  const std::string shown = shown_value(field, *value, units::Profile::metric);
  const bool prose = field.kind == Kind::text || field.kind == Kind::file;
  return shown.empty() ? "none" : prose ? shown : "`" + shown + "`";
}

std::string takes(const FieldFacts& field) {
  const std::string range = allowed_range(field, units::Profile::metric);
  switch (field.kind) {
    case Kind::quantity:
      return field.dimension == units::Dimension::ratio ? "number, " + range : range;
    case Kind::difference:
      return range;
    case Kind::whole:
      return "whole number, " + range;
    case Kind::words:
      return "`" + range + "`";
    case Kind::flag:
      return range;
    case Kind::text:
      return fmt::format("text, up to {:.0f} bytes", field.high);
    case Kind::file:
      break;
  }
  return "path, relative to this file";
}

template <class Owner>
std::string row(const Field<Owner>& field) {
  static const Owner untouched{};
  return fmt::format("| `{}` | {} | {} | {} |\n", key_of(field.name), takes(field),
                     default_text(field, field.get(untouched)), field.meaning);
}

constexpr const char* table_head = "| field | takes | default | meaning |\n|---|---|---|---|\n";

template <class Row>
std::string rows_section(const char* table, const char* heading,
                         const std::vector<Field<Row>>& fields) {
  std::string out =
      fmt::format("\n## {}: `[[{}]]`, once for each row\n\n{}", heading, table, table_head);
  for (const auto& field : fields) out += row(field);
  return out;
}

}  // namespace

std::string job_file_reference() {
  std::string out = introduction;
  std::string section;
  for (const auto& field : job_fields()) {
    if (section_of(field.name) != section) {
      section = section_of(field.name);
      out += fmt::format("\n## {}: `[{}]`\n\n{}", headings.at(section), section, table_head);
    }
    out += row(field);
  }
  out += rows_section(station_table, "Stations", station_fields());
  out += rows_section(measured_angle_table, "Angles measured", measured_angle_fields());
  out += rows_section(measured_chord_table, "Chords measured", measured_chord_fields());
  out += rows_section(learned_direction_table, "What flights tell together",
                      learned_direction_fields());
  return out;
}

}  // namespace propwright::brief
