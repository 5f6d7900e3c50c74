// Moments in the midst of a program at which parts are on tabs that the same program cuts later, and which it cuts into
// before that.
#pragma once

#include <cstdint>
#include <vector>

#include "sim/observed/move_cut.h"
#include "sim/pieces/parting.h"
#include "sim/pieces/program_cut.h"
#include "sim/tabs/opened_by.h"

namespace provecut::pieces {

struct TabStage {
  std::uint32_t end = 0;            // the motions before it have been run
  std::vector<std::size_t> pieces;  // that may be on tabs then, and are parted later: indices into Parting::pieces
};

// In order of time. Where some stretches of cuts open most of a piece's outline and later ones what little is left,
// with moves between that cut nothing, it may be on tabs after the last of the former.
std::vector<TabStage> tabStages(const ProgramCut& cut, const Pieces& now, const Parting& parting,
                                const OpenedBy& opened_by, const std::vector<MoveCut>& cuts);

}  // namespace provecut::pieces
