// Lists of ten thousand designs, and what a save, an opening and an export of them take.
#include <benchmark/benchmark.h>

#include <cstdlib>
#include <filesystem>
#include <stdexcept>
#include <string>

#include "propwright/workshop/workshop.h"

namespace {

namespace fs = std::filesystem;
using propwright::workshop::Query;
using propwright::workshop::Workshop;

constexpr int designs = 10000;

template <class T>
T must(propwright::base::Expected<T> expected) {
  if (!expected) throw std::runtime_error(to_line(expected.error().front()));
  return *std::move(expected);
}

/// One list of designs, each with a document of the size of a job.
std::string export_of_designs() {
  std::string list;
  for (int i = 0; i < designs; ++i) {
    const std::string number = std::to_string(i);
    list += std::string(i == 0 ? "" : ",") + R"({"id":"d)" + number + R"(","name":"Design )" +
            std::to_string(i * 7919 % designs) +
            R"(","revision":1,"created_at":"2026-01-01T00:00:00.000Z",)"
            R"("updated_at":"2026-01-01T00:00:00.000Z","versions":[{"version":1,)"
            R"("saved_at":"2026-01-01T00:00:00.000Z","duration_s":)" +
            std::to_string(i % 977) + R"(,"hall_name":"Sports hall","document":{"job":{"job":{)" +
            R"("note":")" + std::string(2500, 'x') + R"("}}}}]})";
  }
  return R"({"format":"propwright workshop","format_version":1,"designs":[)" + list + "]}";
}

/// A workshop file with them, made once and gone with the program.
class File {
 public:
  File() {
    std::string form = (fs::temp_directory_path() / "propwright-bench-XXXXXX").string();
    if (mkdtemp(form.data()) == nullptr) throw std::runtime_error("no folder");
    folder_ = form;
    must(must(Workshop::open(path())).import_json(export_of_designs()));
  }
  ~File() {
    std::error_code ignored;
    fs::remove_all(folder_, ignored);
  }
  fs::path path() const { return folder_ / "w.sqlite"; }

 private:
  fs::path folder_;
};

const File& file() {
  static const File made;
  return made;
}

void list_of_10000(benchmark::State& state, const Query& query) {
  const Workshop workshop = must(Workshop::open(file().path()));
  for (auto unused : state) benchmark::DoNotOptimize(workshop.list_designs(query));
}
BENCHMARK_CAPTURE(list_of_10000, latest, Query{})->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(list_of_10000, by_name, Query{.sort = "name"})->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(list_of_10000, by_hall_last_page,
                  Query{.sort = "hall", .limit = 100, .offset = 9900})
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(list_of_10000, search, Query{.text = "design 77 sports", .sort = "-duration"})
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(list_of_10000, search_without_a_find, Query{.text = "nothing has this"})
    ->Unit(benchmark::kMillisecond);

void open_10000(benchmark::State& state) {
  const auto path = file().path();
  for (auto unused : state) benchmark::DoNotOptimize(must(Workshop::open(path)));
}
BENCHMARK(open_10000)->Unit(benchmark::kMillisecond);

void open_new(benchmark::State& state) {
  const fs::path path = file().path().string() + ".new";
  for (auto unused : state) {
    benchmark::DoNotOptimize(must(Workshop::open(path)));
    fs::remove(path);
  }
}
BENCHMARK(open_new)->Unit(benchmark::kMillisecond);

void save_one(benchmark::State& state) {
  Workshop workshop = must(Workshop::open(file().path()));
  auto design = must(workshop.get_design("d1")).value();
  for (auto unused : state) {
    design = must(workshop.save_design("d1", design.row.revision,
                                       {design.row.name, design.document_json}))
                 .present;
  }
}
BENCHMARK(save_one)->Unit(benchmark::kMillisecond);

void export_10000(benchmark::State& state) {
  const Workshop workshop = must(Workshop::open(file().path()));
  for (auto unused : state) benchmark::DoNotOptimize(must(workshop.export_json()));
}
BENCHMARK(export_10000)->Unit(benchmark::kMillisecond);

}  // namespace
