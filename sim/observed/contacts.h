// What the clearance check saw of hold-downs. Facts with numbers, no opinions: indices point into the Job and
// into each program's motions, points are in work coordinates of the setup, mm, unless said.
#pragma once

#include <cstdint>

#include "parser/base/geometry.h"
#include "sim/tool/tool_body.h"

namespace provecut {

// A part of the tool enters a hold-down during one move. One entry per move, hold-down and part of the tool.
struct Contact {
  std::uint32_t move = 0;
  int hold_down = 0;
  ToolPart part = ToolPart::cutter;
  int attachment = -1;
  bool plunge = false;    // the move goes straight or mostly down
  WorkPoint entry;        // tip position at first contact
  double overlap_mm = 0;  // part's radius at the meeting height less the signed distance axis to footprint, largest
};

// A move passes a hold-down without touching it, nearer than the wanted clearance.
struct NearPass {
  std::uint32_t move = 0;
  int hold_down = 0;
  ToolPart part = ToolPart::cutter;
  int attachment = -1;
  WorkPoint at;             // tip position at the nearest moment
  double clearance_mm = 0;  // shortest distance between the two bodies
};

}  // namespace provecut
