/// Failure as a value: what went wrong, where, what is allowed, and what to do about it.
#pragma once

#include <string>
#include <tl/expected.hpp>
#include <utility>
#include <vector>

namespace propwright::base {

/// What kind of failure a problem is; decides the exit status of the program.
enum class Kind {
  bad_input,        ///< a value the user gave cannot be used; exit status 3
  no_solution,      ///< sound input, but the question has no answer; exit status 4
  resource_failed,  ///< disk, database, port; exit status 5
};

/// One problem, complete enough to act on. Empty members are unknown and are left out in print.
struct Problem {
  Kind kind = Kind::bad_input;
  std::string file = {};     ///< path as the user gave it
  int line = 0;              ///< 1-based line in the file; 0 = unknown
  std::string field = {};    ///< dotted name of the field or option, e.g. "propeller.diameter"
  std::string value = {};    ///< the value as the user wrote it
  std::string allowed = {};  ///< the allowed range or words, in the field's own unit
  std::string remedy = {};   ///< what to do next, in the imperative
  std::string message = {};  ///< one sentence: what is wrong
};

using Problems = std::vector<Problem>;

/// A value, or all the problems found while making it (never an empty list).
template <class T>
using Expected = tl::expected<T, Problems>;

/// The failing side of an Expected from one problem: `return base::fail({.field = ...});`
inline tl::unexpected<Problems> fail(Problem problem) {
  return tl::unexpected<Problems>(Problems{std::move(problem)});
}
/// The failing side of an Expected from a list of problems. The list must not be empty.
inline tl::unexpected<Problems> fail(Problems problems) {
  return tl::unexpected<Problems>(std::move(problems));
}

/// "file:line: field: message, allowed ..., remedy", leaving out what is unknown.
std::string to_line(const Problem& problem);

/// The name nearest to `word` among `known` by edit distance, or "" when none is near
/// (more than a third of the letters differ).
std::string nearest_name(const std::string& word, const std::vector<std::string>& known);

}  // namespace propwright::base
