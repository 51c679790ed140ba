/// Where each field of a job file stands and how it was written.
#pragma once

#include <map>
#include <string>

#include "propwright/base/problem.h"
#include "propwright/brief/job.h"

namespace propwright::brief {

/// One field or section found in the file.
struct Entry {
  int line = 0;
  std::string text;   ///< value as written; "" for a section
  bool sound = true;  ///< false when a problem was found in it
};

/// The fields found, by dotted name; rows as "propeller.station[3].radius" (1-based).
class Source {
 public:
  void add(const std::string& name, Entry entry) { entries_[name] = std::move(entry); }
  void spoil(const std::string& name) { entries_[name].sound = false; }

  bool given(const std::string& name) const { return entries_.contains(name); }
  /// No problem known: read well, or left out by right.
  bool sound(const std::string& name) const {
    const auto found = entries_.find(name);
    return found == entries_.end() || found->second.sound;
  }
  /// Of the field, or of the nearest section above it; 0 when that is missing too.
  int line(const std::string& name) const;
  std::string text(const std::string& name) const;

 private:
  std::map<std::string, Entry> entries_;
};

/// The checks that span fields. Each is left out where a field it needs is not sound.
void check_together(const Job& job, const Source& source, base::Problems& problems);

/// "did you mean "52 cm"?" when another common unit, or a decimal point one place off, brings the
/// text into the range; "" otherwise.
struct FieldFacts;
std::string did_you_mean(const std::string& text, const FieldFacts& field);

/// The number and the unit of a quantity as written: {"1 1/2", "in"}.
std::pair<std::string, std::string> split_quantity(const std::string& text);

}  // namespace propwright::brief
