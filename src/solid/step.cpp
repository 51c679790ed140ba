// STEP by Open CASCADE. The only file that sees its headers.
#include <fmt/format.h>
#include <stdlib.h>
#include <APIHeaderSection_MakeHeader.hxx>
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeSolid.hxx>
#include <BRepBuilderAPI_MakeVertex.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepBuilderAPI_Sewing.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRepFill.hxx>
#include <BRepGProp.hxx>
#include <BRepLib.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <GProp_GProps.hxx>
#include <GeomAPI_PointsToBSplineSurface.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Interface_Static.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <STEPControl_Writer.hxx>
#include <Standard_Failure.hxx>
#include <StepBasic_Product.hxx>
#include <StepData_StepModel.hxx>
#include <TColgp_Array2OfPnt.hxx>
#include <TCollection_HAsciiString.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Shell.hxx>
#include <TopoDS_Solid.hxx>
#include <TopoDS_Vertex.hxx>
#include <TopoDS_Wire.hxx>
#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <gp_Pln.hxx>
#include <map>
#include <mutex>
#include <sstream>

#include "grid.h"
#include "part.h"
#include "propwright/base/constants.h"
#include "propwright/solid/files.h"

namespace propwright::solid {
namespace {

constexpr double sewing_mm = 1e-4;
constexpr double finest_facets_m = 5e-5;
constexpr std::size_t most_facets = 6100;  // some 3 s; the tolerance gives way

/// The plain top as a bicubic spline through a grid of points, mm. A tolerance much finer than the
/// 0.05 mm promised makes it true between them too. Null where the library finds none.
Handle(Geom_BSplineSurface) smooth_top(const Grid& grid, double side) {
  const int rows = static_cast<int>(grid.rows.size());
  const int columns = static_cast<int>(grid.rows[0].size());
  TColgp_Array2OfPnt points(1, rows, 1, columns);
  for (int i = 0; i < rows; ++i) {
    for (int j = 0; j < columns; ++j) {
      const Across& p = grid.rows[i][j];
      points.SetValue(i + 1, j + 1, gp_Pnt(1e3 * grid.x_m[i], side * 1e3 * p.y_m, 1e3 * p.z_m));
    }
  }
  GeomAPI_PointsToBSplineSurface spline;
  spline.Interpolate(points);
  if (!spline.IsDone()) return {};
  return spline.Surface();
}

/// An edge of the top laid down on the bench: the same curve with its poles at z = 0.
Handle(Geom_BSplineCurve) on_bench(const Handle(Geom_BSplineCurve) & curve) {
  Handle(Geom_BSplineCurve) down = Handle(Geom_BSplineCurve)::DownCast(curve->Copy());
  for (int i = 1; i <= down->NbPoles(); ++i) {
    const gp_Pnt pole = down->Pole(i);
    down->SetPole(i, gp_Pnt(pole.X(), pole.Y(), 0));
  }
  return down;
}

TopoDS_Shape solid_under(const Handle(Geom_BSplineSurface) & top) {
  double u0 = 0, u1 = 0, v0 = 0, v1 = 0;
  top->Bounds(u0, u1, v0, v1);
  BRepBuilderAPI_Sewing sewing(sewing_mm);
  sewing.Add(BRepBuilderAPI_MakeFace(top, 1e-6).Face());
  BRepBuilderAPI_MakeWire bench;
  // Round the block, so that the edges on the bench follow one another.
  for (const auto& [across, at] :
       {std::pair{false, v0}, std::pair{true, u1}, std::pair{false, v1}, std::pair{true, u0}}) {
    const auto curve = Handle(Geom_BSplineCurve)::DownCast(across ? top->UIso(at) : top->VIso(at));
    const TopoDS_Edge upper = BRepBuilderAPI_MakeEdge(curve).Edge();
    const TopoDS_Edge lower = BRepBuilderAPI_MakeEdge(on_bench(curve)).Edge();
    sewing.Add(BRepFill::Face(upper, lower));
    bench.Add(lower);
  }
  sewing.Add(BRepBuilderAPI_MakeFace(bench.Wire(), Standard_True).Face());
  sewing.Perform();
  TopExp_Explorer shells(sewing.SewedShape(), TopAbs_SHELL);
  if (!shells.More()) return {};
  TopoDS_Solid solid = BRepBuilderAPI_MakeSolid(TopoDS::Shell(shells.Current())).Solid();
  BRepLib::OrientClosedSolid(solid);
  return solid;
}

TopoDS_Shape drilled(TopoDS_Shape solid, const std::vector<Pin>& pins, double diameter_m) {
  for (const Pin& pin : pins) {
    const gp_Ax2 axis(gp_Pnt(1e3 * pin.x_m, 0, 1e3 * pin.floor_z_m), gp_Dir(0, 0, 1));
    double top_m = 0;
    for (const MeshPoint& p : pin.rim) top_m = std::max(top_m, p[2]);
    const double height_mm = 1e3 * (top_m - pin.floor_z_m) + 5;
    solid =
        BRepAlgoAPI_Cut(solid, BRepPrimAPI_MakeCylinder(axis, 500 * diameter_m, height_mm).Shape())
            .Shape();
  }
  return solid;
}

bool is_valid(const TopoDS_Shape& shape) {
  return !shape.IsNull() && BRepCheck_Analyzer(shape).IsValid();
}

/// The surface is within 0.02 mm of straight between the rows of its grid; a spline that leaves
/// the straight by more than this swings out beside a kink of the outline.
bool swings_out(const Handle(Geom_BSplineSurface) & top) {
  constexpr double most_mm = 0.03;
  for (int j = 1; j <= top->NbVKnots(); ++j) {
    const double v = top->VKnot(j);
    for (int i = 1; i < top->NbUKnots(); ++i) {
      const double u = top->UKnot(i), next = top->UKnot(i + 1);
      const gp_Pnt from = top->Value(u, v), to = top->Value(next, v);
      const gp_Vec chord(from, to), middle(from, top->Value((u + next) / 2, v));
      if (!(middle.Crossed(chord).Magnitude() <= most_mm * chord.Magnitude())) return true;
    }
  }
  return false;
}

/// Null where the spline gives no valid solid as large as the triangles are, be it by an exception
/// of the library.
TopoDS_Shape smooth(const Grid& grid, double side, const std::vector<Pin>& pins, double diameter_m,
                    double volume_mm3) {
  // Both are within 0.05 mm of the same surface, on a block of some 10 mm height.
  constexpr double volume_share = 0.002;
  // A spline through more than this takes seconds.
  constexpr std::size_t most_points = 6000;
  if (grid.rows.size() * grid.rows[0].size() > most_points) return {};
  try {
    const Handle(Geom_BSplineSurface) top = smooth_top(grid, side);
    if (top.IsNull() || swings_out(top)) return {};
    const TopoDS_Shape block = solid_under(top);
    if (!is_valid(block)) return {};
    const TopoDS_Shape shape = drilled(block, pins, diameter_m);
    TopExp_Explorer solids(shape, TopAbs_SOLID);
    if (!is_valid(shape) || !solids.More()) return {};
    const TopoDS_Shape solid = solids.Current();
    GProp_GProps properties;
    BRepGProp::VolumeProperties(solid, properties, 1e-3);
    const bool as_large = std::abs(properties.Mass() / volume_mm3 - 1) < volume_share;
    solids.Next();
    return as_large && !solids.More() ? solid : TopoDS_Shape();
  } catch (const Standard_Failure&) {
    return {};
  }
}

/// The triangles as plane faces that share their edges, in a closed shell.
TopoDS_Shape faceted(const Mesh& mesh) {
  BRep_Builder builder;
  std::vector<TopoDS_Vertex> corners;
  for (const MeshPoint& p : mesh.points_m) {
    corners.push_back(BRepBuilderAPI_MakeVertex(gp_Pnt(1e3 * p[0], 1e3 * p[1], 1e3 * p[2])));
  }
  std::map<std::pair<std::uint32_t, std::uint32_t>, TopoDS_Edge> edges;
  const auto edge = [&](std::uint32_t from, std::uint32_t to) {
    TopoDS_Edge& each = edges[std::minmax(from, to)];
    if (each.IsNull()) {
      each = BRepBuilderAPI_MakeEdge(corners[std::min(from, to)], corners[std::max(from, to)]);
    }
    return from < to ? each : TopoDS::Edge(each.Reversed());
  };
  TopoDS_Shell shell;
  builder.MakeShell(shell);
  for (const auto& [a, b, c] : mesh.triangles) {
    const gp_Pnt p = BRep_Tool::Pnt(corners[a]);
    const gp_Vec along(p, BRep_Tool::Pnt(corners[b])), aside(p, BRep_Tool::Pnt(corners[c]));
    const gp_Pln plane(p, gp_Dir(along.Crossed(aside)));
    TopoDS_Wire wire;
    builder.MakeWire(wire);
    for (const TopoDS_Edge& each : {edge(a, b), edge(b, c), edge(c, a)}) builder.Add(wire, each);
    wire.Closed(Standard_True);
    builder.Add(shell, BRepBuilderAPI_MakeFace(plane, wire, Standard_False).Face());
  }
  shell.Closed(Standard_True);
  return BRepBuilderAPI_MakeSolid(shell).Solid();
}

/// A folder of our own for the one file that the library insists on, gone with this object.
class Scratch {
 public:
  Scratch() {
    std::string pattern = (std::filesystem::temp_directory_path() / "propwright-XXXXXX").string();
    if (mkdtemp(pattern.data()) != nullptr) folder_ = pattern;
  }
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;
  ~Scratch() {
    std::error_code ignored;
    if (!folder_.empty()) std::filesystem::remove_all(folder_, ignored);
  }
  bool made() const { return !folder_.empty(); }
  std::string file() const { return (folder_ / "form.step").string(); }

