// A hundred thousand flights in the file, asked over HTTP on loopback as the pages do: pages of the
// list, one flight saved, the life of a propeller. Wall time of the whole request, the client's
// share included.
#include <benchmark/benchmark.h>
#include <httplib.h>

#include <cstdlib>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <string>
#include <thread>

#include "propwright/server/server.h"

namespace {

namespace fs = std::filesystem;
using nlohmann::json;
using propwright::workshop::Workshop;

constexpr int flights = 100000, propellers = 50;

template <class T>
T must(propwright::base::Expected<T> expected) {
  if (!expected) throw std::runtime_error(to_line(expected.error().front()));
  return *std::move(expected);
}

json logged(int i) {
  const std::string two = std::to_string(10 + i % 50);
  return {
      {"id", "f" + std::to_string(i)},
      {"time", "20" + std::to_string(10 + i / 7000) + "-11-" + std::to_string(10 + i / 330 % 20) +
                   "T1" + std::to_string(i / 50 % 10) + ":" + two + ":00"},
      {"session", "Millbrook " + std::to_string(i / 40)},
      {"model", "Lantern 46"},
      {"propeller", "P" + std::to_string(i % propellers)},
      {"motor", std::to_string(i % 97)},
      {"batch", "May"},
      {"turns_wound", 1960},
      {"turns_at_launch", 1790},
      {"turns_left", 200 + i % 113},
      {"launch_torque_Nm", 0.0012},
      {"duration_s", 600 + i % 211},
      {"top_height_m", 7.9},
      {"temperature_K", 289.15},
      {"notes", "invented"}};
}

/// An export with them and with the propellers that their names belong to.
std::string export_of_flights() {
  const std::string when = "2026-01-01T00:00:00.000Z";
  json all{{"format", "propwright workshop"}, {"format_version", 1}};
  const auto record = [&](const std::string& id, const std::string& name, json section) {
    return json{{"id", id},           {"name", name},       {"revision", 1},
                {"created_at", when}, {"updated_at", when}, {"section", std::move(section)}};
  };
  for (int i = 0; i < propellers; ++i) {
    const std::string name = "P" + std::to_string(i);
    all["propellers"].push_back(
        record("p" + std::to_string(i), name, {{"propeller", json::object()}}));
  }
  for (int i = 0; i < flights; ++i) {
    const json flight = logged(i);
    const std::string name =
        flight["time"].get<std::string>() + " " + flight["propeller"].get<std::string>();
    all["flights"].push_back(record(flight["id"], name, {{"flight", flight}}));
    all["flights"].back()["propeller_id"] = "p" + std::to_string(i % propellers);
  }
  return all.dump();
}

/// The server on a file with them, made once.
class Floor {
 public:
  Floor() {
    std::string form = (fs::temp_directory_path() / "propwright-bench-XXXXXX").string();
    if (mkdtemp(form.data()) == nullptr) throw std::runtime_error("no folder");
    folder_ = form;
    Workshop workshop = must(Workshop::open(folder_ / "w.sqlite"));
    must(workshop.import_json(export_of_flights()));
    propwright::server::Options options;
    options.port = 0;
    server_ = must(propwright::server::Server::listen(std::move(workshop), options));
    thread_ = std::thread([this] { server_->run(); });
  }
  ~Floor() {
    server_->stop();
    thread_.join();
    std::error_code ignored;
    fs::remove_all(folder_, ignored);
  }
  int port() const { return server_->port(); }

 private:
  fs::path folder_;
  std::unique_ptr<propwright::server::Server> server_;
  std::thread thread_;
};

const Floor& floor_of_flights() {
  static const Floor made;
  return made;
}

httplib::Client& client() {
  static httplib::Client made("127.0.0.1", floor_of_flights().port());
  made.set_keep_alive(true);
  made.set_tcp_nodelay(true);
  return made;
}

void page_of_flights(benchmark::State& state, const std::string& query) {
  const std::string path = "/api/" + query;
  client();  // the file is made before the first is timed
  for (auto unused : state) {
    const auto reply = client().Get(path);
    if (!reply || reply->status != 200) throw std::runtime_error("no answer to " + path);
    state.counters["kB"] = static_cast<double>(reply->body.size()) / 1000;
  }
}
BENCHMARK_CAPTURE(page_of_flights, latest_50, "flights?limit=50&sort=-flown")
    ->MeasureProcessCPUTime()
    ->UseRealTime()
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(page_of_flights, latest_200_as_the_floor, "flights?limit=200&sort=-name")
    ->MeasureProcessCPUTime()
    ->UseRealTime()
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(page_of_flights, changed_last_50, "flights?limit=50")
    ->MeasureProcessCPUTime()
    ->UseRealTime()
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(page_of_flights, last_page, "flights?limit=50&offset=99950&sort=-flown")
    ->MeasureProcessCPUTime()
    ->UseRealTime()
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(page_of_flights, search, "flights?limit=50&q=p7&sort=-flown")
    ->MeasureProcessCPUTime()
    ->UseRealTime()
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(page_of_flights, search_without_a_find, "flights?limit=50&q=nothing&sort=-flown")
    ->MeasureProcessCPUTime()
    ->UseRealTime()
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(page_of_flights, of_one_propeller, "flights?limit=50&propeller_id=p7&sort=-flown")
    ->MeasureProcessCPUTime()
    ->UseRealTime()
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(page_of_flights, page_of_1000, "flights?limit=1000&sort=name")
    ->MeasureProcessCPUTime()
    ->UseRealTime()
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(page_of_flights, life_of_a_propeller_with_2000, "propellers/p7/life")
    ->MeasureProcessCPUTime()
    ->UseRealTime()
    ->Unit(benchmark::kMillisecond);

void save_a_flight(benchmark::State& state) {
  static int next = flights;
  client();
  for (auto unused : state) {
    const json body{{"flights", {{{"flight", logged(next++)}}}}};
    const auto reply = client().Post("/api/flights/merge", body.dump(), "application/json");
    if (!reply || reply->status != 200) throw std::runtime_error("the flight was not taken");
  }
}
BENCHMARK(save_a_flight)->MeasureProcessCPUTime()->UseRealTime()->Unit(benchmark::kMillisecond);

}  // namespace
