/// The form of a blade as a solid to print or to mill: the blade's surface with a border round it,
/// on a flat base. Axes: x along the spar line from the shaft axis, z up from the bench (the base
/// is z = 0), y as in form::Surface. The base is parallel to the disc plane, as station templates
/// stand, unless it is tilted about the spar line. Seen from above nothing overhangs.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "propwright/form/surface.h"
#include "propwright/solid/mesh.h"

namespace propwright::solid {

struct FormOptions {
  double border_m = 0.006;  ///< round the outline, along the surface, 1..50 mm; the section goes on
                            ///< straight beyond the edges, unchanged beyond root and tip
  double base_thickness_m = 0.004;  ///< from the bench to the lowest point, 1..100 mm
  /// The base is turned about the spar line so that angles against it are smaller by this, rad,
  /// 0..80 degrees: a lower block, and no undercut where the blade is steep. 0: disc plane.
  double base_tilt_rad = 0;

  double groove_width_m = 0;  ///< along the spar line, for the spar to lie in; 0: none
  double groove_depth_m = 0.001;
  double scribe_width_m = 0.0005;  ///< V along the edges of the outline, its bottom at the edge
  double scribe_depth_m = 0.0003;  ///< 0: none

  /// Blind holes from above for pins, on the spar line, outside the outline; the groove stops short
  /// of them.
  std::vector<double> pin_radii_m = {};
  double pin_diameter_m = 0.0015;
  double pin_depth_m = 0.004;

  /// Splits the form into two parts at this radius; two dowel holes in either face.
  std::optional<double> split_radius_m = {};
  double dowel_diameter_m = 0.002;
  double dowel_depth_m = 0.006;  ///< in each part

  double tolerance_m = 0.0002;  ///< distance of the triangles from the surface, 0.5 um..2 mm
};

struct FormPart {
  std::string name;   ///< file-safe: "form-clockwise-760mm", with "-inner" or "-outer" if split
  std::string title;  ///< for a file's description, hand and pitch in words
  form::Hand hand = form::Hand::clockwise;
  double pitch_m = 0;  ///< local pitch at three quarters of the tip radius
  Mesh mesh;           ///< closed; x, y, z as above, not moved to the origin
};

/// The form as one part, or two where split. The other hand is the mirror image to the last bit.
/// Problem: bad_input naming the option out of range; form.border where its root end would reach
/// the shaft; form.undercut where the surface is steeper than 86 degrees to the base, with the tilt
/// that cures it; form.pins and form.split where a hole or the split finds no room.
base::Expected<std::vector<FormPart>> form_solid(const form::Surface& surface,
                                                 const FormOptions& options);

/// The least tilt of the base, whole degrees in rad, with which no part of the form and its border
/// is steeper than `steepest_rad` to the base; 0 where none is needed.
double least_base_tilt_rad(const form::Surface& surface, double steepest_rad);

}  // namespace propwright::solid
