// How much a part's tabs bear, against the force of the cutter beside them.
#pragma once

#include <optional>
#include <string>

#include "report/facts/facts.h"
#include "sim/observed/pieces.h"

namespace provecut {

// The force that a tab must bear, as a multiple of a tooth's force (our estimate).
inline constexpr double min_tab_margin = 2;

// Forces in N. `tooth_n` is the maximum force of one tooth beside the part, from the linear-edge model.
struct TabMargin {
  double tooth_n = 0;
  MoveRef move;  // the move with that force
  double axial_depth_mm = 0, max_chip_thickness_mm = 0;
  double weakest_n = 0;  // side load that the weakest tab bears
  double total_n = 0;    // of all tabs
  double weakest() const { return weakest_n / tooth_n; }
  double total() const { return total_n / tooth_n; }
};

// Nothing where the job gives no material, the part has no tab that works as a beam (none at all, or an onion skin), or
// no move beside it has a feed and a speed.
std::optional<TabMargin> tabMargin(const Facts& facts, const Piece& piece);

// "15 N", "4.5 N", "less than 0.1 N": a force of a tab or on it, no finer than it is known.
std::string tabForceText(double force_n);

}  // namespace provecut
