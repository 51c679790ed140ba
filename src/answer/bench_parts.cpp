#include "bench_parts.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <regex>

#include "propwright/base/constants.h"
#include "si_names.h"

namespace propwright::answer {
namespace {

using D = units::Dimension;

constexpr double bench_inch_m = 0.0254;               // exact
constexpr double bench_lb_ft3_kg_m3 = 16.0184633740;  // 0.45359237/0.3048^3

std::string joined(const units::Printed& printed) {
  return printed.number + " " + printed.unit;
}

/// Up to so many decimals, without zeros at the end.
std::string few_decimals(double value, int most) {
  std::string text = fmt::format("{:.{}f}", value, most);
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

/// "angles[0].radius_m" -> "angles[1].radius_m".
std::string rows_from_one(const std::string& field) {
  std::string out;
  for (std::size_t i = 0; i < field.size(); ++i) {
    out += field[i];
    if (field[i] != '[') continue;
    std::size_t end = i + 1;
    while (end < field.size() && std::isdigit(static_cast<unsigned char>(field[end])) != 0) ++end;
    if (end == i + 1) continue;
    out += std::to_string(std::stoul(field.substr(i + 1, end - i - 1)) + 1);
    i = end - 1;
  }
  return out;
}

/// One member between dots, without its unit.
std::string member_name(std::string member, const BenchNames& names) {
  for (const auto& [from, to] : names) {
    if (member == from) return std::string(to);
  }
  constexpr std::array<std::string_view, 11> endings{
      "_kg_m3", "_kg_m2", "_kg_m", "_kgm", "_kg", "_rad", "_deg", "_Pa", "_Nm", "_N", "_m"};
  for (const std::string_view ending : endings) {
    if (member.size() <= ending.size() || !member.ends_with(ending)) continue;
    member.erase(member.size() - ending.size());
    break;
  }
  return member;
}

}  // namespace

void BenchContext::add(const base::Problems& more) {
  problems.insert(problems.end(), more.begin(), more.end());
}

std::string BenchContext::length(double si) const {
  const bool inch = profile == units::Profile::inch;
  return inch ? few_decimals(si / bench_inch_m, 2) + " in" : few_decimals(1e3 * si, 1) + " mm";
}

std::string BenchContext::fine(double si) const {
  const bool inch = profile == units::Profile::inch;
  return inch ? few_decimals(si / bench_inch_m, 4) + " in" : few_decimals(1e3 * si, 2) + " mm";
}

std::string BenchContext::doubtful_size(bench::Figure size_m) const {
  const bool inch = profile == units::Profile::inch;
  return inch ? fmt::format("{:.4f} ± {:.4f} in", size_m.value / bench_inch_m,
                            size_m.sigma / bench_inch_m)
              : fmt::format("{:.3f} ± {:.3f} mm", 1e3 * size_m.value, 1e3 * size_m.sigma);
}

std::string BenchContext::doubtful_length(bench::Figure length_m) const {
  const bool inch = profile == units::Profile::inch;
  return inch ? fmt::format("{:.2f} ± {:.2f} in", length_m.value / bench_inch_m,
                            length_m.sigma / bench_inch_m)
              : fmt::format("{:.0f} ± {:.0f} mm", 1e3 * length_m.value,
                            std::max(1.0, 1e3 * length_m.sigma));
}

std::string BenchContext::doubtful_density(bench::Figure density_kg_m3) const {
  if (profile == units::Profile::metric) {
    return fmt::format("{:.1f} ± {:.1f} kg/m³", density_kg_m3.value, density_kg_m3.sigma);
  }
  return fmt::format("{:.2f} ± {:.2f} lb/ft³", density_kg_m3.value / bench_lb_ft3_kg_m3,
                     density_kg_m3.sigma / bench_lb_ft3_kg_m3);
}

std::string BenchContext::mass(double si) const {
  return joined(units::print_in(si, D::mass, "mg", std::abs(si) < 20e-6 ? 1 : 0));
}

std::string BenchContext::angle(double rad) const {
  return fmt::format("{:.1f}°", bench_degrees(rad));
}

std::string BenchContext::density(double si) const {
  const bool inch = profile == units::Profile::inch;
  return joined(units::print_in(si, D::density, inch ? "lb/ft3" : "kg/m3", inch ? 2 : 0));
}

std::string BenchContext::worded(const std::string& sentence) const {
  static const std::regex number(
      "([0-9]+(?:\\.[0-9]+)?(?:e[-+]?[0-9]+)?) (mm|mg mm|mg|degrees)\\b");
  std::string out;
  auto from = sentence.cbegin();
  for (std::sregex_iterator at(sentence.begin(), sentence.end(), number), end; at != end; ++at) {
    const double value = std::stod((*at)[1]);
    const std::string unit = (*at)[2];
    out.append(from, (*at)[0].first);
    if (unit == "mm") {
      out += value < 10 ? fine(1e-3 * value) : length(1e-3 * value);
    } else if (unit == "degrees") {
      out += few_decimals(value, 2) + "°";
    } else if (unit == "mg mm") {
      out += fmt::format("{:.0f} mg·mm", value);
    } else {
      out += few_decimals(value, value < 1 ? 2 : 1) + " mg";
    }
    from = (*at)[0].second;
  }
  return out.append(from, sentence.cend());
}

std::vector<std::string> BenchContext::worded(std::vector<std::string> sentences) const {
  for (std::string& sentence : sentences) sentence = worded(sentence);
  return sentences;
}

std::string BenchContext::doubtful_mass(bench::Figure mass_kg) const {
  const int decimals = mass_kg.sigma < 0.95e-6 ? 1 : 0;
  return fmt::format("{} ± {} mg", units::print_in(mass_kg.value, D::mass, "mg", decimals).number,
                     units::print_in(mass_kg.sigma, D::mass, "mg", decimals).number);
}

base::Problems bench_fields(base::Problems problems, const std::string& place,
                            const BenchNames& names) {
  for (base::Problem& problem : problems) {
    give_units(problem);
    const std::string field = rows_from_one(problem.field);
    std::string named = place;
    for (std::size_t from = 0; from < field.size();) {
      const std::size_t dot = std::min(field.find('.', from), field.size());
      // The row stays behind its name.
      const std::string member = field.substr(from, dot - from);
      const std::size_t row = std::min(member.find('['), member.size());
      const std::string name = member_name(member.substr(0, row), names) + member.substr(row);
      if (!name.empty()) named += (named.empty() ? "" : ".") + name;
      from = dot + 1;
    }
    problem.field = named;
  }
  return problems;
}

std::vector<std::string> messages_of(const std::vector<bench::Question>& questions) {
  std::vector<std::string> messages;
  messages.reserve(questions.size());
  for (const bench::Question& question : questions) messages.push_back(question.message);
  return messages;
}

Json number_or_null(const std::optional<double>& value) {
  return value ? Json(*value) : Json(nullptr);
}

Json value_or_null(const std::optional<bench::Figure>& figure) {
  return figure ? Json(figure->value) : Json(nullptr);
}

Json sigma_or_null(const std::optional<bench::Figure>& figure) {
  return figure ? Json(figure->sigma) : Json(nullptr);
}

double bench_degrees(double rad) {
  return rad / base::degree_rad;
}

}  // namespace propwright::answer
