// Cuts from both sides of the stock that open into each other where neither goes through by itself.
#pragma once

#include <cstdint>
#include <vector>

#include "sim/pieces/program_cut.h"

namespace provecut::pieces {

// An opening as it was found: BrokenThrough is what is told of it.
struct FoundBreak {
  std::uint32_t move = 0;  // that broke through first
  SetupPoint at;           // in its middle, halfway between the two floors
  Vec2 size_mm{};
  double area_mm2 = 0;
  double depth_mm = 0;        // of the cut from this side, below the stock's top
  double other_depth_mm = 0;  // of the one from the other side
};

// Openings that look unmeant: at the height where they meet, either side's cut goes on beside the other's. Where one
// side's outline lies within the other's, as in a window or an outline cut half from each side, or a hole in a pocket's
// floor, it is meant. So are grooves that cross often, as in a grille. Sloping cuts, as of reliefs, are left out.
std::vector<FoundBreak> brokenThrough(const ProgramCut& cut, cutting::DexelReplayer& replayer);

}  // namespace provecut::pieces
