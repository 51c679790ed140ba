/// A folder, a clock and records for the tests of the workshop.
#pragma once

#include <gtest/gtest.h>

#include <chrono>
#include <filesystem>
#include <string>

#include "propwright/workshop/workshop.h"

namespace propwright::workshop::test {

/// An empty folder of its own, gone at the end.
class Folder {
 public:
  Folder();
  ~Folder();
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  std::filesystem::path operator/(const std::string& name) const { return path_ / name; }
  const std::filesystem::path& path() const { return path_; }
  /// Names of the files in it, sorted, in one line.
  std::string listing() const;

 private:
  std::filesystem::path path_;
};

/// A clock that starts at 2026-11-25T15:00:00Z and moves by one second with each reading.
Clock steady_clock();
Options options();

/// Opens, or ends the test with the problems.
Workshop open(const std::filesystem::path& path, Options options = test::options());
Workshop in_memory();

Content hall(const std::string& name, const std::string& roof = "8.5 m");
Content rubber(const std::string& name);
DesignContent design(const std::string& name, const std::string& pitch = "24 in");

/// A workshop with something of every kind: links, archived records, built versions.
void fill(Workshop& workshop);

std::string read(const std::filesystem::path& path);
void write(const std::filesystem::path& path, const std::string& bytes);

/// All problems, one a line.
std::string lines(const base::Problems& problems);

template <class T>
T value_of(base::Expected<T> expected) {
  if (!expected) {
    ADD_FAILURE() << lines(expected.error());
    return std::move(expected).value();  // throws: the test ends here
  }
  return *std::move(expected);
}

/// The problem of a field; fails the test when there is none.
template <class T>
base::Problem problem_of(const base::Expected<T>& expected, const std::string& field) {
  if (expected) {
    ADD_FAILURE() << "no problem at all";
    return {};
  }
  for (const base::Problem& problem : expected.error()) {
    if (problem.field == field) return problem;
  }
  ADD_FAILURE() << "no problem of " << field << " in:\n" << lines(expected.error());
  return {};
}

}  // namespace propwright::workshop::test
