// Whether a part's tabs bear what the cutter does beside them.
#pragma once

#include <optional>

#include "report/facts/facts.h"
#include "sim/observed/pieces.h"

namespace provecut {

// Wanted times of the tooth's force (our estimate).
inline constexpr double wanted_tab_margin = 2;

struct TabMargin {
  double tooth_n = 0;  // maxOf force of a tooth beside the part
  MoveRef move;        // that of it
  double axial_depth_mm = 0, max_chip_thickness_mm = 0;
  double weakest_n = 0;   // side load of the weakest tab
  double together_n = 0;  // of all of them
  double weakest() const { return weakest_n / tooth_n; }
  double together() const { return together_n / tooth_n; }
};

// Absent where the job does not say the material, the part hangs on no beam-like tab, or no move beside it has a feed
// and a speed.
std::optional<TabMargin> tabMargin(const Facts& facts, const Piece& piece);

}  // namespace provecut
