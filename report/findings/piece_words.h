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

// The same of many, in order; those of one size that had the same fate in one program are one line: "lines 25-222: 19
// parts 5 × 200 mm left on an onion skin …".
std::vector<std::string> pieceLines(const Facts& facts, std::span<const PieceHistory> pieces);

// What became of it later, as `pieceLine` has it: "b.nc line 12 cuts its last tab: now loose".
std::vector<std::string> pieceChanges(const Facts& facts, std::span<const PieceHistory> pieces, std::size_t index);

}  // namespace provecut
