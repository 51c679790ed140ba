/// Drawing with fonts already loaded, so that a whole packet loads them once.
#pragma once

#include "fonts.h"
#include "propwright/sheet/packet.h"

namespace propwright::sheet {

PacketPdf render_pdf(const PacketData& data, const PacketOptions& options, const Fonts& fonts);
std::string render_svg(const form::Template& drawing, const PacketOptions& options,
                       const Fonts& fonts);

}  // namespace propwright::sheet
