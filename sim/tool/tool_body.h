// A tool as a body of revolution: cutter, shank, collet nut, spindle and what travels with it. The tip is at
// z = 0.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "parser/job/job.h"

namespace provecut {

enum class ToolPart : std::uint8_t { cutter, shank, collet_nut, spindle, attachment };

// One convex solid of the stack. A frustum when `arc_radius` is 0: radius r0 at height z0 to r1 at z1 (z0 <
// z1). Else the zone of a torus (or of a sphere, centre_r = 0): the meridian is the circle about (centre_r,
// centre_z), from z0 up to z1 in its lower right quarter.
struct BodyPiece {
  ToolPart part = ToolPart::cutter;
  int attachment = -1;  // index into Job::spindle_attachments
  double z0 = 0, r0 = 0, z1 = 0, r1 = 0;
  double arc_radius = 0, centre_r = 0, centre_z = 0;
};

struct ToolBody {
  std::vector<BodyPiece> pieces;  // from the tip up, the pieces of one part side by side
  double cutter_radius_mm = 0;    // the largest of the cutter
  double cutter_length_mm = 0;    // top of the cutting part
  double widest_radius_mm = 0;    // of everything
};

// The spindle is taken as 200 mm high. Where the flute length is shorter than the shape of the tip (the cone
// of a vee, the ball), the cutting part is as high as that shape. A stick-out of 0 means "not known": then
// nothing stands above the cutting part, and without a flute length that is four diameters high.
ToolBody toolBody(const Tool& tool, const ColletNut& nut, std::span<const SpindleAttachment> attachment);

// Radius of the cutting part at height z above the tip, mm; 0 below the tip and above the cutting part. Where
// two pieces meet it is the larger one.
double cutterRadiusAt(const ToolBody& body, double z_mm);

// Lowest height of the cutting part at distance r from the axis, mm above the tip; infinity beyond its
// radius.
double lowerSurface(const ToolBody& body, double r_mm);

}  // namespace provecut
