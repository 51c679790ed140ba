// The files read back: STL by our own reading and by admesh, 3MF by unzip and by lib3mf, STEP by
// Open CASCADE.
#include "propwright/solid/files.h"

#include <Model/COM/NMR_DLLInterfaces.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <BRepBuilderAPI_MakeVertex.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRepExtrema_DistShapeShape.hxx>
#include <BRepGProp.hxx>
#include <GProp_GProps.hxx>
#include <STEPControl_Reader.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS_Shape.hxx>

#include <fmt/format.h>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <memory>
#include <regex>
#include <sstream>

#include "solid_forms.h"

namespace propwright::solid {
namespace {

using testing::HasSubstr;

std::filesystem::path kept(const std::string& name, const std::string& bytes) {
  const auto path = std::filesystem::path(testing::TempDir()) / ("propwright-solid-" + name);
  std::ofstream(path, std::ios::binary) << bytes;
  return path;
}

std::string output_of(const std::string& command) {
  const std::unique_ptr<FILE, int (*)(FILE*)> pipe(popen(command.c_str(), "r"), pclose);
  std::string out;
  std::array<char, 4096> part;
  while (pipe && std::fgets(part.data(), part.size(), pipe.get()) != nullptr) out += part.data();
  return out;
}

std::vector<FormPart> parts_of_both() {
  return form_solid(blade_form(0.06), all_cut(0.13)).value();
}

template <class T>
T read_at(const std::string& bytes, std::size_t at) {
  T value;
  std::memcpy(&value, bytes.data() + at, sizeof(T));
  return value;
}

TEST(Stl, HoldsTheTrianglesInMillimetres) {
  const FormPart part = form_solid(blade_form(0.06), all_cut()).value().front();
  const std::string bytes = stl_bytes(part);
  ASSERT_EQ(bytes.size(), 84 + 50 * part.mesh.triangles.size());
  EXPECT_THAT(bytes.substr(0, 80), HasSubstr("clockwise propeller"));
  EXPECT_NE(bytes.substr(0, 5), "solid");  // so begins an STL in words
  EXPECT_EQ(read_at<std::uint32_t>(bytes, 80), part.mesh.triangles.size());
  for (std::size_t i = 0; i < part.mesh.triangles.size(); i += 97) {
    for (std::size_t corner = 0; corner < 3; ++corner) {
      const MeshPoint& p = part.mesh.points_m[part.mesh.triangles[i][corner]];
      for (std::size_t axis = 0; axis < 3; ++axis) {
        const float read = read_at<float>(bytes, 84 + 50 * i + 12 + 12 * corner + 4 * axis);
        EXPECT_NEAR(read, 1e3 * p[axis], 1e-5);  // half a unit of the last place of 236 mm
      }
    }
  }
}

double admesh_number(const std::string& report, const std::string& label) {
  std::smatch found;
  if (!std::regex_search(report, found, std::regex(label + "\\s*:\\s*(-?[0-9.eE+-]+)"))) {
    return std::nan("");
  }
  return std::stod(found[1]);
}

TEST(Stl, IsWatertightForAdmeshAndHasTheVolume) {
  auto parts = parts_of_both();
  parts.push_back(
      form_solid(blade_form(0.06, form::Hand::anticlockwise), all_cut()).value().front());
  for (const FormPart& part : parts) {
    const auto path = kept(part.name + ".stl", stl_bytes(part));
    const std::string report = output_of("admesh '" + path.string() + "' 2>&1");
    // Of the two columns, as it was and after repair, the pattern takes the first.
    EXPECT_EQ(admesh_number(report, "Number of facets"), part.mesh.triangles.size()) << report;
    EXPECT_EQ(admesh_number(report, "Facets with 1 disconnected edge"), 0) << report;
    EXPECT_EQ(admesh_number(report, "Facets with 2 disconnected edges"), 0) << report;
    EXPECT_EQ(admesh_number(report, "Facets with 3 disconnected edges"), 0) << report;
    EXPECT_EQ(admesh_number(report, "Total disconnected facets"), 0) << report;
    EXPECT_EQ(admesh_number(report, "Number of parts"), 1) << report;
    EXPECT_EQ(admesh_number(report, "Degenerate facets"), 0) << report;
    EXPECT_EQ(admesh_number(report, "Facets removed"), 0) << report;
    EXPECT_EQ(admesh_number(report, "Facets reversed"), 0) << report;
    // It sums in single precision: 1e-7 of each of some thousand terms larger than the volume.
    EXPECT_NEAR(admesh_number(report, "Volume") / (1e9 * volume_m3(part.mesh)), 1, 1e-4);
    std::filesystem::remove(path);
  }
}

TEST(ThreeMf, IsAZipWithTheModelInMillimetres) {
  const auto parts = parts_of_both();
  const auto path = kept("form.3mf", three_mf_bytes(parts).value());
  EXPECT_THAT(output_of("unzip -tq '" + path.string() + "' 2>&1"), HasSubstr("No errors"));
  const std::string xml = output_of("unzip -p '" + path.string() + "' 3D/3dmodel.model");
  EXPECT_THAT(xml, HasSubstr("unit=\"millimeter\""));
  EXPECT_THAT(xml, HasSubstr("Hand: clockwise"));
  EXPECT_THAT(xml, HasSubstr("Pitch: 760.0 mm"));
  EXPECT_THAT(xml, HasSubstr("form-clockwise-760mm-inner"));
  std::size_t triangles = 0;
  for (auto at = xml.find("<triangle "); at != std::string::npos;
       at = xml.find("<triangle ", at + 1)) {
    ++triangles;
  }
  EXPECT_EQ(triangles, parts[0].mesh.triangles.size() + parts[1].mesh.triangles.size());
  std::filesystem::remove(path);
}

TEST(ThreeMf, IsManifoldForTheLibrarysReader) {
  std::string bytes = three_mf_bytes(parts_of_both()).value();
  NMR::PLib3MFModel* model = nullptr;
  NMR::PLib3MFModelReader* reader = nullptr;
  NMR::PLib3MFModelResourceIterator* objects = nullptr;
  ASSERT_EQ(NMR::lib3mf_createmodel(&model), 0);
  ASSERT_EQ(NMR::lib3mf_model_queryreader(model, "3mf", &reader), 0);
  ASSERT_EQ(NMR::lib3mf_reader_readfrombuffer(reader, reinterpret_cast<BYTE*>(bytes.data()),
                                              bytes.size()),
            0);
  ASSERT_EQ(NMR::lib3mf_model_getmeshobjects(model, &objects), 0);
  int found = 0;
  BOOL more = 0;
  while (NMR::lib3mf_resourceiterator_movenext(objects, &more) == 0 && more) {
    NMR::PLib3MFModelResource* object = nullptr;
    ASSERT_EQ(NMR::lib3mf_resourceiterator_getcurrent(objects, &object), 0);
    BOOL manifold = 0;
    EXPECT_EQ(NMR::lib3mf_meshobject_ismanifoldandoriented(object, &manifold), 0);
    EXPECT_TRUE(manifold);
    NMR::lib3mf_release(object);
    ++found;
  }
  EXPECT_EQ(found, 2);
  NMR::lib3mf_release(objects);
  NMR::lib3mf_release(reader);
  NMR::lib3mf_release(model);
}

#ifdef __SANITIZE_ADDRESS__
constexpr bool under_sanitizer = true;
#else
constexpr bool under_sanitizer = false;
#endif

TopoDS_Shape shape_of(const std::string& step) {
  std::istringstream stream(step);
  STEPControl_Reader reader;
  if (reader.ReadStream("form.step", stream) != IFSelect_RetDone) return {};
  reader.TransferRoots();
  return reader.OneShape();
}

/// What is read back is one valid solid with the volume of fine plain triangles.
void expect_sound_step(const form::Surface& surface, FormOptions options, const std::string& what) {
  const auto bytes = step_bytes(surface, options);
  ASSERT_TRUE(bytes) << what << ' ' << base::to_line(bytes.error().front());
  const TopoDS_Shape shape = shape_of(*bytes);
  ASSERT_FALSE(shape.IsNull()) << what;
  EXPECT_TRUE(BRepCheck_Analyzer(shape).IsValid()) << what;
  int solids = 0;
  for (TopExp_Explorer each(shape, TopAbs_SOLID); each.More(); each.Next()) ++solids;
  EXPECT_EQ(solids, 1) << what;
  GProp_GProps properties;
  BRepGProp::VolumeProperties(shape, properties, 1e-3);
  options.groove_width_m = options.scribe_depth_m = 0;
  options.tolerance_m = 2e-5;
  const double mesh_mm3 = 1e9 * volume_m3(form_solid(surface, options).value().front().mesh);
  // At most 0.1 mm on a block of 10 mm height or more, and it is mostly far less.
  EXPECT_NEAR(properties.Mass() / mesh_mm3, 1, 0.002) << what;
}

TEST(Step, IsSoundAtNarrowAndWideBordersFlatAndTilted) {
  if (under_sanitizer) GTEST_SKIP() << "the time is the library's own, which is not instrumented";
  struct Case {
    double border_m, tilt_deg;
    form::Hand hand;
    form::Lay lay;
    bool pins;
  };
  using form::Hand, form::Lay;
  // Few, because reading thousands of faces takes seconds.
  for (const Case& each : {Case{0.003, 3, Hand::clockwise, Lay::helical, true},
                           Case{0.010, 30, Hand::anticlockwise, Lay::across, false}}) {
    FormOptions options;
    options.border_m = each.border_m;
    options.base_tilt_rad = each.tilt_deg * base::degree_rad;
    options.pin_diameter_m = 0.001;
    options.tolerance_m = 1e-4;
    if (each.pins) {
      options.pin_radii_m = {0.04 - each.border_m / 2, 0.23 + each.border_m / 2};
    }
    expect_sound_step(blade_form(0.06, each.hand, each.lay), options,
                      fmt::format("border {} m, tilt {} degrees", each.border_m, each.tilt_deg));
  }
}

TEST(Step, TopIsTheBladesSurfaceWithinATwentiethOfAMillimetre) {
  if (under_sanitizer) GTEST_SKIP() << "the time is the library's own, which is not instrumented";
  const form::Surface surface = blade_form(0.06);
  FormOptions options = all_cut();
  options.tolerance_m = 5e-5;
  const TopoDS_Shape shape = shape_of(step_bytes(surface, options).value());
  ASSERT_FALSE(shape.IsNull());
  // To a solid the distance from inside would be 0.
  const TopoDS_Shape shell = TopExp_Explorer(shape, TopAbs_SHELL).Current();
  options.groove_width_m = options.scribe_depth_m = 0;
  options.tolerance_m = 1e-5;
  // The spar line is z = 0 on the surface: the plain triangles tell how far it was lifted.
  const double lift = top_at(form_solid(surface, options).value().front().mesh, 0.13, 0);
  const double c = std::cos(options.base_tilt_rad), s = std::sin(options.base_tilt_rad);
  for (const double radius : {0.041, 0.05, 0.0712, 0.1, 0.1333, 0.17, 0.2, 0.22, 0.2285, 0.2298}) {
    for (const double share : {0.0, 0.13, 0.5, 0.77, 1.0}) {
      const form::Point p = surface.at(radius, share);
      const gp_Pnt at(1e3 * p.x_m, 1e3 * (c * p.y_m + s * p.z_m),
                      1e3 * (c * p.z_m - s * p.y_m + lift));
      const BRepExtrema_DistShapeShape distance(BRepBuilderAPI_MakeVertex(at).Vertex(), shell);
      ASSERT_TRUE(distance.IsDone());
      EXPECT_LT(distance.Value(), 0.05) << radius << ' ' << share;
    }
  }
}

TEST(Files, AreTheSameBytesEveryTime) {
  const form::Surface surface = blade_form(0.06);
  const auto parts = parts_of_both();
  // Not EXPECT_EQ, whose account of a difference in a megabyte takes a minute.
  EXPECT_TRUE(three_mf_bytes(parts).value() == three_mf_bytes(parts).value());
  EXPECT_TRUE(step_bytes(surface, all_cut()).value() == step_bytes(surface, all_cut()).value());
}

TEST(Step, RefusesWhatTheTrianglesRefuse) {
  FormOptions options = all_cut();
  options.pin_radii_m = {0.1};
  const auto refused = step_bytes(blade_form(0.06), options);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().front().field, "form.pins");
}

}  // namespace
}  // namespace propwright::solid
