// What became of a part, in a line. Text, page and outlines take it from here.
#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <vector>

#include "report/facts/piece_history.h"

namespace provecut {

// "line 44"; where the job has several programs, "outline.nc line 44".
std::string pieceMoment(const Facts& facts, MoveRef move);

// "a.nc line 40: part 60 × 40 mm left on 4 tabs (…); b.nc line 12 cuts its last tab: now loose": part `index` of the
// job's history. Length by width of its box. `facts` are those of the history.
std::string pieceLine(const Facts& facts, std::span<const PieceHistory> pieces, std::size_t index);

// What became of it later, as `pieceLine` has it: "b.nc line 12 cuts its last tab: now loose".
std::vector<std::string> pieceChanges(const Facts& facts, std::span<const PieceHistory> pieces, std::size_t index);

}  // namespace provecut
