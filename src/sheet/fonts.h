/// The packet's own fonts, usable by Pango without being installed.
#pragma once

#include <fontconfig/fontconfig.h>
#include <glib-object.h>
#include <pango/pango.h>

#include <filesystem>
#include <memory>

#include "propwright/base/problem.h"

namespace propwright::sheet {

/// A font map that knows only the fonts inside the program, so that a packet looks the same on
/// every machine. Fontconfig reads fonts from files, so they stand in a private temporary folder
/// for as long as this lives; it must outlive every surface drawn with it.
class Fonts {
 public:
  /// Problem: resource_failed when the folder cannot be made or written.
  static base::Expected<Fonts> load();

  Fonts(Fonts&&) noexcept = default;
  Fonts& operator=(Fonts&&) = delete;

  PangoFontMap* map() const { return map_.get(); }

 private:
  struct RemoveFolder {
    void operator()(const std::filesystem::path* folder) const;
  };
  struct DestroyConfig {
    void operator()(FcConfig* config) const { FcConfigDestroy(config); }
  };
  struct Unref {
    void operator()(PangoFontMap* map) const { g_object_unref(map); }
  };
  Fonts() = default;

  // Destroyed from the last to the first: the map before its configuration before the files.
  std::unique_ptr<const std::filesystem::path, RemoveFolder> folder_;
  std::unique_ptr<FcConfig, DestroyConfig> config_;
  std::unique_ptr<PangoFontMap, Unref> map_;
};

}  // namespace propwright::sheet
