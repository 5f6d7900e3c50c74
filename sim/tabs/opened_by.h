// Which moves of a program opened the stock.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "sim/pieces/program_cut.h"
#include "sim/tabs/tabbed_parts.h"

namespace provecut::pieces {

// For each dexel the motion (index + 1) that left nothing of it, and the last that took a contact with another away; 0:
// none did.
struct OpenedBy {
  std::vector<std::uint32_t> dexel, contact;
};

OpenedBy openedBy(const ProgramCut& cut);

// The motions that cut through round some dexels, in order: after the last one only tabs hold these. Holes in them do
// not count.
std::vector<std::uint32_t> openedRound(const ProgramCut& cut, std::span<const cutting::Cell> cells,
                                       const PlanOutline& outline, const OpenedBy& opened_by);

}  // namespace provecut::pieces
