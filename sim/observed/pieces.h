// What came loose, what holds it, and what was left thin. Facts with numbers, no opinions: indices point into the Job
// and into each program's motions, points are in work coordinates of the setup, mm, unless said.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include "parser/base/geometry.h"

namespace provecut {

// The thinnest floor or web that a program left.
struct ThinFloor {
  std::uint32_t move = 0;    // the move that made it
  WorkPoint at;              // on the cut surface
  double thickness_mm = 0;   // for the stock as said
  double worst_mm = 0;       // over the stock's thickness tolerance
  double area_mm2 = 0;       // plan area that is thinner than the limit
  int moves_with_stock = 0;  // what it gains where the stock is 1 mm thicker than said: 1, 0 or -1 mm
};

// Why a cut about as deep as the stock is thick may leave a skin: the stock may be off by the tolerance that the job
// gives, or by as much as such a sheet may be off as it is sold; or the cut goes through by next to nothing.
enum class ThroughDoubt { tolerance, as_sold, exact };

// A cut that goes about as deep as the stock is thick: it may or may not leave a skin.
struct DoubtfulThrough {
  std::uint32_t move = 0;
  WorkPoint at;
  double as_said_mm = 0;   // left in the stock as said; 0 where it goes through
  double thickest_mm = 0;  // left where the stock is off by all that it may be
  double area_mm2 = 0;
  ThroughDoubt why = ThroughDoubt::tolerance;
  double beyond_mm = 0;  // how far it goes through the stock as said
};

// An opening where cuts from both sides meet by accident, neither of them as deep as the stock: each goes on beside the
// other.
struct BrokenThrough {
  std::uint32_t move = 0;  // of this side, that broke through
  WorkPoint at;
  Vec2 size_mm{};  // in plan, along the axes
  double area_mm2 = 0;
  double depth_mm = 0, other_depth_mm = 0;  // of the cuts from this side and from the other
};

// A thin wall or post that a program left standing.
struct Sliver {
  std::uint32_t move = 0;  // the last that cut beside it
  WorkPoint at;            // on its top
  double width_mm = 0;     // at its foot
  double height_mm = 0;
};

// A move of any program: ProgramRun and motion by their indices.
struct MoveRef {
  int run = 0;
  std::uint32_t move = 0;
};

// A Piece of any program: ProgramRun and place in its list.
struct PieceRef {
  int run = 0;
  std::size_t piece = 0;
  friend bool operator==(const PieceRef&, const PieceRef&) = default;
};

// A move that cut in a loose piece or beside it.
struct CutAtLoose {
  MoveRef by;
  bool into = false;  // it cut into the piece
};

struct Tab {
  WorkPoint at;
  double length_mm = 0, thickness_mm = 0, area_mm2 = 0;
  double kerf_mm = 0;         // across the kerf that it bridges
  double grain_deg = 0;       // between the fibres and the way across the kerf, 0 to 90; 0 where the grain is not known
  bool along_grain = false;   // the kerf that it bridges runs with the grain: weak
  bool onion_skin = false;    // a thin skin along most of the part's outline: `thickness_mm` is the skin's
  bool tabs_in_skin = false;  // of an onion skin: tabs stand in it
};

// A piece smaller than this in plan is an offcut, not a part: about 25 x 25 mm (common practice, no source).
inline constexpr double least_part_area_mm2 = 625;

// A closed ring in plan, mm: an outer one runs counter-clockwise, a hole clockwise.
using StockRing = std::vector<StockPoint2>;

// A piece that a program freed or left on tabs.
struct Piece {
  std::uint32_t move = 0;  // the move that freed it, or left it on tabs
  double volume_mm3 = 0;
  double plan_area_mm2 = 0;
  WorkBox bounds;
  WorkPoint at;  // a point in it
  std::vector<int> held_by_hold_downs;
  bool held_by_tape = false;
  double cutter_mm = 0;            // diameter of the bit that parted it; 0: not known
  double little_tape_mm2 = 0;      // of a free one: tape under it, too little to hold it
  std::vector<Tab> tabs;           // empty: not held by tabs
  bool free = false;               // nothing holds it
  bool frame = false;              // waste: all round the stock's edge, loose, about a part that something holds
  std::vector<int> held_before;    // what held it until this program, where the program begins with it free
  std::vector<MoveRef> beside;     // of a tabbed part: moves that cut the last of its kerf or push at it later
  std::optional<PieceRef> parent;  // what it was parted from; none: the stock as it was supplied
  // Itself as it was told before its hold-down went, or some of its tabs or all were cut.
  std::optional<PieceRef> told_before;
  // Of one that came free of another: nothing held that one either.
  bool of_loose = false;
  std::optional<MoveRef> loosened_by;  // took the last that held it away after it was parted, such as the tape under it
  std::optional<MoveRef> ended_by;     // split it, or milled it away
  bool milled = false;                 // by that move it is gone
  std::vector<CutAtLoose> cut_loose;   // once nothing held it any more
  std::vector<StockRing> outline;      // as it was parted, where it was asked for
};

// Moves of a program that cut into a part that only tabs hold.
struct CutInTabbed {
  std::uint32_t first = 0, last = 0;
  std::uint32_t moves = 0;
  WorkPoint at;
  int tabbed_since_run = 0;  // which ProgramRun left the part on tabs, and its piece there
  std::size_t piece = 0;
};

// An outline that is cut through in a few places only, so that what it surrounds stays where it is.
struct StillAttached {
  std::uint32_t move = 0;
  WorkPoint at;
  double open_mm = 0, outline_mm = 0;
  double web_thickness_mm = 0;  // mean, of what bridges the kerf
  WorkBox bounds;
};

// A piece as it is held at the end of a program.
struct PieceHeld {
  WorkBox bounds;
  double plan_area_mm2 = 0;
  bool part = false;    // false: the (rest of the) stock
  bool frame = false;   // the rest of the stock, a loose frame of waste
  std::vector<int> by;  // hold-downs, pins left out
  double tape_mm2 = 0;  // of tape under it
  std::size_t tabs = 0;
  double tab_area_mm2 = 0;  // of all of them
  double skin_mm = 0;       // an onion skin's thickness; 0: none
};

}  // namespace provecut
