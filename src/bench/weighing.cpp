#include "propwright/bench/weighing.h"

#include <fmt/format.h>

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "check.h"

namespace propwright::bench {
namespace {

constexpr double safe_digits = 20;   // less without a tare: zero tracking is asked about (ours)
constexpr double noisy_share = 0.1;  // a total known worse is asked about (ours)
constexpr int most_parts = 10000, most_repeats = 1000;

double one_sigma_kg(const Instruments& i) {
  return reading_sigma(i.scale_resolution_kg, i.scale_repeatability_kg);
}

/// Repeats average the scatter; the rounding averages too only where the scatter spans a digit, so
/// it is kept whole unless it does.
double averaged_sigma_kg(const Instruments& i, int repeats) {
  const double rounding = i.scale_resolution_kg / std::sqrt(12.0);
  const double n = repeats;
  const bool scatters = i.scale_repeatability_kg >= i.scale_resolution_kg / 2;
  return scatters ? one_sigma_kg(i) / std::sqrt(n)
                  : std::hypot(rounding, i.scale_repeatability_kg / std::sqrt(n));
}

base::Problems together_problems(const WeighedTogether& w, const Instruments& instruments) {
  Checks checks;
  checks.add(problems_of(instruments));
  checks.within(w.parts, 1, most_parts, "parts", fmt::format("{}", w.parts), "1 to 10000",
                "count the parts on the scale");
  checks.within(w.repeats, 1, most_repeats, "repeats", fmt::format("{}", w.repeats), "1 to 1000",
                "say how often it was weighed");
  checks.within(w.zero_kg, 0, greatest_mass_kg, "zero_kg", in_mg(w.zero_kg), "0 to 1 kg",
                "give what the scale showed without the parts");
  checks.within(w.reading_kg, w.zero_kg + least_mass_kg, greatest_mass_kg, "reading_kg",
                in_mg(w.reading_kg), fmt::format("above {}", in_mg(w.zero_kg)),
                "put a steady tare on the scale first, or weigh more parts together");
  return checks.take();
}

std::vector<Question> together_questions(const WeighedTogether& w, const WeighedFigures& f,
                                         const Instruments& i) {
  std::vector<Question> questions;
  if (!w.on_tare && f.total_kg.value < safe_digits * i.scale_resolution_kg) {
    questions.push_back(
        {"reading_kg",
         fmt::format("{} is only {:.0f} digits: a scale that tracks its zero can "
                     "swallow so small a load; weigh on a steady tare and check with "
                     "a known small mass",
                     in_mg(f.total_kg.value), f.total_kg.value / i.scale_resolution_kg)});
  }
  if (f.share_sigma > noisy_share) {
    questions.push_back({"parts", fmt::format("in doubt by {:.0f} %: weigh more parts together",
                                              100 * f.share_sigma)});
  }
  return questions;
}

base::Problems design_problems(int parts, const std::vector<DesignWeighing>& weighings,
                               const Instruments& instruments) {
  Checks checks;
  checks.add(problems_of(instruments));
  checks.within(parts, 1, 200, "parts", fmt::format("{}", parts), "1 to 200", "count the parts");
  if (weighings.empty() || weighings.size() > 2000) {
    checks.add("weighings", fmt::format("{}", weighings.size()), "1 to 2000",
               "give at least one weighing for each part", "too few or too many weighings");
  }
  for (std::size_t i = 0; i < weighings.size(); ++i) {
    const DesignWeighing& w = weighings[i];
    const bool signs = std::all_of(w.parts.begin(), w.parts.end(),
                                   [](int part) { return part >= -1 && part <= 1; });
    if (static_cast<int>(w.parts.size()) != parts || !signs) {
      checks.add(
          fmt::format("weighings[{}].parts", i), fmt::format("{} entries", w.parts.size()),
          fmt::format("{} entries of -1, 0 or 1", parts),
          "say for each part whether it lay on the scale (1), not (0), or was taken off (-1)",
          "the weighing does not name the parts");
    }
    checks.within(w.reading_kg, -greatest_mass_kg, greatest_mass_kg,
                  fmt::format("weighings[{}].reading_kg", i), in_mg(w.reading_kg), "-1 to 1 kg",
                  "give the net reading");
  }
  return checks.take();
}

void ask_about_residuals(DesignFigures& f, double square_sum_kg2, double sigma_kg) {
  if (f.spare < 1) return;
  // 99 % quantile of chi-square over its freedom, Wilson and Hilferty's cube (within 3 % from one
  // on up).
  const double k = 2.0 / (9.0 * f.spare);
  const double limit = std::pow(1 - k + 2.326 * std::sqrt(k), 3);
  const double found = square_sum_kg2 / (sigma_kg * sigma_kg) / f.spare;
  if (found <= limit) return;
  f.questions.push_back(
      {"weighings",
       fmt::format("the weighings disagree by {} rms, more than the scale's {} explain: "
                   "look for a draught, a wrong reading or a part left out",
                   in_mg(f.residual_rms_kg), in_mg(sigma_kg))});
}

}  // namespace

base::Expected<WeighedFigures> weigh_together(const WeighedTogether& w,
                                              const Instruments& instruments) {
  if (auto problems = together_problems(w, instruments); !problems.empty()) {
    return base::fail(std::move(problems));
  }
  const double sigma = std::sqrt(2.0) * averaged_sigma_kg(instruments, w.repeats);
  WeighedFigures f;
  f.total_kg = {w.reading_kg - w.zero_kg, sigma};
  f.each_kg = {f.total_kg.value / w.parts, sigma / w.parts};
  f.share_sigma = sigma / f.total_kg.value;
  f.questions = together_questions(w, f, instruments);
  return f;
}

base::Expected<int> parts_for_share(double expected_mass_kg, double wanted_share,
                                    const Instruments& instruments) {
  Checks checks;
  checks.add(problems_of(instruments));
  check_mass(checks, expected_mass_kg, "expected_mass_kg");
  checks.within(wanted_share, 1e-4, 1, "wanted_share", fmt::format("{:g} %", 100 * wanted_share),
                "0.01 to 100 %", "2 % is a good aim");
  if (!checks.sound()) return base::fail(checks.take());
  const double count =
      std::ceil(net_mass_sigma_kg(instruments) / (wanted_share * expected_mass_kg) - 1e-9);
  if (count > most_parts) {
    return base::fail({.field = "wanted_share",
                       .value = fmt::format("{:g} %", 100 * wanted_share),
                       .allowed = "what 10000 parts can give",
                       .remedy = "use a finer scale",
                       .message = "no number of parts brings the mean so near on this scale"});
  }
  return std::max(1, static_cast<int>(count));
}

base::Expected<ScaleCheckFigures> check_scale(const ScaleCheck& check,
                                              const Instruments& instruments) {
  Checks checks;
  checks.add(problems_of(instruments));
  check_mass(checks, check.known_kg, "known_kg");
  checks.within(check.read_kg, 0, greatest_mass_kg, "read_kg", in_mg(check.read_kg), "0 to 1 kg",
                "give what the scale showed");
  if (!checks.sound()) return base::fail(checks.take());
  ScaleCheckFigures f;
  f.error_kg = {check.read_kg - check.known_kg, net_mass_sigma_kg(instruments)};
  // One digit either way is what a sound scale may show.
  // (The billionth is for the rounding of the difference here.)
  const double allowed = instruments.scale_resolution_kg + 2 * instruments.scale_repeatability_kg;
  f.within_noise = within({f.error_kg.value, 0}, allowed * (1 + 1e-9));
  const std::string known = in_mg(check.known_kg), read = in_mg(check.read_kg);
  f.sentence = f.within_noise == Within::yes
                   ? fmt::format("The scale shows {} for {}: sound to its digit.", read, known)
                   : fmt::format(
                         "The scale shows {} for {}: set it anew, or weigh on a tare, before "
                         "you trust small parts.",
                         read, known);
  return f;
}

base::Expected<DesignFigures> weigh_design(int parts, const std::vector<DesignWeighing>& weighings,
                                           const Instruments& instruments) {
  if (auto problems = design_problems(parts, weighings, instruments); !problems.empty()) {
    return base::fail(std::move(problems));
  }
  const auto rows = static_cast<Eigen::Index>(weighings.size());
  Eigen::MatrixXd design(rows, parts);
  Eigen::VectorXd readings(rows);
  for (Eigen::Index i = 0; i < rows; ++i) {
    for (Eigen::Index k = 0; k < parts; ++k) design(i, k) = weighings[i].parts[k];
    readings(i) = weighings[i].reading_kg;
  }
  const Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(design);
  if (qr.rank() < parts) {
    return base::fail({.field = "weighings",
                       .value = fmt::format("{} weighings", weighings.size()),
                       .allowed = "weighings that differ enough to tell every part",
                       .remedy = "add a weighing of one part alone, or of another set of parts",
                       .message = fmt::format("they tell only {} of {} parts", qr.rank(), parts)});
  }
  const double sigma = std::sqrt(2.0) * one_sigma_kg(instruments);
  const Eigen::VectorXd masses = qr.solve(readings);
  const Eigen::MatrixXd covariance = sigma * sigma * (design.transpose() * design).inverse();
  DesignFigures f;
  for (Eigen::Index k = 0; k < parts; ++k) {
    f.masses_kg.push_back({masses(k), std::sqrt(covariance(k, k))});
    f.covariance_kg2.emplace_back();
    for (Eigen::Index j = 0; j < parts; ++j) f.covariance_kg2.back().push_back(covariance(k, j));
  }
  f.spare = static_cast<int>(rows) - parts;
  const double square_sum = f.spare > 0 ? (design * masses - readings).squaredNorm() : 0;
  f.residual_rms_kg = std::sqrt(square_sum / static_cast<double>(rows));
  ask_about_residuals(f, square_sum, sigma);
  return f;
}

}  // namespace propwright::bench
