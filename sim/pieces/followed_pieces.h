// Pieces that came off the stock, followed from program to program: what holds them, what cuts at them once nothing
// does, and when they are gone.
#pragma once

#include <optional>
#include <vector>

#include "sim/pieces/loose_cuts.h"
#include "sim/pieces/parting.h"
#include "sim/pieces/piece_events.h"
#include "sim/pieces/program_cut.h"

namespace provecut::pieces {

struct FollowedPiece {
  StockPoint2 seed;                 // in it, as the last program left it
  std::optional<Told> told;         // its Piece; none: the rest of the stock
  std::vector<int> held_by;         // hold-downs, as the last program ended
  double plan_area_mm2 = 0;         // as it was parted
  std::optional<LoosePiece> loose;  // as it came loose
  bool frame = false;               // see Piece::frame
};

// Adds to `run` the pieces that were held so far and that nothing holds any more as this program begins.
void observeReleased(const ProgramAt& at, const cutting::DexelField& field, const Pieces& pieces, ProgramRun& run,
                     std::vector<FollowedPiece>& followed);

// Adds to `run` the pieces that the program parted, and brings those followed up to date. Gives per piece of `parting`
// its place among those of `run`; none: it is not told.
std::vector<std::optional<std::size_t>> observeParted(const ProgramCut& cut, const Pieces& was, const Pieces& now,
                                                      const Parting& parting, ProgramRun& run,
                                                      std::vector<FollowedPiece>& followed, PieceEvents& events);

// The same for a program that took no contact away: it can only have cut at pieces that were loose before.
void observeCutsAtLoose(const ProgramCut& cut, const ProgramRun& run, const std::vector<FollowedPiece>& followed,
                        PieceEvents& events);

}  // namespace provecut::pieces
