/// The pages of a form, one function per group.
#pragma once

#include <functional>

#include "page.h"
#include "propwright/sheet/form_sheets.h"

namespace propwright::sheet {

/// What each hazard says.
const char* caution_of(Hazard hazard);
std::vector<std::string> cautions_of(const std::vector<Hazard>& hazards);

/// Tables one under the other from `first_top` on; what stands on the first page is handed back in
/// `on_first`, further pages are added. The tables must outlive the pages.
void add_table_pages(const Setting& setting, const Canvas& measure,
                     const std::vector<FormTable>& tables, double first_top, Pages& pages,
                     std::vector<std::function<void(Canvas&)>>& on_first);

/// The strain of the sheet, at true scale where the paper is large enough.
void add_strain_page(const Setting& setting, const StrainMap& map, Pages& pages);

}  // namespace propwright::sheet
