#include "support.h"

#include <fstream>
#include <iterator>
#include <set>
#include <sstream>

namespace propwright::workshop::test {

namespace fs = std::filesystem;

Folder::Folder() {
  std::string form = (fs::temp_directory_path() / "propwright-workshop-XXXXXX").string();
  if (mkdtemp(form.data()) == nullptr) throw std::runtime_error("no folder for the test");
  path_ = form;
}

Folder::~Folder() {
  std::error_code ignored;
  fs::remove_all(path_, ignored);
}

std::string Folder::listing() const {
  std::set<std::string> names;
  for (const auto& entry : fs::directory_iterator(path_)) names.insert(entry.path().filename());
  std::string line;
  for (const std::string& name : names) line += (line.empty() ? "" : " ") + name;
  return line;
}

Clock steady_clock() {
  using namespace std::chrono;
  system_clock::time_point now = sys_days(year(2026) / 11 / 25) + hours(15);
  return [now]() mutable {
    const auto reading = now;
    now += seconds(1);
    return reading;
  };
}

Options options() {
  Options options;
  options.now = steady_clock();
  return options;
}

Workshop open(const fs::path& path, Options options) {
  return value_of(Workshop::open(path, std::move(options)));
}

Workshop in_memory() {
  return value_of(Workshop::in_memory(options()));
}

Content hall(const std::string& name, const std::string& roof) {
  return {name,
          R"({"hall":{"roof_height":")" + roof + R"("},"air":{"temperature":"15 degC"}})",
          {},
          {}};
}

Content rubber(const std::string& name) {
  return {name,
          R"({"density":"0.93 g/cm3"})",
          "turns,torque_winding_Nm,torque_unwinding_Nm\n0,0,0\n300,0.002,0.001\n",
          {}};
}

DesignContent design(const std::string& name, const std::string& pitch) {
  return {name,
          R"({"job":{"job":{"name":")" + name + R"("},"propeller":{"diameter":"15 in","pitch":")" +
              pitch + R"("}},"attachments":{"polar_csv":""}})",
          "as drawn",
          {612.5, 14.0, 0.381, "Sports hall", "Lantern 46"}};
}

namespace {

std::string make(Workshop& workshop, RecordKind kind, const std::string& name,
                 std::map<std::string, std::string> links = {},
                 const std::string& section = R"({"note":"of wood"})") {
  return value_of(workshop.create(kind, {name, section, {}, std::move(links)})).id;
}

}  // namespace

void fill(Workshop& workshop) {
  const auto home = value_of(workshop.create(RecordKind::hall, hall("Sports hall")));
  const auto old = value_of(workshop.create(RecordKind::hall, hall("Old hangar", "31 m")));
  value_of(workshop.archive(RecordKind::hall, old.id, old.revision));
  const std::string model = make(workshop, RecordKind::model, "Lantern 46");
  const auto batch = value_of(workshop.create(RecordKind::rubber, rubber("May batch")));
  const std::string motor = make(workshop, RecordKind::motor, "Loop 1", {{"rubber_id", batch.id}});

  const Design first = value_of(workshop.create_design(design("Lantern propeller")));
  const auto built = value_of(workshop.mark_built(first.row.id, first.row.revision, 1));
  value_of(workshop.save_design(first.row.id, built.present.row.revision,
                                design("Lantern propeller", "25 in")));
  value_of(workshop.duplicate_design(first.row.id, "Lantern propeller, wider"));

  const std::string rig = make(workshop, RecordKind::rig, "Rig 2", {},
                               R"({"rig":{"load":"0.27 g","load_at":"6 in","read_at":"6 in"}})");
  const std::string batch_of_spars =
      make(workshop, RecordKind::batch, "Batch 7", {{"rig_id", rig}}, R"({"batch":{}})");
  const std::string sheet =
      make(workshop, RecordKind::stock, "4 lb sheet", {}, R"({"stock":{"mass":"3.1 g"}})");
  const std::string spar =
      make(workshop, RecordKind::spar, "S1", {{"batch_id", batch_of_spars}, {"stock_id", sheet}});
  const std::string hub = make(workshop, RecordKind::hub, "Tube 3", {}, R"({"hub":{}})");
  const std::string a =
      make(workshop, RecordKind::blade, "A", {{"design_id", first.row.id}, {"spar_id", spar}},
           R"({"design_version":1})");
  const std::string b = make(workshop, RecordKind::blade, "B", {{"design_id", first.row.id}});
  const std::string propeller =
      make(workshop, RecordKind::propeller, "P1",
           {{"design_id", first.row.id}, {"blade_a_id", a}, {"blade_b_id", b}, {"hub_id", hub}});
  make(workshop, RecordKind::weight, "hub", {{"model_id", model}, {"propeller_id", propeller}},
       R"({"planned_kg":0.00005,"weighed_kg":0.000062})");
  const std::string meter = make(workshop, RecordKind::meter, "Wire 3", {},
                                 R"({"meter":{"wire":{"diameter":"0.33 mm"}}})");
  const std::string session = make(workshop, RecordKind::session, "Millbrook, November",
                                   {{"hall_id", home.id}, {"model_id", model}, {"meter_id", meter}},
                                   R"({"session":{"day":"2026-11-20","temperature":"16 degC"}})");
  make(workshop, RecordKind::flight, "1",
       {{"hall_id", home.id},
        {"model_id", model},
        {"propeller_id", propeller},
        {"motor_id", motor},
        {"session_id", session}},
       R"({"flight":{"time":"2026-11-20T19:12","duration_s":588.2}})");
  const std::string event =
      make(workshop, RecordKind::event, "repair", {{"propeller_id", propeller}},
           R"({"event":{"kind":"repair","time":"2026-11-21","words":"tip glued"}})");
  const Content photo{"tip",
                      R"({"photo":{"type":"image/png","words":"tip"}})",
                      "iVBORw0KGgo=",
                      {{"propeller_id", propeller}, {"event_id", event}}};
  value_of(workshop.create(RecordKind::photo, photo));
  make(workshop, RecordKind::form, "Carved 30 in", {},
       R"({"form":{"kind":"block","pitch":"30 in","hand":"anticlockwise"}})");
  make(workshop, RecordKind::cylinder, "Tea tin", {}, R"({"cylinder":{"diameter":"98.5 mm"}})");
}

std::string read(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

void write(const fs::path& path, const std::string& bytes) {
  std::ofstream(path, std::ios::binary) << bytes;
}

std::string lines(const base::Problems& problems) {
  std::string text;
  for (const base::Problem& problem : problems) text += base::to_line(problem) + "\n";
  return text;
}

}  // namespace propwright::workshop::test
