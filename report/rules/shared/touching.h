// Moves straight down that end where the stock begins.
#pragma once

#include <cstddef>

#include "report/facts/facts.h"
#include "sim/observed/move_cut.h"

namespace provecut {

// A board is seldom flatter, and no zero on wood is set finer (our own estimate).
inline constexpr double touching_mm = 0.1;

// True where a move straight down cuts nothing, but ends on the untouched top of the stock or less than `touching_mm`
// above it.
bool endsOnTop(const Facts& facts, std::size_t program, const Motion& motion, const MoveCut& cut);

}  // namespace provecut
