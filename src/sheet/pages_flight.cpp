/// The flight: height, rev/min and torque over one time axis, and where the energy goes.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "axes.h"
#include "energy_bar.h"
#include "pages.h"

namespace propwright::sheet {
namespace {

constexpr double flight_label_room_mm = 27;

std::string altitude(const Setting& setting, double height_m) {
  return setting.units.height.text(height_m);
}

/// Last moment any curve of the page shows.
double end_of_flight_s(const FlightCurves& flight) {
  Range range;
  range.include(flight.height_m.x);
  range.include(flight.band_time_s);
  return range.high;
}

Axis rising_axis(const std::string& title, const PrintUnit& unit, const Series& series, int ticks) {
  Range range;
  range.include(0.0);
  range.include(series.y);
  return round_axis(title, unit, range, ticks);
}

std::string height_reading(const Setting& setting) {
  const PacketData& data = setting.data;
  const double under = data.job.roof_m - data.headline.top_height_m;
  std::string words =
      fmt::format("The top comes at {} and {} under the roof.",
                  clock_text(data.headline.top_time_s), altitude(setting, std::max(0.0, under)));
  if (under <= 0)
    words = fmt::format("The model reaches the roof at {}.", clock_text(data.headline.top_time_s));
  if (!data.flight.band_time_s.empty()) {
    words +=
        " At any moment nine flights in ten are within the grey band, drawn from flights with the "
        "job's doubts moved about; the ± of the duration is their standard deviation.";
  }
  return words;
}

}  // namespace

double draw_height_chart(Canvas& canvas, const Setting& setting, const Box& plot, bool remarks) {
  const PacketData& data = setting.data;
  Range range;
  range.include(0.0);
  range.include(data.job.roof_m);
  const Axis y = exact_axis("Height", setting.units.height, range, 4);
  Chart chart(canvas, plot, time_axis(end_of_flight_s(data.flight)), y, flight_label_room_mm);
  chart.axes();
  chart.band(data.flight.band_time_s, data.flight.band_low_m, data.flight.band_high_m);
  chart.roof(data.job.roof_m, "roof " + altitude(setting, data.job.roof_m));
  chart.line(data.flight.height_m, {curve_mm, blade_hue, {}}, remarks ? "predicted" : "",
             blade_hue);
  if (data.headline.top_height_m > 0) {
    chart.point(data.headline.top_time_s, data.headline.top_height_m,
                fmt::format("top {} at {}", altitude(setting, data.headline.top_height_m),
                            clock_text(data.headline.top_time_s)),
                blade_hue, Marker::round, black);
  }
  if (remarks && !data.flight.band_time_s.empty()) {
    const std::size_t at = data.flight.band_time_s.size() * 4 / 5;
    chart.remark(data.flight.band_time_s[at], data.flight.band_high_m[at], "5 % to 95 %", ink2);
  }
  chart.finish();
  return plot.bottom() + 9;
}

namespace {

void draw_flight(Canvas& canvas, const Setting& setting) {
  const PacketData& data = setting.data;
  const Box& body = setting.body;
  const double width = body.width - chart_left_mm - flight_label_room_mm;
  // Of the height that is left, the three plots and the energy take fixed shares.
  const double spare = body.height - 112;
  double y = draw_title(canvas, setting, "Flight profile", "") + 9;
  const Box top{body.x + chart_left_mm, y, width, 0.46 * spare};
  y = draw_height_chart(canvas, setting, top, true) + 3;
  y = draw_reading(canvas, {body.x, y + 3}, body.width, height_reading(setting)) + 8;
  const Axis time = time_axis(end_of_flight_s(data.flight));
  const auto plot = [&](const Series& series, const std::string& title, const PrintUnit& unit,
                        const Stroke& stroke, const std::string& label, Colour words, bool last) {
    const Box box{body.x + chart_left_mm, y, width, 0.27 * spare};
    Chart chart(canvas, box, time, rising_axis(title, unit, series, 4), flight_label_room_mm);
    chart.axes(last);
    chart.line(series, stroke, label, words);
    chart.finish();
    y = box.bottom();
  };
  plot(data.flight.rev_per_s, "Propeller", setting.units.rotation, {curve_mm, blade_hue, {}},
       "revs", blade_hue, false);
  y += 10;
  plot(data.flight.torque_Nm, "Motor torque", setting.units.torque, {curve_mm, motor_hue, {}},
       "torque", motor_text, true);
  y = draw_reading(
      canvas, {body.x, y + 14.5}, body.width,
      "Count the revs against the upper line at each minute; the lower is what a torque "
      "meter would show on the way down.");
  if (!data.energy.empty()) draw_energy(canvas, setting, {body.x, y + 2, body.width, 0});
}

}  // namespace

void add_flight_page(const Setting& setting, Pages& pages) {
  if (setting.data.flight.height_m.x.size() < 2) return;
  pages.push_back({"flight profile", [&setting](Canvas& canvas) { draw_flight(canvas, setting); }});
}

}  // namespace propwright::sheet
