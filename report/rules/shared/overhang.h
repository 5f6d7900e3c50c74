// What follows from material above a tool's flutes.
#pragma once

#include <cstddef>
#include <cstdint>

#include "report/facts/facts.h"

namespace provecut {

// True for a move upwards that breaks through what hangs over a bit on a neck, where flute-too-short has said that
// material stands above this bit's flutes. Not for bits that are made to undercut.
bool followsFromFlutes(const Facts& facts, std::size_t program, std::uint32_t move);

// Less than this is what two passes along one wall differ by, or a groove that rises a little on its way.
inline constexpr double min_overhang_mm = 0.02;

// True for a move up that undercut-lift tells of.
bool isUndercutLift(const Facts& facts, std::size_t program, std::uint32_t move);

// True for a shank just as wide as the cutter where no more than half a millimetre of material stands above the flutes:
// it brushes the wall that the flutes left, and flutes are no better measured.
bool onlyBrushes(const Tool& tool, double above_mm);

}  // namespace provecut
