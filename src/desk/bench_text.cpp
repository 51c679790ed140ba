// The bench's answer for people.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "bench_question.h"
#include "text_table.h"

namespace propwright::desk {
namespace {

using answer::Json;

std::vector<std::string> strings(const Json& list) {
  std::vector<std::string> all;
  for (const Json& text : list) all.push_back(text.get<std::string>());
  return all;
}

/// A mass in mg, or a dash.
std::string mg(const Json& kg, int decimals = 1, bool sign = false) {
  if (kg.is_null()) return "–";
  const double value = 1e6 * kg.get<double>();
  return sign ? fmt::format("{:+.{}f}", value, decimals) : fmt::format("{:.{}f}", value, decimals);
}

/// Seconds lost, or a dash; what cannot be told from none is none.
std::string seconds(const Json& s) {
  if (s.is_null()) return "–";
  const std::string told = fmt::format("{:+.1f}", s.get<double>());
  return told == "+0.0" || told == "-0.0" ? "none" : told;
}

std::string ledger_table(const Json& ledger) {
  TextTable table({"part", "planned mg", "weighed mg", "over mg", "costs s", "running mg"});
  for (const Json& row : ledger["rows"]) {
    table.add({row["part"].get<std::string>(), mg(row["planned_kg"]), mg(row["weighed_kg"]),
               mg(row["over_kg"], 1, true), seconds(row["cost_s"]), mg(row["running_kg"])});
  }
  return table.text() + "\n";
}

std::string check_table(const Json& checks) {
  TextTable table({"check", "verdict"});
  for (const Json& check : checks) {
    std::string verdict = check["verdict"].get<std::string>();
    std::replace(verdict.begin(), verdict.end(), '_', ' ');
    table.add({check["label"].get<std::string>(), verdict});
  }
  return table.text() + "\n";
}

std::string target_table(const Json& targets, bool inch) {
  TextTable table({"target", "value", "from", "to", "unit"});
  for (const Json& target : targets) {
    std::string unit = target["unit"].get<std::string>();
    double scale = 1;
    int decimals = 3;
    if (unit == "kg") {
      scale = 1e6;
      unit = "mg";
      decimals = 1;
    } else if (unit == "m") {
      scale = inch ? 1 / 0.0254 : 1e3;
      unit = inch ? "in" : "mm";
      decimals = inch ? 3 : 2;
    } else if (unit == "kg_m") {
      scale = 1e9;
      unit = "mg·mm";
      decimals = 0;
    } else if (unit == "deg") {
      unit = "°";
      decimals = 1;
    }
    const auto shown = [&](const char* key) {
      return fmt::format("{:.{}f}", scale * target[key].get<double>(), decimals);
    };
    std::string name = target["name"].get<std::string>();
    if (target["radius_m"].is_number()) {
      const double radius_m = target["radius_m"].get<double>();
      name += inch ? fmt::format(" at {:.2f} in", radius_m / 0.0254)
                   : fmt::format(" at {:.0f} mm", 1e3 * radius_m);
    }
    table.add({name, shown("value"), shown("low"), shown("high"), unit == "1" ? "" : unit});
  }
  return table.text() + "\n";
}

/// A list without a heading.
std::string bullets(const std::vector<std::string>& sentences) {
  const std::string list = bullet_list("", sentences);
  return list.substr(std::min(list.size(), list.find_first_not_of('\n')));
}

/// Headline, sentences, questions and caution of a part, as far as it has them.
std::string words_of(const Json& part) {
  std::string out;
  if (part.contains("sentences")) out += bullets(strings(part["sentences"]));
  if (part.contains("questions")) out += bullet_list("Look again", strings(part["questions"]));
  if (part.contains("caution")) out += "\n" + part["caution"].get<std::string>() + "\n";
  return out;
}

std::string titled(const std::string& title, const Json& part) {
  if (!part.contains("headline")) return title + "\n\n";
  return title + ": " + part["headline"].get<std::string>() + "\n\n";
}

std::string items_text(const Json& items) {
  std::string out;
  for (const Json& item : items) {
    if (item.is_object()) out += words_of(item);
  }
  return out;
}

std::string part_text(const std::string& name, const Json& part, bool inch) {
  if (name == "stock") return "Stock\n\n" + items_text(part["items"]) + words_of(part);
  if (name == "blades") {
    std::string out = "Blades\n\n" + items_text(part["items"]);
    const Json& pair = part["pair"];
    if (pair.is_object()) {
      out += "\n" + titled("The pair", pair) + check_table(pair["checks"]) + words_of(pair);
    }
    return out;
  }
  if (name == "twist_test") return titled("Twist test", part) + words_of(part);
  if (name == "tube") return titled("Rolled tube", part) + words_of(part);
  if (name == "hub") return titled("Hub", part) + check_table(part["checks"]) + words_of(part);
  if (name == "weighings") return titled("Weighings", part) + words_of(part);
  if (name == "ledger") return titled("Weight ledger", part) + ledger_table(part) + words_of(part);
  if (name == "shaking") {
    return titled("Shaking", part) + check_table(part["checks"]) + words_of(part);
  }
  return titled("New blade to match the survivor", part) + target_table(part["targets"], inch) +
         words_of(part);
}

}  // namespace

std::string bench_text(const Json& answer) {
  const bool inch = answer["units"] == "inch";
  std::string out;
  for (const auto& [name, part] : answer.items()) {
    if (!part.is_object()) continue;
    out += (out.empty() ? "" : "\n") + part_text(name, part, inch);
  }
  return out;
}

}  // namespace propwright::desk
