// What a program set loose: pieces that it parted from the stock, parts that it left on tabs, pieces whose hold-down is
// gone; followed from program to program and through flips of the stock.
#pragma once

#include <string>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/observed/observation.h"
#include "sim/pieces/followed_pieces.h"
#include "sim/pieces/piece_events.h"
#include "sim/pieces/pieces.h"
#include "sim/pieces/program_cut.h"
#include "sim/stock/cut.h"
#include "sim/tabs/tabbed_parts.h"

namespace provecut::pieces {

// A through-cut in doubt that a later program may settle.
struct DoubtNow {
  StockPoint place;
  const Setup* setup = nullptr;
  float floor = 0, top = 0;   // of the dexel in the stock that is thick, frame of `setup`
  bool open_as_said = false;  // it goes through in the stock as said
  Told told;                  // its DoubtfulThrough
};

// What is carried from program to program.
struct PartTracker {
  std::vector<FollowedPiece> followed;
  std::vector<TabbedNow> tabbed;
  std::vector<DoubtNow> doubts;
  bool parted = false;     // something has come off the stock
  double layered_mm2 = 0;  // where pieces lay one over another so far
  std::vector<std::string> not_checked;
};

// Adds to `run` the pieces, opened hole, thin floors, slivers … that the program left, and brings the tracker up to
// date. What it did to what earlier programs left is returned.
PieceEvents observeParts(const ProgramCut& cut, ProgramRun& run, PartTracker& tracker);

// Looks at the pieces as the program begins: adds to `run` those that were held so far and that nothing holds any more.
void observeBegin(const ProgramAt& at, const cutting::DexelField& field, ProgramRun& run, PartTracker& tracker);

}  // namespace provecut::pieces
