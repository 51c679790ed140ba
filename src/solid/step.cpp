// STEP by Open CASCADE. The only file that sees its headers.
#include <fmt/format.h>
#include <stdlib.h>
#include <APIHeaderSection_MakeHeader.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeSolid.hxx>
#include <BRepBuilderAPI_MakeVertex.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Interface_Static.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <STEPControl_Writer.hxx>
#include <Standard_Failure.hxx>
#include <StepBasic_Product.hxx>
#include <StepData_StepModel.hxx>
#include <TCollection_HAsciiString.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Shell.hxx>
#include <TopoDS_Solid.hxx>
#include <TopoDS_Vertex.hxx>
#include <TopoDS_Wire.hxx>
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <gp_Pln.hxx>
#include <map>
#include <mutex>
#include <sstream>

#include "propwright/solid/files.h"

namespace propwright::solid {
namespace {

constexpr double finest_facets_m = 5e-5;
constexpr std::size_t most_facets = 6100;  // some 3 s; the tolerance gives way

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

/// The plain form: what the STEP file holds, not finer than it is worth.
FormOptions plain(FormOptions options) {
  options.groove_width_m = 0;
  options.scribe_depth_m = 0;
  options.split_radius_m.reset();
  options.tolerance_m = std::max(options.tolerance_m, finest_facets_m);
  return options;
}

}  // namespace

base::Expected<std::string> step_bytes(const form::Surface& surface, const FormOptions& asked) {
  // What cannot be made with its groove and split is refused here too.
  const auto checked = form_solid(surface, asked);
  if (!checked) return tl::unexpected(checked.error());
  FormOptions options = plain(asked);
  auto parts = form_solid(surface, options);
  while (parts && parts->front().mesh.triangles.size() > most_facets) {
    options.tolerance_m *= 1.2;
    parts = form_solid(surface, options);
  }
  if (!parts) return tl::unexpected(parts.error());
  const FormPart& part = parts->front();
  const std::string description =
      fmt::format("{}, plane facets within {:.2f} mm", part.title, 1e3 * options.tolerance_m);
  try {
    // Closed by form_solid's own check; the library's would take another second.
    const std::string bytes = written(faceted(part.mesh), part.name, description);
    if (!bytes.empty()) return bytes;
    return no_step(base::Kind::resource_failed, "the STEP file could not be written");
  } catch (const Standard_Failure& failure) {
    return no_step(base::Kind::no_solution,
                   std::string("the solid could not be made: ") + failure.GetMessageString());
  }
}

}  // namespace propwright::solid
