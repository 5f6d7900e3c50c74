// What follows from material above a tool's flutes.
#pragma once

#include <cstddef>
#include <cstdint>

#include "report/facts/facts.h"

namespace provecut {

// True for a move upwards that breaks through what hangs over a bit on a neck, where flute-too-short has said that
// material stands above this bit's flutes. Not for bits that are made to undercut.
bool followsFromFlutes(const Facts& facts, std::size_t program, std::uint32_t move);

// True for a shank just as wide as the cutter where no more than half a millimetre of material stands above the flutes:
// it brushes the wall that the flutes left, and flutes are no better measured.
bool onlyBrushes(const Tool& tool, double above_mm);

}  // namespace provecut
