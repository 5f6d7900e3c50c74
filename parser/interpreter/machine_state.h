// What the machine's control keeps from line to line: modes, offsets, parameters, and where the tool stands.
#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <optional>
#include <set>

#include "parser/base/units.h"
#include "parser/interpreter/parameter.h"
#include "parser/program/motion.h"

namespace provecut::interpreter {

// The state at the start is that of NISTIR 6556 Table 10; where the standard is silent: G80 and G98.
struct ModalState {
  int motion = 800;              // ten times the G code in force
  int straight = 800;            // the last of G0 and G1
  bool cycle_cancelled = false;  // a G80 was there
  Plane plane = Plane::xy;
  bool incremental = false;          // G91
  bool arc_centre_absolute = false;  // G90.1
  bool inverse_time = false;         // G93
  bool feed_per_turn = false;        // G95
  bool inch = false;
  bool other_unit = false;       // G20 and G21 change places
  bool older_unit_code = false;  // by G70 or G71
  bool retract_to_r = false;     // G99
  bool length_offset = false;    // G43
  int length_of = -1;            // H; -1: none
  bool mist = false, flood = false, overrides_off = false;
  PathControl path_control = PathControl::as_set;
  double path_tolerance_mm = 0;   // P of G64
  int system = 1;                 // G54 = 1 … G59.3 = 9
  double feed = -1;               // as programmed; -1: never set
  bool feed_before_tool = false;  // the feed was set before the tool was changed
  double rpm = 0;
  Spindle spindle = Spindle::off;
  int tool = 0, selected_tool = -1;
  double unit() const { return inch ? mm_per_inch : 1; }  // mm
  // How far the radii of an arc may differ (NISTIR 6556 3.5.3.2), mm: what rounding does to places.
  double tolerance_mm() const { return inch ? 0.0002 * mm_per_inch : 0.002; }
};

// What a canned cycle keeps from line to line, in program numbers.
struct CycleState {
  int code = 0;
  std::array<double, 26> sticky{};
  std::uint32_t present = 0;
  std::uint32_t absolute = 0;  // of those present, the words that were places (G90) on their own line
  bool increments_told = false;
  bool running = false;  // its moves are being made
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
  double reach_mm = 0;  // what that depends on: a line's length, an arc's radius
};

// Absolute place = program coordinate + origin + g92 + local, mm.
struct WorkOffsets {
  Vec3 origin;  // of the system in force, relative to the job's zero
  Vec3 given;   // the same before the program set it
  Vec3 g92, g92_stored;
  Vec3 local;                                        // G52
  std::map<int, Vec3> systems;                       // origins relative to the job's zero, where known
  std::array<std::optional<double>, 3> first_g54{};  // set by G10, machine coordinates: taken as the job's zero
  Vec3 shift() const { return origin + g92 + local; }
};

using AxesKnown = std::array<bool, 3>;

struct MachineState {
  ModalState modal;
  CycleState cycle;
  CompensationState compensation;
  ParameterTable parameters;
  WorkOffsets offsets;
  WorkPoint position;  // of the tool
  // Is it known where an axis stands? Once an absolute move named it.
  AxesKnown known{};
  AxesKnown start_known{};          // before the move being made
  AxesKnown lost{};                 // not known since a code that is not followed
  Place cut_at_old_feed;            // the tool's first cut, at the feed of the one before it; line 0: none
  std::set<int> tools_called;       // by T
  bool length_of_own_tool = false;  // G43 has had the H of the tool in the spindle: the numbers go together here
  bool in_subprogram = false;
  bool ended = false;          // M2, M30, M99, the closing %
  bool ended_by_word = false;  // not by %
};

// Does the control know where all axes stand before the move being made?
inline bool startKnown(const MachineState& machine) {
  return machine.start_known[0] && machine.start_known[1] && machine.start_known[2];
}

}  // namespace provecut::interpreter
