// What moves met in the stock. Facts with numbers, no opinions: indices point into the Job and
// into each program's motions, points are in work coordinates of the setup, mm, unless said.
#pragma once

#include <cstdint>
#include <limits>

#include "parser/base/geometry.h"
#include "sim/tool/tool_body.h"

namespace provecut {

// What one move meets in the stock as it is at that moment.
struct MoveCut {
  float removed_mm3 = 0;
  float axial_depth_mm = 0;  // maximum height of material above the tip's own depth on the cells that it removes
  float bite_mm = 0;         // maximum depth taken off any dexel, those apart that the rim only grazes
  float plan_mm2 = 0;        // of a steep rapid that was looked at closely: its mean area seen from above; else 0
  // How a move no steeper than 45 degrees meets the material, seen along its way; else 0.
  float engaged_mm = 0;           // how much of its length, seen from above, it cuts at all
  float radial_depth_mm = 0;      // engagement cross-section over its height, mean over the engaged stretch
  float max_radial_depth_mm = 0;  // the maximum anywhere along the move
  float section_mm2 = 0;          // the largest engagement cross-section, and its height
  float section_height_mm = 0;
  // Maximum height of material hanging over the cutter's wider part, or over a hollow that this part sinks into, that
  // the move breaks through on its way up or down. Of undercut tools, and of others where material reaches above their
  // flutes.
  float broken_mm = 0;
  // Of a move steeper than 45 degrees with a tool that does not cut at its centre: the material above the tip, within
  // half the cutter's radius of the axis.
  float centre_depth_mm = 0;
  // Of a move straight down (84 degrees or steeper): how far above the material under the cutter's end it ends,
  // negative below its top as it was; infinity where there is none within half a millimetre.
  float ends_above_mm = std::numeric_limits<float>::infinity();
};

// Collet nut, spindle or a spindle attachment below the top of the material in its way.
struct BodyInStock {
  std::uint32_t move = 0;
  ToolPart part = ToolPart::collet_nut;
  int attachment = -1;
  double depth_mm = 0;
  WorkPoint at;
};

// Where a program that must not go through the stock first did.
struct OpenedHole {
  std::uint32_t move = 0;
  WorkPoint at;
  double area_mm2 = 0;  // plan area of all that it opened
};

struct StockState {
  Vec3 cell_mm;
  double removed_mm3 = 0, remaining_mm3 = 0;
};

}  // namespace provecut
