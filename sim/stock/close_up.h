// A part of the stock cut once more on finer cells, with all that was cut there so far.
#pragma once

#include <cstdint>
#include <limits>
#include <span>
#include <vector>

#include "parser/base/geometry.h"
#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/stock/dexel_field.h"
#include "sim/tool/cutter.h"

namespace provecut::cutting {

// Where a motion's cutter comes in plan, work coordinates; nowhere for those that cut nothing.
struct MotionReach {
  float low_x = 1e30F, low_y = 1e30F, high_x = -1e30F, high_y = -1e30F;
};

// A program that has been cut.
struct PastCut {
  const Setup* setup = nullptr;
  const Program* program = nullptr;
  std::vector<MotionReach> reach;  // per motion
};

PastCut pastCut(const Cutters& cutters, const Setup& setup, const Program& program);

// All programs so far; the last one's setup is the one at work.
struct PastCuts {
  const Job& job;
  const Cutters& cutters;
  std::span<const PastCut> programs;
};

inline constexpr std::uint32_t all_motions = std::numeric_limits<std::uint32_t>::max();

// A rectangle of the stock in the setup at work, and the motions that come there.
struct CloseUpPlace {
  SetupPoint2 low;
  Vec2 size_mm{};
  std::vector<std::vector<Motion>> motions;  // per program
  double narrowest_mm = 0;                   // of their cutters; 0: none
};

// `until`: of the last program only the motions before this one.
CloseUpPlace placeOf(const PastCuts& past, SetupPoint2 low, Vec2 size_mm, std::uint32_t until = all_motions);

// True if a cutter that comes there is cut piece by piece, which takes too long on many cells.
bool isCostly(const PastCuts& past, const CloseUpPlace& place);

// The place as the raster has it, on finer cells of the same heights.
DexelField enlarged(const DexelField& field, const CloseUpPlace& place, Vec2 cell_mm);

// The cells with which the cut of the place is no dearer than so many cells cut by a motion each, mm.
double cheapCell_mm(const CloseUpPlace& place, double max_cell_cuts);

// The stock there, as the programs left it; its plan counts from the rectangle's corner.
DexelField closeUp(const PastCuts& past, const CloseUpPlace& place, Vec2 cell_mm);

}  // namespace provecut::cutting
