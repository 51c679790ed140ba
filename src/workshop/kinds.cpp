#include "kinds.h"

#include <algorithm>
#include <stdexcept>

namespace propwright::workshop {
namespace {

const std::vector<KindSpec>& specs() {
  static const std::vector<KindSpec> all{
      {RecordKind::hall, "halls"},
      {RecordKind::model, "models"},
      {RecordKind::rubber, "rubbers", "curve_csv"},
      {RecordKind::motor, "motors", "", {{"rubber_id", "rubbers"}}},
      {RecordKind::rig, "rigs"},
      {RecordKind::stock, "stocks"},
      {RecordKind::batch, "batches", "", {{"rig_id", "rigs"}}},
      {RecordKind::spar, "spars", "", {{"batch_id", "batches"}, {"stock_id", "stocks"}}},
      {RecordKind::blade, "blades", "", {{"design_id", "designs"}, {"spar_id", "spars"}}},
      {RecordKind::hub, "hubs"},
      {RecordKind::propeller,
       "propellers",
       "",
       {{"design_id", "designs"},
        {"blade_a_id", "blades"},
        {"blade_b_id", "blades"},
        {"hub_id", "hubs"}}},
      {RecordKind::weight, "weights", "", {{"model_id", "models"}, {"propeller_id", "propellers"}}},
      {RecordKind::meter, "meters"},
      {RecordKind::session,
       "sessions",
       "",
       {{"hall_id", "halls"}, {"model_id", "models"}, {"meter_id", "meters"}}},
      {RecordKind::flight,
       "flights",
       "",
       {{"hall_id", "halls"},
        {"model_id", "models"},
        {"propeller_id", "propellers"},
        {"motor_id", "motors"},
        {"session_id", "sessions"}}},
      {RecordKind::event, "events", "", {{"propeller_id", "propellers"}}},
      {RecordKind::photo,
       "photos",
       "image_base64",
       {{"propeller_id", "propellers"}, {"event_id", "events"}}},
      {RecordKind::form, "forms"},
      {RecordKind::cylinder, "cylinders"}};
  return all;
}

}  // namespace

const KindSpec& spec_of(RecordKind kind) {
  for (const KindSpec& spec : specs()) {
    if (spec.kind == kind) return spec;
  }
  throw std::logic_error("a kind of record without a table");
}

const std::vector<std::string>& tables_in_order() {
  static const std::vector<std::string> tables = [] {
    std::vector<std::string> names;
    for (const KindSpec& spec : specs()) {
      if (spec.kind == RecordKind::rig) names.push_back("designs");
      names.push_back(spec.table);
    }
    return names;
  }();
  return tables;
}

std::string_view table_of(RecordKind kind) {
  return spec_of(kind).table;
}

std::optional<RecordKind> kind_of(std::string_view table) {
  const auto found = std::find_if(specs().begin(), specs().end(),
                                  [&](const KindSpec& spec) { return spec.table == table; });
  return found == specs().end() ? std::nullopt : std::optional(found->kind);
}

}  // namespace propwright::workshop
