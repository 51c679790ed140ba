/// docs/openapi.yaml as tests use it: finds the operation of a request and checks bodies against
/// its schemas. Only the keywords that the description uses are known; another one is an error, so
/// that nothing in it goes unchecked.
#pragma once

#include <yaml-cpp/yaml.h>

#include <nlohmann/json.hpp>
#include <stdexcept>
#include <string>
#include <vector>

namespace propwright::support {

using nlohmann::json;

inline json json_of(const YAML::Node& node) {
  if (node.IsSequence()) {
    json list = json::array();
    for (const auto& element : node) list.push_back(json_of(element));
    return list;
  }
  if (node.IsMap()) {
    json object = json::object();
    for (const auto& entry : node) {
      const auto key = entry.first.as<std::string>();
      json value = json_of(entry.second);
      if (key == "<<") {
        object.update(value);  // a merged map
      } else {
        object[key] = std::move(value);
      }
    }
    return object;
  }
  if (node.IsNull()) return nullptr;
  const auto text = node.as<std::string>();
  if (node.Tag() == "!") return text;  // quoted
  if (text == "true" || text == "false") return text == "true";
  const json number = json::parse(text, nullptr, false);
  return number.is_number() ? number : json(text);
}

class ApiDescription {
 public:
  explicit ApiDescription(const std::string& file) : root_(json_of(YAML::LoadFile(file))) {}

  /// What is wrong with a value; empty when it fits.
  std::vector<std::string> complaints(const json& value, const json& schema,
                                      const std::string& at = "$") const {
    std::vector<std::string> all;
    check(value, schema, at, all);
    return all;
  }

  /// Every method and path template, "GET /api/designs/{id}".
  std::vector<std::pair<std::string, std::string>> operations() const {
    std::vector<std::pair<std::string, std::string>> all;
    for (const auto& [path, item] : root_.at("paths").items()) {
      for (const char* method : {"get", "post", "put", "delete"}) {
        if (item.contains(method)) all.emplace_back(method, path);
      }
    }
    return all;
  }

  /// The operation that answers a request; the template with the most literal parts wins.
  const json& operation(std::string method, const std::string& path) const {
    for (char& c : method) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    const json* best = nullptr;
    std::size_t fewest = 99;
    for (const auto& [pattern, item] : root_.at("paths").items()) {
      const auto variables =
          static_cast<std::size_t>(std::count(pattern.begin(), pattern.end(), '{'));
      if (!item.contains(method) || variables >= fewest || !fits(path, pattern)) continue;
      best = &item.at(method);
      fewest = variables;
    }
    if (best == nullptr) throw std::runtime_error("not described: " + method + " " + path);
    return *best;
  }

  /// Follows "$ref".
  const json& resolved(const json& node) const {
    if (!node.contains("$ref")) return node;
    const auto reference = node.at("$ref").get<std::string>();
    return resolved(root_.at(json::json_pointer(reference.substr(1))));
  }

 private:
  static std::vector<std::string> parts(const std::string& path) {
    std::vector<std::string> all(1);
    for (const char c : path) {
      if (c == '/') {
        all.emplace_back();
      } else {
        all.back() += c;
      }
    }
    return all;
  }

  static bool fits(const std::string& path, const std::string& pattern) {
    const auto have = parts(path), want = parts(pattern);
    if (have.size() != want.size()) return false;
    for (std::size_t i = 0; i < have.size(); ++i) {
      if (!want[i].starts_with("{") && want[i] != have[i]) return false;
    }
    return true;
  }

  static bool has_type(const json& value, const std::string& type) {
    if (type == "null") return value.is_null();
    if (type == "string") return value.is_string();
    if (type == "boolean") return value.is_boolean();
    if (type == "integer") return value.is_number_integer();
    if (type == "number") return value.is_number();
    if (type == "object") return value.is_object();
    if (type == "array") return value.is_array();
    throw std::runtime_error("unknown type in the description: " + type);
  }

  void check(const json& value, const json& schema, const std::string& at,
             std::vector<std::string>& all) const {
    for (const auto& [word, rule] : schema.items()) {
      if (word == "$ref") {
        check(value, resolved(schema), at, all);
      } else if (word == "type") {
        check_type(value, rule, at, all);
      } else if (word == "enum") {
        if (std::find(rule.begin(), rule.end(), value) == rule.end()) {
          all.push_back(at + ": not one of " + rule.dump());
        }
      } else if (word == "anyOf") {
        const bool any = std::any_of(rule.begin(), rule.end(), [&](const json& option) {
          return complaints(value, option, at).empty();
        });
        if (!any) all.push_back(at + ": fits none of the choices");
      } else if (word == "minimum" || word == "maximum") {
        const bool wrong = value.is_number() && (word == "minimum" ? value < rule : value > rule);
        if (wrong) all.push_back(at + ": beyond the " + word);
      } else {
        check_inside(value, schema, word, rule, at, all);
      }
    }
  }

  void check_type(const json& value, const json& rule, const std::string& at,
                  std::vector<std::string>& all) const {
    const json types = rule.is_array() ? rule : json::array({rule});
    const bool any = std::any_of(types.begin(), types.end(), [&](const json& type) {
      return has_type(value, type.get<std::string>());
    });
    if (!any) all.push_back(at + ": " + value.dump().substr(0, 60) + " is no " + rule.dump());
  }

  void check_inside(const json& value, const json& schema, const std::string& word,
                    const json& rule, const std::string& at, std::vector<std::string>& all) const {
    if (word == "required") {
      for (const json& name : rule) {
        if (value.is_object() && !value.contains(name.get<std::string>())) {
          all.push_back(at + ": wants " + name.get<std::string>());
        }
      }
    } else if (word == "properties") {
      if (!value.is_object()) return;
      for (const auto& [name, member] : rule.items()) {
        if (value.contains(name)) check(value.at(name), member, at + "." + name, all);
      }
    } else if (word == "additionalProperties") {
      check_others(value, schema, rule, at, all);
    } else if (word == "items") {
      if (!value.is_array()) return;
      for (std::size_t i = 0; i < value.size(); ++i) {
        check(value[i], rule, at + "[" + std::to_string(i) + "]", all);
      }
    } else if (word == "minItems" || word == "maxItems") {
      if (!value.is_array()) return;
      const auto limit = rule.get<std::size_t>();
      if (word == "minItems" ? value.size() < limit : value.size() > limit) {
        all.push_back(at + ": has " + std::to_string(value.size()) + " items");
      }
    } else if (word != "description" && word != "example") {
      throw std::runtime_error("a keyword this check does not know: " + word);
    }
  }

  void check_others(const json& value, const json& schema, const json& rule, const std::string& at,
                    std::vector<std::string>& all) const {
    if (!value.is_object() || rule == true) return;
    const json none = json::object();
    const json& named = schema.contains("properties") ? schema.at("properties") : none;
    for (const auto& [name, member] : value.items()) {
      if (named.contains(name)) continue;
      if (rule == false) {
        all.push_back(at + ": has the undescribed member " + name);
      } else {
        check(member, rule, at + "." + name, all);
      }
    }
  }

  json root_;
};

}  // namespace propwright::support
