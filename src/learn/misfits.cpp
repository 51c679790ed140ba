// A flight that does not fit is explained by the one parameter which, changed for this flight
// alone, takes most of its misfit away: a = J.r/J.J in units of the scatter as
// learned.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string_view>

#include "propwright/base/constants.h"
#include "propwright/learn/findings.h"

namespace propwright::learn {

namespace {

// Student's t then holds the flight for less than half a flight.
constexpr double fits_no_more = 0.5;

struct Saying {
  std::string_view key;
  const char* less;  ///< the parameter below what was learned
  const char* more;
};

// Likely causes: common practice (docs/method.md).
constexpr Saying sayings[] = {
    {"rubber_energy",
     "as if the motor had given {} less: tired, cold or another batch of rubber, or turns "
     "miscounted",
     "as if the motor had given {} more: a fresher motor, or turns miscounted"},
    {"rubber_turns",
     "as if the motor took {} fewer turns: look at the count, the size of the motor",
     "as if the motor took {} more turns: look at the count, the size of the motor"},
    {"airframe_drag", "as if the model had {} less drag: warm air rising in the hall",
     "as if the model had {} more drag: a warp, a loose brace, drift or sinking air"},
    {"trim_lift", "as if it flew at {} less lift: trim too fast, or shifted",
     "as if it flew at {} more lift: trim too slow, or shifted"},
    {"circle_radius", "as if the circle was {} tighter", "as if the circle was {} wider"},
    {"blade_angle", "as if the blades stood {} flatter: a socket slipped, or another setting",
     "as if the blades stood {} steeper: a socket slipped, or another setting"},
};

struct Explanation {
  double share = 0;  ///< of the misfit that it takes away
  std::string words;
};

std::string change_text(const predict::Doubt& doubt, double z) {
  if (!doubt.factor) return fmt::format("{:.1f}°", std::abs(doubt.sigma * z / base::degree_rad));
  return fmt::format("{:.0f}\u00a0%", 100 * std::abs(std::expm1(doubt.sigma * z)));
}

std::vector<Explanation> explanations(const FlownLog& log, const Observed& observed,
                                      const Fit& fit) {
  std::vector<Explanation> all;
  double misfit = 0;
  for (const double r : fit.residual) misfit += r * r;
  for (const std::size_t p : observed.parameters) {
    const predict::Doubt& doubt = log.parameters()[p].doubt;
    const auto* saying = std::find_if(std::begin(sayings), std::end(sayings),
                                      [&](const Saying& s) { return s.key == doubt.key; });
    if (saying == std::end(sayings)) continue;
    double jr = 0, jj = 0;
    for (std::size_t m = 0; m < observed.readings.size(); ++m) {
      const Reading& reading = observed.readings[m];
      const double slope =
          fit.slopes(static_cast<Eigen::Index>(reading.kind), static_cast<Eigen::Index>(p)) /
          fit.scatter[m];
      jr += slope * fit.residual[m];
      jj += slope * slope;
    }
    if (jj <= 0) continue;
    const double z = jr / jj;
    if (std::abs(z) > 8) continue;  // far beyond what the linear step can tell
    const std::string size = change_text(doubt, z);
    all.push_back({jr * jr / (jj * misfit),
                   fmt::format(fmt::runtime(z < 0 ? saying->less : saying->more), size)});
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const Explanation& a, const Explanation& b) { return a.share > b.share; });
  return all;
}

double residual_of(const Observed& observed, const Fit& fit, Kind kind) {
  for (std::size_t m = 0; m < observed.readings.size(); ++m) {
    if (observed.readings[m].kind == kind) return fit.residual[m];
  }
  return 0;
}

const char* name_of(Kind kind) {
  switch (kind) {
    case Kind::duration:
      return "time flown";
    case Kind::top_height:
      return "greatest height";
    case Kind::turns_left:
      return "turns left";
    case Kind::launch_torque:
      return "torque at launch";
    case Kind::mean_rev:
      return "revolutions";
  }
  return "";
}

/// Whether most flights that were learned from touched the roof: then a touch explains nothing.
bool most_touch(const FlownLog& log, const std::vector<logbook::Flight>& flights) {
  const auto touched = std::count_if(log.used().begin(), log.used().end(), [&](std::size_t i) {
    return flights[i].touches.value_or(0) > 0;
  });
  return 2 * touched > static_cast<std::ptrdiff_t>(log.used().size());
}

/// What the log itself says of the flight.
void told_by_log(const logbook::Flight& flight, bool touching_tells,
                 std::vector<std::string>& reasons) {
  if (flight.steered) reasons.push_back("it was steered");
  if (touching_tells && flight.touches.value_or(0) > 0) {
    const double times = *flight.touches;
    reasons.push_back(times < 1.5 ? std::string("it touched the roof")
                                  : fmt::format("it touched the roof {:.0f} times", times));
  }
  if (!flight.notes.empty()) reasons.push_back("its note says: " + flight.notes);
}

/// One reading far out while the others fit is more likely misread than flown.
void one_reading(const Observed& observed, const Fit& fit, std::vector<std::string>& reasons) {
  if (fit.residual.size() < 3) return;
  std::size_t worst = 0;
  for (std::size_t m = 1; m < fit.residual.size(); ++m) {
    if (std::abs(fit.residual[m]) > std::abs(fit.residual[worst])) worst = m;
  }
  for (std::size_t m = 0; m < fit.residual.size(); ++m) {
    if (m != worst && std::abs(fit.residual[m]) > 1.5) return;
  }
  reasons.push_back(fmt::format("only its {} is far off: perhaps misread",
                                name_of(observed.readings[worst].kind)));
}

std::vector<std::string> reasons_of(const FlownLog& log, const logbook::Flight& flight,
                                    const Posterior& posterior, std::size_t place,
                                    bool touching_tells) {
  const Observed& observed = log.observed()[place];
  const Fit& fit = posterior.fits[place];
  std::vector<std::string> reasons;
  told_by_log(flight, touching_tells, reasons);
  one_reading(observed, fit, reasons);
  const double time = residual_of(observed, fit, Kind::duration);
  const double left = residual_of(observed, fit, Kind::turns_left);
  if (time < -2 && left > 2) {
    reasons.push_back("it came down early with turns left: a collision, a stall or sinking air");
  }
  int given = 0;
  for (const Explanation& one : explanations(log, observed, fit)) {
    if (one.share < 0.5 || ++given > 2) break;
    reasons.push_back(one.words);
  }
  if (reasons.empty()) reasons.push_back("no single cause takes most of it away");
  return reasons;
}

}  // namespace

std::vector<Misfit> misfits(const FlownLog& log, const std::vector<logbook::Flight>& flights,
                            const Posterior& posterior) {
  std::vector<Misfit> all;
  const bool touching_tells = !most_touch(log, flights);
  for (std::size_t i = 0; i < log.used().size(); ++i) {
    const Fit& fit = posterior.fits[i];
    const std::size_t at = log.used()[i];
    if (!fit.flown) {
      all.push_back({at, 0, {"the model does not fly it: look at turns, motor and mass"}});
    } else if (fit.weight < fits_no_more) {
      all.push_back({at, fit.weight, reasons_of(log, flights[at], posterior, i, touching_tells)});
    }
  }
  return all;
}

}  // namespace propwright::learn
