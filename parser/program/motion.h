// What a program does, move by move: the interpreter's result. Knows nothing of stock or of the tool's shape.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "parser/base/geometry.h"
#include "parser/base/place.h"
#include "parser/program/problem.h"

namespace provecut {

enum class MotionKind : std::uint8_t { rapid, feed, arc_cw, arc_ccw, dwell, probe };
enum class Plane : std::uint8_t { xy, zx, yz };  // G17 G18 G19
enum class Spindle : std::uint8_t { off, cw, ccw };

// One move. Coordinates are mm in the setup's work frame (the job's work zero is the origin), whatever units, offsets
// and distance mode the program uses. Kept small: a program may have a million of them.
struct Motion {
  WorkPoint start, end;
  // Arcs: the centre in XYZ order, without the component along the plane's normal (that one is 0).
  // Dwell: `centre.x` is unused; the time stands in `dwell_s`.
  WorkPoint2 centre;      // xy: (X, Y); zx: (Z, X); yz: (Y, Z)
  float feed_mm_min = 0;  // rate along the path; 0 for rapids and where no feed is in force
  float dwell_s = 0;
  float rpm = 0;  // S in force
  std::uint32_t line = 0;
  std::uint16_t column = 0;  // bytes, of the word that caused the move, saturating
  std::uint16_t end_column = 0;
  std::int32_t tool = 0;  // number in the spindle
  MotionKind kind = MotionKind::rapid;
  Plane plane = Plane::xy;
  Spindle spindle = Spindle::off;
  std::uint8_t flags = 0;   // MotionFlag
  std::uint16_t turns = 1;  // arcs: whole or part turns, 1 for anything up to a full circle
};

enum MotionFlag : std::uint8_t {
  motion_in_cycle = 1,        // made by a canned cycle
  motion_machine_frame = 2,   // G53, G28, G30
  motion_height_unknown = 4,  // its Z is taken as the top of the travel (no zero_in_machine in the job)
  motion_feed_unset = 8,      // a feed move with no feed in force
  motion_start_unknown = 16,  // the axes' position before this move is not known (start of a program)
  motion_in_subprogram = 32,
  motion_approach = 64,  // along an axis whose place before this move is not known: how far it goes is not known either
};

inline bool isArc(const Motion& m) {
  return m.kind == MotionKind::arc_cw || m.kind == MotionKind::arc_ccw;
}
// Timed among the rapids: those, and approaches from an unknown position.
inline bool countsAsRapid(const Motion& m) {
  return m.kind == MotionKind::rapid || (m.flags & motion_approach) != 0;
}
inline bool moves(const Motion& m) {
  return m.kind != MotionKind::dwell;
}
inline Place placeOf(const Motion& m) {
  return {m.line, m.column, m.end_column};
}

enum class EventKind : std::uint8_t {
  tool_change,    // M6 (or T alone where the job says so); value = tool number
  stop,           // M0, M60
  optional_stop,  // M1
  end,            // M2, M30
  spindle_start,  // M3, M4 from rest or a change of direction; value = rpm
  spindle_stop,   // M5
  comment_tool,   // a comment that describes a tool, the stock or how it lies; text holds it
};

// How the corners from here on are driven.
enum class PathControl : std::uint8_t {
  as_set,      // G64 alone, or no word: as the machine does it
  exact_path,  // G61: on the path, slower where it bends
  exact_stop,  // G61.1: the axes come to rest at the end of each move
  tolerance,   // G64 P: the corner may be rounded within P
};

struct PathControlChange {
  std::uint32_t before_motion = 0;  // index of the next motion
  PathControl control = PathControl::as_set;
  double tolerance_mm = 0;  // of PathControl::tolerance
};

struct Event {
  EventKind kind;
  std::uint32_t before_motion;  // index of the next motion
  double value = 0;
  Place place;
  std::string text;
};

// Modal words that a program set itself before its first feed move, and what stood where it did not.
struct ModalUse {
  bool units_set = false, distance_set = false, plane_set = false, feed_mode_set = false, work_offset_set = false;
  bool units_used = false, distance_used = false, plane_used = false;  // relied upon by a move before they were set
  bool ever_inch = false, ever_mm = false;
  bool ever_incremental = false;   // G91
  bool first_incremental = false;  // the first move, other than one in machine coordinates, is an increment
  bool any_move = false;           // such a first move has been
  bool ever_other_plane = false;   // moves under G18, G19
  Place first_use;                 // the first move that relies on one of them
};

// What a line in mid-program may rest on. Bits of a ModeSet.
enum class Mode : std::uint8_t {
  units,
  distance,
  arc_centre,
  plane,
  feed_mode,
  feed,
  speed,
  spindle,
  coolant,
  overrides,
  work_offset,
  compensation,
  length_offset,
  path_control,
  cycle_return,
  motion,
  tool,
  selected_tool,
  // What a canned cycle keeps from its first line:
  cycle_r,
  cycle_depth,
  cycle_p,
  cycle_q,
  cycle_insert,  // I, J, K of G87
};
constexpr std::size_t mode_count = 23;
using ModeSet = std::uint32_t;
template <typename... Modes>
constexpr ModeSet modeSet(Modes... modes) {
  return ((1u << static_cast<unsigned>(modes)) | ...);
}

// Why a program cannot be resumed at a line.
enum class ResumeBar : std::uint8_t {
  none,
  position_unknown,  // where the tool stands before it is not known
  in_subprogram,
  in_loop,
  in_branch,          // between O if and endif
  compensation_on,    // G41, G42
  in_cycle,           // it goes on with a canned cycle that began before it
  motion_unset,       // axis words after G80
  measured,           // what follows uses what a probe measured before it
  zero_moved,         // what follows uses a zero that the program moved before it (G92, G10)
  subprogram_behind,  // what follows calls a subprogram that is written before it
};

struct ParameterValue {
  int number = 0;
  double value = 0;
};

// A line from which a stopped program may be resumed, and what is in force before it.
struct ResumePoint {
  std::uint32_t line = 0;
  std::uint32_t before_motion = 0;  // index of its first motion
  WorkPoint at;                     // where the tool must stand
  bool lifted = false;              // it begins with a rapid after the tool was lifted
  bool height_unknown = false;      // lifted to the top of the travel, wherever that is
  ResumeBar bar = ResumeBar::none;
  // What has to be set for what follows: modes of which the program has a word, used before they are set again.
  ModeSet needs = 0;
  std::vector<ParameterValue> parameters;  // needed in the same way
  ModeSet set_before = 0;                  // the program has set them itself
  Vec3 shift;                              // of the program's coordinates against the work frame, mm
  std::int32_t tool = 0, selected_tool = -1;
  std::int32_t length_of = -1;  // H; -1: none
  std::int32_t motion = 800;    // ten times the G code in force
  double feed = -1;             // as programmed
  double rpm = 0;
  double tolerance_mm = 0;  // P of G64
  Spindle spindle = Spindle::off;
  Plane plane = Plane::xy;
  PathControl path_control = PathControl::as_set;
  std::uint8_t system = 1;  // G54 = 1 … G59.3 = 9
  bool inch = false, older_unit_code = false /* G70, G71 */, incremental = false, arc_centre_absolute = false;
  bool inverse_time = false, feed_per_turn = false, retract_to_r = false, length_offset = false;
  bool compensation_on = false, mist = false, flood = false, overrides_off = false;
};

// First use of something that not every machine takes; `feature` is a word of the job file's `accepts`.
struct FeatureUse {
  std::string feature;
  Place place;
};

struct Program {
  std::vector<Motion> motions;
  std::vector<Event> events;
  std::vector<PathControlChange> path_control;  // in order
  std::vector<Problem> problems;                // in order of place
  ModalUse modal;
  std::vector<FeatureUse> features;
  std::vector<ResumePoint> resumes;  // in the order in which they are run, at most 20,000
  std::uint32_t lines = 0;
  bool read_whole = true;             // false: something of the file could not be followed (then never "clear")
  std::vector<Problem> not_followed;  // what: the first 20
};

}  // namespace provecut
