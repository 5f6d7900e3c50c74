// Text of one line → Block.
#pragma once

#include <string_view>

#include "parser/block/block.h"

namespace provecut {

// Reads one line (without its line end) into `block`, whose memory is used again. Never fails: what cannot be read is
// in Block::faults with its place, and the rest of the line is still read. Time is linear in the line's length. The
// views in `block` point into `line`.
void readBlock(std::string_view line, Block& block);

}  // namespace provecut
