/// What of the work that takes seconds is asked for.
#pragma once

#include <optional>
#include <string>

#include "propwright/answer/bench.h"
#include "propwright/answer/document.h"
#include "propwright/answer/form_document.h"
#include "propwright/answer/prediction.h"
#include "propwright/answer/shelf.h"
#include "propwright/answer/spars_sheets.h"
#include "propwright/sheet/dxf.h"
#include "propwright/sheet/packet.h"
#include "work.h"

namespace propwright::server {

struct WorkOrder {
  std::string kind;
  answer::LoadedJob loaded;
  sheet::Paper paper = sheet::Paper::a4;
  std::optional<double> bar_measured_m;
  int samples = 1000;
  answer::FormWishes form = {};  ///< of the kind "form"
  std::string file = {};         ///< which of its files
  sheet::DxfUnit dxf_unit = sheet::DxfUnit::millimetre;
  answer::SparBatch spars = {};  ///< of the kind "bench"
  answer::SparPrintWishes print = {};
  answer::Json bench = {};  ///< question of the kind "targets"
};

/// Reads the body of POST /api/work; all that is wrong is told, by the members of the body.
base::Expected<WorkOrder> read_work_order(const answer::Json& body, const answer::Shelf& shelf);

/// Does it. `id` names the work in the addresses of its files; `report` says how far it is.
base::Expected<WorkProduct> carry_out(const std::string& id, const WorkOrder& order,
                                      const Report& report);

}  // namespace propwright::server
