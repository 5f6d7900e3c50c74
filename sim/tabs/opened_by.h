// Which moves of a program opened the stock.
#pragma once

#include <cstdint>
#include <span>
#include <unordered_map>
#include <vector>

#include "sim/pieces/program_cut.h"
#include "sim/tabs/tabbed_parts.h"

namespace provecut::pieces {

// Motions by their index + 1.
struct OpenedBy {
  std::vector<std::uint32_t> dexel;  // per dexel: what left nothing of it; 0: nothing did
  // Per contact that was lost while both dexels kept some wood: what took it.
  std::unordered_map<std::uint64_t, std::uint32_t> contact;
};

// Of two dexels side by side, and back to the first of them.
std::uint64_t contactOf(cutting::Cell a, cutting::Cell b);
cutting::Cell firstOf(std::uint64_t contact);

OpenedBy openedBy(const ProgramCut& cut);

// What first parted a dexel from one beside it; 0: nothing did.
std::uint32_t openedSide(const OpenedBy& opened_by, cutting::Cell c, cutting::Cell beside);

// The motions that cut through round some dexels, in order: after the last one only tabs hold these. Holes in them do
// not count.
std::vector<std::uint32_t> openedRound(const ProgramCut& cut, std::span<const cutting::Cell> cells,
                                       const PlanOutline& outline, const OpenedBy& opened_by);

}  // namespace provecut::pieces
