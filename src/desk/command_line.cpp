#include "command_line.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cctype>
#include <memory>

namespace propwright::desk {
namespace {

constexpr const char* exit_statuses =
    "Exit status: 0 done, 2 wrong usage, 3 bad input (every problem is listed),\n"
    "4 sound input that has no solution, 5 a file or the disk failed.";

constexpr const char* about =
    "Propwright: propellers for rubber-powered indoor duration models, from a job file\n"
    "to a prediction of the flight and a build packet to print.";

const Option json_option{.name = "--json",
                         .value = "",
                         .group = "Output",
                         .help = "One JSON document on stdout, also for problems"};

/// CLI11's help with our words: the usage line says what is needed, values are named once.
class HelpFormatter : public CLI::Formatter {
 public:
  std::string make_usage(const CLI::App* app, std::string name) const override {
    if (app->get_parent() == nullptr) return "\nUsage: propwright COMMAND ...\n";
    std::string line = "\nUsage: " + name;
    bool first = true;
    for (const CLI::Option* option : app->get_options()) {
      if (!option->get_positional()) continue;
      const std::string input = option->get_name(true);
      line += first ? " " + input : " [" + input + "]";
      first = false;
    }
    return line + " [OPTIONS]\n";
  }
  std::string make_option_opts(const CLI::Option* option) const override {
    return option->get_type_name().empty() ? "" : " " + option->get_type_name();
  }
};

struct Line {
  CLI::App app{about, "propwright"};
  struct Bound {
    const Command* command;
    CLI::App* app;
    CLI::Option* input = nullptr;
    CLI::Option* second_input = nullptr;
    std::vector<std::pair<Option, CLI::Option*>> options;
  };
  std::vector<Bound> bound;
};

CLI::Option* add(CLI::App& app, const Option& option) {
  const std::string names =
      option.short_name.empty() ? option.name : option.short_name + "," + option.name;
  const std::string help = option.help + (option.required ? " (needed)" : "") +
                           (option.repeatable ? " (repeatable)" : "");
  if (option.value.empty()) return app.add_flag(names, help)->group(option.group);
  // One value for each time it is named, so that it never swallows the input's name.
  return app
      .add_option(
          names, [](const CLI::results_t&) { return true; }, help)
      ->type_name(option.value)
      ->expected(1, CLI::detail::expected_max_vector_size)
      ->allow_extra_args(false)
      ->group(option.group);
}

Line::Bound bind(CLI::App& root, const Command& command) {
  CLI::App* app = root.add_subcommand(command.name, command.purpose);
  app->group("Commands");
  app->allow_extras();
  app->footer("Example:\n" + command.example + "\n\n" + exit_statuses);
  Line::Bound bound{&command, app, nullptr, nullptr, {}};
  const auto positional = [&](const std::string& name, const std::string& help) -> CLI::Option* {
    if (name.empty()) return nullptr;
    return app
        ->add_option(
            name, [](const CLI::results_t&) { return true; }, help)
        ->type_name("")
        ->expected(1);
  };
  bound.input = positional(command.input, command.input_help);
  bound.second_input = positional(command.second_input, command.second_input_help);
  for (const Option& option : command.options)
    bound.options.emplace_back(option, add(*app, option));
  bound.options.emplace_back(json_option, add(*app, json_option));
  app->set_help_flag("-h,--help", "This text")->group("Output");
  return bound;
}

void lay_out(Line& line, const std::vector<Command>& commands) {
  line.app.set_help_flag("-h,--help", "This text");
  line.app.set_version_flag("--version", "propwright " PROPWRIGHT_VERSION);
  const auto formatter = std::make_shared<HelpFormatter>();
  formatter->column_width(30);
  formatter->label("Positionals", "Input");
  line.app.formatter(formatter);
  line.app.allow_extras();
  line.app.footer(
      "propwright COMMAND --help shows the options of a command and an example.\n"
      "Quantities are text with their unit: \"12 in\", \"0.4 g\", \"90 rpm\", \"72 degF\".\n\n" +
      std::string(exit_statuses));
  for (const Command& command : commands) line.bound.push_back(bind(line.app, command));
}

base::Problem unknown(const std::string& what, const std::string& word,
                      const std::vector<std::string>& known, const std::string& help) {
  std::string near = base::nearest_name(word, known);
  const auto longer = std::find_if(known.begin(), known.end(), [&](const std::string& name) {
    return word.size() > 3 && name.starts_with(word);  // cut short
  });
  if (near.empty() && longer != known.end()) near = *longer;
  return {.field = word,
          .remedy = near.empty() ? help + " lists them" : "did you mean " + near + "?",
          .message = "there is no such " + what};
}

/// Names of all options of a command, for suggestions.
std::vector<std::string> names_of(const Line::Bound& bound) {
  std::vector<std::string> names{"--help"};
  for (const auto& [option, unused] : bound.options) {
    names.push_back(option.name);
    if (!option.short_name.empty()) names.push_back(option.short_name);
  }
  return names;
}

bool looks_like_option(const std::string& word) {
  return word.size() > 1 && word.front() == '-' &&
         !std::isdigit(static_cast<unsigned char>(word[1]));
}

base::Problems unknown_options(const Line::Bound& bound) {
  const std::string help = fmt::format("propwright {} --help", bound.command->name);
  base::Problems problems;
  for (const std::string& word : bound.app->remaining()) {
    if (!looks_like_option(word)) continue;
    problems.push_back(unknown("option", word.substr(0, word.find('=')), names_of(bound), help));
  }
  return problems;
}

base::Problems words_too_many(const Line::Bound& bound) {
  base::Problems problems;
  for (const std::string& word : bound.app->remaining()) {
    problems.push_back(
        {.value = word,
         .remedy = bound.command->input.empty()
                       ? "leave it out"
                       : "give one " + bound.command->input + "; text with spaces needs quotes",
         .message = "one word too many"});
  }
  return problems;
}

base::Problem lacks_value(const Option& option) {
  return {.field = option.name,
          .remedy = "write " + option.name + " " + option.value,
          .message = "this option lacks its value"};
}

void check_option(const Option& option, const CLI::Option& given, base::Problems& problems) {
  if (given.count() == 0) {
    if (option.required) {
      problems.push_back({.field = option.name,
                          .remedy = "add " + option.name + " " + option.value,
                          .message = "this option is needed"});
    }
    return;
  }
  if (option.value.empty()) return;
  if (!option.repeatable && given.count() > 1) {
    problems.push_back({.field = option.name,
                        .remedy = "give it once",
                        .message = "this option is given more than once"});
  }
  for (const std::string& text : given.results()) {
    if (!text.starts_with("--")) continue;
    problems.push_back(lacks_value(option));
  }
}

/// `parse_error` is CLI11's word; it gives up at an option that ends the line without its value.
base::Problems check(const Line::Bound& bound, const std::string& parse_error,
                     const std::string& last_word) {
  base::Problems problems = unknown_options(bound);
  bool explained = parse_error.empty();
  for (const auto& [option, given] : bound.options) {
    const bool cut_short = !parse_error.empty() && !option.value.empty() &&
                           (last_word == option.name || last_word == option.short_name);
    if (cut_short) {
      problems.push_back(lacks_value(option));
      explained = true;
    } else {
      check_option(option, *given, problems);
    }
  }
  if (!explained) problems.push_back({.message = parse_error});
  // Words left over beside another mistake are most likely part of it.
  if (problems.empty()) problems = words_too_many(bound);
  if (bound.input != nullptr && bound.command->input_required && bound.input->count() == 0) {
    problems.push_back({.field = bound.command->input,
                        .remedy = "name the file",
                        .message = "the input is not given"});
  }
  return problems;
}

Arguments arguments_of(const Line::Bound& bound) {
  Arguments arguments;
  if (bound.input != nullptr && bound.input->count() > 0) {
    arguments.input = bound.input->results().front();
  }
  if (bound.second_input != nullptr && bound.second_input->count() > 0) {
    arguments.file = bound.second_input->results().front();
  }
  for (const auto& [option, given] : bound.options) {
    if (given->count() == 0) continue;
    arguments.values[option.name] =
        option.value.empty() ? std::vector<std::string>{""} : given->results();
  }
  return arguments;
}

/// CLI11 sets two empty lines between groups.
std::string without_double_gaps(std::string text) {
  for (auto at = text.find("\n\n\n"); at != std::string::npos; at = text.find("\n\n\n")) {
    text.erase(at, 1);
  }
  return text;
}

/// No command was found among the words.
Failure no_command(const Line& line) {
  std::vector<std::string> names;
  for (const auto& bound : line.bound) names.push_back(bound.command->name);
  base::Problems problems;
  for (const std::string& word : line.app.remaining()) {
    const bool option = looks_like_option(word);
    if (word == "--json") continue;
    problems.push_back(unknown(option ? "option" : "command", word,
                               option ? std::vector<std::string>{"--help", "--version"} : names,
                               "propwright --help"));
    if (!option) break;  // what follows would belong to it
  }
  if (problems.empty()) {
    problems.push_back({.allowed = fmt::format("{}", fmt::join(names, ", ")),
                        .remedy = "propwright --help tells what each does",
                        .message = "say what to do"});
  }
  return {std::move(problems), status::wrong_usage};
}

}  // namespace

tl::expected<Call, Failure> read_command_line(const std::vector<std::string>& words,
                                              const std::vector<Command>& commands) {
  Line line;
  lay_out(line, commands);
  std::string parse_error;
  try {
    std::vector<std::string> reversed(words.rbegin(), words.rend());
    line.app.parse(reversed);
  } catch (const CLI::CallForHelp&) {
    return Call{nullptr, {}, without_double_gaps(line.app.help())};
  } catch (const CLI::CallForVersion&) {
    return Call{nullptr, {}, line.app.version() + "\n"};
  } catch (const CLI::ParseError& error) {
    parse_error = error.what();
  }
  const auto chosen = std::find_if(line.bound.begin(), line.bound.end(),
                                   [](const auto& bound) { return bound.app->parsed(); });
  if (chosen == line.bound.end()) return tl::unexpected<Failure>(no_command(line));
  base::Problems problems = check(*chosen, parse_error, words.empty() ? "" : words.back());
  if (!problems.empty()) return wrong_usage(std::move(problems));
  return Call{chosen->command, arguments_of(*chosen), {}};
}

}  // namespace propwright::desk
