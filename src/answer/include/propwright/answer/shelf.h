/// The form shelf of the workshop: forms the builder owns and cylinders to form blades on. A record
/// holds what the builder wrote, {"form": {"kind": "block", "pitch": "30 in"}} or {"cylinder":
/// {"diameter": "4 in"}} (docs/workshop-file.md has the fields); here it is checked and turned into
/// SI.
#pragma once

#include <string>
#include <vector>

#include "propwright/answer/json_text.h"
#include "propwright/base/problem.h"
#include "propwright/shape/shape.h"
#include "propwright/workshop/workshop.h"

namespace propwright::answer {

/// Whether records of this kind belong to the shelf.
bool on_shelf(workshop::RecordKind kind);

/// What is wrong with the section of a shelf record; fields as "section.form.pitch".
base::Problems check_shelf_section(workshop::RecordKind kind, const Json& section);

/// Its quantities in SI, {"pitch_m": 0.762, "camber": 0.06}; those that cannot be read are left
/// out.
Json shelf_figures(workshop::RecordKind kind, const Json& section);

/// The cylinders that come with the program (data/cylinders.csv), as records of no workshop: ids
/// "built-in-tube-40-mm", revision 0, no times.
const std::vector<workshop::Record>& built_in_cylinders();

/// What the makeable blades may be made on.
struct Shelf {
  std::vector<shape::OwnedForm> forms;    ///< of one pitch
  std::vector<form::Cylinder> cylinders;  ///< the user's own, with the forms that are cylinders
  std::vector<std::string> notes;         ///< what was left out, and why
};

/// The forms and cylinders that are not archived, by name, at most 50 of each. Problem: the
/// workshop's own.
base::Expected<Shelf> read_shelf(const workshop::Workshop& workshop);

/// Puts the shelf with the rest that a request has at hand.
void add_shelf(shape::Request& request, const Shelf& shelf);

/// A cylinder by a diameter ("4 in") or by its name on the shelf or in the program's list, letters
/// small or capital. Problem: bad_input of `field`, with the nearest name.
base::Expected<form::Cylinder> cylinder_of(const std::string& text, const Shelf& shelf,
                                           const std::string& field);

}  // namespace propwright::answer
