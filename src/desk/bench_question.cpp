#include "bench_question.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "field_lines.h"
#include "files.h"
#include "job_files.h"
#include "propwright/answer/document.h"

namespace propwright::desk {
namespace {

using answer::Json;
using Kind = BenchOption::Kind;

std::vector<std::string> subject_words() {
  std::vector<std::string> words;
  for (const BenchSubject& subject : bench_subjects()) words.emplace_back(subject.word);
  return words;
}

base::Expected<void> put_job(Json& question, const std::string& path) {
  auto document = job_document(path);
  if (!document) return tl::unexpected(document.error());
  question["job"] = std::move((*document)["job"]);
  question["attachments"] = std::move((*document)["attachments"]);
  return {};
}

/// The tables of a file; a job it names is read as well, seen from the file.
base::Expected<Json> question_in(const std::string& file, bool with_job,
                                 answer::FieldLines& lines) {
  const auto text = read_text(file);
  if (!text) return tl::unexpected(text.error());
  lines = answer::toml_lines(*text);
  auto question = answer::job_json(*text, file);
  if (!question) return question;
  const auto job = question->find("job");
  if (job == question->end()) return question;
  if (!job->is_string()) {
    return base::fail({.file = file,
                       .field = "job",
                       .remedy = "write job = \"lantern46.toml\"",
                       .message = "this is no path of a job file"});
  }
  const auto path = std::filesystem::path(file).parent_path() / job->get<std::string>();
  question->erase("job");
  if (!with_job) return question;
  if (auto put = put_job(*question, path.string()); !put) return tl::unexpected(put.error());
  return question;
}

/// Only what the subject needs; instruments, units and job serve all of them.
void keep_subject(Json& question, const BenchSubject& subject) {
  // Shaking and replacement use what the blades and the hub tell.
  const std::string table = subject.table;
  const bool wide = table == "shaking" || table == "replacement" || table == "hub";
  for (const BenchSubject& other : bench_subjects()) {
    const std::string word = other.table;
    if (&other == &subject || (wide && (word == "blades" || word == "hub"))) continue;
    question.erase(word);
    if (*other.beside != '\0') question.erase(other.beside);
  }
}

Json option_value(const BenchOption& option, const std::string& text, base::Problems& problems) {
  if (option.kind == Kind::flag) return true;
  if (option.kind == Kind::text) return text;
  const auto read = units::parse(text, units::Dimension::ratio, option.option);
  if (!read) {
    problems.insert(problems.end(), read.error().begin(), read.error().end());
    return nullptr;
  }
  if (option.kind == Kind::number) return *read;
  const auto whole = static_cast<std::int64_t>(*read);
  if (static_cast<double>(whole) == *read) return whole;
  problems.push_back({.field = option.option,
                      .value = text,
                      .remedy = "give a whole number",
                      .message = "this is no whole number"});
  return nullptr;
}

/// The row that options fill in: the table itself, or the one row of a list within it.
Json& row_of(Json& question, const std::string& subject) {
  if (subject == "stock") {
    Json& list = question["stock"];
    if (!list.is_array()) list = Json::array({Json{{"id", "this piece"}}});
    return list[0];
  }
  if (subject == "weigh") {
    Json& table = question["weighings"];
    if (!table.is_object()) table = Json::object();
    Json& list = table["together"];
    if (!list.is_array()) list = Json::array({Json{{"part", "part"}}});
    return list[0];
  }
  Json& table = question[bench_subject(subject)->table];
  if (!table.is_object()) table = Json::object();
  return table;
}

/// Humidity and the wish for a doubt belong to all weighings.
bool beside_row(const BenchOption& option) {
  const std::string key = option.key;
  return std::string(option.subject) == "weigh" &&
         (key == "humidity" || key == "to_humidity" || key == "wanted");
}

/// --mass and --angle of the twist test, in pairs.
void put_twist_readings(const Arguments& arguments, Json& question, base::Problems& problems) {
  const auto& masses = arguments.all("--mass");
  const auto& angles = arguments.all("--angle");
  if (masses.size() != angles.size()) {
    problems.push_back({.field = "--angle",
                        .remedy = "give an --angle after each --mass",
                        .message = "each mass needs the angle it turned"});
    return;
  }
  Json list = Json::array();
  for (std::size_t i = 0; i < masses.size(); ++i) {
    list.push_back({{"mass", masses[i]}, {"angle", angles[i]}});
  }
  if (!list.empty()) row_of(question, "twist")["readings"] = std::move(list);
}

/// --weighed "Spars=52 mg".
void put_weighed(const Arguments& arguments, Json& question, base::Problems& problems) {
  if (!arguments.has("--weighed")) return;
  Json& table = row_of(question, "ledger");
  if (!table["parts"].is_array()) table["parts"] = Json::array();
  for (const std::string& text : arguments.all("--weighed")) {
    const auto equals = text.find('=');
    if (equals == std::string::npos || equals == 0) {
      problems.push_back({.field = "--weighed",
                          .value = text,
                          .remedy = "write it as \"Spars=52 mg\"",
                          .message = "this names no part with its mass"});
      continue;
    }
    table["parts"].push_back(
        {{"part", text.substr(0, equals)}, {"weighed", text.substr(equals + 1)}});
  }
}

base::Problems put_options(const Arguments& arguments, const std::string& subject, Json& question) {
  base::Problems problems;
  if (subject == "twist") put_twist_readings(arguments, question, problems);
  if (subject == "ledger") put_weighed(arguments, question, problems);
  for (const BenchOption& option : bench_options()) {
    if (subject != option.subject || !arguments.has(option.option)) continue;
    if (subject == "twist" && (option.key == std::string("readings"))) continue;
    if (option.key == std::string("parts")) continue;
    Json value = option_value(option, arguments.text(option.option), problems);
    if (beside_row(option)) {
      if (!question["weighings"].is_object()) question["weighings"] = Json::object();
      question["weighings"][option.key] = std::move(value);
    } else {
      row_of(question, subject)[option.key] = std::move(value);
    }
  }
  return problems;
}

/// Options of another subject, or none at all where the file is left out.
base::Problems misused(const Arguments& arguments, const std::string& subject, bool file) {
  base::Problems problems;
  bool any = file;
  for (const auto& given : arguments.values) {
    const std::string& name = given.first;
    if (name == "--json" || name == "--job" || name == "--units" || name == "--output" ||
        name == "--page" || name == "--date") {
      any = any || (name == "--job" && subject == "ledger");
      continue;
    }
    const auto& all = bench_options();
    const bool fits = std::any_of(all.begin(), all.end(), [&](const BenchOption& option) {
      return name == option.option && subject == option.subject;
    });
    any = any || fits;
    if (fits) continue;
    problems.push_back({.field = name,
                        .remedy = "leave it out, or name the subject it belongs to",
                        .message = subject.empty() ? "options need a subject"
                                                   : "it does not belong to " + subject});
  }
  if (!any && problems.empty()) {
    problems.push_back({.field = "FILE.toml",
                        .remedy = "name a file with its tables, or give options",
                        .message = "there is nothing to answer"});
  }
  return problems;
}

}  // namespace

const std::vector<BenchSubject>& bench_subjects() {
  static const std::vector<BenchSubject> subjects{
      {"stock", "stock", "pick"}, {"blades", "blades", "pair"}, {"twist", "twist_test", ""},
      {"tube", "tube", ""},       {"hub", "hub", ""},           {"weigh", "weighings", ""},
      {"ledger", "ledger", ""},   {"shaking", "shaking", ""},   {"replace", "replacement", ""}};
  return subjects;
}

const BenchSubject* bench_subject(const std::string& word) {
  for (const BenchSubject& subject : bench_subjects()) {
    if (word == subject.word) return &subject;
  }
  return nullptr;
}

tl::expected<BenchQuestion, Failure> read_bench(const Arguments& arguments) {
  BenchQuestion asked;
  asked.subject = bench_subject(arguments.input);
  asked.file = asked.subject != nullptr ? arguments.file : arguments.input;
  const std::string subject = asked.subject != nullptr ? asked.subject->word : "";
  if (subject.empty() && asked.file.find('.') == std::string::npos) {
    const auto words = subject_words();
    const std::string near = base::nearest_name(asked.file, words);
    return wrong_usage(
        {{.field = "SUBJECT",
          .value = asked.file,
          .allowed = fmt::format("{}, or a file", fmt::join(words, ", ")),
          .remedy = near.empty() ? "choose one of these" : "did you mean " + near + "?",
          .message = "there is no such subject at the bench"}});
  }
  if (auto wrong = misused(arguments, subject, !asked.file.empty()); !wrong.empty()) {
    return wrong_usage(std::move(wrong));
  }
  asked.question = Json::object();
  if (!asked.file.empty()) {
    auto read = question_in(asked.file, !arguments.has("--job"), asked.lines);
    if (!read) return no_answer(std::move(read.error()));
    asked.question = std::move(*read);
  }
  if (arguments.has("--job")) {
    auto put = put_job(asked.question, arguments.text("--job"));
    if (!put) return no_answer(std::move(put.error()));
  }
  if (arguments.has("--units")) asked.question["units"] = arguments.text("--units");
  if (asked.subject == nullptr) return asked;
  keep_subject(asked.question, *asked.subject);
  if (auto wrong = put_options(arguments, subject, asked.question); !wrong.empty()) {
    return no_answer(std::move(wrong));
  }
  if (!asked.question.contains(asked.subject->table)) {
    if (subject == "ledger" || subject == "shaking") {
      asked.question[asked.subject->table] = Json::object();
    } else {
      return no_answer({{.file = asked.file,
                         .field = asked.subject->table,
                         .remedy = "add the table, or give options",
                         .message = "the file has no such table"}});
    }
  }
  return asked;
}

base::Problems bench_problems(base::Problems problems, const BenchQuestion& asked,
                              const Arguments& arguments) {
  for (base::Problem& problem : problems) {
    const std::string last = problem.field.substr(problem.field.rfind('.') + 1);
    bool option = false;
    for (const BenchOption& known : bench_options()) {
      if (asked.subject == nullptr || std::string(asked.subject->word) != known.subject) continue;
      if (last != known.key || !arguments.has(known.option)) continue;
      problem.field = known.option;
      option = true;
    }
    if (!option) problem = with_lines({problem}, asked.file, asked.lines).front();
  }
  return problems;
}

}  // namespace propwright::desk
