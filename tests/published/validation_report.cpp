// Prints the error tables of docs/validation.md and draws its figure. Not a test; run it by hand
// after a change of the rotor or the polars:
//   cmake --build build --target validation_report
//   validation_report docs/images/research-propellers.svg
#include <array>
#include <cstdio>
#include <fstream>
#include <sstream>

#include "research_propellers.h"

namespace {

using namespace propwright;

void print_wing() {
  // A wing of low aspect ratio from a section polar: the lift slope by Helmbold's formula, the drag
  // by the lift's square. Formulas from memory.
  const auto t =
      test::published_table("lowre_wing_read.csv", {"AR_full", "Re", "alpha_deg", "CL", "CD"});
  const section::Polar plate = section::Family::thin_arc().at_camber(0);
  double lift = 0, drag = 0;
  std::puts("| alpha deg | CL measured | CL ours | CD measured | CD ours |\n|---|---|---|---|---|");
  for (std::size_t i = 0; i < t.rows(); ++i) {
    const double ar = t.column("AR_full")[i], alpha = t.column("alpha_deg")[i] * base::degree_rad;
    const double ln_re = std::log(t.column("Re")[i]);
    const double helmbold = ar / (2 + std::sqrt(ar * ar + 4));
    const auto section = plate.at(alpha * helmbold, ln_re);
    const double cl = section.cl, cd = section.cd + cl * cl / (base::pi * ar);
    lift += std::pow(cl - t.column("CL")[i], 2);
    drag += std::pow(cd - t.column("CD")[i], 2);
    std::printf("| %g | %.2f | %.2f | %.3f | %.3f |\n", t.column("alpha_deg")[i], t.column("CL")[i],
                cl, t.column("CD")[i], cd);
  }
  const double n = static_cast<double>(t.rows());
  std::printf("\nRMS: CL %.3f, CD %.3f\n\n", std::sqrt(lift / n), std::sqrt(drag / n));
}

void print_propellers() {
  std::puts(
      "| blade | blades | state | rows | mean CT | RMS in CT | mean error | mean CP | RMS in CP | "
      "mean "
      "error |\n|---|---|---|---|---|---|---|---|---|---|");
  for (const auto& [key, d] : test::research_differences()) {
    const auto& [name, blades, at_rest] = key;
    std::printf(
        "| %s | %d | %s | %d | %.3f | %.4f (%.0f %%) | %+.0f %% | %.3f | %.4f (%.0f %%) | %+.0f %% "
        "|\n",
        name.c_str(), blades, at_rest ? "at rest" : "advancing", d.count, d.measured_ct, d.ct_rms,
        100 * d.ct_rms / d.measured_ct, 100 * d.ct_mean / d.measured_ct, d.measured_cp, d.cp_rms,
        100 * d.cp_rms / d.measured_cp, 100 * d.cp_mean / d.measured_cp);
  }
}

struct Panel {
  const char *name, *title;
  int blades;
  double rpm;
};
constexpr std::array<Panel, 6> panels{
    {{"da4002_5.0x2.65", "DA4002 5 x 2.65, 2 blades, 3991 rpm", 2, 3991},
     {"da4002_5.0x3.75", "DA4002 5 x 3.75, 2 blades, 4031 rpm", 2, 4031},
     {"da4002_5.0x4.92", "DA4002 5 x 4.92, 2 blades, 4049 rpm", 2, 4049},
     {"da4022_5.0x3.75", "DA4022 5 x 3.75, 2 blades", 2, 0},
     {"nr640_5x3.16", "NR640 5 x 3.16, 2 blades", 2, 0},
     {"nr640_5x3.16", "NR640 5 x 3.16, 3 blades", 3, 0}}};
constexpr double width = 300, height = 220, j_most = 1.25, c_most = 0.20;

double px(double j) {
  return 40 + (width - 60) * j / j_most;
}
double py(double c) {
  return height - 36 - (height - 66) * c / c_most;
}

/// The slowest advancing run of a blade, rev/s.
double slowest_run(const Panel& panel) {
  double least = 1e9;
  for (const auto& m : test::research_measurements()) {
    if (m.name == panel.name && m.blades == panel.blades && m.j > 0) {
      least = std::min(least, m.rev_per_s);
    }
  }
  return least;
}

void draw_panel(std::ostream& svg, const Panel& panel, double left, double top) {
  const double rev_per_s = panel.rpm > 0 ? panel.rpm / 60 : slowest_run(panel);
  svg << "<g transform='translate(" << left << ' ' << top << ")'><text x='40' y='16' class='t'>"
      << panel.title;
  if (panel.rpm <= 0) svg << ", " << std::lround(rev_per_s * 60) << " rpm";
  svg << "</text><path class='a' d='M40 " << py(c_most) << "V" << py(0) << "H" << px(j_most)
      << "'/>";
  for (const double c : {0.05, 0.10, 0.15, 0.20}) {
    svg << "<path class='g' d='M40 " << py(c) << "H" << px(j_most) << "'/><text x='36' y='"
        << py(c) + 4 << "' class='n' text-anchor='end'>" << c << "</text>";
  }
  for (const double j : {0.0, 0.5, 1.0}) {
    svg << "<text x='" << px(j) << "' y='" << py(0) + 16 << "' class='n' text-anchor='middle'>" << j
        << "</text>";
  }
  const rotor::Rotor rotor = test::research_rotor(panel.name, panel.blades);
  for (const bool thrust : {true, false}) {
    const char* kind = thrust ? "ct" : "cp";
    svg << "<path class='" << kind << "' d='";
    for (double j = 0; j <= j_most; j += 0.01) {
      const auto c = test::research_prediction(rotor, j, rev_per_s);
      if (c.ct < 0) break;
      svg << (j == 0 ? 'M' : 'L') << px(j) << ' ' << py(thrust ? c.ct : c.cp);
    }
    svg << "'/>";
    for (const auto& m : test::research_measurements()) {
      if (m.name != panel.name || m.blades != panel.blades || m.ct < 0) continue;
      if (std::abs(m.rev_per_s - rev_per_s) > 0.05 * rev_per_s) continue;
      svg << "<circle class='" << kind << "m' cx='" << px(m.j) << "' cy='"
          << py(thrust ? m.ct : m.cp) << "' r='2.6'/>";
    }
  }
  svg << "</g>\n";
}

void draw(const char* path) {
  std::ostringstream svg;
  svg.precision(5);
  svg << "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 900 490' font-family='sans-serif' "
         "role='img'><title>Measured and predicted CT and CP over J of small research "
         "propellers</title><style>rect{fill:#fff}.t{font-size:12px;fill:#1d2a33}.n{font-size:11px;"
         "fill:#4a5a65}path{fill:none}.a{stroke:#1d2a33}.g{stroke:#dde3e6}.ct{stroke:#14506e;"
         "stroke-width:1.6}.cp{stroke:#b4541a;stroke-width:1.6;stroke-dasharray:5 "
         "3}.ctm{fill:#14506e}"
         ".cpm{fill:#fff;stroke:#b4541a;stroke-width:1.3}</style><rect width='900' "
         "height='490'/>\n";
  for (std::size_t i = 0; i < panels.size(); ++i) {
    draw_panel(svg, panels[i], static_cast<double>(i % 3) * width,
               static_cast<double>(i / 3) * height);
  }
  svg << "<path class='ct' d='M40 462h28'/><circle class='ctm' cx='54' cy='462' r='2.6'/>"
         "<text x='76' y='466' class='t'>CT: line predicted, dots measured</text>"
         "<path class='cp' d='M330 462h28'/><circle class='cpm' cx='344' cy='462' r='2.6'/>"
         "<text x='366' y='466' class='t'>CP: dashes predicted, rings measured</text>"
         "<text x='640' y='466' class='t'>across: advance ratio J = V/(nD)</text></svg>\n";
  std::ofstream(path) << svg.str();
}

}  // namespace

int main(int count, char** arguments) {
  print_wing();
  print_propellers();
  if (count > 1) draw(arguments[1]);
}
