// What follows from material above a tool's flutes.
#pragma once

#include <cstddef>
#include <cstdint>

#include "report/facts/facts.h"

namespace provecut {

// True for a move straight up that only breaks through what hangs over a bit on a neck, where flute-too-short has said
// that material stands above this bit's flutes. Not for bits that are made to undercut.
bool followsFromFlutes(const Facts& facts, std::size_t program, std::uint32_t move);

}  // namespace provecut
