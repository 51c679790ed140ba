/// The bench's question from a file, from options, or from both.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "command.h"
#include "propwright/answer/document.h"
#include "propwright/answer/json_text.h"

namespace propwright::desk {

/// One subject of `propwright bench` and the table of the question that it asks for.
struct BenchSubject {
  const char* word;    ///< "twist"
  const char* table;   ///< "twist_test"
  const char* beside;  ///< a table that goes with it, "pair", or ""
};
const std::vector<BenchSubject>& bench_subjects();
const BenchSubject* bench_subject(const std::string& word);

/// An option that fills in one place of a subject's table.
struct BenchOption {
  const char* subject;
  const char* option;  ///< "--mandrel"
  const char* key;     ///< "mandrel"
  const char* value;   ///< for the help
  const char* help;
  enum class Kind { text, whole, number, flag } kind = Kind::text;
};
const std::vector<BenchOption>& bench_options();

/// What is asked, where it came from.
struct BenchQuestion {
  answer::Json question;
  const BenchSubject* subject = nullptr;  ///< none: every table of the file
  std::string file;                       ///< or empty
  answer::FieldLines lines = {};          ///< of the file
};

/// Reads the file and the options. Failure: wrong usage, or what cannot be read.
tl::expected<BenchQuestion, Failure> read_bench(const Arguments& arguments);

/// Problems told with the options and the file that they came from.
base::Problems bench_problems(base::Problems problems, const BenchQuestion& asked,
                              const Arguments& arguments);

/// The answer for people.
std::string bench_text(const answer::Json& answer);

}  // namespace propwright::desk
