// The states of a rotor, one after the other.
#include <fmt/format.h>

#include "console.h"
#include "rotor_input.h"

namespace propwright::desk {
namespace {

std::vector<std::string> warnings_of(const std::vector<RotorPoint>& points) {
  std::size_t outside = 0, stations = 0;
  for (const RotorPoint& point : points) {
    stations += point.result.stations.size();
    for (const auto& station : point.result.stations) outside += station.in_table ? 0 : 1;
  }
  if (outside == 0) return {};
  return {
      fmt::format("At {} of {} stations the section's angle or Reynolds number is outside the "
                  "polar table; there its smooth extension is used.",
                  outside, stations)};
}

/// The points of an answer as they come, and what kept others from coming.
class Points {
 public:
  explicit Points(const RotorInput& input) : input_(input) {}

  void add(const rotor::Condition& condition) {
    if (input_.fine) {
      auto fine = input_.fine->solve(condition, input_.flow);
      if (fine) {
        QuickPart quick{fine->quick, coefficients(fine->quick, condition), fine->difference};
        const auto own = coefficients(fine->result.loads, condition);
        points.push_back({std::move(fine->result), own, quick});
        return;
      }
      for (base::Problem& problem : fine.error()) without_fine.push_back(std::move(problem));
    }
    auto result = input_.rotor.solve(condition, input_.flow);
    if (!result) {
      for (base::Problem& problem : result.error()) problems.push_back(std::move(problem));
      return;
    }
    const auto own = coefficients(result->loads, condition);
    points.push_back({std::move(*result), own, {}});
  }

  std::vector<RotorPoint> points;
  base::Problems problems;
  base::Problems without_fine;  // the quick mode has an answer there

 private:
  rotor::Coefficients coefficients(const rotor::Loads& loads,
                                   const rotor::Condition& condition) const {
    return rotor::coefficients(loads, condition, input_.rotor.diameter_m(),
                               input_.flow.density_kg_m3);
  }

  const RotorInput& input_;
};

Failure stopped() {
  return Failure({{.kind = base::Kind::no_solution,
                   .remedy = "run it again, or ask for fewer points",
                   .message = "stopped before the last point"}},
                 status::stopped);
}

}  // namespace

tl::expected<RotorAnswer, Failure> solve_rotor(const RotorInput& input,
                                               const std::vector<rotor::Condition>& conditions) {
  const StopOnInterrupt interrupt;
  Progress progress(fmt::format("{} points", conditions.size()));
  Points done(input);
  double share = 0;
  for (const rotor::Condition& condition : conditions) {
    if (StopOnInterrupt::asked()) return tl::unexpected<Failure>(stopped());
    done.add(condition);
    progress.update(share += 1.0 / static_cast<double>(conditions.size()));
  }
  if (!done.problems.empty()) return no_answer(std::move(done.problems));
  if (done.without_fine.size() == conditions.size()) return no_answer(std::move(done.without_fine));
  RotorAnswer answer{.points = std::move(done.points),
                     .diameter_m = input.rotor.diameter_m(),
                     .blades = input.rotor.blades(),
                     .flow = input.flow,
                     .fine = input.fine.has_value(),
                     .warnings = {},
                     .notes = input.notes};
  answer.warnings = warnings_of(answer.points);
  for (const base::Problem& problem : done.without_fine) {
    answer.warnings.push_back(fmt::format("At {} the quick mode's answer is given: {} ({}).",
                                          problem.value, problem.message, problem.field));
  }
  return answer;
}

}  // namespace propwright::desk