 private:
  std::filesystem::path folder_;
};

void set_header(STEPControl_Writer& writer, const std::string& name,
                const std::string& description) {
  APIHeaderSection_MakeHeader header(writer.Model());
  const auto text = [](const std::string& words) {
    return Handle(TCollection_HAsciiString)(new TCollection_HAsciiString(words.c_str()));
  };
  header.SetName(text(name));
  header.SetDescriptionValue(1, text(description));
  header.SetTimeStamp(text("1970-01-01T00:00:00"));
  header.SetAuthorValue(1, text(""));
  header.SetOrganizationValue(1, text(""));
  header.SetOriginatingSystem(text("Propwright"));
  // The library counts the products it has written and adds the count to the name.
  const auto model = writer.Model();
  for (int i = 1; i <= model->NbEntities(); ++i) {
    const auto product = Handle(StepBasic_Product)::DownCast(model->Value(i));
    if (product.IsNull()) continue;
    product->SetId(text(name));
    product->SetName(text(name));
  }
}

std::string written(const TopoDS_Shape& solid, const std::string& name,
                    const std::string& description) {
  // The library keeps its settings and its messages in globals.
  static std::mutex one_at_a_time;
  const std::lock_guard lock(one_at_a_time);
  Message::DefaultMessenger()->ChangePrinters().Clear();
  STEPControl_Writer writer;
  Interface_Static::SetCVal("write.step.unit", "MM");
  Interface_Static::SetCVal("write.step.product.name", name.c_str());
  const Scratch scratch;
  if (!scratch.made()) return {};
  if (writer.Transfer(solid, STEPControl_ManifoldSolidBrep) != IFSelect_RetDone) return {};
  set_header(writer, name, description);
  if (writer.Write(scratch.file().c_str()) != IFSelect_RetDone) return {};
  std::ifstream file(scratch.file(), std::ios::binary);
  std::ostringstream bytes;
  bytes << file.rdbuf();
  return bytes.str();
}

tl::unexpected<base::Problems> no_step(base::Kind kind, std::string message) {
  return base::fail({.kind = kind,
                     .field = "form.step",
                     .remedy = "write an STL or a 3MF instead, or try another border or tilt",
                     .message = std::move(message)});
}

/// The plain form: what the STEP file holds, finely enough sampled.
FormOptions plain(FormOptions options) {
  options.groove_width_m = 0;
  options.scribe_depth_m = 0;
  options.split_radius_m.reset();
  options.tolerance_m = std::min(options.tolerance_m, 2e-5);
  return options;
}

}  // namespace

base::Expected<std::string> step_bytes(const form::Surface& surface, const FormOptions& asked) {
  const FormOptions options = plain(asked);
  const auto checked = form_solid(surface, asked);
  if (!checked) return tl::unexpected(checked.error());
  FormOptions without_pins = options;
  without_pins.pin_radii_m.clear();
  const auto grid = make_grid(surface, without_pins, 12);
  if (!grid) return tl::unexpected(grid.error());
  const auto with_pins = make_grid(surface, options);
  if (!with_pins) return tl::unexpected(with_pins.error());
  const auto pins = place_pins(*with_pins, surface, options);
  if (!pins) return tl::unexpected(pins.error());
  FormOptions coarser = options;
  coarser.tolerance_m = std::max(asked.tolerance_m, finest_facets_m);
  auto triangles = form_solid(surface, coarser);
  while (triangles && triangles->front().mesh.triangles.size() > most_facets) {
    coarser.tolerance_m *= 1.2;
    triangles = form_solid(surface, coarser);
  }
  if (!triangles) return tl::unexpected(triangles.error());
  const double volume_mm3 = 1e9 * volume_m3(triangles->front().mesh);
  const double side = surface.hand() == form::Hand::clockwise ? 1 : -1;
  std::string top = "top a smooth spline surface";
  try {
    TopoDS_Shape solid = smooth(*grid, side, *pins, options.pin_diameter_m, volume_mm3);
    if (solid.IsNull()) {
      top = fmt::format("plane facets within {:.2f} mm", 1e3 * coarser.tolerance_m);
      // Closed by form_solid's own check; the library's would take another second.
      solid = faceted(triangles->front().mesh);
    }
    if (solid.IsNull()) {
      return no_step(base::Kind::no_solution, "no valid solid comes out of this form");
    }
    const FormPart& part = triangles->front();
    const std::string bytes = written(solid, part.name, part.title + ", " + top);
    if (bytes.empty()) {
      return no_step(base::Kind::resource_failed, "the STEP file could not be written");
    }
    return bytes;
  } catch (const Standard_Failure& failure) {
    return no_step(base::Kind::no_solution,
                   std::string("the solid could not be made: ") + failure.GetMessageString());
  }
}

}  // namespace propwright::solid
