// Whether a way through the stock was cleared before, told from the moves themselves and not from the raster.
#pragma once

#include <cstdint>
#include <span>

#include "sim/path/sweep.h"
#include "sim/stock/close_up.h"

namespace provecut::cutting {

// True if earlier moves of this setup, together, went at least as deep wherever the sweeps of a motion of the last
// program come into the stock; looked at every tenth of a millimetre. False where that is not certain: on slopes, and
// where another setup has cut.
bool wasCleared(const PastCuts& past, std::uint32_t motion, std::span<const Sweep> sweeps);

}  // namespace provecut::cutting
