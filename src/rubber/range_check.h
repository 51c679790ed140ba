/// How the floor's arithmetic says that a measure is out of range. Private to the module.
#pragma once

#include <fmt/format.h>

#include <cmath>
#include <string>
#include <utility>

#include "propwright/base/problem.h"

namespace propwright::rubber {

/// Collects the problems of one set of inputs.
class RangeChecks {
 public:
  explicit RangeChecks(std::string message) : message_(std::move(message)) {}

  void within(const std::string& field, double value, double low, double high,
              const std::string& remedy) {
    if (std::isfinite(value) && value >= low && value <= high) return;
    add({.field = field,
         .value = fmt::format("{:g}", value),
         .allowed = fmt::format("{:g} to {:g}", low, high),
         .remedy = remedy,
         .message = message_});
  }
  void add(base::Problem problem) { problems_.push_back(std::move(problem)); }
  base::Problems take() { return std::move(problems_); }

 private:
  std::string message_;
  base::Problems problems_;
};

}  // namespace propwright::rubber
