// What became of a piece, in a line. Text, page and outlines take it from here.
#pragma once

#include <cstddef>
#include <span>
#include <string>

#include "report/facts/piece_history.h"

namespace provecut {

// "line 44"; where the job has several programs, "outline.nc line 44".
std::string pieceMoment(const Facts& facts, MoveRef move);

// "line 10: 37 × 37 mm comes loose, held by nothing; milled away by line 44": piece `index` of the job's history.
// Length by width of its box. `facts` are those of the history.
std::string pieceLine(const Facts& facts, std::span<const PieceHistory> pieces, std::size_t index);

}  // namespace provecut
