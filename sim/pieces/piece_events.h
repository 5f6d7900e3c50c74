// What a program did to what earlier programs left. Observers return it; what was told of an earlier program changes
// only in settle(), once the last program has run.
#pragma once

#include <compare>
#include <cstddef>
#include <vector>

#include "sim/observed/observation.h"
#include "sim/observed/pieces.h"

namespace provecut::pieces {

// Where something was told: the ProgramRun, and the place in its list.
struct Told {
  int run = 0;
  std::size_t place = 0;
  friend auto operator<=>(const Told&, const Told&) = default;
};

// What a move did to a piece.
struct DoneTo {
  Told piece;
  MoveRef by;
};

struct CutLoose {
  Told piece;
  CutAtLoose cut;
};

struct Ended {
  Told piece;
  MoveRef by;
  bool milled = false;
};

struct PieceEvents {
  std::vector<DoneTo> cut_beside{};    // cuts that push at a tabbed part
  std::vector<Told> doubts_settled{};  // doubtful throughs that were cut deeper
  std::vector<DoneTo> loosened{};      // pieces that lost what held them, not in the move that parted them
  std::vector<CutLoose> cut_loose{};   // moves that cut in a loose piece or beside it
  std::vector<Ended> ended{};          // pieces that are no more
};

// Applies the events of all programs; their order does not matter. An event about what was never told is a defect.
void settle(const std::vector<PieceEvents>& events, std::vector<ProgramRun>& runs);

}  // namespace provecut::pieces
