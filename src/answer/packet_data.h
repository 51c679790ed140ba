/// The parts of the packet's page data, and the blade between its rows.
#pragma once

#include <vector>

#include "propwright/answer/packet.h"
#include "propwright/base/monotone_curve.h"

namespace propwright::answer {

/// Steps of a curve drawn in the packet.
inline constexpr int drawn_points = 60;

/// The blade at any radius, between the rows of the assembly.
class BladeLaw {
 public:
  explicit BladeLaw(const brief::Assembly& assembly);
  form::OutlineRow outline(double radius_m) const;
  double angle_rad(double radius_m) const { return angle_.value(radius_m); }
  double camber(double radius_m) const { return camber_.value(radius_m); }
  double root_m() const { return chord_.x().front(); }
  double tip_m() const { return chord_.x().back(); }

 private:
  base::MonotoneCurve chord_, lead_, angle_, camber_;
};

/// Made on a helix and turned; otherwise the form has the blade's own angles, station by station.
bool on_helical_form(const brief::Propeller& propeller);

/// Radii of the station table: root, round radii of the profile, the 45-degree station, tip.
std::vector<double> station_radii_m(double root_m, double tip_m, double radius_45_m,
                                    units::Profile profile);

// The parts of the data, one file each.
void add_rotor(const Prediction& prediction, sheet::PacketData& data);     // packet_rotor.cpp
void add_stations(const Prediction& prediction, sheet::PacketData& data);  // packet_stations.cpp
void add_build(const Prediction& prediction, sheet::PacketData& data);     // packet_build.cpp
void add_winding(const Prediction& prediction, sheet::PacketData& data);   // packet_winding.cpp

}  // namespace propwright::answer
