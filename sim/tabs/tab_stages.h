// Moments in the midst of a program at which parts are on tabs that the same program cuts later, and which it cuts into
// before that.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "sim/observed/move_cut.h"
#include "sim/tabs/opened_by.h"

namespace provecut::pieces {

// A side of an outline that is open, and the motion (index + 1) that opened it; 0: it was open before.
struct OpenSide {
  std::uint32_t by = 0;
  double mm = 0;
};

// What may stand on tabs in the midst of the program.
struct LaterCut {
  PlanOutline outline;
  std::vector<OpenSide> sides;  // holes left out, in order of time
  std::uint32_t by = 0;         // the motion that parts it, or cuts the last of those of its tabs that are cut
};

// `in`: of all dexels, 0; so it is left. The last side's motion stands for `by`.
LaterCut laterCut(const ProgramCut& cut, std::span<const cutting::Cell> cells, const OpenedBy& opened_by, Mask& in);

// A candidate that may be on tabs at a stage, by its index; and how many motions had run as these tabs were left.
struct AtTabStage {
  std::size_t candidate = 0;
  std::uint32_t begin = 0;
};

struct TabStage {
  std::uint32_t end = 0;  // the motions before it have been run
  std::vector<AtTabStage> those;
};

// In order of time. What is cut round for a good part may be on tabs where the program begins to cut into it; and where
// it last does, if it opens more of the outline in between.
std::vector<TabStage> tabStages(const ProgramCut& cut, std::span<const LaterCut> candidates,
                                const std::vector<MoveCut>& cuts);

}  // namespace provecut::pieces
