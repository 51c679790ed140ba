/// The sheet of a fair test: which propellers, what makes them equally heavy, what is held the same
/// for all, and the flights in their order with room to write what was read. Plain page data in SI;
/// nothing is worked out here.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/sheet/packet.h"

namespace propwright::sheet {

struct FairPropeller {
  std::string letter, name;
  std::string setting;               ///< of its blades; empty = a blank to write on
  std::optional<double> mass_kg;     ///< empty = to be weighed, a blank to write on
  std::optional<double> ballast_kg;  ///< that makes it as heavy as the heaviest
};

struct FairTest {
  std::string model, hall;  ///< names; may be empty
  std::string motor;        ///< "box 7, 2 strands, loop 368 mm, 1.49 g"; may be empty
  /// The same for all, in whole turns of the winder; the torque is that on the hook.
  std::optional<double> wind_turns, launch_turns, hook_up_torque_Nm;
  bool learned = false;     ///< winding as the flights taught it, not as the job plans it
  double winder_ratio = 1;  ///< motor turns per turn of the crank
  std::string sentence;     ///< where the test stands: "A is ahead by ..."
  std::vector<FairPropeller> propellers;  ///< 2..12
  std::vector<std::string> order;         ///< letters, 1..400
};

/// The pages as PDF. Problems: no order, a letter that is no propeller's, options as packet_pdf.
base::Expected<PacketPdf> fair_test_pdf(const FairTest& test, const PacketOptions& options);

}  // namespace propwright::sheet
