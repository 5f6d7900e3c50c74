// A program's moves, its text and the stock's height maps as packed bytes for the page, which cuts them again as it is
// watched.
#pragma once

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include "report/facts/facts.h"
#include "sim/replay.h"

namespace provecut {

// Streams of packed numbers, one after the other.
struct PackedMoves {
  std::string bytes;
  std::vector<std::pair<std::string, std::size_t>> streams;  // name and length of each, in order
  std::size_t segments = 0;                                  // straight pieces; arcs are chords
};

// Points in micrometres of the setup frame, times in tenths of a millisecond, depths in hundredths of a mm. Page data,
// read by report/page/data/moves.ts, which says what each stream holds.
PackedMoves packedMoves(const Facts& facts, std::size_t program, const ProgramReplay& replay);

// Both faces, heights as 16 bits of the stock's thickness, each the difference to its left neighbour, low bytes before
// high ones.
std::string packedHeights(const cutting::HeightMap& map, double thickness_mm);

// Where material hangs over hollows: steps from cell to cell, how many segments, their ends as in the heights. Empty:
// nowhere.
std::string packedOverhangs(const cutting::HeightMap& map, double thickness_mm);

// The program's lines, control characters made visible, each ended by LF.
std::string packedText(const ProgramFacts& program);

}  // namespace provecut
