// What flights taught, and which propeller is the better, for people.
#include <fmt/format.h>

#include <cmath>

#include "flights_files.h"
#include "text_table.h"

namespace propwright::desk {
namespace {

using answer::Json;

std::vector<std::string> flights_strings(const Json& list) {
  std::vector<std::string> all;
  all.reserve(list.size());
  for (const Json& text : list) all.push_back(text.get<std::string>());
  return all;
}

double real(const Json& value) {
  return value.get<double>();
}

/// A nought that is rounded to has no sign.
double rounded(double value, int decimals) {
  const double scale = std::pow(10.0, decimals);
  return std::round(value * scale) / scale + 0.0;
}

/// "+21 ± 14"; "-" where it is not known.
std::string seconds_text(const Json& value, const Json& interval) {
  if (!value.is_number()) return "-";
  const double sigma = (real(interval[1]) - real(interval[0])) / (2 * 1.6448536);
  return fmt::format("{:+.0f} ± {:.0f}", rounded(real(value), 0), sigma);
}

std::string parameters_text(const Json& parameters) {
  TextTable table({"what", "of", "on the sheet", "learned", "±"});
  for (const Json& p : parameters) {
    const auto number = [&](const Json& value) {
      if (p["kind"] == "angle_deg") return fmt::format("{:+.2f}°", rounded(real(value), 2));
      if (p["kind"] == "temperature_K") {
        return fmt::format("{:+.1f}\u00a0K", rounded(real(value), 1));
      }
      return fmt::format("{:.3f}", rounded(real(value), 3));
    };
    const std::string owner = p["owner"].get<std::string>();
    table.add({p["label"].get<std::string>(), owner.empty() ? "all blades" : owner,
               number(p["prior"]), number(p["posterior"]),
               fmt::format("{:.3f}", real(p["sigma"]))});
  }
  return table.text();
}

std::string changed_text(const Json& changes) {
  TextTable table({"propeller", "on the sheet s", "±", "learned s", "±", "single flight ±"});
  for (const Json& c : changes) {
    table.add({c["propeller"].get<std::string>(), fmt::format("{:.0f}", real(c["before_s"])),
               fmt::format("{:.0f}", real(c["before_sigma_s"])),
               fmt::format("{:.0f}", real(c["after_s"])),
               fmt::format("{:.0f}", real(c["after_sigma_s"])),
               fmt::format("{:.0f}", real(c["flight_sigma_s"]))});
  }
  return table.text();
}

/// "93 in 100", never more than "over 99".
std::string odds_text(double odds) {
  if (odds > 0.995) return "over 99 in 100";
  if (odds < 0.005) return "under 1 in 100";
  return fmt::format("{:.0f} in 100", 100 * odds);
}

std::string next_text(const Json& next) {
  std::string out;
  for (const Json& one : next) {
    if (one["candidates"].empty()) continue;
    TextTable table({"change to " + one["propeller"].get<std::string>(), "promises s", "±",
                     "10 s or more", "bench h", "teaches most of"});
    for (const Json& c : one["candidates"]) {
      table.add({c["change"].get<std::string>(),
                 fmt::format("{:+.0f}", rounded(real(c["gain_s"]), 0)),
                 fmt::format("{:.0f}", real(c["sigma_s"])), odds_text(real(c["probability_10_s"])),
                 fmt::format("{:g}", real(c["bench_hours"])), c["teaches"].get<std::string>()});
    }
    out += "\n" + table.text();
  }
  return out;
}

std::string flight_name(const Json& row) {
  const std::string id = row["id"].get<std::string>(), time = row["time"].get<std::string>();
  std::string name = fmt::format("Flight {}", row["flight"].get<int>());
  if (!id.empty()) name += " (" + id + ")";
  if (!time.empty()) name += ", " + time;
  return name;
}

std::string standings_text(const Json& propellers) {
  TextTable table(
      {"propeller", "flights", "best, in 100", "time s", "5 to 95 %", "ahead by s", "ballast mg"});
  for (const Json& p : propellers) {
    const bool known = p["duration_s"].is_number();
    table.add(
        {p["letter"].get<std::string>() + "  " + p["name"].get<std::string>(),
         fmt::format("{}", p["flights"].get<int>()),
         fmt::format("{:.1f}", 100 * real(p["probability_best"])),
         known ? fmt::format("{:.0f}", real(p["duration_s"])) : "-",
         known ? fmt::format("{:.0f} to {:.0f}", real(p["duration_interval_s"][0]),
                             real(p["duration_interval_s"][1]))
               : "-",
         seconds_text(p["gain_s"], p["interval_s"]),
         p["ballast_kg"].is_number() ? fmt::format("{:.0f}", 1e6 * real(p["ballast_kg"])) : "-"});
  }
  return table.text();
}

std::string given_text(const Json& answer) {
  const Json &b = answer["beliefs"], &t = answer["thresholds"];
  const std::string tails =
      b["normal"].get<bool>()
          ? "normal scatter"
          : fmt::format("Student's t with {:g} degrees of freedom", real(b["tail_freedom"]));
  const std::string scatter =
      b["flat_scatter"].get<bool>()
          ? "nothing held of the scatter"
          : fmt::format("a scatter about {:.3g} %, spread of its logarithm {:g}",
                        100 * real(b["scatter_median"]), real(b["scatter_spread"]));
  const std::string levels =
      b["level_sigma"].is_number()
          ? fmt::format("propellers within {:.3g} %", 100 * real(b["level_sigma"]))
          : std::string("all levels alike");
  return fmt::format(
      "Taken as given: {}, {}, {}; {}; beforehand {}.\nA verdict is given at odds of {:.3g} in 100 "
      "({:.3g} without any one flight) and {} flights of each; {:.3g} % do not matter.\n",
      tails, b["shared_scatter"].get<bool>() ? "one for all" : "each its own", scatter,
      real(b["day_scatter"]) > 0
          ? fmt::format("a day\u2019s own shift of about {:.3g} %", 100 * real(b["day_scatter"]))
          : std::string("all days alike"),
      levels, 100 * real(t["sure"]), 100 * real(t["sure_without_one"]),
      t["least_flights"].get<int>(), 100 * real(t["margin"]));
}

std::vector<std::string> not_counted(const Json& shares) {
  std::vector<std::string> lines;
  for (const Json& row : shares) {
    const std::string reason = row["left_out"].get<std::string>();
    if (!reason.empty()) lines.push_back(flight_name(row) + ": " + reason);
  }
  return lines;
}

}  // namespace

std::string learn_text(const Json& answer) {
  const Json& flights = answer["flights"];
  std::string out = fmt::format("Learned from {} of {} flights.\n\n", flights["used"].get<int>(),
                                flights["given"].get<int>());
  for (const Json& p : answer["parameters"]) {
    if (p["state"] == "moved") out += p["sentence"].get<std::string>() + "\n";
  }
  for (const Json& text : answer["entangled"]) out += text.get<std::string>() + "\n";
  out += "\n" + parameters_text(answer["parameters"]) + "± is one standard error.\n";
  out += "\n" + changed_text(answer["changes"]) + next_text(answer["next"]);
  std::vector<std::string> odd, left;
  odd.reserve(answer["misfits"].size());
  left.reserve(flights["left_out"].size());
  for (const Json& row : answer["misfits"]) {
    std::string line = flight_name(row) + ": ";
    for (const Json& reason : row["reasons"]) {
      line += (line.ends_with(": ") ? "" : "; ") + reason.get<std::string>();
    }
    odd.push_back(line);
  }
  for (const Json& row : flights["left_out"]) {
    left.push_back(flight_name(row) + ": " + row["reason"].get<std::string>());
  }
  out += bullet_list("Flights that do not fit", odd) + bullet_list("Left out", left);
  return out + bullet_list("Notes", flights_strings(answer["notes"]));
}

std::string verdict_text(const Json& answer) {
  std::string out =
      answer["headline"].get<std::string>() + "\n" + answer["sentence"].get<std::string>() + "\n";
  if (!answer["reason"].get<std::string>().empty()) {
    out += "Not settled: " + answer["reason"].get<std::string>() + ".\n";
  }
  out += "\n" + standings_text(answer["propellers"]) + "\n";
  out += "± is one standard error; 5 to 95 % holds nine of ten.\n";
  if (!answer["order"].empty()) {
    out += "Fly next:";
    for (const Json& letter : answer["order"]) out += " " + letter.get<std::string>();
    out += "\n";
  }
  if (answer["scatter"].is_number()) {
    out += fmt::format("Scatter of a flight: {:.1f} % ({:.1f} to {:.1f} %).\n",
                       100 * real(answer["scatter"]), 100 * real(answer["scatter_interval"][0]),
                       100 * real(answer["scatter_interval"][1]));
  }
  if (answer["day_scatter"].is_number()) {
    out += "Days:";
    for (const Json& day : answer["days"]) {
      const std::string name = day["day"].get<std::string>();
      out += fmt::format("{} {} {:+.1f} %", out.ends_with("Days:") ? "" : ",",
                         name.empty() ? "undated" : name, rounded(100 * real(day["shift"]), 1));
    }
    out += ".\n";
  }
  out += answer["power"]["sentence"].get<std::string>() + "\n";
  out +=
      fmt::format("Shares are of {}: {:.0f} s.\n", answer["reference"]["what"].get<std::string>(),
                  real(answer["reference"]["duration_s"]));
  out += given_text(answer);
  out += bullet_list("Left out", not_counted(answer["shares"]));
  return out + bullet_list("Notes", flights_strings(answer["notes"]));
}

}  // namespace propwright::desk
