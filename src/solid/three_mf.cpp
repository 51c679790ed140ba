// 3MF by lib3mf's C interface.
#include <fmt/format.h>

#include <Model/COM/NMR_DLLInterfaces.h>

#include "propwright/solid/files.h"

namespace propwright::solid {
namespace {

/// A handle of the library that lets go by itself.
class Handle {
 public:
  Handle() = default;
  Handle(const Handle&) = delete;
  Handle& operator=(const Handle&) = delete;
  ~Handle() {
    if (pointer_) NMR::lib3mf_release(pointer_);
  }
  NMR::PLib3MFBase** out() { return &pointer_; }
  NMR::PLib3MFBase* get() const { return pointer_; }

 private:
  NMR::PLib3MFBase* pointer_ = nullptr;
};

constexpr int millimetre = 1;  // MODELUNIT_MILLIMETER

/// Throws what `three_mf_bytes` turns into a problem: the library answers each call with a status.
struct Refused {
  const char* what;
};
void must(LIB3MFRESULT status, const char* what) {
  if (status != 0) throw Refused{what};
}

/// The library would draw its identifiers at random; these are the same in every file, which the
/// standard allows: they need to be unique within one.
std::string identifier(std::size_t number) {
  return fmt::format("70726f70-7772-4967-8874-{:012x}", number);
}

void add_part(NMR::PLib3MFModel* model, const FormPart& part, std::size_t number) {
  std::vector<NMR::MODELMESHVERTEX> vertices;
  for (const MeshPoint& p : part.mesh.points_m) {
    vertices.push_back({{static_cast<float>(1e3 * p[0]), static_cast<float>(1e3 * p[1]),
                         static_cast<float>(1e3 * p[2])}});
  }
  std::vector<NMR::MODELMESHTRIANGLE> triangles;
  for (const auto& t : part.mesh.triangles) triangles.push_back({{t[0], t[1], t[2]}});
  Handle object;
  must(NMR::lib3mf_model_addmeshobject(model, object.out()), "add the part");
  must(NMR::lib3mf_object_setnameutf8(object.get(), part.name.c_str()), "name the part");
  must(NMR::lib3mf_object_setuuidutf8(object.get(), identifier(2 * number + 1).c_str()),
       "number the part");
  must(NMR::lib3mf_meshobject_setgeometry(object.get(), vertices.data(),
                                          static_cast<DWORD>(vertices.size()), triangles.data(),
                                          static_cast<DWORD>(triangles.size())),
       "take the triangles");
  Handle item;
  must(NMR::lib3mf_model_addbuilditem(model, object.get(), nullptr, item.out()), "place the part");
  must(NMR::lib3mf_builditem_setuuidutf8(item.get(), identifier(2 * number + 2).c_str()),
       "number the place");
}

std::string written(NMR::PLib3MFModel* model) {
  Handle writer;
  must(NMR::lib3mf_model_querywriter(model, "3mf", writer.out()), "make a writer");
  ULONG64 size = 0;
  must(NMR::lib3mf_writer_getstreamsize(writer.get(), &size), "tell the size");
  std::string bytes(size, '\0');
  must(NMR::lib3mf_writer_writetobuffer(writer.get(), reinterpret_cast<BYTE*>(bytes.data()), size),
       "write");
  return bytes;
}

}  // namespace

base::Expected<std::string> three_mf_bytes(const std::vector<FormPart>& parts) {
  try {
    Handle model;
    must(NMR::lib3mf_createmodel(model.out()), "make a model");
    must(NMR::lib3mf_model_setunit(model.get(), millimetre), "take the unit");
    if (!parts.empty()) {
      const FormPart& first = parts.front();
      const std::string hand = first.hand == form::Hand::clockwise ? "clockwise" : "anticlockwise";
      must(NMR::lib3mf_model_addmetadatautf8(model.get(), "Title", first.title.c_str()), "title");
      const std::string about =
          fmt::format("Hand: {}, seen from behind. Pitch: {:.1f} mm at 3/4 radius. Parts: {}.",
                      hand, 1e3 * first.pitch_m, parts.size());
      must(NMR::lib3mf_model_addmetadatautf8(model.get(), "Description", about.c_str()), "about");
    }
    must(NMR::lib3mf_model_setbuilduuidutf8(model.get(), identifier(0).c_str()),
         "number the model");
    for (std::size_t i = 0; i < parts.size(); ++i) add_part(model.get(), parts[i], i);
    return written(model.get());
  } catch (const Refused& refused) {
    return base::fail({.kind = base::Kind::resource_failed,
                       .field = "form.3mf",
                       .remedy = "write an STL instead",
                       .message = fmt::format("the 3MF library would not {}", refused.what)});
  }
}

}  // namespace propwright::solid
