#include "field_lines.h"

namespace propwright::desk {

base::Problems with_lines(base::Problems problems, const std::string& file,
                          const answer::FieldLines& lines) {
  for (base::Problem& problem : problems) {
    if (problem.file.empty()) problem.file = file;
    if (problem.file == file && problem.line == 0)
      problem.line = answer::line_of(lines, problem.field);
  }
  return problems;
}

}  // namespace propwright::desk
