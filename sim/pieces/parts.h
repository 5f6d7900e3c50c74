// What a program set loose: pieces that it parted from the stock, parts that it left on tabs, pieces whose hold-down is
// gone; followed from program to program and through flips of the stock.
#pragma once

#include <string>
#include <vector>

#include "parser/job/job.h"
#include "parser/program/motion.h"
#include "sim/observed/observation.h"
#include "sim/pieces/piece_events.h"
#include "sim/pieces/pieces.h"
#include "sim/pieces/tabbed_parts.h"
#include "sim/stock/cut.h"

namespace provecut::pieces {

// A piece that some hold-down still held when a program parted it.
struct HeldPiece {
  StockPoint seed;  // a point of it
  double plan_area_mm2 = 0;
  std::vector<int> held_by;  // hold-downs
};

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
  std::vector<HeldPiece> held;
  std::vector<TabbedNow> tabbed;
  std::vector<DoubtNow> doubts;
  bool parted = false;     // something has come off the stock
  double layered_mm2 = 0;  // where pieces lay one over another so far
  std::vector<std::string> not_checked;
};

// A program that is about to start, or has been cut.
struct ProgramAt {
  const Job& job;
  const Setup& setup;
  const ProgramEntry& entry;
  int run = 0;  // index of its ProgramRun
};

struct ProgramCut {
  ProgramAt at;
  const Program& program;
  const Cutters& cutters;
  const cutting::DexelField& before;
  const cutting::DexelField& after;
  bool other_side_zero_on_top = true;  // how the setup that cut the underside had its Z zero
};

// Adds to `run` the pieces, opened hole, thin floors, slivers … that the program left, and brings the tracker up to
// date. What it did to what earlier programs left is returned.
PieceEvents observeParts(const ProgramCut& cut, ProgramRun& run, PartTracker& tracker);

// Adds to `run` the pieces that were held when they were parted and that nothing holds any more as this program begins.
void observeReleased(const ProgramAt& at, const cutting::DexelField& field, ProgramRun& run, PartTracker& tracker);

}  // namespace provecut::pieces
