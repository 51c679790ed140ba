#include "fonts.h"

#include <fmt/format.h>
#include <pango/pangocairo.h>
#include <pango/pangofc-fontmap.h>
#include <stdlib.h>

#include <cerrno>
#include <cstring>
#include <fstream>
#include <string>
#include <system_error>

#include "propwright/data/data.h"

namespace propwright::sheet {
namespace {

constexpr const char* font_files[] = {"SourceSans3-Regular.ttf", "SourceSans3-Semibold.ttf",
                                      "SourceSerif4-Regular.ttf"};

base::Problem font_problem(const std::string& path, const std::string& message) {
  return {.kind = base::Kind::resource_failed,
          .file = path,
          .remedy = "free some space or point TMPDIR at a folder that can be written",
          .message = message};
}

}  // namespace

void Fonts::RemoveFolder::operator()(const std::filesystem::path* folder) const {
  std::error_code ignored;  // a folder left behind harms nobody
  std::filesystem::remove_all(*folder, ignored);
  delete folder;
}

base::Expected<Fonts> Fonts::load() {
  std::error_code error;
  const auto temporary = std::filesystem::temp_directory_path(error);
  if (error) return base::fail(font_problem("", "there is no temporary folder for the fonts"));
  std::string name = (temporary / "packet-fonts-XXXXXX").string();
  if (mkdtemp(name.data()) == nullptr) {
    return base::fail(font_problem(
        temporary.string(),
        fmt::format("the fonts' temporary folder cannot be made: {}", std::strerror(errno))));
  }
  Fonts fonts;
  fonts.folder_.reset(new std::filesystem::path(name));
  fonts.config_.reset(FcConfigCreate());
  for (const char* file : font_files) {
    const std::string path = (*fonts.folder_ / file).string();
    const std::string_view bytes = data::file(std::string("fonts/") + file);
    std::ofstream out(path, std::ios::binary);
    out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    out.close();
    if (!out) return base::fail(font_problem(path, "a font cannot be written"));
    if (!FcConfigAppFontAddFile(fonts.config_.get(),
                                reinterpret_cast<const FcChar8*>(path.c_str()))) {
      return base::fail(font_problem(path, "a font cannot be read"));
    }
  }
  fonts.map_.reset(pango_cairo_font_map_new_for_font_type(CAIRO_FONT_TYPE_FT));
  pango_fc_font_map_set_config(PANGO_FC_FONT_MAP(fonts.map_.get()), fonts.config_.get());
  return fonts;
}

}  // namespace propwright::sheet
