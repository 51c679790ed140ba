/// The form of a blade on paper: tables, the strain of the sheet as a map, and every drawing at
/// true scale. Plain page data in SI, printed in the user's units; as in packet.h nothing is worked
/// out here.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "propwright/sheet/packet.h"

namespace propwright::sheet {

/// How a column of a table is printed.
enum class Measure { word, count, radius, length, stock, pitch, angle, percent, part_mass, area };

/// A number in SI (angles in rad, shares as shares), or a word where the column is one; a number
/// column with a word prints the word.
struct FormCell {
  double value = 0;
  std::string word = {};
};
struct FormTable {
  std::string title;
  std::string words = {};  ///< under the title; may be empty
  struct Column {
    std::string head;  ///< may have a second line after '\n'
    Measure measure = Measure::word;
  };
  std::vector<Column> columns = {};
  std::vector<std::vector<FormCell>> rows = {};
  int strong_row = -1;  ///< printed bold; -1 = none
};

/// Strain of the flat sheet when it lies on the form.
struct StrainMap {
  std::vector<std::pair<double, double>> points_m;  ///< x across, y along the spar line
  std::vector<std::array<int, 3>> triangles;
  std::vector<double> strain;  ///< of each triangle: stretched > 0, squeezed < 0
  std::vector<std::pair<double, double>> edge_m, plain_edge_m;  ///< closed lines
  std::pair<double, double> worst_m;
  double limit = 0.02;
  std::string words;  ///< what to read from it
};

/// What can hurt in a step.
enum class Hazard { knife, heat, solvent, instant_glue, spray_glue, dust, wire };

/// Drawings that belong together, with what to do with them.
struct FormGroup {
  std::string title, words;
  std::vector<Hazard> hazards = {};
  std::vector<form::Template> drawings = {};
};

struct FormSheets {
  JobLine job;
  form::Hand hand = form::Hand::anticlockwise;
  int blades = 2;
  std::string sentence;                   ///< the one sentence a builder wants
  std::optional<form::Template> outline;  ///< has a page of its own, as in the packet
  std::vector<FormTable> tables;
  std::vector<StrainMap> maps;  ///< none or one
  std::vector<FormGroup> groups;
  std::vector<std::string> notes;
};

/// "12.5" and its unit, as a table prints a cell: unit empty for words and counts.
std::string cell_text(const FormCell& cell, Measure measure, units::Profile profile);
std::string measure_unit(Measure measure, units::Profile profile);

/// The PDF; the same data and options give the same bytes. Problems as packet_pdf.
base::Expected<PacketPdf> form_pdf(const FormSheets& sheets, const PacketOptions& options);

/// Drawings laid side by side as one, each with its title under it, in rows of at most `width_m`:
/// what a cutting machine is given. None: an empty drawing.
form::Template gathered(const std::vector<form::Template>& drawings, const std::string& name,
                        double width_m = 0.6);

/// Writes form.pdf and, for each drawing, svg/<name>.svg and dxf/<name>.dxf, making the directory
/// where needed; each file whole or not at all. Problems as write_packet.
base::Expected<PacketFiles> write_form(const FormSheets& sheets, const PacketOptions& options,
                                       const std::string& directory);

/// Writes bytes beside their place and renames them. Problem: resource_failed with the path.
base::Expected<PacketFile> write_file(const std::string& bytes, const std::string& kind,
                                      const std::string& path);

}  // namespace propwright::sheet
