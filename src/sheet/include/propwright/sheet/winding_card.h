/// The winding card of the day on one page: how far to wind, what the meter reads on the way, how
/// much to back off, and what differs from the sheet. Plain page data in SI; nothing is worked out
/// here.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/sheet/packet.h"

namespace propwright::sheet {

/// A place on the way, in the order it is met.
struct WindingStep {
  std::string words;        ///< "half way"
  double turns = 0;         ///< in the motor
  double winder_turns = 0;  ///< whole turns of the crank, as counted
  double torque_Nm = 0;
  std::optional<double> reading = {};  ///< of the private scale
  bool beyond = false;                 ///< of what the scale was tried with
  bool strong = false;
};

/// What is not as the sheet took it.
struct DayChange {
  std::string what;      ///< "temperature"
  std::string from, to;  ///< "20 °C", "16 °C"
  double back_off_change_turns = 0, launch_torque_change_Nm = 0, duration_change_s = 0;
  bool strong = false;  ///< the sum of all
};

struct WindingCard {
  JobLine job;
  MotorFacts motor;         ///< turns and torque as hooked up, before the wait
  double winder_ratio = 1;  ///< motor turns per turn of the crank
  double winder_turns = 0, back_off_winder_turns = 0;  ///< whole turns of the crank
  std::string sentence;                                ///< "Colder than the sheet: ..."
  std::string meter_unit;  ///< of the readings; "" where there is no private scale
  std::string beyond;      ///< what a starred reading means; "" where there is none
  std::vector<WindingStep> steps;
  std::vector<DayChange> changes;
  Series winding_Nm, unwinding_Nm;  ///< over turns
  std::vector<std::string> notes;
};

/// The page as PDF. Problems as packet_pdf.
base::Expected<PacketPdf> winding_card_pdf(const WindingCard& card, const PacketOptions& options);

}  // namespace propwright::sheet
