// What stays in force from line to line.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "parser/program/motion.h"

namespace provecut::interpreter {

constexpr double mm_per_inch = 25.4;

// The state at the start is that of NISTIR 6556 Table 10; where the standard is silent: G80 and G98.
struct ModalState {
  int motion = 800;    // ten times the G code in force
  int straight = 800;  // the last of G0 and G1
  Plane plane = Plane::xy;
  bool incremental = false;          // G91
  bool arc_centre_absolute = false;  // G90.1
  bool inverse_time = false;         // G93
  bool feed_per_turn = false;        // G95
  bool inch = false;
  bool retract_to_r = false;      // G99
  bool length_offset = false;     // G43
  int system = 1;                 // G54 = 1 … G59.3 = 9
  double feed = -1;               // as programmed; -1: never set
  bool feed_before_tool = false;  // the feed was set before the tool was changed
  double rpm = 0;
  Spindle spindle = Spindle::off;
  int tool = 0, selected_tool = -1;
  double unit() const { return inch ? mm_per_inch : 1; }
  // How far the radii of an arc may differ (NISTIR 6556 3.5.3.2), mm: what rounding does to places.
  double tolerance_mm() const { return inch ? 0.0002 * mm_per_inch : 0.002; }
};

// What a canned cycle keeps from line to line, in program numbers.
struct CycleState {
  int code = 0;
  std::array<double, 26> sticky{};
  std::uint32_t present = 0;
};

// Cutter radius compensation (see cutter_compensation.cpp).
struct CompensationState {
  int side = 0;  // 1: left of travel, -1: right, 0: off
  double radius_mm = 0;
  bool entered = false;   // the first move has been made
  WorkPoint2 programmed;  // the path's point; the tool stands beside it
  // The last compensated move, whose end is open until the next one is known.
  std::size_t motion = 0;        // its index
  std::size_t first_motion = 0;  // that of its line: the way around the corner before it
  double per_minute = 0;         // F of its line under G93, else 0
  bool open = false;
  bool entry = false;   // it is the entry move
  Vec2 direction;       // of travel at its end, unit length
  double reach_mm = 0;  // what that hangs on: a line's length, an arc's radius
};

}  // namespace provecut::interpreter
