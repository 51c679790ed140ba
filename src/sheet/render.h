/// Drawing with fonts already loaded, so that a whole packet loads them once.
#pragma once

#include "fonts.h"
#include "page.h"
#include "propwright/sheet/form_sheets.h"
#include "propwright/sheet/packet.h"

namespace propwright::sheet {

PacketPdf render_pdf(const PacketData& data, const PacketOptions& options, const Fonts& fonts);
std::string render_svg(const form::Template& drawing, const PacketOptions& options,
                       const Fonts& fonts);

PacketPdf render_form(const FormSheets& sheets, const PacketOptions& options, const Fonts& fonts);

/// Draws each page with its title block and notes its name.
void draw_pages(const Setting& setting, Canvas& canvas, const Pages& pages, PacketPdf& pdf);

}  // namespace propwright::sheet
