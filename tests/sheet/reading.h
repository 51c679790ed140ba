/// Reading back what was drawn: the PDF is looked at with poppler's own tools, as a printer would.
#pragma once

#include <gtest/gtest.h>
#include <stdio.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

namespace propwright::sheet::reading {

/// A folder of its own for a test, gone afterwards.
class Folder {
 public:
  Folder() {
    std::string name = (std::filesystem::temp_directory_path() / "sheet-test-XXXXXX").string();
    path_ = mkdtemp(name.data());
  }
  ~Folder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  const std::filesystem::path& path() const { return path_; }
  std::string file(const std::string& name, const std::string& bytes) const {
    const std::string path = (path_ / name).string();
    std::ofstream(path, std::ios::binary) << bytes;
    return path;
  }

 private:
  std::filesystem::path path_;
};

/// Standard output of a command; a failing command fails the test.
inline std::string run(const std::string& command) {
  std::string output;
  FILE* pipe = popen(command.c_str(), "r");
  if (pipe == nullptr) {
    ADD_FAILURE() << "cannot run " << command;
    return output;
  }
  char buffer[65536];
  for (std::size_t count; (count = fread(buffer, 1, sizeof buffer, pipe)) > 0;) {
    output.append(buffer, count);
  }
  EXPECT_EQ(pclose(pipe), 0) << command;
  return output;
}

/// The value behind "name:" in pdfinfo's answer.
inline std::string info(const std::string& path, const std::string& name) {
  std::istringstream lines(run("pdfinfo '" + path + "'"));
  for (std::string line; std::getline(lines, line);) {
    if (line.rfind(name + ":", 0) == 0) {
      return line.substr(line.find_first_not_of(' ', name.size() + 1));
    }
  }
  ADD_FAILURE() << "pdfinfo tells no " << name;
  return {};
}

/// A page as grey values, 10 pixels to the millimetre.
struct Raster {
  int width = 0, height = 0;
  std::string grey;
  bool dark(int x, int y) const { return value(x, y) < 140; }
  int value(int x, int y) const {
    return static_cast<unsigned char>(grey[static_cast<std::size_t>(y) * width + x]);
  }
};

inline Raster render(const std::string& path, int page) {
  const std::string number = std::to_string(page);
  const std::string pgm =
      run("pdftoppm -gray -r 254 -f " + number + " -l " + number + " '" + path + "'");
  std::istringstream head(pgm);
  std::string magic;
  int most = 0;
  Raster raster;
  head >> magic >> raster.width >> raster.height >> most;
  head.get();
  raster.grey = pgm.substr(static_cast<std::size_t>(head.tellg()));
  EXPECT_EQ(magic, "P5");
  EXPECT_EQ(raster.grey.size(), static_cast<std::size_t>(raster.width) * raster.height);
  return raster;
}

/// Number of the first page whose sheet name begins with `name`, from 1.
inline int page_named(const std::vector<std::string>& pages, const std::string& name) {
  for (std::size_t i = 0; i < pages.size(); ++i) {
    if (pages[i].rfind(name, 0) == 0) return static_cast<int>(i) + 1;
  }
  ADD_FAILURE() << "no page is named " << name;
  return 1;
}

}  // namespace propwright::sheet::reading
