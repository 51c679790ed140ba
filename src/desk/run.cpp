#include "propwright/desk/run.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <exception>

#include "command_line.h"
#include "propwright/answer/json_text.h"

namespace propwright::desk {

Failure::Failure(base::Problems list) : problems(std::move(list)) {
  const auto any = [&](base::Kind kind) {
    return std::any_of(problems.begin(), problems.end(),
                       [&](const base::Problem& problem) { return problem.kind == kind; });
  };
  status = any(base::Kind::bad_input)         ? status::bad_input
           : any(base::Kind::resource_failed) ? status::resource_failed
                                              : status::no_solution;
}

std::vector<Command> commands() {
  return {open_command(),  packet_command(),  predict_command(), shape_command(),
          form_command(),  spars_command(),   bench_command(),   pair_command(),
          flex_command(),  rotor_command(),   rubber_command(),  wind_command(),
          learn_command(), verdict_command(), air_command(),     workshop_command()};
}

namespace {

int print(const std::string& text) {
  const bool written = std::fwrite(text.data(), 1, text.size(), stdout) == text.size();
  if (written && std::fflush(stdout) == 0) return status::done;
  fmt::print(stderr, "propwright: the answer could not be written to stdout\n");
  return status::resource_failed;
}

int report(const Failure& failure, bool json, const std::string& command) {
  if (json) {
    print(failure.rest.empty() ? answer::problems_json(failure.problems) : failure.rest);
    return failure.status;
  }
  if (!failure.rest.empty()) print(failure.rest);
  for (const base::Problem& problem : failure.problems) {
    fmt::print(stderr, "{}\n", base::to_line(problem));
  }
  if (failure.status == status::wrong_usage) {
    fmt::print(stderr, "propwright{}{} --help shows how.\n", command.empty() ? "" : " ", command);
  }
  return failure.status;
}

int run_words(const std::vector<std::string>& words, bool json) {
  const std::vector<Command> known = commands();
  const auto call = read_command_line(words, known);
  if (!call) {
    const bool named =
        !words.empty() && std::any_of(known.begin(), known.end(),
                                      [&](const Command& c) { return c.name == words.front(); });
    return report(call.error(), json, named ? words.front() : std::string());
  }
  if (call->command == nullptr) return print(call->print);
  const Answer answer = call->command->answer(call->arguments);
  if (!answer) return report(answer.error(), json, call->command->name);
  return print(*answer);
}

}  // namespace

int run(int argc, char** argv) {
  const std::vector<std::string> words(argv + std::min(argc, 1), argv + argc);
  const bool json = std::find(words.begin(), words.end(), "--json") != words.end();
  try {
    return run_words(words, json);
  } catch (const std::exception& error) {
    const base::Problem problem{.value = error.what(),
                                .remedy = "please report it with the input",
                                .message = "a fault of the program"};
    return report(Failure({problem}, status::fault), json, {});
  }
}

}  // namespace propwright::desk
