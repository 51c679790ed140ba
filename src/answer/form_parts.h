/// The parts of the form's answer, one file a subject.
#pragma once

#include "packet_data.h"
#include "propwright/answer/form_answer.h"

namespace propwright::answer {

/// What every part of the answer reads.
struct FormWork {
  const LoadedJob& loaded;
  const brief::Assembly& assembly;
  const BladeLaw& law;
  const FormOptions& options;
  bool helical = false;
  std::vector<form::OutlineRow> rows;  ///< of the stations
  form::Form form;                     ///< at those rows
};

/// Adds drawings to the group of that key, made where it is not there yet.
sheet::FormGroup& form_group(FormAnswer& answer, const std::string& key, const std::string& title,
                             const std::string& words, std::vector<sheet::Hazard> hazards);

// form_kinds.cpp: each kind of form; a kind asked for by name that cannot be made is a problem.
base::Expected<void> add_form_kinds(const FormWork& work, FormAnswer& answer);
// form_built_up.cpp: ribs, strip, covering and frame of a built-up blade.
base::Expected<void> add_built_up(const FormWork& work, FormAnswer& answer);
// form_gauges.cpp: cards and blocks to set the blades by.
base::Expected<void> add_gauges(const FormWork& work, FormAnswer& answer);

}  // namespace propwright::answer
