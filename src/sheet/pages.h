/// The pages of the packet, one function per group. Each adds the pages its data asks for;
/// `measure` is only asked for the size of words.
#pragma once

#include "page.h"

namespace propwright::sheet {

void add_flight_page(const Setting& setting, Pages& pages);
void add_rotor_page(const Setting& setting, Pages& pages);
void add_station_pages(const Setting& setting, Pages& pages);
void add_outline_pages(const Setting& setting, const Canvas& measure, Pages& pages);
void add_form_pages(const Setting& setting, const Canvas& measure, Pages& pages);
void add_rib_pages(const Setting& setting, const Canvas& measure, Pages& pages);
void add_spar_pages(const Setting& setting, Pages& pages);
void add_weight_page(const Setting& setting, Pages& pages);
void add_pitch_page(const Setting& setting, Pages& pages);
void add_winding_page(const Setting& setting, Pages& pages);

/// Puts the cover (and a page of notes where the cover is too small for them) before all others.
void add_cover(const Setting& setting, const Canvas& measure, Pages& pages);

}  // namespace propwright::sheet
