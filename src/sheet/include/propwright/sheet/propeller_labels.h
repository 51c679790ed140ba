/// Labels to stick on the boxes of propellers: name, id, what it measures, and a QR code that opens
/// its page. Plain page data in SI; nothing is worked out here.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/sheet/packet.h"

namespace propwright::sheet {

/// The squares of a QR code, row by row without a margin.
struct LabelCode {
  int across = 0;          ///< squares in a row, 21 to 177
  std::vector<bool> dark;  ///< across * across
};

struct PropellerLabel {
  std::string name, id;
  std::string day;  ///< "2026-11-25": when it was put together
  std::optional<double> mass_kg = {}, diameter_m = {}, pitch_m = {};
  std::optional<double> set_angle_rad = {}, set_radius_m = {};
  LabelCode code;
};

/// As many on a page as the paper holds, in the order given. Problem: no label, a code that is not
/// square, a date that is none.
base::Expected<PacketPdf> propeller_labels_pdf(const std::vector<PropellerLabel>& labels,
                                               const PacketOptions& options);

}  // namespace propwright::sheet
