// How one program parts the stock: every piece that exists while it runs, from the move that parts it to the move that
// ends it. Material only ever goes away, so that this is one pass backwards: contacts between dexels come back in
// reverse order of their loss, and where two pieces join, the move that took the contact away had parted them.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "parser/base/geometry.h"
#include "parser/job/job.h"
#include "sim/pieces/holding.h"
#include "sim/pieces/pieces.h"
#include "sim/stock/contact_log.h"

namespace provecut::pieces {

// A piece that is no crumb. Moves are motions of the program by their indices.
struct PartedPiece {
  std::optional<std::size_t> parent;         // the piece that it came of, in the same list
  std::optional<std::uint32_t> parted_by;    // none: it was there as the program began
  std::optional<std::uint32_t> ended_by;     // none: it is there as the program ends
  bool milled = false;                       // it ended as crumbs; else in two pieces or more
  std::optional<std::uint32_t> loosened_by;  // the move after which nothing holds it: `parted_by`, or a later one
  bool loose = false;                        // nothing holds it as it ends, or as the program does
  std::vector<Hold> held_by;                 // when it was parted, or as the program began
  double plan_area_mm2 = 0;                  // then; so is the box
  SetupBox box;                              // as high as the program found the material that it milled away since
  cutting::Cell seed = 0;                    // a dexel of it then
  Label now = 0;                             // its number as the program ends; 0: it ended before
};

struct Parting {
  std::vector<PartedPiece> pieces;  // those before a program's end first; parents after their children
  // Which of its dexels belong to a piece: see cellsOf.
  std::vector<Label> first, last;   // per piece
  std::vector<Label> next;          // per number
  std::vector<cutting::Cell> gone;  // dexel of the numbers after the labels'
  std::size_t labels = 0;
  bool in_undercuts = false;  // what parted some pieces could not be told: it stands for the last cut
};

// A program that has run.
struct PartingSearch {
  const cutting::DexelField& before;
  const cutting::DexelField& after;
  const Pieces& was;  // of `before`
  const Pieces& now;  // of `after`
  const cutting::ContactLog& contacts;
  const Job& job;
  std::span<const int> fitted;  // hold-downs
  std::uint32_t last_cut = 0;   // the last motion that cut: stands for what no contact tells, such as in undercuts
};

Parting partingOf(const PartingSearch& search);

// The dexels of some of the pieces as they were parted (or as the program began), piece by piece.
std::vector<std::vector<cutting::Cell>> cellsOf(const Parting& parting, const Pieces& now,
                                                std::span<const std::size_t> pieces);

}  // namespace provecut::pieces
