// What the simulation saw: facts with numbers, no opinions. Indices point into the Job and into each program's motions.
// All points are in work coordinates of the setup, mm, unless said.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/tool/tool_body.h"

namespace provecut {

// A part of the tool enters a hold-down during one move. One entry per move, hold-down and part of the tool.
struct Contact {
  std::uint32_t move = 0;
  int hold_down = 0;
  ToolPart part = ToolPart::cutter;
  int attachment = -1;
  bool plunge = false;      // the move goes straight or mostly down
  Vec3 entry;               // tip position at first contact
  double overlap_mm = 0;    // part's radius at the meeting height less the signed distance axis to footprint, largest
};

// A move passes a hold-down without touching it, nearer than the wanted clearance.
struct NearPass {
  std::uint32_t move = 0;
  int hold_down = 0;
  ToolPart part = ToolPart::cutter;
  int attachment = -1;
  Vec3 at;                  // tip position at the nearest moment
  double clearance_mm = 0;  // shortest distance between the two bodies
};

// The shortest way to shift a hold-down in one of the four directions so that every program it stands in clears it.
struct Escape {
  int hold_down = 0;
  int setup = 0;
  Vec2 direction;           // unit vector in the lying frame: left (-1, 0), right, front (0, -1), back
  double distance_mm = 0;   // checked: at this shift the clearance wanted is kept
};

// What one move meets in the stock as it is at that moment.
struct MoveCut {
  float removed_mm3 = 0;
  float axial_depth_mm = 0;       // maxOf height of material above the tip's own depth on the cells that it removes
  float bite_mm = 0;        // maxOf depth taken off any column, cells that are only grazed at the rim left out
  // How a feed move no steeper than 45 degrees meets the material, seen along its way; else 0.
  float engaged_mm = 0;     // how much of its length, seen from above, it cuts at all
  float radial_depth_mm = 0;       // radial width of cut: the area in front over its height, mean over the engaged stretch
  float max_radial_depth_mm = 0;  // the maxOf anywhere along the move
  float section_mm2 = 0;      // the maxOf area in front, and its height there
  float section_height_mm = 0;
  // Max height of material hanging over the cutter's wider part, or over a hollow that this part sinks into, that the
  // move breaks through on its way up or down. Of undercut tools, and of others where material reaches above their flutes.
  float broken_mm = 0;
};

// How hard a feed move works its cutter at the speed that the machine really reaches; all 0 where it takes nothing or the
// spindle stands still.
struct MoveLoad {
  float speed_mm_min = 0;       // mean over the move
  float top_speed_mm_min = 0;   // the highest reached
  float chip_load_mm = 0;       // way per tooth at the mean speed
  float max_chip_thickness_mm = 0;            // maxOf thickness of a chip: at the highest speed and the maxOf width
  float removal_mm3_min = 0;    // maxOf rate
  float power_w = 0;            // maxOf, at the cutter; like what follows, 0 where the material is not known
  float force_n = 0;            // maxOf on the teeth in the cut
  float deflection_mm = 0;      // of the cutter under it; 0 where its stick-out is not known
};

// Collet nut, spindle or a spindle attachment below the top of the material in its way.
struct BodyInStock {
  std::uint32_t move = 0;
  ToolPart part = ToolPart::collet_nut;
  int attachment = -1;
  double depth_mm = 0;
  Vec3 at;
};

// The thinnest floor or web that a program left.
struct ThinFloor {
  std::uint32_t move = 0;    // the move that made it
  Vec3 at;                   // on the cut surface
  double thickness_mm = 0;   // for the stock as said
  double worst_mm = 0;       // over the stock's thickness tolerance
  double area_mm2 = 0;       // plan area that is thinner than the limit
  int moves_with_stock = 0;  // what it gains where the stock is 1 mm thicker than said: 1, 0 or -1 mm
};

// A cut that goes about as deep as the stock is thick: within the thickness tolerance it may or may not leave a skin.
struct DoubtfulThrough {
  std::uint32_t move = 0;
  Vec3 at;
  double as_said_mm = 0;     // left in the stock as said; 0 where it goes through
  double thickest_mm = 0;    // left where the stock is thicker than said by the whole tolerance
  double area_mm2 = 0;
};

// A thin wall or post that a program left standing.
struct Sliver {
  std::uint32_t move = 0;    // the last that cut beside it
  Vec3 at;                   // on its top
  double radial_depth_mm = 0;       // at its foot
  double height_mm = 0;
};

// Where a program that must not go through the stock first did.
struct OpenedHole {
  std::uint32_t move = 0;
  Vec3 at;
  double area_mm2 = 0;       // plan area of all that it opened
};

// A move of any program: ProgramRun and motion by their indices.
struct MoveRef {
  int run = 0;
  std::uint32_t move = 0;
};

struct Tab {
  Vec3 at;
  double length_mm = 0, thickness_mm = 0, area_mm2 = 0;
  double kerf_mm = 0;        // across the kerf that it bridges
  double grain_deg = 0;      // between the fibres and the way across the kerf, 0 to 90; 0 where the grain is not known
  bool along_grain = false;  // the kerf that it bridges runs with the grain: weak
  bool onion_skin = false;   // a thin skin along most of the part's outline
};

// A piece smaller than this in plan is an offcut, not a part: about 25 x 25 mm (common practice, no source).
inline constexpr double least_part_area_mm2 = 625;

// A piece that a program freed or left hanging on webs.
struct Piece {
  std::uint32_t move = 0;    // the move that freed it, or left it hanging
  double volume_mm3 = 0;
  double plan_area_mm2 = 0;
  Box3 bounds;               // work coordinates
  Vec3 at;                   // a point in it
  std::vector<int> held_by_hold_downs;
  bool held_by_tape = false;
  std::vector<Tab> tabs;     // empty: not hanging on tabs
  bool tabs_cut_later = false;
  bool free = false;         // nothing holds it
  std::vector<int> held_before;       // what held it until this program, where the program begins with it free
  std::vector<MoveRef> beside;        // moves that cut the last of its kerf, and those after it that cut beside it
};

// Moves of a program that cut into a part which hangs on tabs alone.
struct CutInTabbed {
  std::uint32_t first = 0, last = 0;
  std::uint32_t moves = 0;
  Vec3 at;
  int tabbed_since_run = 0;      // which ProgramRun left the part hanging, and its piece there
  std::size_t piece = 0;
};

// An outline of which so little goes through that what it surrounds stays where it is.
struct StillAttached {
  std::uint32_t move = 0;
  Vec3 at;
  double open_mm = 0, outline_mm = 0;
  double web_thickness_mm = 0;    // mean, of what bridges the kerf
  Box3 bounds;
};

// A piece as it is held at the end of a program.
struct PieceHeld {
  Box3 bounds;
  double plan_area_mm2 = 0;
  bool part = false;              // false: the (rest of the) stock
  std::vector<int> by;            // hold-downs, pins left out
  double tape_mm2 = 0;            // of tape under it
  std::size_t tabs = 0;
  double tab_area_mm2 = 0;        // of all of them
  double skin_mm = 0;             // an onion skin's thickness; 0: none
};

// Blind holes from both faces whose axes lie near each other.
struct HolePair {
  int run_a = 0, run_b = 0;       // run_b is the later one
  std::uint32_t move_a = 0, move_b = 0;
  Vec3 at;                        // bottom of the later hole, work coordinates of run_b
  double radius_a_mm = 0, radius_b_mm = 0;
  Vec2 offset;                    // from the later hole's axis to the earlier one's, work axes of run_b
  double skin_mm = 0;             // between their tips; negative: they pass each other by that much
  int moves_with_stock = 0;       // what the skin gains where the stock is 1 mm thicker: 1, 0 or -1 mm
};

struct TimeSpent {
  double cutting_s = 0;  // feed moves
  double air_s = 0;      // feed moves that take nothing from the stock, where that is known
  double rapid_s = 0, dwell_s = 0, stop_s = 0, spindle_s = 0, tool_change_s = 0;
  double feed_s() const { return cutting_s + air_s; }
  double total_s() const { return feed_s() + rapid_s + dwell_s + stop_s + spindle_s + tool_change_s; }
};

struct ProgramRun {
  int setup = 0;
  int entry = 0;                      // index into Setup::programs
  std::vector<MoveCut> cuts;          // one per motion
  std::vector<MoveLoad> loads;        // one per motion
  std::vector<Contact> contacts;      // by move
  std::vector<NearPass> near_passes;  // by move
  std::vector<BodyInStock> bodies_in_stock;
  std::vector<ThinFloor> thin_floors;
  std::vector<DoubtfulThrough> doubtful_throughs;
  std::vector<Sliver> slivers;
  std::vector<Piece> pieces;
  std::vector<StillAttached> still_attached;
  std::vector<CutInTabbed> cuts_in_tabbed;
  std::vector<PieceHeld> holding;     // as the program ends
  std::optional<OpenedHole> opened;   // only of programs with through = false
  Box3 bounds;                        // of the moves, the unknown heights left out
  double deepest_below_top_mm = 0;
  double removed_mm3 = 0;
  double feed_mm = 0, rapid_mm = 0;
  TimeSpent time, time_low, time_high;
  double change_before_s = 0;         // in `time`: the tool is changed by hand between the program before and this one
};

// A round pin that stands under the stock and the hole in the stock that it stands in, at the first program of a setup in
// which it stands. Holes are what the programs before cut.
struct PinFit {
  int program = 0;            // in the order of the job
  int hold_down = 0;
  double wall_mm = 0;         // from the pin's axis to the nearest material beside it, over its depth; 0: it stands in material
  double free_depth_mm = 0;   // how far up from the underside the hole takes it
  // Widths of the hole through the pin's axis: along the line through the setup's pins and square to it; of a single pin, or
  // one of more than two, the narrowest for both.
  double along_mm = 0, across_mm = 0;
};

// The pins of a setup fit, but only where the stock lies elsewhere than the setup says.
struct PinsElsewhere {
  int program = 0;
  Vec2 shift;                 // of the stock in the lying frame
  int turned_deg = 0;         // 0: as the setup says; else the stock is that much too far round
};

// What a screw stands in when a program starts that it holds for.
struct ScrewSeat {
  int program = 0;
  int hold_down = 0;
  double thickness_mm = 0;    // the least under its head, the hole of its shaft left out
  double pilot_mm = 0;        // how much of the thickness is bored or cut away on its axis
};

// A cut that meets the place where a screw stood before.
struct HoleInPath {
  int program = 0;
  std::uint32_t move = 0;     // the first one
  std::uint32_t moves = 0;
  int hold_down = 0;
  int left_by = 0;            // the last program for which it stood there
  Vec3 at;                    // of the tip at the first contact, work coordinates
};

struct StockState {
  Vec3 cell_mm;
  double removed_mm3 = 0, remaining_mm3 = 0;
};

struct Run {
  std::vector<ProgramRun> programs;   // in the order of the job
  std::vector<Escape> escapes;
  std::vector<PinFit> pin_fits;
  std::vector<PinsElsewhere> pins_shifted, pins_either_way;
  std::vector<ScrewSeat> screw_seats;
  std::vector<HoleInPath> holes_in_path;
  std::vector<HolePair> hole_pairs;
  StockState stock;
  std::vector<std::string> not_checked;  // what could not be computed and why
};

}  // namespace provecut
